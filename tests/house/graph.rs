//! Circles among edges; an outside library finds them.

use petgraph::algo::tarjan_scc;
use petgraph::graph::DiGraph;
use std::collections::{BTreeMap, BTreeSet};

/// The sets of more than one node that can all be reached from each other.
pub(super) fn circles(edges: &BTreeMap<String, BTreeSet<String>>) -> Vec<Vec<String>> {
    let mut graph = DiGraph::<String, ()>::new();
    let names: BTreeSet<&String> = edges.iter().flat_map(|(from, all)| std::iter::once(from).chain(all)).collect();
    let nodes: BTreeMap<&String, _> = names.into_iter().map(|name| (name, graph.add_node(name.clone()))).collect();
    for (from, all) in edges {
        for to in all {
            graph.add_edge(nodes[from], nodes[to], ());
        }
    }
    let found = tarjan_scc(&graph).into_iter().filter(|circle| circle.len() > 1);
    let named = |circle: Vec<_>| {
        let mut names: Vec<String> =
            circle.into_iter().map(|node: petgraph::graph::NodeIndex| graph[node].clone()).collect();
        names.sort();
        names
    };
    let mut found: Vec<Vec<String>> = found.map(named).collect();
    found.sort();
    found
}
