//! The order: what is due first, what others wait for before them, what can
//! end the visit; what waits comes apart, after all that can be begun.

use super::graph;
use super::job::{Job, JobId};
use crate::audit::Wants;
use crate::ir::{Arena, HoldPointId, Rules, ZoneId};
use crate::quantity::Date;
use std::cmp::Reverse;
use std::collections::BTreeMap;

type Before = graph::Before<JobId>;
type Jobs = Arena<JobId, Job>;

/// By when a job must be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum By {
    /// That day, or today where it has passed.
    Day(Date),
    /// No day is known.
    NoDay,
}

/// How much a job presses; the least presses most.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Pressing {
    /// By when it must be done.
    pub(super) by: By,
    /// The visit can go on without it.
    pub(super) stays: bool,
    /// No fault is known, only nobody has looked yet.
    pub(super) first_look: bool,
}

/// The jobs in order, and how many of them can be begun today.
pub(super) fn in_order(rules: &Rules, mut jobs: Jobs, on: Date) -> (Jobs, usize) {
    let before: Before = jobs.iter().map(|job| job.after.clone()).collect();
    for (job, circle) in graph::circles(&before) {
        if let Some(job) = jobs.get_mut(job) {
            job.circle = circle;
        }
    }
    for (job, later) in jobs.iter_mut().zip(&graph::turned(&before)) {
        job.blocks = later.len();
    }
    let waiting = waiting(&jobs, &before);
    let pressing = pressing(&jobs.iter().collect(), &before, on);
    let zones: BTreeMap<&str, ZoneId> = rules.zones.with_ids().map(|(id, zone)| (zone.name.as_str(), id)).collect();
    let points = rules.hold_points.with_ids().map(|(id, point)| (point.name.as_str(), id)).collect();
    let rank_of = ranks(&jobs, &points);
    let key = |job: JobId| {
        let waits = waiting.get(job).copied().unwrap_or(false);
        let pressing = pressing.get(job).copied().unwrap_or(Pressing { by: By::NoDay, stays: true, first_look: true });
        let zone = jobs.get(job).and_then(|one| one.zone.as_deref()).and_then(|zone| zones.get(zone));
        ((waits, pressing), (zone.is_none(), zone.copied()), rank_of.get(job).copied())
    };
    let order = graph::placed(&before, key);
    let ready = order.iter().filter(|job| waiting.get(**job) == Some(&false)).count();
    (moved(&jobs, &order), ready)
}

/// Whether a job waits: for an answer, for a part, for the visit, in a circle, or for a job that waits.
fn waiting(jobs: &Jobs, before: &Before) -> Arena<JobId, bool> {
    let itself = |job: &Job| {
        let part = job.part.as_ref().is_some_and(|part| part.awaited);
        job.is_unanswered() || job.after_visit || !job.circle.is_empty() || part
    };
    let mut waiting: Arena<JobId, bool> = jobs.iter().map(itself).collect();
    let after = graph::turned(before);
    let mut next: Vec<JobId> = jobs.ids().filter(|job| waiting.get(*job) == Some(&true)).collect();
    while let Some(job) = next.pop() {
        for later in after.get(job).into_iter().flatten() {
            if let Some(slot) = waiting.get_mut(*later).filter(|slot| !**slot) {
                *slot = true;
                next.push(*later);
            }
        }
    }
    waiting
}

/// How much each job presses: as much as any that waits for it.
pub(super) fn pressing(jobs: &Arena<JobId, &Job>, before: &Before, on: Date) -> Arena<JobId, Pressing> {
    let own = |job: &&Job| {
        let by = job.last_day().map_or(By::NoDay, |day| By::Day(day.max(on)));
        Pressing { by, stays: !job.stops_the_visit, first_look: job.wants == Wants::Entry }
    };
    let mut pressing: Arena<JobId, Pressing> = jobs.iter().map(own).collect();
    // Backwards through an order in which everything stands after what it waits for.
    for job in graph::placed(before, |_| ((), (), ())).into_iter().rev() {
        let Some(own) = pressing.get(job).copied() else { continue };
        for earlier in before.get(job).into_iter().flatten() {
            if let Some(slot) = pressing.get_mut(*earlier) {
                *slot = (*slot).min(own);
            }
        }
    }
    pressing
}

/// The place of each job among those that press alike: what many wait for,
/// then by hold point, then by name and records.
fn ranks(jobs: &Jobs, points: &BTreeMap<&str, HoldPointId>) -> Arena<JobId, usize> {
    let key = |job: &Job| {
        let point = job.due.as_ref().and_then(|due| points.get(due.by.as_str())).copied();
        (Reverse(job.blocks), point.is_none(), point, job.name.clone(), job.subjects.clone())
    };
    let mut sorted: Vec<(JobId, _)> = jobs.with_ids().map(|(id, job)| (id, key(job))).collect();
    sorted.sort_by(|a, b| a.1.cmp(&b.1));
    let mut ranks = Arena::filled(0, jobs.len());
    for (rank, (job, _)) in sorted.into_iter().enumerate() {
        if let Some(slot) = ranks.get_mut(job) {
            *slot = rank;
        }
    }
    ranks
}

/// The jobs in a new order; what they say of each other moves with them.
fn moved(jobs: &Jobs, order: &[JobId]) -> Jobs {
    // The id there will be, by the one there was: each job is in the order once.
    let mut place: Arena<JobId, JobId> = jobs.ids().collect();
    let mut moved = Jobs::default();
    for old in order {
        if let Some(job) = jobs.get(*old) {
            place.set(*old, moved.push(job.clone()));
        }
    }
    let there = |old: &JobId| place.get(*old).copied().unwrap_or(*old);
    for job in moved.iter_mut() {
        job.after = job.after.iter().map(there).collect();
        job.after.sort_unstable();
        job.circle = job.circle.iter().map(there).collect();
    }
    moved
}
