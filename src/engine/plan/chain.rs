//! The chain of jobs to the visit that ends last. A job begins when all before
//! it are done and its part is expected; time runs in working minutes, so many
//! to a day, and today is the first day.

use super::VISIT;
use super::job::{Job, JobId, TimeSource};
use crate::ir::{Arena, Rules};
use crate::project::Record;
use crate::quantity::Date;
use serde::{Deserialize, Serialize};
use std::cmp::Reverse;

/// The chain of jobs that ends last, and what there is to do to the visit in all.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Chain {
    /// Its jobs, the first one first.
    pub jobs: Vec<JobId>,
    /// How long they take.
    pub minutes: u64,
    /// Its first job waits for a part; the chain begins when that is expected.
    pub begins_with_part: bool,
    /// Days until it is done, today and any wait for a part included.
    pub days: u64,
    /// How many jobs must be done to the visit, those of no chain included.
    pub all_jobs: usize,
    /// How long they take one after the other, as for a builder alone.
    pub all_minutes: u64,
    /// Days until all of them are done.
    pub all_days: u64,
    /// Days from today to the visit; today's is the first.
    pub days_left: Option<i64>,
    /// Jobs whose part has no expected day: told as if it were there.
    pub unknown_parts: usize,
    /// Jobs in a circle, or after one, that have no place in a chain.
    pub in_circles: usize,
    /// Jobs of which nobody said how long they take: no time is counted for them.
    pub without_time: usize,
}

/// When a job is done, in working minutes from today, and the job it followed on.
#[derive(Clone, Copy)]
struct Done {
    minutes: u64,
    follows: Option<JobId>,
}

type Jobs = Arena<JobId, Job>;

/// The chain to the visit; `None` where nothing is open to the visit.
pub(super) fn to_the_visit(rules: &Rules, record: &Record, jobs: &Jobs, a_day: u32, on: Date) -> Option<Chain> {
    let wanted = wanted(rules, jobs);
    let done = done(jobs, u64::from(a_day), on);
    let work = |job: &JobId| jobs.get(*job).is_some_and(|job| !job.is_unanswered());
    let all: Vec<JobId> = jobs.ids().filter(|job| wanted.get(*job) == Some(&true)).filter(work).collect();
    let ends = all.iter().filter_map(|job| Some((done.get(*job).copied()??.minutes, *job)));
    // Of those that end alike, the first in the order.
    let last = ends.min_by_key(|(minutes, job)| (Reverse(*minutes), *job));
    let mut chain: Vec<JobId> = last.iter().map(|(_, job)| *job).collect();
    while let Some(before) = chain.last().and_then(|job| done.get(*job).copied()??.follows) {
        chain.push(before);
    }
    chain.reverse();
    chain.retain(work);
    let days = |minutes: u64| minutes.div_ceil(u64::from(a_day.max(1)));
    let minutes = |of: &[JobId]| of.iter().filter_map(|job| jobs.get(*job)).map(minutes_said).sum();
    let part = |job: &JobId| jobs.get(*job).and_then(|job| job.part.as_ref()).filter(|part| part.awaited);
    let chain_days = last.map_or(0, |(minutes, _)| days(minutes));
    let all_minutes = minutes(&all);
    (!all.is_empty()).then(|| Chain {
        minutes: minutes(&chain),
        begins_with_part: chain.first().and_then(part).is_some_and(|part| part.expected.is_some()),
        days: chain_days,
        all_jobs: all.len(),
        all_minutes,
        all_days: days(all_minutes).max(chain_days),
        days_left: record.visit.map(|visit| i64::from(visit.first.days()).saturating_sub(i64::from(on.days()))),
        unknown_parts: all.iter().filter_map(part).filter(|part| part.expected.is_none()).count(),
        without_time: all.iter().filter_map(|job| jobs.get(*job)).filter(|job| !is_said(job)).count(),
        in_circles: all.iter().filter(|job| done.get(**job).copied().flatten().is_none()).count(),
        jobs: chain,
    })
}

/// Whether somebody said how long it takes.
fn is_said(job: &Job) -> bool {
    job.takes.said != TimeSource::Assumed
}

/// The time that somebody said it takes: no alarm rests on what is assumed, nor on what a question may turn up.
fn minutes_said(job: &Job) -> u64 {
    if is_said(job) && !job.is_unanswered() { u64::from(job.takes.minutes) } else { 0 }
}

/// What is due by the visit or an earlier hold point, with all that comes before it.
fn wanted(rules: &Rules, jobs: &Jobs) -> Arena<JobId, bool> {
    let rank = |by: &str| rules.hold_points.position(|point| point.name == by);
    let visit = rank(VISIT);
    let due = |job: &Job| match (visit, &job.due) {
        (None, _) => true,
        (Some(visit), Some(due)) => rank(&due.by).is_some_and(|at| at <= visit),
        (Some(_), None) => false,
    };
    let mut wanted = Arena::filled(false, jobs.len());
    let mut next: Vec<JobId> = jobs.with_ids().filter(|(_, job)| due(job)).map(|(id, _)| id).collect();
    while let Some(job) = next.pop() {
        if let Some(slot) = wanted.get_mut(job).filter(|slot| !**slot) {
            *slot = true;
            next.extend(jobs.get(job).into_iter().flat_map(|job| &job.after).copied());
        }
    }
    wanted
}

/// When each job can be done at the earliest; none for what is in a circle or
/// after one. The jobs stand in an order in which each comes after what it waits for.
fn done(jobs: &Jobs, a_day: u64, on: Date) -> Arena<JobId, Option<Done>> {
    let mut done: Arena<JobId, Option<Done>> = Arena::default();
    for job in jobs {
        let before: Option<Vec<(u64, JobId)>> =
            job.after.iter().map(|one| Some((done.get(*one).copied()??.minutes, *one))).collect();
        let one = before.filter(|_| job.circle.is_empty()).map(|before| {
            let last = before.into_iter().max_by_key(|(minutes, job)| (*minutes, Reverse(*job)));
            let expected = job.part.as_ref().filter(|part| part.awaited).and_then(|part| part.expected);
            let days = expected.map_or(0, |day| i64::from(day.days()).saturating_sub(i64::from(on.days())).max(0));
            let there = u64::try_from(days).unwrap_or(0).saturating_mul(a_day);
            let follows = last.filter(|(minutes, _)| *minutes >= there);
            let begins = follows.map_or(there, |(minutes, _)| minutes);
            let minutes = begins.saturating_add(minutes_said(job));
            Done { minutes, follows: follows.map(|(_, job)| job) }
        });
        done.push(one);
    }
    done
}
