//! Runs the worked examples that stand beside the items of packs.

use super::given::record_of;
use crate::audit::{DueAndZone, HowMuch, Judge, Reason, finding};
use crate::ir::{Item, ItemId, Rules};
use crate::quantity::Date;
use crate::source::Span;
use crate::vocabulary::Verdict;

/// How a worked example came out.
#[derive(Debug, Clone)]
pub struct ExampleResult {
    /// The item's full name.
    pub item: String,
    /// The example's name.
    pub example: String,
    /// What the pack says it comes to.
    pub expected: Verdict,
    /// What it came to; the first that differs, of several records.
    pub got: Verdict,
    /// Where it stands.
    pub place: Span,
    /// The reasons for what it came to.
    pub because: Vec<Reason>,
}

/// Runs the worked examples of every item.
#[must_use]
pub fn run_examples(rules: &Rules) -> Vec<ExampleResult> {
    let mut results = Vec::new();
    for (id, item) in rules.items_with_ids() {
        for example in &item.examples {
            // Without a date of its own an example is judged when all that it tells has happened.
            let record = record_of(rules, item, example);
            let logged = record.log.iter().map(|entry| entry.on.last);
            let facts = record.facts.values();
            let fields = record.lists.values().flat_map(|rows| &rows.rows).flat_map(|row| row.fields.iter().flatten());
            let taken = facts.chain(fields).filter_map(|recorded| recorded.taken.as_deref()?.on);
            let said = record.confirmations.iter().map(|word| word.on.last);
            let told = logged.chain(said).chain(taken.map(|taken| taken.on.last)).max();
            let on = example.on.or_else(|| item.from.or_else(|| Date::new(2026, 1, 1)).max(told));
            let Some(on) = on else { continue };
            let judge = Judge::new(rules, &record, on);
            let (got, because) = come_to(&judge, (id, item), example.expect);
            results.push(ExampleResult {
                item: rules.full_name(item),
                example: example.name.to_string(),
                expected: example.expect,
                got: if judge.may_be_in_force(item) { got } else { Verdict::NotApplicable },
                place: example.place,
                because,
            });
        }
    }
    results
}

/// What an example comes to, and why: the first verdict that differs from what is expected, of several records.
fn come_to(judge: &Judge<'_>, (id, item): (ItemId, &Item), expected: Verdict) -> (Verdict, Vec<Reason>) {
    let judged = judge.judge(id);
    let differs = judged.iter().find(|one| one.bare != expected);
    let Some(one) = differs.or_else(|| judged.first()) else {
        // Raised for each record, and the example has none.
        return (judge.without_record(item), Vec::new());
    };
    let name = judge.rules().full_name(item);
    let told = finding(judge, (name, item), one, DueAndZone::of(judge, item, one), HowMuch::Data);
    let added = told.added.into_iter().flat_map(|added| added.because);
    (one.bare, told.because.into_iter().chain(added).collect())
}
