//! What each pack holds, and on what it rests.

use super::document::document;
use super::message::Message;
use super::phrases;
use super::schemas::PACKS;
use super::wrap::Page;
use crate::ir::{FactId, Item, ListId, PackId, Rules};
use crate::source::SharedText;
use crate::vocabulary::{Basis, Mark, Verdict};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// One pack, counted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PackRow {
    /// Its name.
    pub name: SharedText,
    /// Its title.
    pub title: SharedText,
    /// Its edition.
    pub edition: SharedText,
    /// What its texts come to: see [`Pack::digest`](crate::ir::Pack::digest).
    pub digest: SharedText,
    /// How many items it declares.
    pub items: usize,
    /// How many items of other packs it amends, by a need or by its word.
    pub amended: usize,
    /// How many items of other packs it sets aside.
    pub set_aside: usize,
    /// How many facts it declares; each field of a list counts as one, unless the log keeps the list.
    pub facts: usize,
    /// How many facts and lists its items read, whichever pack declares them.
    pub asks: usize,
    /// How many worked examples its items have.
    pub examples: usize,
    /// References to a document that was read.
    pub read: usize,
    /// References to a document seen quoted only.
    pub quoted: usize,
    /// References from memory.
    pub memory: usize,
    /// References to common practice.
    pub common_practice: usize,
    /// Its items by what kind of word they are.
    pub by_basis: ByBasis,
    /// Its items by the weakest document each of them cites: see [`Item::rests_on`].
    pub rests_on: RestsOn,
    /// Items that lack an example that meets them, or one that fails them.
    pub untried: Vec<String>,
}

/// Items by what kind of word they are.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ByBasis {
    /// Binding law.
    pub law: usize,
    /// The limitations issued to the aircraft.
    pub limitations: usize,
    /// The authority's advice.
    pub advice: usize,
    /// Handbook practice.
    pub handbook: usize,
    /// An association's advice.
    pub association: usize,
    /// The kit's own word.
    pub kit: usize,
    /// Common practice, and what is the builder's own.
    pub practice: usize,
}

/// Items by the weakest document each of them cites.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct RestsOn {
    /// Every document cited was read.
    pub read: usize,
    /// One was seen quoted only.
    pub quoted: usize,
    /// One is remembered.
    pub memory: usize,
    /// No document is cited.
    pub common_practice: usize,
}

#[derive(Serialize)]
struct PacksOut<'a> {
    packs: &'a [PackRow],
}

/// Counts what each pack holds, in the order of the packs.
#[must_use]
pub fn pack_rows(rules: &Rules) -> Vec<PackRow> {
    rules.packs.ids().filter_map(|place| row(rules, place)).collect()
}

fn row(rules: &Rules, place: PackId) -> Option<PackRow> {
    let pack = rules.packs.get(place)?;
    let items: Vec<&Item> = rules.items.iter().filter(|item| item.pack == place).collect();
    let marked = |mark: Mark| items.iter().flat_map(|item| item.own_cites()).filter(|cite| cite.mark == mark).count();
    let based = |basis: Basis| items.iter().filter(|item| item.own_basis == basis).count();
    let resting = |mark: Mark| items.iter().filter(|item| item.rests_on() == mark).count();
    let elsewhere = |of: fn(&Item, PackId) -> bool| rules.items.iter().filter(|item| of(item, place)).count();
    let read: BTreeSet<FactId> = items.iter().flat_map(|item| item.reads.iter().copied()).collect();
    let read_lists: BTreeSet<ListId> = items.iter().flat_map(|item| item.reads_lists.iter().copied()).collect();
    let asked = rules.lists.iter().filter(|list| list.pack == place && !list.derived());
    let fields: usize = asked.map(|list| list.fields.len()).sum();
    let facts = rules.facts.iter().filter(|fact| fact.pack == place).count();
    Some(PackRow {
        name: pack.name.clone(),
        title: pack.title.clone(),
        edition: pack.edition.clone(),
        digest: pack.digest.clone(),
        items: items.len(),
        amended: elsewhere(amended_by),
        set_aside: elsewhere(|item, pack| item.set_aside.iter().any(|aside| aside.pack == pack)),
        facts: facts.saturating_add(fields),
        asks: read.len().saturating_add(read_lists.len()),
        examples: items.iter().map(|item| item.examples.len()).sum(),
        read: marked(Mark::Read),
        quoted: marked(Mark::Quoted),
        memory: marked(Mark::Memory),
        common_practice: marked(Mark::CommonPractice),
        by_basis: ByBasis {
            law: based(Basis::Law),
            limitations: based(Basis::Limitations),
            advice: based(Basis::Advice),
            handbook: based(Basis::Handbook),
            association: based(Basis::Association),
            kit: based(Basis::Kit),
            practice: based(Basis::CommonPractice).saturating_add(based(Basis::Own)),
        },
        rests_on: RestsOn {
            read: resting(Mark::Read),
            quoted: resting(Mark::Quoted),
            memory: resting(Mark::Memory),
            common_practice: resting(Mark::CommonPractice),
        },
        untried: items.iter().filter(|item| is_untried(item)).map(|item| rules.full_name(item)).collect(),
    })
}

