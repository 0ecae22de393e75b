//! An audit made small: what a later comparison needs, and nothing else.

use crate::audit::{
    Audit, Conceded, Finding, Lapse, LogLine, MissingCause, Note, Observed, ObservedValue, Remark, SetAside,
};
use crate::source::Place;
use crate::vocabulary::Verdict;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The version of the engine that runs.
pub const ENGINE: &str = env!("CARGO_PKG_VERSION");

/// An audit as it is kept.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Saved {
    /// The project's name.
    pub project: String,
    /// The audit date, ISO 8601.
    pub on: String,
    /// The planned visit.
    pub visit: Option<String>,
    /// The hold point up to which items were looked at; none for all.
    pub by: Option<String>,
    /// The version of the engine that judged.
    pub engine: String,
    /// The packs.
    pub packs: Vec<SavedPack>,
    /// Every recorded value that a finding saw, by the name of its fact or field.
    pub values: BTreeMap<String, ObservedValue>,
    /// The findings, by item and record.
    pub findings: Vec<SavedFinding>,
    /// The file has the first form, whose sentences say less than what is kept now.
    pub first_form: bool,
}

/// A pack by name and edition.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SavedPack {
    /// Its name.
    pub name: String,
    /// Its edition.
    pub edition: String,
}

/// A finding as it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SavedFinding {
    /// The item: `us/marks.height`.
    pub item: String,
    /// The record it is about.
    pub subject: Option<String>,
    /// What became of it.
    pub verdict: Verdict,
    /// What is so when it is met.
    pub title: String,
    /// The hold point by which it must be met.
    pub by: String,
    /// An open finding can end the visit.
    pub stops_the_visit: bool,
    /// The names of recorded values that decided, which stand in [`Saved::values`]. Not kept of a met finding.
    pub seen: Vec<String>,
    /// Values worked out on the way. Kept only while something is open or conceded.
    pub worked_out: BTreeMap<String, ObservedValue>,
    /// What would help to decide, and why it is wanted.
    pub missing: BTreeMap<String, MissingCause>,
    /// The deciding parts as the pack writes them. Kept only while something is open or conceded.
    pub asked: Vec<String>,
    /// What was said of it besides.
    pub notes: Vec<SavedNote>,
    /// The leave that was given.
    pub concession: Option<Leave>,
    /// The packs that set it aside, and why.
    pub set_aside: Vec<Aside>,
    /// What no longer counts because of what was done since.
    pub lapsed: Vec<SavedLapse>,
}

/// What was said of a finding, or of one of its parts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum SavedNote {
    /// Of the finding.
    Remark(Remark),
    /// Of a part.
    Note(Note),
    /// As the first form words it.
    Worded(String),
}

/// A concession that counted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Leave {
    /// Who granted it.
    pub granted_by: String,
    /// In what role.
    pub role: String,
    /// Since when.
    pub on: String,
    /// Until when.
    pub until: String,
    /// Why.
    pub reason: String,
}

/// A pack that set an item aside.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Aside {
    /// The pack.
    pub pack: String,
    /// Its reason.
    pub because: String,
}

/// What had been shown, and what undid it; without a place, for lines move.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SavedLapse {
    /// What no longer counts.
    pub shown: SavedLine,
    /// What undid it.
    pub undone_by: SavedLine,
}

/// A line of the log, or a person's word.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SavedLine {
    /// What happened, and to which part: `adjusted controls.elevator`.
    pub what: String,
    /// The day.
    pub on: String,
    /// Who.
    pub who: String,
}

impl Saved {
    /// Makes an audit small.
    #[must_use]
    pub fn of(audit: &Audit) -> Self {
        let mut saved = Self::whole(audit);
        for finding in &mut saved.findings {
            finding.shorten();
        }
        saved.findings.sort_by(|a, b| (&a.item, &a.subject).cmp(&(&b.item, &b.subject)));
        saved
    }

