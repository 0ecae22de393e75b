//! What an audit says: findings, each with its reasons. Plain data.

use super::cause::{MissingCause, MissingKind, Note, ObservedValue, Remark};
use super::item_ref::ItemRef;
use super::typed::TypedValue;
use crate::ir::{Cite, Rules};
use crate::lapse::Through;
use crate::source::{Place, SharedText};
use crate::vocabulary::{Basis, Mark, Verdict};
use serde::{Deserialize, Serialize};

/// Why a condition came out as it did.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Held {
    /// It holds.
    True,
    /// It does not hold.
    False,
    /// It cannot be decided.
    Undecided,
}

/// A value that was looked at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Observed {
    /// The fact, field or named value.
    pub name: String,
    /// What it is.
    pub value: ObservedValue,
    /// The same as data, whether or not it counts: of a recorded value that is one, and of one worked out.
    /// Nothing in an audit in brief.
    pub typed: Option<TypedValue>,
    /// Where it is recorded.
    pub place: Option<Place>,
    /// Files of the project that are named beside it and are there.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub evidence: Vec<String>,
}

/// Which clause of an item a reason is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Clause {
    /// Whether the item concerns this aircraft at all.
    When,
    /// What it asks.
    Need,
}

/// How the parts of a reason make its outcome.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Join {
    /// It holds if all of them do.
    All,
    /// It holds if one of them does.
    Any,
}

/// One deciding part of a condition. Reasons of one clause that stand in a
/// list hold together if all of them do. Only parts that came out as the whole
/// did are told, so the truth of what is told is that of the whole.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reason {
    /// The clause it is of.
    pub clause: Clause,
    /// The part, as the pack writes it.
    pub expression: String,
    /// How it came out.
    pub held: Held,
    /// The values it saw.
    pub values: Vec<Observed>,
    /// What the expression and values do not say.
    pub notes: Vec<Note>,
    /// What the log had shown, and what undid it.
    pub lapses: Vec<Lapse>,
    /// How its parts make its outcome; nothing of a part that is told as one.
    pub join: Option<Join>,
    /// Its own deciding parts.
    pub parts: Vec<Reason>,
}

/// What a line that is told is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LineKind {
    /// An entry of the log.
    Entry,
    /// A person's word.
    Confirmation,
    /// A recorded value: the part is its name and what it was, and nobody is named.
    Value,
}

/// One line of the log as a report tells it, or a person's word: then what
/// happened is `confirmed` or `confirmed not`, and the part is the item.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct LogLine {
    /// What it is.
    pub kind: LineKind,
    /// The day, or the month or year where no more is known.
    pub on: String,
    /// What happened: `adjusted`.
    pub event: String,
    /// The part.
    pub subject: String,
    /// Who, by full name.
    pub who: String,
    /// In what role.
    pub role: String,
    /// The remark.
    pub note: Option<String>,
    /// Where it is written.
    pub place: Place,
    /// Files of the project that it names and that are there.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub evidence: Vec<String>,
}

/// What had been shown or recorded, and what undid it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Lapse {
    /// The entry, word or value that no longer counts.
    pub shown: LogLine,
    /// The entry that undid it.
    pub undone_by: LogLine,
    /// How the one comes to disturb the other, step by step.
    pub through: Vec<Through>,
}

/// A fact that would help to decide.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Missing {
    /// What kind of thing it is.
    pub kind: MissingKind,
    /// Its name, as the builder writes it.
    pub fact: String,
    /// The pack's question.
    pub ask: SharedText,
    /// An example of an answer.
    pub example: Option<SharedText>,
    /// Why it is wanted.
    pub why: MissingCause,
}

/// A source as the report shows it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cited {
    /// The name in the pack; `common-practice` where there is no document.
    pub id: SharedText,
    /// The document's title.
    pub title: SharedText,
    /// Its number.
    pub number: SharedText,
    /// Its edition.
    pub edition: SharedText,
    /// A later edition that is known and was not compared.
    pub superseded_by: Option<SharedText>,
    /// The paragraph.
    pub paragraph: SharedText,
    /// How the text was seen.
    pub mark: Mark,
}

impl Cited {
    /// No document: common practice.
    pub(super) fn common_practice(mark: Mark) -> Self {
        let (id, title) = ("common-practice".into(), "Common practice".into());
        Self {
            id,
            title,
            number: SharedText::default(),
            edition: SharedText::default(),
            superseded_by: None,
            paragraph: SharedText::default(),
            mark,
        }
    }

    /// What is cited, in full.
    pub(crate) fn of(rules: &Rules, cite: &Cite) -> Self {
        let paragraph = cite.paragraph.clone();
        match cite.document.and_then(|at| rules.documents.get(at)) {
            Some(document) => Self {
                id: document.name.clone(),
                title: document.title.clone(),
                number: document.number.clone(),
                edition: document.edition.clone(),
                superseded_by: document.superseded_by.clone(),
                paragraph,
                mark: cite.mark,
            },
            None => Self { paragraph, ..Self::common_practice(cite.mark) },
        }
    }
}

/// A concession as the report shows it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Conceded {
    /// Why.
    pub reason: String,
    /// Who granted it.
    pub granted_by: String,
    /// In what role.
    pub role: String,
    /// Since when.
    pub on: String,
    /// Until when.
    pub until: String,
    /// The verdict without it.
    pub instead_of: Verdict,
}

