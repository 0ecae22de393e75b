//! What a checked set of packs is: names resolved, types known, nothing left
//! of the tree. Ids are places in the vectors of [`Rules`].

use super::arena::Arena;
use super::document::Document;
use super::ids::{
    ChoiceId, DocumentId, EvidenceId, FactId, FieldId, HoldPointId, ItemId, ListId, PackId, PartId, Place, RoleId,
    SystemId, ZoneId,
};
use super::item::Item;
use super::program::{PartOrAll, Program, Store};
use crate::quantity::{Dimension, Exact, ExactInterval, Unit};
use crate::source::{SharedText, Sources, Span};
use crate::vocabulary::Basis;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A pack's own description of itself.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pack {
    /// Its name, as other packs and projects write it.
    pub name: SharedText,
    /// Its title.
    pub title: SharedText,
    /// Its edition.
    pub edition: SharedText,
    /// Whose word it rests on.
    pub authority: SharedText,
    /// What it covers.
    pub scope: SharedText,
    /// What it does not cover.
    pub not_covered: Vec<SharedText>,
    /// The packs it builds on.
    pub uses: Vec<SharedText>,
    /// Symbols of units that mean more than one thing where this pack holds, each with the symbols that say which:
    /// a builder's value with such a symbol is asked back.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub asked_back: BTreeMap<SharedText, Vec<SharedText>>,
    /// What a project of the pack's country means by naming it, unless its files say otherwise: a word for each of
    /// these facts.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub country_means: BTreeMap<SharedText, SharedText>,
    /// What its texts come to: SHA-256 in hex digits, of the lines that `sha256sum` prints of its `pack.toml`
    /// and then of its `.checklist` files in the order of their names. It tells whether two packs are the same,
    /// and is no seal: whoever changes a pack has its new digest.
    pub digest: SharedText,
}

/// A word with its title: a hold point, a zone, a system, a role ...
#[derive(Debug, Clone)]
pub struct Titled {
    /// The word.
    pub name: SharedText,
    /// What it means.
    pub title: SharedText,
    /// Where it is declared.
    pub place: Span,
    /// The pack that declares it.
    pub pack: PackId,
}

/// Over what leave may be given.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Concedes {
    /// What is law, or stands in the limitations issued to the aircraft.
    pub law: bool,
    /// What the authority advises.
    pub advice: bool,
    /// All that is neither.
    pub other: bool,
}

impl Concedes {
    /// Whether leave may be given over what is of a basis.
    ///
    /// ```
    /// use cotterpin_lang::ir::Concedes;
    /// use cotterpin_lang::vocabulary::Basis;
    /// let engineer = Concedes { law: false, advice: true, other: true };
    /// assert!(engineer.over(Basis::Kit) && !engineer.over(Basis::Limitations));
    /// ```
    #[must_use]
    pub fn over(self, basis: Basis) -> bool {
        match basis {
            Basis::Law | Basis::Limitations => self.law,
            Basis::Advice => self.advice,
            Basis::Handbook | Basis::Association | Basis::Kit | Basis::CommonPractice | Basis::Own => self.other,
        }
    }
}

/// The role of those who build the aircraft.
pub const BUILDER: &str = "builder";

/// A role in which a person speaks or signs.
#[derive(Debug, Clone)]
pub struct Role {
    /// The word.
    pub name: SharedText,
    /// What it means.
    pub title: SharedText,
    /// Whether a log entry in this role is a signature.
    pub signs: bool,
    /// Over what its people may give leave.
    pub concedes: Concedes,
    /// Whether nobody who builds the aircraft is heard in it.
    pub other_than_builder: bool,
    /// Where it is declared.
    pub place: Span,
    /// The pack that declares it.
    pub pack: PackId,
}

/// A part that can be inspected, tested, measured or disturbed.
#[derive(Debug, Clone)]
pub struct Part {
    /// Its dotted name: `controls.elevator.pushrod` is a part of `controls.elevator`.
    pub name: SharedText,
    /// What it is.
    pub title: SharedText,
    /// Where it is, in [`Rules::zones`].
    pub zone: Option<ZoneId>,
    /// Whether the aircraft can be without it, so that it may be removed for good.
    pub can_be_left_off: bool,
    /// Where it is declared.
    pub place: Span,
    /// The pack that declares it.
    pub pack: PackId,
}

