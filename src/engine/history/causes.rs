//! Why a finding is not what it was: what differs between then and now. A
//! cause is told only where both sides are known; nothing is guessed.

use super::saved::{Aside, Leave, Saved, SavedFinding, SavedLapse, SavedNote};
use crate::audit::{MissingCause, ObservedValue};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What kind of difference it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CauseKind {
    /// A recorded value is another one.
    Value,
    /// A fact is recorded that was not.
    Recorded,
    /// A fact is no longer recorded.
    NoLongerRecorded,
    /// Something would help to decide and is not there; `now` says why it is wanted.
    Missing,
    /// Something that was missing is missing no more.
    MissingNoMore,
    /// Something no longer counts because of what was done since.
    Lapsed,
    /// What had lapsed counts again, or is asked for no more.
    LapsedNoMore,
    /// The leave that was given is another, new, or gone.
    Concession,
    /// A pack sets the item aside, or does so no more.
    SetAside,
    /// A value worked out on the way is another one.
    WorkedOut,
    /// A value that decides now; what it was is not kept.
    SeenNow,
    /// A value that decided then and is looked at no more.
    SeenThen,
    /// The pack has another edition, is new, or is used no more.
    Edition,
    /// The deciding parts are others.
    Asked,
    /// The item was there, the record was not, or the other way round.
    Record,
    /// The item itself is new or gone: its wording, or the days on which it is in force.
    Item,
    /// One of the two audits looked only at what is due by a hold point.
    LookedAt,
    /// The audit date or the planned visit moved.
    Day,
    /// Another version of the engine judged.
    Engine,
    /// A sentence of the audit that was not there before.
    Note,
}

/// One difference that bears on a finding.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cause {
    /// What kind.
    pub kind: CauseKind,
    /// The fact, pack, record or day it is about; may be empty.
    pub name: String,
    /// What it was, where that is known.
    pub was: Option<Content>,
    /// What it is, where there is something.
    pub now: Option<Content>,
}

/// One side of a difference.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Content {
    /// A name, a title, an edition, a day, an expression of a pack.
    Text(String),
    /// A value.
    Value(ObservedValue),
    /// Why something is missing.
    Missing(MissingCause),
    /// What no longer counts.
    Lapse(SavedLapse),
    /// A concession.
    Leave(Leave),
    /// Packs that set an item aside.
    Asides(Vec<Aside>),
    /// What is said of a finding.
    Note(SavedNote),
}

impl Cause {
    fn new(kind: CauseKind, name: &str, was: Option<Content>, now: Option<Content>) -> Self {
        Self { kind, name: name.to_owned(), was, now }
    }
}

impl Content {
    fn text(text: &str) -> Self {
        Self::Text(text.to_owned())
    }

    fn value(value: &ObservedValue) -> Self {
        Self::Value(value.clone())
    }

    fn missing(cause: &MissingCause) -> Self {
        Self::Missing(cause.clone())
    }
}

/// Both audits, while two of their findings are compared.
#[derive(Clone, Copy)]
pub(super) struct Both<'a> {
    pub(super) was: &'a Saved,
    pub(super) now: &'a Saved,
}

