//! The order: what is due first, what others wait for before them, what can
//! end the visit; what waits comes apart, after all that can be begun.

use super::graph::{self, Before};
use super::job::Job;
use crate::ir::Rules;
use crate::quantity::Date;
use std::collections::BTreeMap;

/// How much a job presses; the least presses most.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Pressing {
    /// The day by which it must be done, today where that has passed.
    pub(super) day: i32,
    /// The visit can go on without it.
    pub(super) stays: bool,
}

/// The jobs in order, and how many of them can be begun today.
pub(super) fn in_order(rules: &Rules, mut jobs: Vec<Job>, on: Date) -> (Vec<Job>, usize) {
    let before: Before = jobs.iter().map(|job| job.after.clone()).collect();
    for (job, circle) in graph::circles(&before) {
        if let Some(job) = jobs.get_mut(job) {
            job.circle = circle;
        }
    }
    for (job, later) in jobs.iter_mut().zip(graph::turned(&before)) {
        job.blocks = later.len();
    }
    let waiting = waiting(&jobs, &before);
    let pressing = pressing(&jobs, &before, on);
    let zones: BTreeMap<&str, usize> = rules.zones.iter().map(|zone| zone.name.as_str()).zip(0..).collect();
    let points: BTreeMap<&str, usize> = rules.hold_points.iter().map(|point| point.name.as_str()).zip(0..).collect();
    let rank_of = ranks(&jobs, &points);
    let key = |job: usize| {
        let waits = waiting.get(job).copied().unwrap_or(false);
        let Pressing { day, stays } = pressing.get(job).copied().unwrap_or(Pressing { day: i32::MAX, stays: true });
        let zone = jobs.get(job).and_then(|one| one.zone.as_deref()).and_then(|zone| zones.get(zone));
        let rank = rank_of.get(job).copied().unwrap_or(usize::MAX);
        ((waits, day, stays), zone.copied().unwrap_or(usize::MAX), rank)
    };
    let order = graph::placed(&before, key);
    let ready = order.iter().filter(|job| waiting.get(**job) == Some(&false)).count();
    (moved(jobs, &order), ready)
}

/// Whether a job waits: for a part, for the visit, in a circle, or for a job that waits.
fn waiting(jobs: &[Job], before: &Before) -> Vec<bool> {
    let itself =
        |job: &Job| job.after_visit || !job.circle.is_empty() || job.part.as_ref().is_some_and(|part| part.awaited);
    let mut waiting: Vec<bool> = jobs.iter().map(itself).collect();
    let after = graph::turned(before);
    let mut next: Vec<usize> = (0..jobs.len()).filter(|job| waiting.get(*job) == Some(&true)).collect();
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
pub(super) fn pressing(jobs: &[Job], before: &Before, on: Date) -> Vec<Pressing> {
    let own = |job: &Job| {
        let day = job.last_day().map_or(i32::MAX, |day| day.days().max(on.days()));
        Pressing { day, stays: !job.stops_the_visit }
    };
    let mut pressing: Vec<Pressing> = jobs.iter().map(own).collect();
    // Backwards through an order in which everything stands after what it waits for.
    for job in graph::placed(before, |_| ((), 0, 0)).into_iter().rev() {
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
fn ranks(jobs: &[Job], points: &BTreeMap<&str, usize>) -> Vec<usize> {
    let key = |job: &Job| {
        let point = job.due.as_ref().and_then(|due| points.get(due.by.as_str())).copied().unwrap_or(usize::MAX);
        (usize::MAX.saturating_sub(job.blocks), point, job.name.clone(), job.subjects.clone())
    };
    let mut sorted: Vec<(usize, _)> = jobs.iter().map(key).enumerate().collect();
    sorted.sort_by(|a, b| a.1.cmp(&b.1));
    let mut ranks = vec![0; jobs.len()];
    for (rank, (job, _)) in sorted.into_iter().enumerate() {
        if let Some(slot) = ranks.get_mut(job) {
            *slot = rank;
        }
    }
    ranks
}

/// The jobs in a new order; what they say of each other moves with them.
fn moved(jobs: Vec<Job>, order: &[usize]) -> Vec<Job> {
    let mut place = vec![0; jobs.len()];
    for (new, old) in order.iter().enumerate() {
        if let Some(slot) = place.get_mut(*old) {
            *slot = new;
        }
    }
    let there = |old: &usize| place.get(*old).copied().unwrap_or(*old);
    let mut jobs: Vec<Option<Job>> = jobs.into_iter().map(Some).collect();
    let mut moved: Vec<Job> = order.iter().filter_map(|old| jobs.get_mut(*old)?.take()).collect();
    for job in &mut moved {
        job.after = job.after.iter().map(there).collect();
        job.after.sort_unstable();
        job.circle = job.circle.iter().map(there).collect();
    }
    moved
}
