//! What a whole audit says: its findings, counted, with what is asked and what does not count. Plain data.

use super::cause::Notice;
use super::finding::Finding;
use crate::ir::Pack;
use crate::source::SharedText;
use crate::vocabulary::Verdict;
use serde::{Deserialize, Serialize};

/// The sentence that ends every report. It cannot be switched off.
pub const REMINDER: &str = "This is a self-audit against the packs named above. It gives no permission to fly, \
and signs nothing. The local authority's inspector has the final say.";

/// How many findings of each verdict.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Summary {
    /// Met.
    pub met: usize,
    /// Unmet.
    pub unmet: usize,
    /// Not shown.
    pub not_shown: usize,
    /// Not applicable.
    pub not_applicable: usize,
    /// Conceded.
    pub conceded: usize,
    /// Set aside by a pack.
    pub set_aside: usize,
}

/// What is open at a hold point later than what was looked at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Later {
    /// The hold point.
    pub by: SharedText,
    /// So many findings are unmet.
    pub unmet: usize,
    /// So many are not shown.
    pub not_shown: usize,
}

/// A question, and how many findings its answer would help to settle.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Question {
    /// The fact.
    pub fact: String,
    /// The question.
    pub ask: SharedText,
    /// An example of an answer.
    pub example: Option<SharedText>,
    /// How many findings wait for it.
    pub settles: usize,
    /// How many items apply or not by it, where it is one of the few that decide most of what applies; else none.
    #[serde(default)]
    pub decides: usize,
}

/// The whole answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Audit {
    /// The project's name.
    pub project: String,
    /// The audit date.
    pub on: String,
    /// The planned visit.
    pub visit: Option<String>,
    /// Only items due by this hold point were looked at.
    pub by: Option<String>,
    /// Only items of this zone, which is about to be closed, were looked at.
    pub closing: Option<String>,
    /// The packs and editions used.
    pub packs: Vec<Pack>,
    /// Counts.
    pub summary: Summary,
    /// The findings: what can end the visit first, then by hold point, system, zone and name.
    pub findings: Vec<Finding>,
    /// What is open later than that, by hold point, in their order; lists that nobody called whole are not counted.
    pub later: Vec<Later>,
    /// The questions that would settle most, most first.
    pub questions: Vec<Question>,
    /// Concessions, confirmations and the like that do not count.
    pub notices: Vec<Notice>,
    /// Recorded facts, counted with the fields of records.
    pub recorded: usize,
    /// Titles of hold points, zones and systems by name, for the reader.
    pub titles: Titles,
    /// The last word, the same in every audit.
    #[serde(skip_deserializing, default = "reminder")]
    pub reminder: &'static str,
}

/// The last word, for what is read back.
pub(crate) fn reminder() -> &'static str {
    REMINDER
}

/// Titles by name, in order.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Titles {
    /// Hold points, in order.
    #[serde(with = "super::titles")]
    pub hold_points: Vec<(SharedText, SharedText)>,
    /// Zones, in walking order.
    #[serde(with = "super::titles")]
    pub zones: Vec<(SharedText, SharedText)>,
    /// Systems.
    #[serde(with = "super::titles")]
    pub systems: Vec<(SharedText, SharedText)>,
}

impl Audit {
    /// 0 nothing unmet or not shown, 1 something unmet, 2 nothing unmet but
    /// something not shown, 3 nothing was evaluated, or something recorded was
    /// not: that goes before the others.
    #[must_use]
    pub fn exit_status(&self) -> u8 {
        let unjudged = self.notices.iter().any(|notice| notice.is_of_something_not_judged());
        let evaluated = !unjudged && self.was_evaluated();
        match (evaluated, self.summary.unmet, self.summary.not_shown) {
            (false, _, _) => 3,
            (true, 0, 0) => 0,
            (true, 0, _) => 2,
            (true, _, _) => 1,
        }
    }

    /// Whether any item concerns the aircraft.
    #[must_use]
    pub fn was_evaluated(&self) -> bool {
        self.findings.iter().any(|finding| finding.verdict != Verdict::NotApplicable)
    }
}