impl Both<'_> {
    /// What is recorded otherwise than it was. With the same verdict, this
    /// alone tells a finding that stirred from one that did not.
    pub(super) fn recorded(self, was: &SavedFinding, now: &SavedFinding) -> Vec<Cause> {
        let mut causes = Vec::new();
        for name in names(was, now) {
            let (before, after) = (self.was.values.get(name), self.now.values.get(name));
            let (Some(before), Some(after)) = (before, after) else { continue };
            let kind = match (before, after) {
                (before, after) if before.is_same(after) => continue,
                (ObservedValue::NotRecorded, _) => CauseKind::Recorded,
                (_, ObservedValue::NotRecorded) => CauseKind::NoLongerRecorded,
                _ => CauseKind::Value,
            };
            causes.push(Cause::new(kind, name, Some(Content::value(before)), Some(Content::value(after))));
        }
        missing(was, now, &mut causes);
        for (kind, some, others) in
            [(CauseKind::Lapsed, &now.lapsed, &was.lapsed), (CauseKind::LapsedNoMore, &was.lapsed, &now.lapsed)]
        {
            let fresh = some.iter().filter(|lapse| !others.contains(lapse));
            causes.extend(fresh.map(|lapse| Cause::new(kind, "", None, Some(Content::Lapse(lapse.clone())))));
        }
        if was.concession != now.concession {
            let leave = |side: &SavedFinding| side.concession.clone().map(Content::Leave);
            causes.push(Cause::new(CauseKind::Concession, "", leave(was), leave(now)));
        }
        if was.set_aside != now.set_aside {
            let asides =
                |side: &SavedFinding| (!side.set_aside.is_empty()).then(|| Content::Asides(side.set_aside.clone()));
            causes.push(Cause::new(CauseKind::SetAside, "", asides(was), asides(now)));
        }
        causes
    }

    /// Why the verdict is another: what is recorded first, then what decides
    /// now, then the pack, the day and the engine.
    pub(super) fn turned(self, was: &SavedFinding, now: &SavedFinding) -> Vec<Cause> {
        let mut causes = self.recorded(was, now);
        let told = !causes.is_empty();
        for (name, value) in &now.worked_out {
            if let Some(before) = was.worked_out.get(name).filter(|before| !before.is_same(value)) {
                causes.push(Cause::new(
                    CauseKind::WorkedOut,
                    name,
                    Some(Content::value(before)),
                    Some(Content::value(value)),
                ));
            }
        }
        self.observed_on_one_side(was, now, &mut causes);
        causes.extend(self.edition(now.pack()));
        // Of the first form it is not known whether the same was said.
        let dated = !self.was.first_form && was.notes != now.notes;
        causes.extend(notes(was, now).filter(|_| dated));
        if !told || dated {
            causes.extend(self.days());
        }
        if !told && self.was.engine != self.now.engine && !self.was.engine.is_empty() {
            let (before, after) = (self.was.engine.as_str(), self.now.engine.as_str());
            causes.push(Cause::new(CauseKind::Engine, "", Some(Content::text(before)), Some(Content::text(after))));
        }
        if !told && was.asked != now.asked {
            causes.extend(asked(was, now));
        }
        causes
    }

    /// Why a finding stands on one side only. `there` is the side that has it.
    pub(super) fn one_sided(self, finding: &SavedFinding, is_new: bool) -> Vec<Cause> {
        let other = if is_new { self.was } else { self.now };
        let pack = finding.pack();
        let mut causes = Vec::new();
        if let Some(edition) = self.edition(pack) {
            causes.push(edition);
        } else if other.findings.iter().any(|known| known.item == finding.item) {
            let subject = finding.subject.as_deref();
            let (was, now) = if is_new { (None, subject) } else { (subject, None) };
            causes.push(Cause::new(
                CauseKind::Record,
                subject.unwrap_or(""),
                was.map(Content::text),
                now.map(Content::text),
            ));
        } else if self.was.by != self.now.by {
            let by = |side: &Saved| side.by.as_deref().map(Content::text);
            causes.push(Cause::new(CauseKind::LookedAt, "", by(self.was), by(self.now)));
        } else {
            let title = Some(finding.title.as_str());
            let (was, now) = if is_new { (None, title) } else { (title, None) };
            causes.push(Cause::new(CauseKind::Item, &finding.item, was.map(Content::text), now.map(Content::text)));
            causes.extend(self.days());
        }
        if is_new && finding.is_open() {
            causes.extend(finding.seen.iter().filter_map(|name| {
                let value = self.now.values.get(name).filter(|_| !finding.missing.contains_key(name))?;
                Some(Cause::new(CauseKind::SeenNow, name, None, Some(Content::value(value))))
            }));
            causes.extend(whys(&finding.missing));
        }
        causes
    }

    /// Values that only one of the two audits looked at.
    fn observed_on_one_side(self, was: &SavedFinding, now: &SavedFinding, causes: &mut Vec<Cause>) {
        for name in &now.seen {
            let value = self.now.values.get(name).filter(|_| !now.missing.contains_key(name));
            if let Some(value) = value.filter(|_| !self.was.values.contains_key(name)) {
                causes.push(Cause::new(CauseKind::SeenNow, name, None, Some(Content::value(value))));
            }
        }
        for name in &was.seen {
            let value = self.was.values.get(name).filter(|value| **value != ObservedValue::NotRecorded);
            if let Some(value) = value.filter(|_| !self.now.values.contains_key(name)) {
                causes.push(Cause::new(CauseKind::SeenThen, name, Some(Content::value(value)), None));
            }
        }
    }

    fn edition(self, pack: &str) -> Option<Cause> {
        let (was, now) = (self.was.edition(pack), self.now.edition(pack));
        (was != now).then(|| Cause::new(CauseKind::Edition, pack, was.map(Content::text), now.map(Content::text)))
    }

    /// The days that moved.
    fn days(self) -> impl Iterator<Item = Cause> {
        let days = [
            ("audit date", Some(&self.was.on), Some(&self.now.on)),
            ("planned visit", self.was.visit.as_ref(), self.now.visit.as_ref()),
        ];
        days.into_iter().filter(|(_, was, now)| was != now).map(|(name, was, now)| {
            let day = |day: Option<&String>| day.map(|day| Content::text(day));
            Cause::new(CauseKind::Day, name, day(was), day(now))
        })
    }
}