/// An item deferred to test flying, as the report shows it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Deferred {
    /// Why it cannot be shown before.
    pub reason: String,
    /// What is kept to until then.
    pub limit: String,
    /// The test that will show it.
    pub test: String,
    /// Who deferred it.
    pub who: String,
    /// When.
    pub on: String,
    /// The hold point of the item itself.
    pub instead_of: SharedText,
    /// What the test gave.
    pub result: Option<String>,
}

/// What a finding is about.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FindingKind {
    /// An item, or an item and a record.
    #[default]
    Item,
    /// Whether a list is whole, or the log.
    WholeList,
    /// A part that was taken off and is not back.
    Removed,
}

/// What the audit says of one item, of one item and one record, or of a list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Finding {
    /// What it is about.
    pub kind: FindingKind,
    /// The item: `us/marks.height`; the list, or `log`, where it is about whether that is whole.
    pub item: String,
    /// The record it is about.
    pub subject: Option<String>,
    /// What became of it.
    pub verdict: Verdict,
    /// What is so when it is met.
    pub title: SharedText,
    /// The pack whose added need this finding tells of first: what the item
    /// itself asks holds. Basis, reasons, sources, check and remedy are then that
    /// need's, so that a kit's need under an item of law never reads as law.
    pub added_by: Option<SharedText>,
    /// What kind of word it is.
    pub basis: Basis,
    /// The deciding parts.
    pub because: Vec<Reason>,
    /// Named values worked out on the way.
    pub worked_out: Vec<Observed>,
    /// What would help to decide.
    pub missing: Vec<Missing>,
    /// Where it is written.
    pub sources: Vec<Cited>,
    /// The hold point by which it must be met.
    pub by: SharedText,
    /// Where one looks.
    pub zone: Option<SharedText>,
    /// The first word of the item's name.
    pub system: String,
    /// An open finding can end the visit.
    pub stops_the_visit: bool,
    /// How to find out.
    pub check: Option<SharedText>,
    /// What to do if it is not so.
    pub remedy: Option<SharedText>,
    /// What can hurt.
    pub caution: Option<SharedText>,
    /// The concession that counts.
    pub concession: Option<Conceded>,
    /// The packs that set the item aside, and why.
    pub set_aside: Vec<SetAside>,
    /// The test in flight it is deferred to.
    pub deferred: Option<Deferred>,
    /// What other packs added, each with its own word; without the one told of first.
    pub added: Vec<AddedNeed>,
    /// What is to be said of it besides: holds today, not on the planned visit.
    pub notes: Vec<Remark>,
    /// The items that come before it, by their full names, while it is not shown.
    pub after: Vec<String>,
    /// The list whose word alone would make it met: it is told under that.
    pub waits_for: Option<String>,
    /// What waits for the word that this list is whole.
    pub waiting: Vec<ItemRef>,
    /// Where the rule stands in its pack: the item, the added need that this tells of first, or the list.
    /// Nothing of a part that is off, nor of the log, nor in an audit in brief.
    pub place: Option<Place>,
}

/// A need that another pack added to an item.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct AddedNeed {
    /// The pack.
    pub pack: SharedText,
    /// What kind of word it is.
    pub basis: Basis,
    /// How it came out.
    pub held: Held,
    /// The deciding parts.
    pub because: Vec<Reason>,
    /// Where it is written.
    pub sources: Vec<Cited>,
    /// How to find out.
    pub check: Option<SharedText>,
    /// What to do if it is not so.
    pub remedy: Option<SharedText>,
    /// What can hurt.
    pub caution: Option<SharedText>,
    /// Where it stands in its pack; nothing in an audit in brief.
    pub place: Option<Place>,
}

/// An item that another pack set aside.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetAside {
    /// The pack.
    pub pack: SharedText,
    /// Its reason.
    pub because: SharedText,
    /// What kind of word that is, if the pack says.
    pub basis: Option<Basis>,
    /// Where it is written, if the pack says.
    pub sources: Vec<Cited>,
    /// The verdict it would have had.
    pub instead_of: Verdict,
    /// Packs whose needs, added to the item, are silenced with it.
    pub silenced: Vec<SharedText>,
}

impl Lapse {
    /// Whether it is a recorded value that lapsed.
    #[must_use]
    pub fn of_value(&self) -> bool {
        self.shown.kind == LineKind::Value
    }

    /// Whether it is a person's word that lapsed, not an entry of the log.
    #[must_use]
    pub fn of_word(&self) -> bool {
        self.shown.kind == LineKind::Confirmation
    }
}

impl Reason {
    /// The reason itself, or the parts it is made of, in order: those that saw something.
    #[must_use]
    pub fn leaves(&self) -> Vec<&Reason> {
        if self.parts.is_empty() { vec![self] } else { self.parts.iter().flat_map(Reason::leaves).collect() }
    }
}

impl Finding {
    /// The deciding parts that saw something, each by itself.
    pub fn leaves(&self) -> impl Iterator<Item = &Reason> {
        self.because.iter().flat_map(Reason::leaves)
    }

    /// What the log had shown, and what undid it.
    pub fn lapses(&self) -> impl Iterator<Item = &Lapse> {
        self.leaves().flat_map(|reason| &reason.lapses)
    }
}