/// A set of words; bit `n` of a value stands for word `n`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// The name, if it was given one.
    pub name: Option<SharedText>,
    /// The words, at most 60.
    pub words: Vec<SharedText>,
}

/// The kind of a fact.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// `yes or no`: bit 0 is no, bit 1 is yes.
    YesNo,
    /// One word of a choice in [`Rules::choices`].
    Choice(ChoiceId),
    /// A text.
    Text,
    /// The name of something that the project, or a pack, knows.
    Named(Named),
    /// A whole number.
    Count,
    /// A number or quantity.
    Number(Dimension),
    /// A date, in days.
    Date,
}

/// What a name is of. One that nothing has shows nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Named {
    /// Somebody whom the project names.
    Person,
    /// A file of the project that is there, and is none of its own texts.
    File,
    /// A part that a pack or the project declares.
    Part,
    /// A zone.
    Zone,
    /// A record of the list of instruments.
    Instrument,
}

impl Named {
    /// The words of the language for it.
    pub const WORDS: [(&'static str, Self); 5] = [
        ("person", Self::Person),
        ("file", Self::File),
        ("part", Self::Part),
        ("zone", Self::Zone),
        ("instrument", Self::Instrument),
    ];

    /// Its word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Person => "person",
            Self::File => "file",
            Self::Part => "part",
            Self::Zone => "zone",
            Self::Instrument => "instrument",
        }
    }
}

/// What a sensible value must keep.
#[derive(Debug, Clone)]
pub struct Limits {
    /// The bounds, in the base of the dimension.
    pub range: ExactInterval,
    /// The lower bound itself is excluded (`above`).
    pub above: bool,
    /// The upper bound itself is excluded (`below`).
    pub below: bool,
    /// As written in the pack: `above 0 in`.
    pub text: SharedText,
}

/// Which part's state a value describes. What describes none is design: it
/// stays as it is, whatever is done to the aircraft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct State {
    /// The part; `None` for that of the record it stands in.
    pub of: Option<PartOrAll>,
    /// Whether it is a state of the part in itself, which taking the part off
    /// and putting the same one back leaves as it was.
    pub itself: bool,
    /// Whether the value is a day, and the state that of the part on that day:
    /// the day of a test tells nothing once the part has been worked on since.
    pub own_day: bool,
}

/// A fact, or a field of a list.
#[derive(Debug, Clone)]
pub struct Fact {
    /// Its dotted name; for a field the field's own name.
    pub name: SharedText,
    /// Its kind.
    pub kind: Kind,
    /// Whether `"none"` may be recorded.
    pub optional: bool,
    /// Limits on the value.
    pub limits: Option<Limits>,
    /// The question to the builder.
    pub ask: SharedText,
    /// An example of an answer.
    pub example: Option<SharedText>,
    /// A unit to show values in when the record gives none.
    pub unit: Option<Unit>,
    /// Which part's state it describes, if one.
    pub state: Option<State>,
    /// Where nobody recorded it, items that would not apply if it were none do not apply while the day of this hold
    /// point is ahead.
    pub none_until: Option<HoldPointId>,
    /// Where it is declared.
    pub place: Span,
    /// The pack that declares it.
    pub pack: PackId,
    /// Where its values stand (see [`crate::ir`]).
    pub slot: Place,
}

/// The key by which a record says for how many things alike it stands.
pub const HOW_MANY: &str = "how_many";

/// The key by which a record says of which part it is.
pub const PART: &str = "part";

/// Names that mean something in the builder's files, whatever the pack: no fact
/// and no field of a pack's own has one of them between its dots. A value beside
/// its day, that day, with what it was measured, what shows it, the part it is of,
/// for how many a record stands, and whether a list is whole.
pub const RESERVED: [&str; 7] = ["value", "dated", "instrument", "evidence", PART, HOW_MANY, "whole"];

