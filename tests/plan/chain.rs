//! Circles and the longest chain, against the graph library `petgraph`.

use super::{ON, at, day, minutes, nowhere, number, own, plan_of};
use cotterpin_engine::ir::Arena;
use cotterpin_engine::plan::{JobId, Plan, Request};
use cotterpin_engine::project::{Job, OnOrder};
use cotterpin_engine::quantity::DateRange;
use petgraph::algo::{bellman_ford, tarjan_scc};
use petgraph::graph::{DiGraph, NodeIndex};
use proptest::prelude::*;
use std::collections::BTreeSet;

const A_DAY: u32 = 150;

/// Jobs with their minutes, the days until a part comes, and which earlier ones they wait for.
type Drawn = Vec<(u32, Option<i32>, Vec<usize>)>;

fn jobs(drawn: &Drawn) -> Vec<Job> {
    let made = |(at, (time, part, after)): (usize, &(u32, Option<i32>, Vec<usize>))| {
        let expected = part.and_then(|days| day(ON).add_days(days)).map(DateRange::day);
        let waits = expected.map(|expected| OnOrder { part: "seal".into(), ordered: None, expected: Some(expected) });
        let after = after.iter().map(|one| (own(*one), nowhere())).collect();
        Job { takes: Some(minutes(*time)), by: Some("visit".into()), after, waits, ..Job::new(own(at), nowhere()) }
    };
    drawn.iter().enumerate().map(made).collect()
}

fn planned(drawn: &Drawn) -> Plan {
    plan_of(jobs(drawn), Some("2026-12-10"), Request { on: day(ON), time: None, a_day: Some(A_DAY) })
}

/// Any jobs that wait for each other.
fn any(most: usize) -> impl Strategy<Value = Drawn> {
    let one = (1u32..300, prop::option::weighted(0.2, 1i32..20), prop::collection::vec(0..most, 0..3));
    prop::collection::vec(one, 1..most).prop_map(|mut drawn| {
        let count = drawn.len();
        for (_, _, after) in &mut drawn {
            after.retain(|one| *one < count);
        }
        drawn
    })
}

/// Jobs that wait only for those before them.
fn without_circles(most: usize) -> impl Strategy<Value = Drawn> {
    any(most).prop_map(|mut drawn| {
        for (at, (_, _, after)) in drawn.iter_mut().enumerate() {
            after.retain(|one| *one < at);
        }
        drawn
    })
}

