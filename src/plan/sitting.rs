//! What fits into the time there is.
//!
//! The claim: the jobs are ranked: first what presses within a week, then what
//! lies in the place of the first of these, then the rest, each in the order
//! of the plan. Of all sets that fit the time and hold everything their jobs
//! wait for, it is the one that has the first job in rank, if any such set
//! has; of those the one that has the second; and so on. So a pressing job is
//! never left out to make room for others, and no time is left that a whole
//! job would have fitted.

use super::graph;
use super::job::Job;
use super::order::{Pressing, pressing};
use crate::quantity::Date;
use std::collections::{BTreeMap, BTreeSet};

/// What is due within so many days is not put off for a nearer place.
const PRESSING_DAYS: i32 = 7;

/// One sitting.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sitting {
    /// The time there is, in minutes.
    pub time: u32,
    /// The jobs, in the order to do them: one place after the other.
    pub jobs: Vec<usize>,
    /// How long they take together.
    pub minutes: u32,
}

/// Fills the time from the first `ready` jobs.
pub(super) fn fill(jobs: &[Job], ready: usize, time: u32, on: Date) -> Sitting {
    let able = jobs.get(..ready).unwrap_or(jobs);
    let mut taken: BTreeSet<usize> = BTreeSet::new();
    let mut minutes = 0u32;
    for job in ranked(able, time, on) {
        let with = missing(able, &taken, job);
        let more = with.iter().filter_map(|one| able.get(*one)).map(|one| one.takes.minutes);
        let then = more.fold(minutes, u32::saturating_add);
        if then <= time {
            taken.extend(with);
            minutes = then;
        }
    }
    Sitting { time, jobs: one_place_after_the_other(able, &taken), minutes }
}

/// The jobs by rank.
fn ranked(able: &[Job], time: u32, on: Date) -> Vec<usize> {
    let before = able.iter().map(|job| job.after.clone()).collect();
    let pressing = pressing(able, &before, on);
    let soon = on.days().saturating_add(PRESSING_DAYS);
    let presses = |job: usize| pressing.get(job).is_some_and(|Pressing { day, .. }| *day <= soon);
    let fits = |job: &usize| able.get(*job).is_some_and(|one| one.takes.minutes <= time);
    let first = (0..able.len()).filter(fits).min_by_key(|job| (!presses(*job), *job));
    let here = first.and_then(|job| able.get(job)).map(|job| job.zone.as_deref());
    let rank = |job: &usize| {
        let there = able.get(*job).map(|one| one.zone.as_deref()) != here;
        (!presses(*job), !presses(*job) && there, *job)
    };
    let mut ranked: Vec<usize> = (0..able.len()).collect();
    ranked.sort_by_key(rank);
    ranked
}

/// A job with all that comes before it and is not taken yet.
fn missing(able: &[Job], taken: &BTreeSet<usize>, job: usize) -> BTreeSet<usize> {
    let mut with = BTreeSet::new();
    let mut next = vec![job];
    while let Some(job) = next.pop() {
        if !taken.contains(&job) && with.insert(job) {
            next.extend(able.get(job).into_iter().flat_map(|job| &job.after));
        }
    }
    with
}

/// Places in the order in which the plan comes to them; within a place the order of the plan.
fn one_place_after_the_other(able: &[Job], taken: &BTreeSet<usize>) -> Vec<usize> {
    let chosen: Vec<usize> = taken.iter().copied().collect();
    let number: BTreeMap<usize, usize> = chosen.iter().copied().zip(0..).collect();
    let mut places: BTreeMap<Option<&str>, usize> = BTreeMap::new();
    let jobs: Vec<&Job> = chosen.iter().filter_map(|job| able.get(*job)).collect();
    for job in &jobs {
        let next = places.len();
        places.entry(job.zone.as_deref()).or_insert(next);
    }
    let before = jobs.iter().map(|job| job.after.iter().filter_map(|one| number.get(one)).copied().collect()).collect();
    let key = |job: usize| {
        let place = jobs.get(job).and_then(|job| places.get(&job.zone.as_deref()));
        ((), place.copied().unwrap_or(usize::MAX), job)
    };
    graph::placed(&before, key).into_iter().filter_map(|job| chosen.get(job).copied()).collect()
}
