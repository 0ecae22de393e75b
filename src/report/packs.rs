//! What each pack holds, and on what it rests.

use super::json::pretty;
use super::words;
use super::wrap::Page;
use crate::audit::Verdict;
use crate::rules::{Item, Mark, Rules};
use serde::Serialize;

/// The schema's name and version.
const SCHEMA: &str = "cotterpin-packs/1";

/// One pack, counted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub struct PackRow {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Its edition.
    pub edition: String,
    /// How many items it declares.
    pub items: usize,
    /// How many facts it asks; each field of a list counts as one, unless the log keeps the list.
    pub facts: usize,
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
    /// Items that lack an example that meets them, or one that fails them.
    pub untried: Vec<String>,
}

#[derive(Serialize)]
struct PacksOut<'a> {
    schema: &'static str,
    packs: &'a [PackRow],
}

/// Counts what each pack holds, in the order of the packs.
#[must_use]
pub fn pack_rows(rules: &Rules) -> Vec<PackRow> {
    (0..rules.packs.len()).filter_map(|place| row(rules, place)).collect()
}

fn row(rules: &Rules, place: usize) -> Option<PackRow> {
    let pack = rules.packs.get(place)?;
    let items: Vec<&Item> = rules.items.iter().filter(|item| item.pack == place).collect();
    let marked = |mark: Mark| items.iter().flat_map(|item| &item.cites).filter(|cite| cite.mark == mark).count();
    let asked = rules.lists.iter().filter(|list| list.pack == place && !list.kept());
    let fields: usize = asked.map(|list| list.fields.len()).sum();
    let facts = rules.facts.iter().filter(|fact| fact.pack == place).count();
    Some(PackRow {
        name: pack.name.clone(),
        title: pack.title.clone(),
        edition: pack.edition.clone(),
        items: items.len(),
        facts: facts.saturating_add(fields),
        examples: items.iter().map(|item| item.examples.len()).sum(),
        read: marked(Mark::Read),
        quoted: marked(Mark::Quoted),
        memory: marked(Mark::Memory),
        common_practice: marked(Mark::CommonPractice),
        untried: items.iter().filter(|item| is_untried(item)).map(|item| rules.full_name(item)).collect(),
    })
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
        let counts = [
            ("items", row.items, ""),
            ("facts it asks", row.facts, ""),
            ("worked examples", row.examples, ""),
            ("sources read", row.read, "the document itself"),
            ("quoted", row.quoted, "seen quoted only"),
            ("from memory", row.memory, "check the text"),
            ("common practice", row.common_practice, "no published source"),
        ];
        for (label, count, meaning) in counts {
            page.labelled(4, 18, label, format!("{count:>5}  {meaning}").trim_end());
        }
        for item in &row.untried {
            page.hanging(4, 8, &format!("Untried: {item} lacks an example that meets it or one that fails it."));
        }
    }
    let (items, examples) = (total(rows, |row| row.items), total(rows, |row| row.examples));
    page.gap();
    let sum = [
        words::counted(rows.len(), "pack", "packs"),
        words::counted(items, "item", "items"),
        words::counted(examples, "worked example", "worked examples"),
    ];
    page.line(0, &format!("Together {}.", words::listed(&sum)));
    page.finish()
}

fn total(rows: &[PackRow], of: impl Fn(&PackRow) -> usize) -> usize {
    rows.iter().map(of).sum()
}

/// The rows as JSON, schema `cotterpin-packs/1`: `schema`, and `packs[]` with
/// the fields of [`PackRow`] under their own names.
#[must_use]
pub fn packs_json(rows: &[PackRow]) -> String {
    pretty(SCHEMA, &PacksOut { schema: SCHEMA, packs: rows })
}