    /// The audit in the same form with nothing left out, in the audit's own order.
    #[must_use]
    pub fn whole(audit: &Audit) -> Self {
        let mut values = BTreeMap::new();
        for seen in audit.findings.iter().flat_map(recorded_values) {
            values.entry(seen.name.clone()).or_insert_with(|| seen.value.with_places(Place::beginning));
        }
        let pack =
            |pack: &crate::ir::Pack| SavedPack { name: pack.name.to_string(), edition: pack.edition.to_string() };
        Self {
            project: audit.project.clone(),
            on: audit.on.clone(),
            visit: audit.visit.clone(),
            // As `--by` is written, so that a later audit can look at the same.
            by: audit.closing.as_ref().map(|zone| format!("close:{zone}")).or_else(|| audit.by.clone()),
            engine: ENGINE.to_owned(),
            packs: audit.packs.iter().map(pack).collect(),
            values,
            findings: audit.findings.iter().map(SavedFinding::of).collect(),
            first_form: false,
        }
    }

    /// The edition of a pack, if it was used.
    pub(super) fn edition(&self, name: &str) -> Option<&str> {
        self.packs.iter().find(|pack| pack.name == name).map(|pack| pack.edition.as_str())
    }
}

fn lapsed(lapse: &Lapse) -> SavedLapse {
    let line = |told: &LogLine| SavedLine {
        what: format!("{} {}", told.event, told.subject),
        on: told.on.clone(),
        who: told.who.clone(),
    };
    SavedLapse { shown: line(&lapse.shown), undone_by: line(&lapse.undone_by) }
}

impl SavedFinding {
    fn of(finding: &Finding) -> Self {
        let mut worked_out = BTreeMap::new();
        let on_the_way = finding.leaves().flat_map(|reason| &reason.values).filter(|value| !is_recorded(value));
        for value in on_the_way.chain(&finding.worked_out) {
            worked_out.entry(value.name.clone()).or_insert_with(|| value.value.with_places(Place::beginning));
        }
        let remarks = finding.notes.iter().map(|remark| SavedNote::Remark(remark.with_places(Place::beginning)));
        let notes = finding.leaves().flat_map(|reason| &reason.notes).cloned().map(SavedNote::Note);
        Self {
            item: finding.item.clone(),
            subject: finding.subject.clone(),
            verdict: finding.verdict,
            title: finding.title.to_string(),
            by: finding.by.to_string(),
            stops_the_visit: finding.stops_the_visit,
            seen: once(recorded_values(finding).map(|value| value.name.clone())),
            worked_out,
            missing: finding
                .missing
                .iter()
                .map(|missing| (missing.fact.clone(), missing.why.with_places(Place::beginning)))
                .collect(),
            asked: once(finding.because.iter().map(|reason| reason.expression.clone())),
            notes: once(remarks.chain(notes)),
            concession: finding.concession.as_ref().map(leave),
            set_aside: finding.set_aside.iter().map(aside).collect(),
            lapsed: finding.lapses().map(lapsed).collect(),
        }
    }

    /// The item's pack.
    #[must_use]
    pub fn pack(&self) -> &str {
        self.item.split_once('/').map_or("", |(pack, _)| pack)
    }

    /// Whether it still asks something of the builder.
    #[must_use]
    pub fn is_open(&self) -> bool {
        matches!(self.verdict, Verdict::Unmet | Verdict::NotShown)
    }

    /// Drops what no comparison needs: most findings are settled, and the file
    /// is to stay small.
    fn shorten(&mut self) {
        if matches!(self.verdict, Verdict::Met | Verdict::NotApplicable | Verdict::SetAside) {
            self.worked_out.clear();
            self.asked.clear();
        }
        if self.verdict == Verdict::Met {
            self.seen.clear();
        }
    }
}

/// The values a finding saw that somebody recorded, or could have.
fn recorded_values(finding: &Finding) -> impl Iterator<Item = &Observed> {
    finding.leaves().flat_map(|reason| &reason.values).filter(|value| is_recorded(value))
}

/// A worked-out value has no place; a fact without one is not recorded.
fn is_recorded(value: &Observed) -> bool {
    value.place.is_some() || value.value == ObservedValue::NotRecorded
}

/// Each once, in the order of its first appearance.
fn once<T: PartialEq>(all: impl Iterator<Item = T>) -> Vec<T> {
    let mut list: Vec<T> = Vec::new();
    for one in all {
        if !list.contains(&one) {
            list.push(one);
        }
    }
    list
}

fn leave(concession: &Conceded) -> Leave {
    let Conceded { reason, granted_by, role, on, until, .. } = concession.clone();
    Leave { granted_by, role, on, until, reason }
}

fn aside(aside: &SetAside) -> Aside {
    Aside { pack: aside.pack.to_string(), because: aside.because.to_string() }
}