/// Whether a pack added to an item of another one.
pub(super) fn amended_by(item: &Item, pack: PackId) -> bool {
    item.added.iter().any(|added| added.pack == pack) || item.bound.iter().any(|bound| bound.pack == pack)
}

/// An item shows its worth by an example that meets it and one that fails it.
fn is_untried(item: &Item) -> bool {
    let has = |verdict: Verdict| item.examples.iter().any(|example| example.expect == verdict);
    !has(Verdict::Met) || !has(Verdict::Unmet)
}

/// The rows in words, no line wider than `width` characters (at least 40).
#[must_use]
pub fn packs_text(rows: &[PackRow], width: usize) -> String {
    let mut page = Page::new(width);
    for row in rows {
        page.gap();
        page.hanging(0, 4, &format!("{}: {}", row.name, row.title));
        page.labelled(4, 18, "edition", &row.edition);
        for (label, count, meaning) in counts(row) {
            page.labelled(4, 18, label, format!("{count:>5}  {meaning}").trim_end());
        }
        for item in &row.untried {
            page.hanging(4, 8, &format!("Untried: {item} lacks an example that meets it or one that fails it."));
        }
    }
    let (items, examples) = (total(rows, |row| row.items), total(rows, |row| row.examples));
    page.gap();
    let sum = [
        phrases::counted(rows.len(), "pack", "packs"),
        phrases::counted(items, "item", "items"),
        phrases::counted(examples, "worked example", "worked examples"),
    ];
    page.line(0, &format!("Together {}.", phrases::listed(&sum)));
    page.finish()
}

/// What stands of a pack in `cotterpin packs`: its items, and whatever else is not zero.
pub(super) fn counts(row: &PackRow) -> Vec<(&'static str, usize, &'static str)> {
    let (basis, rests) = (&row.by_basis, &row.rests_on);
    let mut counts = vec![("items", row.items, "")];
    let more = [
        ("  law", basis.law, ""),
        ("  limitations", basis.limitations, "those issued to the aircraft"),
        ("  advice", basis.advice, "the authority's"),
        ("  handbook", basis.handbook, ""),
        ("  association", basis.association, ""),
        ("  kit", basis.kit, "the kit's own word"),
        ("  practice", basis.practice, "the trade's, or the builder's own"),
        ("  all read", rests.read, "every document the item cites was read"),
        ("  quoted", rests.quoted, "cite a text that was seen quoted only"),
        ("  from memory", rests.memory, "cite a text from memory, not checked: look it up"),
        ("  no document", rests.common_practice, "common practice, or the pack's own word"),
        ("amends", row.amended, "items of other packs"),
        ("sets aside", row.set_aside, "items of other packs"),
        ("facts declared", row.facts, "the fields of lists included"),
        ("asks for", row.asks, "facts and lists that its items read"),
        ("worked examples", row.examples, ""),
        ("citations", row.read, "of a document that was read"),
        ("  quoted", row.quoted, "of one seen quoted only"),
        ("  from memory", row.memory, "not checked"),
        ("  practice", row.common_practice, "of common practice"),
    ];
    counts.extend(more.into_iter().filter(|(_, count, _)| *count > 0));
    counts
}

fn total(rows: &[PackRow], of: impl Fn(&PackRow) -> usize) -> usize {
    rows.iter().map(of).sum()
}

/// The rows as JSON, as `schemas/packs.json` says.
#[must_use]
pub fn packs_json(rows: &[PackRow], messages: &[Message]) -> String {
    document(&PACKS, &PacksOut { packs: rows }, messages)
}
