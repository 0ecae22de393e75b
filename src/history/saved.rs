//! An audit made small: what a later comparison needs, and nothing else.

use crate::audit::{Audit, Conceded, Finding, Lapse, Seen, SetAside, Told};
use crate::vocabulary::Verdict;
use std::collections::BTreeMap;

/// The version of the engine that runs.
pub const ENGINE: &str = env!("CARGO_PKG_VERSION");

/// What stands for the value of a fact that nobody recorded.
pub(super) const NOT_RECORDED: &str = "not recorded";

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
    pub values: BTreeMap<String, String>,
    /// The findings, by item and record.
    pub findings: Vec<SavedFinding>,
    /// The file has a newer form than this version knows, so something in it may have been left out.
    pub newer: bool,
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
    pub worked_out: BTreeMap<String, String>,
    /// What would help to decide, and why it is wanted.
    pub missing: BTreeMap<String, String>,
    /// The deciding parts as the pack writes them. Kept only while something is open or conceded.
    pub asked: Vec<String>,
    /// Sentences about it.
    pub notes: Vec<String>,
    /// The leave that was given, in a sentence.
    pub concession: Option<String>,
    /// The pack that set it aside, and why.
    pub set_aside: Option<String>,
    /// What no longer counts because of what was done since, one sentence each.
    pub lapsed: Vec<String>,
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
    pub(super) fn whole(audit: &Audit) -> Self {
        let mut values = BTreeMap::new();
        for seen in audit.findings.iter().flat_map(recorded_values) {
            values.entry(seen.name.clone()).or_insert_with(|| seen.value.clone());
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
            newer: false,
        }
    }

    /// The edition of a pack, if it was used.
    pub(super) fn edition(&self, name: &str) -> Option<&str> {
        self.packs.iter().find(|pack| pack.name == name).map(|pack| pack.edition.as_str())
    }
}

/// What lapsed, without a place: lines move.
fn lapsed(lapse: &Lapse) -> String {
    let told = |told: &Told| format!("{} {} on {} by {}", told.event, told.subject, told.on, told.who);
    format!("{}, undone by {}", told(&lapse.shown), told(&lapse.undone_by))
}

impl SavedFinding {
    fn of(finding: &Finding) -> Self {
        let mut worked_out = BTreeMap::new();
        let on_the_way = finding.leaves().flat_map(|reason| &reason.values).filter(|value| !is_recorded(value));
        for value in on_the_way.chain(&finding.worked_out) {
            worked_out.entry(value.name.clone()).or_insert_with(|| value.value.clone());
        }
        let reasons = finding.leaves().filter_map(|reason| reason.note.as_ref());
        Self {
            item: finding.item.clone(),
            subject: finding.subject.clone(),
            verdict: finding.verdict,
            title: finding.title.to_string(),
            by: finding.by.to_string(),
            stops_the_visit: finding.stops_the_visit,
            seen: once(recorded_values(finding).map(|value| &value.name)),
            worked_out,
            missing: finding.missing.iter().map(|missing| (missing.fact.clone(), missing.why.clone())).collect(),
            asked: once(finding.because.iter().map(|reason| &reason.expression)),
            notes: once(finding.notes.iter().chain(reasons)),
            concession: finding.concession.as_ref().map(leave),
            set_aside: asides(&finding.set_aside),
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
        if matches!(self.verdict, Verdict::Met | Verdict::NotApplicable) {
            self.worked_out.clear();
            self.asked.clear();
        }
        if self.verdict == Verdict::Met {
            self.seen.clear();
        }
    }
}

/// The values a finding saw that somebody recorded, or could have.
fn recorded_values(finding: &Finding) -> impl Iterator<Item = &Seen> {
    finding.leaves().flat_map(|reason| &reason.values).filter(|value| is_recorded(value))
}

/// A worked-out value has no place; a fact without one is not recorded.
fn is_recorded(value: &Seen) -> bool {
    value.place.is_some() || value.value == NOT_RECORDED
}

/// Each text once, in the order of its first appearance.
fn once<'a>(texts: impl Iterator<Item = &'a String>) -> Vec<String> {
    let mut list: Vec<String> = Vec::new();
    for text in texts {
        if !list.contains(text) {
            list.push(text.clone());
        }
    }
    list
}

fn leave(concession: &Conceded) -> String {
    let Conceded { reason, granted_by, role, on, until, .. } = concession;
    format!("{granted_by} ({role}) gave leave from {on} until {until}: {reason}")
}

fn asides(asides: &[SetAside]) -> Option<String> {
    let sentence = |aside: &SetAside| format!("pack {} set it aside: {}", aside.pack, aside.because);
    (!asides.is_empty()).then(|| asides.iter().map(sentence).collect::<Vec<_>>().join("; "))
}