/// What begins an entry in the builder's files, besides the log's: no fact and no list of a pack's own begins so.
pub const ENTRIES: [&str; 4] = ["confirmed", "concession", "deferred", "job"];

/// The lists that the log keeps: a pack declares which of them it reads, and nobody writes them.
pub const DERIVED_LISTS: [&str; 3] = ["log.snags", "log.fittings", "log.openings"];

/// A list of records.
#[derive(Debug, Clone)]
pub struct List {
    /// Its dotted name.
    pub name: SharedText,
    /// The question to the builder.
    pub ask: SharedText,
    /// The part that its records are of, unless they name their own.
    pub part: Option<PartOrAll>,
    /// Its fields.
    pub fields: Arena<FieldId, Fact>,
    /// The field that names a record.
    pub named_by: FieldId,
    /// Whether one record may stand for many things of one kind.
    pub many_alike: bool,
    /// Where it is declared.
    pub place: Span,
    /// The pack that declares it.
    pub pack: PackId,
}

impl List {
    /// Whether it is derived from the log, so that nobody is asked for it.
    #[must_use]
    pub fn derived(&self) -> bool {
        DERIVED_LISTS.contains(&self.name.as_str())
    }

    /// Whether some of its fields are states of the part that a record is of.
    #[must_use]
    pub fn names_states(&self) -> bool {
        self.fields.iter().any(|field| field.state.as_ref().is_some_and(|state| state.of.is_none()))
    }
}

/// What else is disturbed when something is.
#[derive(Debug, Clone)]
pub struct Disturbance {
    /// The part.
    pub subject: SharedText,
    /// Only where the log says so of the part itself, not where it is disturbed with something else.
    pub itself: bool,
    /// What is disturbed with it.
    pub also: Vec<SharedText>,
    /// The pack that says so.
    pub pack: PackId,
}

/// A pack of a library: its name, and the names and texts of its files.
pub type LibraryPack = (&'static str, &'static [(&'static str, &'static str)]);

/// A checked set of packs, ready to audit any number of projects.
#[derive(Debug, Clone, Default)]
pub struct Rules {
    /// The texts of the packs.
    pub sources: Sources,
    /// The packs, each after those it builds on.
    pub packs: Arena<PackId, Pack>,
    /// How many of the packs, the first ones, come from a library.
    pub prebuilt_packs: usize,
    /// The packs of that library, in use or not: each with its name, and the names and texts of its files.
    pub library: Vec<LibraryPack>,
    /// The cited documents.
    pub documents: Arena<DocumentId, Document>,
    /// Hold points, in order.
    pub hold_points: Arena<HoldPointId, Titled>,
    /// Zones, in walking order.
    pub zones: Arena<ZoneId, Titled>,
    /// The larger zone that a zone is a part of, by place.
    pub larger_zones: BTreeMap<ZoneId, ZoneId>,
    /// Titles of systems.
    pub systems: Arena<SystemId, Titled>,
    /// Kinds of evidence.
    pub evidence: Arena<EvidenceId, Titled>,
    /// Roles.
    pub roles: Arena<RoleId, Role>,
    /// Parts that are inspected or disturbed.
    pub subjects: Arena<PartId, Part>,
    /// Sets of words.
    pub choices: Arena<ChoiceId, Choice>,
    /// Facts.
    pub facts: Arena<FactId, Fact>,
    /// Lists.
    pub lists: Arena<ListId, List>,
    /// Items.
    pub items: Arena<ItemId, Item>,
    /// What disturbs what.
    pub disturbances: Vec<Disturbance>,
    /// What runs.
    pub program: Program,
    /// Facts by name.
    pub fact_by_name: BTreeMap<SharedText, FactId>,
    /// Lists by name.
    pub list_by_name: BTreeMap<SharedText, ListId>,
    /// Items by their own name: each edition of one item, and what other packs call the same.
    pub items_by_name: BTreeMap<SharedText, Vec<ItemId>>,
    /// What is probably not as meant.
    pub warnings: Vec<crate::diagnostic::Diagnostic>,
}