proptest! {
    #![proptest_config(crate::fixtures::seed::fresh())]
    /// The longest path to each job, by the library's shortest paths over
    /// negative lengths: from a source to every job by its part's day and its
    /// own time, from job to job by the later one's time.
    #[test]
    fn the_chain_ends_when_the_longest_path_does(drawn in without_circles(24)) {
        let mut graph: DiGraph<(), f64> = DiGraph::new();
        let source = graph.add_node(());
        let nodes: Vec<NodeIndex> = drawn.iter().map(|_| graph.add_node(())).collect();
        for (at, (time, part, after)) in drawn.iter().enumerate() {
            let there = f64::from(part.unwrap_or(0)) * f64::from(A_DAY);
            graph.add_edge(source, nodes[at], -(there + f64::from(*time)));
            for one in after {
                graph.add_edge(nodes[*one], nodes[at], -f64::from(*time));
            }
        }
        let paths = bellman_ford(&graph, source).expect("no circle");
        let longest = nodes.iter().map(|node| -paths.distances[node.index()]).fold(0.0, f64::max);
        let plan = planned(&drawn);
        let chain = plan.chain.as_ref().expect("there are jobs");
        prop_assert_eq!(chain.days, (longest / f64::from(A_DAY)).ceil() as u64);
        // The chain named is one: each job waits for the one before it, and it ends then.
        for pair in chain.jobs.windows(2) {
            prop_assert!(at(&plan, pair[1]).after.contains(&pair[0]));
        }
        let work: u64 = chain.jobs.iter().map(|id| u64::from(at(&plan, *id).takes.minutes)).sum();
        prop_assert_eq!(chain.minutes, work);
        let first = at(&plan, chain.jobs[0]);
        let wait = drawn[number(first)].1.unwrap_or(0) as u64 * u64::from(A_DAY);
        prop_assert_eq!(wait + work, longest as u64);
        prop_assert_eq!(chain.begins_with_part, wait > 0);
        prop_assert_eq!(chain.all_minutes, drawn.iter().map(|one| u64::from(one.0)).sum::<u64>());
        prop_assert_eq!(chain.days_left, Some(15));
    }

    /// Jobs in circles are those of the library's strongly connected components.
    #[test]
    fn circles_are_those_of_the_library(drawn in any(14)) {
        let mut graph: DiGraph<usize, ()> = DiGraph::new();
        let nodes: Vec<NodeIndex> = (0..drawn.len()).map(|at| graph.add_node(at)).collect();
        for (at, (_, _, after)) in drawn.iter().enumerate() {
            for one in after {
                graph.add_edge(nodes[at], nodes[*one], ());
            }
        }
        let in_circle = |group: &Vec<NodeIndex>| group.len() > 1 || graph.contains_edge(group[0], group[0]);
        let expected: BTreeSet<usize> =
            tarjan_scc(&graph).iter().filter(|group| in_circle(group)).flatten().map(|node| graph[*node]).collect();
        let plan = planned(&drawn);
        let found: BTreeSet<usize> = plan.jobs.iter().filter(|job| !job.circle.is_empty()).map(number).collect();
        prop_assert_eq!(found, expected);
        // Every circle told is one, and begins with the job itself.
        for (id, job) in plan.jobs.with_ids().filter(|(_, job)| !job.circle.is_empty()) {
            prop_assert_eq!(job.circle[0], id);
            for (one, next) in job.circle.iter().zip(job.circle.iter().cycle().skip(1)) {
                prop_assert!(at(&plan, *one).after.contains(next), "{:?}", job.circle);
            }
        }
        // Nothing is lost, and what can be begun waits for nothing that waits.
        prop_assert_eq!(plan.jobs.len(), drawn.len());
        for (id, job) in plan.jobs.with_ids().take(plan.ready) {
            prop_assert!(job.circle.is_empty() && job.part.is_none());
            prop_assert!(job.after.iter().all(|one| *one < id), "{id:?} comes before what it waits for");
        }
    }

    /// Without circles everything comes after what it waits for, and what presses comes first.
    #[test]
    fn the_order_keeps_every_after(drawn in without_circles(24)) {
        let plan = planned(&drawn);
        for (id, job) in plan.jobs.with_ids() {
            prop_assert!(job.after.iter().all(|one| *one < id));
        }
        let waits = |job: &cotterpin_engine::plan::Job| job.part.as_ref().is_some_and(|part| part.awaited);
        let mut waiting: Arena<JobId, bool> = Arena::default();
        for (place, job) in plan.jobs.iter().enumerate() {
            let waits = waits(job) || job.after.iter().any(|one| waiting.get(*one) == Some(&true));
            waiting.push(waits);
            prop_assert_eq!(waits, place >= plan.ready, "what waits comes apart");
        }
    }
}

#[test]
fn a_long_chain_and_a_large_circle_are_no_trouble() {
    let long: Drawn = (0..5000).map(|at: usize| (60, None, at.checked_sub(1).into_iter().collect())).collect();
    let plan = planned(&long);
    assert_eq!(plan.chain.map(|chain| (chain.jobs.len(), chain.minutes)), Some((5000, 300_000)));
    let circle: Drawn = (0..1000).map(|at: usize| (60, None, vec![(at + 1) % 1000])).collect();
    let plan = planned(&circle);
    assert!(plan.ready == 0 && plan.jobs.iter().all(|job| job.circle.len() == 1000));
    let chain = plan.chain.expect("all are due by the visit");
    assert_eq!((chain.jobs.len(), chain.in_circles, chain.all_jobs), (0, 1000, 1000));
}

#[test]
fn no_built_in_item_waits_for_itself_by_way_of_others() {
    let mut waits = 0;
    for name in cotterpin_packs::built_in_names() {
        let rules = crate::fixtures::packs::built(&[name]);
        let mut graph: DiGraph<&str, ()> = DiGraph::new();
        let nodes: Vec<NodeIndex> = rules.items.iter().map(|item| graph.add_node(&item.name)).collect();
        for (at, item) in rules.items.iter().enumerate() {
            waits += item.after.len();
            for one in &item.after {
                graph.add_edge(nodes[at], nodes[one.index()], ());
            }
        }
        let circles: Vec<Vec<&str>> = tarjan_scc(&graph)
            .iter()
            .filter(|group| group.len() > 1)
            .map(|group| group.iter().map(|node| graph[*node]).collect())
            .collect();
        assert!(circles.is_empty(), "{name}: {circles:?}");
    }
    assert!(waits > 20, "{waits}");
}
