//! Compares a kept audit with one made now.

use super::causes::{Both, Cause};
use super::saved::{Saved, SavedFinding};
use crate::audit::{Audit, REMINDER, reminder};
use crate::ir::Pack;
use crate::vocabulary::Verdict;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, VecDeque};

/// Which way a finding went. Every finding of either audit is in one class.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Class {
    /// Open now and settled or conceded then; contradicted now and not then;
    /// or met then and only conceded now.
    Worse,
    /// Met now; open or conceded then.
    Better,
    /// Another verdict, neither better nor worse: leave was given, it does not
    /// apply any more, or what contradicted it is gone and nothing shows it.
    Otherwise,
    /// There was no such finding then.
    New,
    /// There is no such finding any more.
    Gone,
    /// The same verdict, but something recorded is not what it was.
    #[serde(rename = "other-values")]
    Stirred,
    /// Nothing that counts is different.
    Unchanged,
}

impl Class {
    /// The word for it: `worse`, `better`, `otherwise`, `new`, `gone`, `other-values`, `unchanged`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Worse => "worse",
            Self::Better => "better",
            Self::Otherwise => "otherwise",
            Self::New => "new",
            Self::Gone => "gone",
            Self::Stirred => "other-values",
            Self::Unchanged => "unchanged",
        }
    }
}

/// One finding that is not what it was.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Change {
    /// Which way it went.
    pub class: Class,
    /// The item: `us/marks.height`.
    pub item: String,
    /// The record it is about.
    pub subject: Option<String>,
    /// What is so when it is met.
    pub title: String,
    /// The hold point by which it must be met.
    pub by: String,
    /// An open finding can end the visit.
    pub stops_the_visit: bool,
    /// The verdict then; none if there was no such finding.
    pub was: Option<Verdict>,
    /// The verdict now; none if there is no such finding any more.
    pub now: Option<Verdict>,
    /// Why, as far as it can be told.
    pub because: Vec<Cause>,
}

/// A pack that is new, gone, or of another edition.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PackChange {
    /// Its name.
    pub name: String,
    /// The edition then.
    pub was: Option<String>,
    /// The edition now.
    pub now: Option<String>,
}

/// The frame of one of the two audits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Side {
    /// The project's name.
    pub project: String,
    /// The audit date.
    pub on: String,
    /// The planned visit.
    pub visit: Option<String>,
    /// The hold point up to which items were looked at.
    pub by: Option<String>,
    /// The version of the engine; empty where a saved audit does not say it.
    #[serde(rename = "engine_version")]
    pub engine: String,
}

/// Everything that changed between two audits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Changes {
    /// The audit that was kept.
    pub was: Side,
    /// The audit made now.
    pub now: Side,
    /// Packs that are not what they were.
    #[serde(rename = "changed_packs")]
    pub packs: Vec<PackChange>,
    /// The packs of the audit made now.
    #[serde(rename = "packs")]
    pub packs_now: Vec<Pack>,
    /// Findings that are not what they were: by class, what can end the visit
    /// first, then in the audit's own order.
    #[serde(rename = "changes")]
    pub findings: Vec<Change>,
    /// How many findings stand as they did.
    pub unchanged: usize,
    /// The last word.
    #[serde(skip_deserializing, default = "reminder")]
    pub reminder: &'static str,
}

impl Changes {
    /// Whether nothing changed, apart from the audit date.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.findings.is_empty() && self.packs.is_empty() && self.was.visit == self.now.visit
    }

    /// The findings of one class, in order.
    pub fn of(&self, class: Class) -> impl Iterator<Item = &Change> {
        self.findings.iter().filter(move |change| change.class == class)
    }

    /// How many findings are in a class.
    #[must_use]
    pub fn count(&self, class: Class) -> usize {
        if class == Class::Unchanged { self.unchanged } else { self.of(class).count() }
    }

    /// 0 nothing became worse, 1 something did, 2 nothing did but something
    /// new is unmet or not shown.
    #[must_use]
    pub fn exit_status(&self) -> u8 {
        let open = |change: &Change| matches!(change.now, Some(Verdict::Unmet | Verdict::NotShown));
        if self.count(Class::Worse) > 0 {
            1
        } else if self.of(Class::New).any(open) {
            2
        } else {
            0
        }
    }
}