/// Names that decide now, then those that decided then.
fn names<'a>(was: &'a SavedFinding, now: &'a SavedFinding) -> impl Iterator<Item = &'a str> {
    let only_then = was.seen.iter().filter(|name| !now.seen.contains(name));
    now.seen.iter().chain(only_then).map(String::as_str)
}

/// What is missing now and was not, and the other way round; what a value
/// told already is not told again.
fn missing(was: &SavedFinding, now: &SavedFinding, causes: &mut Vec<Cause>) {
    let told: Vec<String> = causes.iter().map(|cause| cause.name.clone()).collect();
    for (fact, why) in now.missing.iter().filter(|(fact, _)| !told.contains(fact)) {
        let before = was.missing.get(fact);
        if !before.is_some_and(|before| before.is_same(why)) {
            causes.push(Cause::new(
                CauseKind::Missing,
                fact,
                before.map(Content::missing),
                Some(Content::missing(why)),
            ));
        }
    }
    for (fact, why) in was.missing.iter().filter(|(fact, _)| !told.contains(fact)) {
        if !now.missing.contains_key(fact) {
            causes.push(Cause::new(CauseKind::MissingNoMore, fact, Some(Content::missing(why)), None));
        }
    }
}

fn whys(missing: &BTreeMap<String, MissingCause>) -> impl Iterator<Item = Cause> {
    missing.iter().map(|(fact, why)| Cause::new(CauseKind::Missing, fact, None, Some(Content::missing(why))))
}

fn notes(was: &SavedFinding, now: &SavedFinding) -> impl Iterator<Item = Cause> {
    let fresh = now.notes.iter().filter(|note| !was.notes.contains(note));
    fresh.map(|note| Cause::new(CauseKind::Note, "", None, Some(Content::Note(note.clone()))))
}

/// The deciding parts of both sides, as far as they were kept.
fn asked(was: &SavedFinding, now: &SavedFinding) -> Option<Cause> {
    let parts = |asked: &[String]| (!asked.is_empty()).then(|| asked.join("; "));
    let (before, after) = (parts(&was.asked), parts(&now.asked));
    (before.is_some() || after.is_some())
        .then(|| Cause::new(CauseKind::Asked, "", before.map(Content::Text), after.map(Content::Text)))
}
