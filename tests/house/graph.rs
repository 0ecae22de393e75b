//! Circles among edges; an outside library finds them.

use petgraph::algo::tarjan_scc;
use petgraph::graphmap::DiGraphMap;
use std::collections::{BTreeMap, BTreeSet};

/// The sets of more than one node that can all be reached from each other.
pub(super) fn circles(edges: &BTreeMap<String, BTreeSet<String>>) -> Vec<Vec<String>> {
    let mut graph = DiGraphMap::<&str, ()>::new();
    for (from, all) in edges {
        for to in all {
            graph.add_edge(from, to, ());
        }
    }
    let found = tarjan_scc(&graph).into_iter().filter(|nodes| nodes.len() > 1);
    let named = |mut nodes: Vec<&str>| {
        nodes.sort_unstable();
        nodes.into_iter().map(str::to_owned).collect()
    };
    let mut found: Vec<Vec<String>> = found.map(named).collect();
    found.sort();
    found
}