/// What is different now from what was kept.
///
/// Findings are paired by item and record name; of several with the same name,
/// the first with the first.
#[must_use]
pub fn compare(was: &Saved, audit: &Audit) -> Changes {
    let now = Saved::whole(audit);
    let both = Both { was, now: &now };
    let (pairs, gone) = paired(was, &now);
    let (mut findings, mut unchanged) = (Vec::new(), 0usize);
    for (finding, before) in pairs {
        match before {
            None => findings.push(one_sided(both, finding, true)),
            Some(before) => match changed(both, before, finding) {
                Some(change) => findings.push(change),
                None => unchanged = unchanged.saturating_add(1),
            },
        }
    }
    findings.extend(gone.into_iter().map(|finding| one_sided(both, finding, false)));
    findings.sort_by_key(|change| (change.class, !change.stops_the_visit));
    Changes {
        was: side(was),
        now: side(&now),
        packs: packs(both),
        packs_now: audit.packs.clone(),
        findings,
        unchanged,
        reminder: REMINDER,
    }
}

/// A finding of now, and that of then with the same name.
pub(super) type Pair<'a> = (&'a SavedFinding, Option<&'a SavedFinding>);

/// Every finding of now with that of then, in the order of now; and those of then that are there no more.
pub(super) fn paired<'a>(was: &'a Saved, now: &'a Saved) -> (Vec<Pair<'a>>, Vec<&'a SavedFinding>) {
    let mut waiting: BTreeMap<(&str, Option<&str>), VecDeque<&SavedFinding>> = BTreeMap::new();
    for finding in &was.findings {
        waiting.entry(identity(finding)).or_default().push_back(finding);
    }
    let mut of_then = |finding| waiting.get_mut(&identity(finding)).and_then(VecDeque::pop_front);
    let pairs = now.findings.iter().map(|finding| (finding, of_then(finding))).collect();
    (pairs, waiting.into_values().flatten().collect())
}

fn identity(finding: &SavedFinding) -> (&str, Option<&str>) {
    (&finding.item, finding.subject.as_deref())
}

/// Two findings of one name; none if nothing that counts is different.
pub(super) fn changed(both: Both<'_>, was: &SavedFinding, now: &SavedFinding) -> Option<Change> {
    if was.verdict != now.verdict {
        return Some(change(turn(was.verdict, now.verdict), now, Some(was), Some(now), both.turned(was, now)));
    }
    let causes = both.recorded(was, now);
    (!causes.is_empty()).then(|| change(Class::Stirred, now, Some(was), Some(now), causes))
}

fn one_sided(both: Both<'_>, finding: &SavedFinding, is_new: bool) -> Change {
    let causes = both.one_sided(finding, is_new);
    if is_new {
        change(Class::New, finding, None, Some(finding), causes)
    } else {
        change(Class::Gone, finding, Some(finding), None, causes)
    }
}

fn change(
    class: Class,
    told: &SavedFinding,
    was: Option<&SavedFinding>,
    now: Option<&SavedFinding>,
    because: Vec<Cause>,
) -> Change {
    Change {
        class,
        item: told.item.clone(),
        subject: told.subject.clone(),
        title: told.title.clone(),
        by: told.by.clone(),
        stops_the_visit: told.stops_the_visit,
        was: was.map(|finding| finding.verdict),
        now: now.map(|finding| finding.verdict),
        because,
    }
}

/// Which way a verdict went. Only `met` is ever better: leave that was given,
/// and an item that applies no more, leave the thing itself as it was.
fn turn(was: Verdict, now: Verdict) -> Class {
    use Verdict::{Conceded, Met, NotApplicable, NotShown, SetAside, Unmet};
    match (was, now) {
        (Met, Met)
        | (Unmet, Unmet)
        | (NotShown, NotShown)
        | (Conceded, Conceded)
        | (NotApplicable, NotApplicable)
        | (SetAside, SetAside) => Class::Unchanged,
        (_, Unmet) | (Met | NotApplicable | SetAside | Conceded, NotShown) | (Met, Conceded) => Class::Worse,
        (Unmet | NotShown | Conceded, Met) => Class::Better,
        (Unmet, NotShown)
        | (Unmet | NotShown | NotApplicable | SetAside, Conceded)
        | (_, NotApplicable | SetAside)
        | (NotApplicable | SetAside, Met) => Class::Otherwise,
    }
}

fn side(saved: &Saved) -> Side {
    Side {
        project: saved.project.clone(),
        on: saved.on.clone(),
        visit: saved.visit.clone(),
        by: saved.by.clone(),
        engine: saved.engine.clone(),
    }
}

/// Packs of now in their order, then those that are gone.
fn packs(both: Both<'_>) -> Vec<PackChange> {
    let gone = both.was.packs.iter().filter(|pack| both.now.edition(&pack.name).is_none());
    let names = both.now.packs.iter().chain(gone).map(|pack| pack.name.as_str());
    let editions = names.map(|name| (name, both.was.edition(name), both.now.edition(name)));
    editions
        .filter(|(_, was, now)| was != now)
        .map(|(name, was, now)| PackChange {
            name: name.to_owned(),
            was: was.map(str::to_owned),
            now: now.map(str::to_owned),
        })
        .collect()
}
