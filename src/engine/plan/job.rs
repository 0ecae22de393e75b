//! One open job, as a plan tells it.

use crate::audit::{Lapse, Wants};
use crate::ir::{IdOf, ItemId};
use crate::quantity::{Date, ExactInterval};
use crate::source::SharedText;
use crate::vocabulary::Verdict;
use serde::{Deserialize, Serialize};

/// No job is longer: beyond it somebody mistyped.
const LONGEST: u32 = 1_000_000;

/// Where a job comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum JobKind {
    /// A snag in the log.
    Snag,
    /// The builder's own.
    Own,
    /// A finding that is open, by its verdict.
    #[serde(untagged)]
    Finding(Verdict),
}

/// Who said how long a job takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TimeSource {
    /// The builder.
    Builder,
    /// The pack.
    Pack,
    /// Nobody.
    Assumed,
}

/// How long a job takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Takes {
    /// Minutes; the most where a range was given.
    pub minutes: u32,
    /// Who said so.
    pub said: TimeSource,
}

/// By when a job is due.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Due {
    /// The hold point.
    pub by: String,
    /// Its planned day.
    pub day: Option<Date>,
    /// Where it has none: the first later hold point that has one. What is due before that is due by then.
    pub then: Option<(String, Date)>,
}

/// What a job waits for: a part on order, a paper, a person.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Part {
    /// What it is.
    pub part: String,
    /// When it was ordered.
    pub ordered: Option<String>,
    /// The last day on which it is expected.
    pub expected: Option<Date>,
    /// Whether the job still waits for it: until the day it is expected.
    pub awaited: bool,
}

/// The line of the log that says of a job that it is done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DoneBy {
    /// The snag is cleared.
    SnagCleared {
        /// Its part.
        part: String,
        /// Its number, where it has one.
        snag: Option<u32>,
    },
    /// A part is put back.
    Refitted {
        /// The part.
        part: String,
    },
}

/// The id of a job: its place in [`Plan::jobs`](super::Plan::jobs).
pub type JobId = IdOf<Job>;

/// An open job.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Job {
    /// `us/marks.height`, `snag 14`, `own: fit wheel spats`.
    pub name: String,
    /// Where it comes from.
    pub kind: JobKind,
    /// What is so when it is done; of a snag or own job, what is to be done.
    pub title: SharedText,
    /// The records it is about.
    pub subjects: Vec<String>,
    /// Where.
    pub zone: Option<String>,
    /// By when.
    pub due: Option<Due>,
    /// The day on which its zone is to be closed.
    pub closes: Option<Date>,
    /// How long it takes.
    pub takes: Takes,
    /// It can end the visit.
    pub stops_the_visit: bool,
    /// Open jobs that come before it.
    pub after: Vec<JobId>,
    /// The part it waits for.
    pub part: Option<Part>,
    /// What it wants first.
    pub wants: Wants,
    /// It stays open for the inspector: to be done after the visit, which is still to come.
    pub after_visit: bool,
    /// Jobs that wait for each other in a circle, this one first.
    pub circle: Vec<JobId>,
    /// How many open jobs name it as coming before them.
    pub blocks: usize,
    /// What the log had shown, and what undid it.
    pub lapse: Option<Lapse>,
    /// How to find out.
    pub check: Option<SharedText>,
    /// What to do, or what to do if it is not so.
    pub remedy: Option<SharedText>,
    /// What can hurt.
    pub caution: Option<SharedText>,
    /// The builder's remark, of what was taken off.
    pub note: Option<String>,
    /// What is logged when it is done: of a snag, and of what is to be put back.
    pub done_by: Option<DoneBy>,
    /// The item, if it comes from one.
    #[serde(skip)]
    pub(super) item: Option<ItemId>,
}

impl Job {
    /// Whether no work is known: it waits for an answer or a word that nobody has given yet.
    #[must_use]
    pub fn is_unanswered(&self) -> bool {
        matches!(self.wants, Wants::Answer | Wants::Word)
    }

    /// The nearest day by which it must be done: that of its hold point or the closing of its zone.
    #[must_use]
    pub fn last_day(&self) -> Option<Date> {
        let due = self.due.as_ref().and_then(|due| due.day.or(due.then.as_ref().map(|(_, day)| *day)));
        due.into_iter().chain(self.closes).min()
    }
}

/// A time in whole minutes: the most it can be, rounded up, at least one.
///
/// ```
/// use cotterpin_engine::quantity::Quantity;
/// use cotterpin_engine::plan::minutes_of;
/// let minutes = Quantity::parse("40 min ± 5 min").map(|time| minutes_of(&time.range));
/// assert_eq!(minutes, Ok(45));
/// ```
#[must_use]
pub fn minutes_of(time: &ExactInterval) -> u32 {
    let seconds = time.hi().map_or(f64::INFINITY, crate::quantity::Exact::to_f64_above);
    let minutes = (seconds / 60.0).ceil().clamp(1.0, f64::from(LONGEST));
    // Between one and a million: it fits.
    minutes as u32
}
