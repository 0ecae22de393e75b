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
use super::job::{Job, JobId};
use super::order::{By, Pressing, pressing};
use crate::ir::{Arena, IdOf};
use crate::quantity::Date;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// What is due within so many days is not put off for a nearer place.
const PRESSING_DAYS: i32 = 7;

/// One sitting.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sitting {
    /// The time there is, in minutes.
    pub time: u32,
    /// The jobs, in the order to do them: one place after the other.
    pub jobs: Vec<JobId>,
    /// How long they take together.
    pub minutes: u32,
}

/// The jobs that can be begun; they stand first in the plan.
type Able<'a> = Arena<JobId, &'a Job>;

/// Fills the time from the first `ready` jobs.
pub(super) fn fill(jobs: &Arena<JobId, Job>, ready: usize, time: u32, on: Date) -> Sitting {
    let able: &Able<'_> = &jobs.iter().take(ready).collect();
    let mut taken: BTreeSet<JobId> = BTreeSet::new();
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
fn ranked(able: &Able<'_>, time: u32, on: Date) -> Vec<JobId> {
    let before = able.iter().map(|job| job.after.clone()).collect();
    let pressing = pressing(able, &before, on);
    let soon = on.days().saturating_add(PRESSING_DAYS);
    let presses =
        |job: JobId| matches!(pressing.get(job), Some(Pressing { by: By::Day(day), .. }) if day.days() <= soon);
    let fits = |job: &JobId| able.get(*job).is_some_and(|one| one.takes.minutes <= time);
    let first = able.ids().filter(fits).min_by_key(|job| (!presses(*job), *job));
    let here = first.and_then(|job| able.get(job)).map(|job| job.zone.as_deref());
    let rank = |job: &JobId| {
        let there = able.get(*job).map(|one| one.zone.as_deref()) != here;
        (!presses(*job), !presses(*job) && there, *job)
    };
    let mut ranked: Vec<JobId> = able.ids().collect();
    ranked.sort_by_key(rank);
    ranked
}

/// A job with all that comes before it and is not taken yet.
fn missing(able: &Able<'_>, taken: &BTreeSet<JobId>, job: JobId) -> BTreeSet<JobId> {
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
fn one_place_after_the_other(able: &Able<'_>, taken: &BTreeSet<JobId>) -> Vec<JobId> {
    // Among the jobs taken each has an id of another kind.
    let chosen: Arena<IdOf<JobId>, JobId> = taken.iter().copied().collect();
    let among: BTreeMap<JobId, IdOf<JobId>> = chosen.with_ids().map(|(id, job)| (*job, id)).collect();
    // The first job of each place.
    let mut places: BTreeMap<Option<&str>, JobId> = BTreeMap::new();
    for (id, job) in taken.iter().filter_map(|id| Some((*id, able.get(*id)?))) {
        places.entry(job.zone.as_deref()).or_insert(id);
    }
    let after = |job: &JobId| able.get(*job).map_or(&[][..], |job| job.after.as_slice());
    let before =
        chosen.iter().map(|job| after(job).iter().filter_map(|one| among.get(one)).copied().collect()).collect();
    let key = |id: IdOf<JobId>| {
        let job = chosen.get(id).and_then(|job| able.get(*job));
        ((), job.and_then(|job| places.get(&job.zone.as_deref())).copied(), id)
    };
    graph::placed(&before, key).into_iter().filter_map(|job| chosen.get(job).copied()).collect()
}
