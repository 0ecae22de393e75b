//! What fits the time, against every set there is.

use super::{ON, at as job_at, day, id, minutes, nowhere, own, plan_of};
use cotterpin_engine::ir::Id;
use cotterpin_engine::plan::{JobId, Plan, Request};
use cotterpin_engine::project::Job;
use proptest::prelude::*;

/// Minutes, zone, hold point, and which earlier jobs it waits for.
type One = (u32, Option<usize>, Option<usize>, Vec<usize>);
type Drawn = Vec<One>;

const ZONES: [&str; 2] = ["cabin", "tail"];
/// Due within a week, in a fortnight, and on no planned day.
const POINTS: [&str; 3] = ["close", "visit", "first-flight"];

fn drawn() -> impl Strategy<Value = Drawn> {
    let one = (
        prop_oneof![Just(15u32), Just(30), Just(45), Just(60), Just(120)],
        prop::option::of(0..ZONES.len()),
        prop::option::of(0..POINTS.len()),
        prop::collection::vec(0usize..9, 0..3),
    );
    prop::collection::vec(one, 1..10).prop_map(|mut drawn| {
        for (at, (.., after)) in drawn.iter_mut().enumerate() {
            after.retain(|one| *one < at);
        }
        drawn
    })
}

fn planned(drawn: &Drawn, time: u32) -> Plan {
    let made = |(at, (time, zone, by, after)): (usize, &One)| Job {
        takes: Some(minutes(*time)),
        zone: zone.map(|zone| ZONES[zone].to_owned()),
        by: by.map(|by| POINTS[by].to_owned()),
        after: after.iter().map(|one| (own(*one), nowhere())).collect(),
        ..Job::new(own(at), nowhere())
    };
    let jobs = drawn.iter().enumerate().map(made).collect();
    let rules = super::rules("");
    let planned = [("close".to_owned(), day("2026-11-28"))].into();
    let visit = Some(cotterpin_engine::quantity::DateRange::day(day("2026-12-10")));
    let record = cotterpin_engine::project::Record { jobs, visit, planned, ..Default::default() };
    let audit = super::audited(&rules, &record, ON);
    cotterpin_engine::plan::plan(&rules, &record, &audit, Request { on: day(ON), time: Some(time), a_day: None })
}

/// The rank the claim speaks of, worked out by itself: what presses within a
/// week or holds up what does; then the place of the first of these that fits;
/// then the rest; each in the order of the plan.
fn ranked(plan: &Plan, time: u32) -> Vec<usize> {
    let soon = day(ON).days() + 7;
    let mut presses: Vec<bool> =
        plan.jobs.iter().map(|job| job.last_day().is_some_and(|day| day.days() <= soon)).collect();
    for at in (0..plan.jobs.len()).rev().filter(|at| presses[*at]).collect::<Vec<_>>() {
        let mut next = vec![at];
        while let Some(one) = next.pop() {
            presses[one] = true;
            next.extend(job_at(plan, id(one)).after.iter().map(|one| one.index()));
        }
    }
    let mut order: Vec<usize> = (0..plan.jobs.len()).collect();
    order.sort_by_key(|at| !presses[*at]);
    let first = order.iter().find(|one| job_at(plan, id(**one)).takes.minutes <= time).copied();
    let here = first.map(|one| job_at(plan, id(one)).zone.clone());
    let class = |one: &usize| match (presses[*one], here.as_ref() == Some(&job_at(plan, id(*one)).zone)) {
        (true, _) => 0,
        (false, true) => 1,
        (false, false) => 2,
    };
    order.sort_by_key(class);
    order
}

proptest! {
    #![proptest_config(crate::fixtures::seed::fresh())]
    #[test]
    fn the_set_is_the_one_that_is_claimed(drawn in drawn(), time in 10u32..400) {
        let plan = planned(&drawn, time);
        let sitting = plan.sitting.as_ref().expect("a time was given");
        let ranked = ranked(&plan, time);
        let count = plan.jobs.len();
        // Every set that fits and holds what its jobs wait for.
        let mut best: Vec<bool> = vec![false; count];
        for set in 0u32..(1 << count) {
            let holds = |at: usize| set & (1 << at) != 0;
            let chosen = || (0..count).filter(|at| holds(*at));
            let closed = chosen().all(|job| job_at(&plan, id(job)).after.iter().all(|one| holds(one.index())));
            let work: u32 = chosen().map(|job| job_at(&plan, id(job)).takes.minutes).sum();
            if closed && work <= time {
                best = best.max(ranked.iter().map(|at| holds(*at)).collect());
            }
        }
        let mut expected: Vec<usize> = ranked.iter().zip(&best).filter(|(_, taken)| **taken).map(|(at, _)| *at).collect();
        expected.sort_unstable();
        let mut found: Vec<usize> = sitting.jobs.iter().map(|job| job.index()).collect();
        found.sort_unstable();
        prop_assert_eq!(found, expected);
        prop_assert_eq!(sitting.minutes, sitting.jobs.iter().map(|job| job_at(&plan, *job).takes.minutes).sum::<u32>());
        // They stand in an order that can be done.
        for (place, job) in sitting.jobs.iter().enumerate() {
            let before = &sitting.jobs[..place];
            prop_assert!(job_at(&plan, *job).after.iter().all(|one| before.contains(one)));
        }
    }

    /// A place is left only when nothing can be done there before something elsewhere.
    #[test]
    fn a_place_is_not_left_while_something_can_be_done_there(drawn in drawn(), time in 60u32..600) {
        let plan = planned(&drawn, time);
        let jobs = plan.sitting.as_ref().map(|sitting| sitting.jobs.clone()).unwrap_or_default();
        for place in 1..jobs.len() {
            let (last, now) = (job_at(&plan, jobs[place - 1]), job_at(&plan, jobs[place]));
            if last.zone != now.zone {
                let able = |job: &&JobId| job_at(&plan, **job).after.iter().all(|one| jobs[..place].contains(one));
                let stayed = jobs[place..].iter().filter(able).find(|job| job_at(&plan, **job).zone == last.zone);
                prop_assert_eq!(stayed, None);
            }
        }
    }
}

#[test]
fn the_same_jobs_in_any_order_give_the_same_plan() {
    let job = |at: usize| Job { takes: Some(minutes(30)), ..Job::new(own(at), nowhere()) };
    let request = Request { on: day(ON), time: Some(60), a_day: None };
    let there = plan_of((0..6).map(job).collect(), None, request);
    let back = plan_of((0..6).rev().map(job).collect(), None, request);
    assert_eq!(super::names(&there), super::names(&back));
    assert_eq!(there.sitting, back.sitting);
}
