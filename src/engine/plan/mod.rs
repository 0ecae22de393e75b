//! What next: the open jobs of an audited project, in which order, before what
//! closes, and what they wait for.
//!
//! In: rules, record, and the audit of both. Out: plain data. This room reads
//! no disk and no clock, changes no verdict, and guesses no duration without
//! saying so.

mod besides;
mod chain;
mod close_up;
mod graph;
mod job;
mod links;
mod open_jobs;
mod order;
mod sitting;

pub use besides::{Besides, Unsaid};
pub use chain::Chain;
pub use close_up::{CloseUp, Opening, close_up};
pub use job::{DoneBy, Due, Job, JobId, JobKind, Part, Takes, TimeSource, minutes_of};
pub use open_jobs::open_snags;
pub use sitting::Sitting;

use crate::audit::{Audit, FindingKind, Unanswered, next_hold_point, reminder};
use crate::ir::{Arena, Pack, Rules};
use crate::project::Record;
use crate::quantity::{Date, DateRange};
use crate::source::SharedText;
use crate::vocabulary::Verdict;
use serde::{Deserialize, Serialize};

/// Minutes a job takes of which nobody said how long.
pub const ASSUMED_JOB: u32 = 60;
/// Working minutes of a day where nobody said how many.
pub const ASSUMED_DAY: u32 = 180;
/// The hold point that is the planned visit.
const VISIT: &str = "visit";
/// The hold point that comes with the closing of each zone.
const CLOSE: &str = "close";

/// What to plan.
#[derive(Debug, Clone, Copy)]
pub struct Request {
    /// The day.
    pub on: Date,
    /// The time there is for one sitting, in minutes.
    pub time: Option<u32>,
    /// Working time of a day in minutes; else what the project says, else [`ASSUMED_DAY`].
    pub a_day: Option<u32>,
}

/// The open jobs, and how they hang together.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Plan {
    /// The project's name.
    pub project: String,
    /// The packs the audit was against.
    pub packs: Vec<Pack>,
    /// The day.
    pub on: Date,
    /// The planned visit.
    pub visit: Option<DateRange>,
    /// First those that can be begun, in the order to do them; then those that wait, if only for an answer.
    pub jobs: Arena<JobId, Job>,
    /// How many of them can be begun.
    pub ready: usize,
    /// What fits into the time asked for.
    pub sitting: Option<Sitting>,
    /// The chain of jobs to the visit that ends last.
    pub chain: Option<Chain>,
    /// Working minutes of a day.
    pub a_day: u32,
    /// Nobody said how many.
    pub a_day_assumed: bool,
    /// The lists of which the audit asks whether they are whole: a question, and no job.
    pub open_lists: Vec<String>,
    /// What only waits for somebody to say it, those lists included, as far as it is due by that hold point.
    pub unanswered: Unanswered,
    /// The next hold point, as far as an audit looks where nobody says how far; nothing where none is planned.
    pub unanswered_by: Option<SharedText>,
    /// The same by hold point and system, without what comes after something else that is open.
    pub besides: Vec<Besides>,
    /// What was left out, and why.
    pub notices: Vec<String>,
    /// Titles of zones and hold points by name.
    pub titles: crate::audit::Titles,
    /// The last word.
    #[serde(skip_deserializing, default = "reminder")]
    pub reminder: &'static str,
}

fn open_lists(audit: &Audit) -> Vec<String> {
    let lists = audit.findings.iter().filter(|finding| finding.kind == FindingKind::WholeList);
    lists.map(|finding| finding.item.clone()).collect()
}

/// Plans the open jobs of an audit. The audit must be of the same rules,
/// record and day, and up to no hold point.
#[must_use]
pub fn plan(rules: &Rules, record: &Record, audit: &Audit, request: Request) -> Plan {
    let (jobs, notices) = open_jobs::jobs(rules, record, audit, request.on);
    let said = request.a_day.or_else(|| record.a_day.as_ref().map(minutes_of));
    let a_day = said.unwrap_or(ASSUMED_DAY).clamp(1, 24 * 60);
    let (jobs, ready) = order::in_order(rules, jobs, request.on);
    let sitting = request.time.map(|time| sitting::fill(&jobs, ready, time, request.on));
    let chain = chain::to_the_visit(rules, record, &jobs, a_day, request.on);
    let behind = audit.behind();
    let unanswered_by = next_hold_point(rules, record, request.on);
    let open = audit.findings.iter().filter(|one| one.verdict == Verdict::NotShown && !behind.waits(one));
    Plan {
        project: audit.project.clone(),
        packs: audit.packs.clone(),
        on: request.on,
        visit: record.visit,
        jobs,
        ready,
        sitting,
        chain,
        a_day,
        a_day_assumed: said.is_none(),
        open_lists: open_lists(audit),
        unanswered: Unanswered::of(open.filter(|one| audit.is_due(one, unanswered_by.as_deref()))),
        unanswered_by,
        besides: besides::besides(audit),
        notices,
        titles: audit.titles.clone(),
        reminder: audit.reminder,
    }
}