impl Rules {
    /// The fact of that id.
    #[must_use]
    pub fn fact(&self, id: FactId) -> Option<&Fact> {
        self.facts.get(id)
    }

    /// The list of that id.
    #[must_use]
    pub fn list(&self, id: ListId) -> Option<&List> {
        self.lists.get(id)
    }

    /// The item of that id.
    #[must_use]
    pub fn item(&self, id: ItemId) -> Option<&Item> {
        self.items.get(id)
    }

    /// All items, each with its id, in the order of the packs.
    pub fn items_with_ids(&self) -> impl Iterator<Item = (ItemId, &Item)> {
        self.items.with_ids()
    }

    /// An item's full name: `us/marks.height`.
    #[must_use]
    pub fn full_name(&self, item: &Item) -> String {
        let pack = self.packs.get(item.pack).map_or("", |pack| pack.name.as_str());
        [pack, "/", &item.name].concat()
    }

    /// The place of an item by its full name, or by its own where that is the only one.
    #[must_use]
    pub fn find_items(&self, name: &str) -> Vec<ItemId> {
        // The name of an item has no slash, so only what follows the last can be one.
        let (pack, own) = name.rsplit_once('/').map_or((None, name), |(pack, own)| (Some(pack), own));
        let of_pack = |id: &ItemId| {
            let item = self.item(*id);
            let of = item.and_then(|item| self.packs.get(item.pack)).map(|pack| pack.name.as_str());
            pack.is_none() || pack == of
        };
        let named = self.items_by_name.get(own).map_or(&[][..], Vec::as_slice);
        named.iter().copied().filter(of_pack).collect()
    }

    /// Whether one zone is the other, or lies in it.
    #[must_use]
    pub fn zones_overlap(&self, one: ZoneId, other: ZoneId) -> bool {
        self.lies_in(one, other) || self.lies_in(other, one)
    }

    /// Whether a zone is another or lies in it. No zone is followed twice.
    fn lies_in(&self, zone: ZoneId, larger: ZoneId) -> bool {
        let up = |zone: &ZoneId| self.larger_zones.get(zone).copied();
        std::iter::successors(Some(zone), up).take(self.zones.len().max(1)).any(|zone| zone == larger)
    }

    /// The words a kind allows.
    #[must_use]
    pub fn words(&self, kind: Kind) -> Vec<&str> {
        match kind {
            Kind::YesNo => vec!["no", "yes"],
            Kind::Choice(n) => {
                self.choices.get(n).map_or_else(Vec::new, |c| c.words.iter().map(AsRef::as_ref).collect())
            }
            Kind::Text | Kind::Named(_) | Kind::Count | Kind::Number(_) | Kind::Date => Vec::new(),
        }
    }
}

impl Fact {
    /// The possible values within the limits; `None` if an end that is stated
    /// does not keep them. An end left open, as in `at most 3 in`, says nothing
    /// beyond what the limits say already, so there they are the end.
    #[must_use]
    pub fn within_limits(&self, range: &ExactInterval) -> Option<ExactInterval> {
        let Some(limits) = self.limits.as_ref().filter(|_| !range.is_absent()) else { return Some(range.clone()) };
        let keeps = |end: &Exact| {
            let low = limits.range.lo().is_none_or(|lo| if limits.above { end > lo } else { end >= lo });
            let high = limits.range.hi().is_none_or(|hi| if limits.below { end < hi } else { end <= hi });
            low && high
        };
        let (lo, hi) = (range.lo(), range.hi());
        let kept = lo.into_iter().chain(hi).all(keeps);
        kept.then(|| ExactInterval::new(lo.or(limits.range.lo()).cloned(), hi.or(limits.range.hi()).cloned()))
    }
}

impl Kind {
    /// The store that holds values of this kind.
    #[must_use]
    pub fn store(self) -> Store {
        match self {
            Self::YesNo | Self::Choice(_) => Store::Words,
            Self::Text | Self::Named(_) => Store::Texts,
            Self::Count | Self::Number(_) | Self::Date => Store::Numbers,
        }
    }
}
