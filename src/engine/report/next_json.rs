//! The jobs for programs, as `schemas/next.json` says.

use super::document::document;
use super::job::why;
use super::message::Message;
use super::schemas::NEXT;
use crate::audit::{Titles, Unanswered};
use crate::ir::Pack;
use crate::plan::{Besides, Chain, Job, Plan, Sitting};
use crate::quantity::{Date, DateRange};
use serde::Serialize;

/// A plan, key for key, with sentences beside each job.
#[derive(Serialize)]
struct PlanOut<'a> {
    project: &'a str,
    on: Date,
    visit: Option<DateRange>,
    packs: &'a [Pack],
    a_day: u32,
    a_day_assumed: bool,
    jobs: Vec<JobOut<'a>>,
    ready: usize,
    sitting: Option<&'a Sitting>,
    chain: Option<&'a Chain>,
    open_lists: &'a [String],
    unanswered: Unanswered,
    unanswered_by: Option<&'a str>,
    besides: &'a [Besides],
    notices: &'a [String],
    titles: &'a Titles,
    reminder: &'static str,
}

#[derive(Serialize)]
struct JobOut<'a> {
    #[serde(flatten)]
    job: &'a Job,
    latest: Option<Date>,
    says: JobSays,
}

#[derive(Serialize)]
struct JobSays {
    why: Vec<String>,
}

/// The plan as pretty JSON with a line end.
#[must_use]
pub fn next_json(plan: &Plan, messages: &[Message]) -> String {
    let Plan {
        project,
        packs,
        on,
        visit,
        jobs,
        ready,
        sitting,
        chain,
        a_day,
        a_day_assumed,
        open_lists,
        unanswered,
        unanswered_by,
        besides,
        notices,
        titles,
        reminder,
    } = plan;
    let out = PlanOut {
        project,
        on: *on,
        visit: *visit,
        packs,
        a_day: *a_day,
        a_day_assumed: *a_day_assumed,
        jobs: jobs.iter().map(|job| job_out(plan, job)).collect(),
        ready: *ready,
        sitting: sitting.as_ref(),
        chain: chain.as_ref(),
        open_lists,
        unanswered: *unanswered,
        unanswered_by: unanswered_by.as_deref(),
        besides,
        notices,
        titles,
        reminder,
    };
    document(&NEXT, &out, messages)
}

fn job_out<'a>(plan: &Plan, job: &'a Job) -> JobOut<'a> {
    JobOut { job, latest: job.last_day(), says: JobSays { why: why(plan, job) } }
}
