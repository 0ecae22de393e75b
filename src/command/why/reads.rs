//! `cotterpin why` of a fact or of a part: what is recorded or logged of it, and what asks about it.

use super::verdicts;
use crate::command::load::Loaded;
use crate::command::width;
use cotterpin_engine::audit::{Audit, Finding, PartHistory};
use cotterpin_engine::ir::{Fact, FactId, Item, Rules};
use cotterpin_engine::project::Record;
use cotterpin_engine::quantity::Date;
use cotterpin_engine::report::{Page, part_history};
use std::collections::BTreeSet;

/// What a fact or a part comes to; nothing where the name is neither's.
pub(super) fn told(loaded: &Loaded, (audit, on): (&Audit, Date), name: &str) -> Option<String> {
    let (rules, record) = (loaded.rules(), loaded.record());
    let mut page = Page::new(width());
    if let Some(id) = rules.fact_by_name.get(name).copied() {
        fact(rules, record, (id, rules.fact(id)?), &mut page);
        asking(audit, rules, "What reads it:", |item| item.reads.contains(&id), &mut page);
        return Some(page.finish());
    }
    let own = record.parts.get(name).map(|part| part.title.as_str());
    let title = own.or_else(|| rules.subjects.iter().find(|part| part.name == name).map(|part| part.title.as_str()))?;
    page.line(0, &format!("{name}: {title}"));
    page.gap();
    part_history(&PartHistory::of(rules, record, on, name), record, name, &mut page);
    // Work on a part is work on all that it belongs to.
    let asks = |item: &Item| about(rules, item).into_iter().any(|part| part == name || is_below(name, part));
    asking(audit, rules, "What asks about it, or about what it belongs to:", asks, &mut page);
    Some(page.finish())
}

/// The question and what is recorded.
fn fact(rules: &Rules, record: &Record, (id, fact): (FactId, &Fact), page: &mut Page) {
    page.line(0, &fact.ask);
    match record.facts.get(&id) {
        Some(known) => {
            let place = record.sources.place(known.place);
            page.hanging(4, 8, &format!("{} = {} ({place})", fact.name, known.text));
        }
        None => page.hanging(4, 8, &format!("{} is not recorded: cotterpin record {0} VALUE", fact.name)),
    }
    let part = fact.state.as_ref().and_then(|state| state.of.as_ref()?.part());
    if let Some(title) = part.and_then(|part| rules.subjects.iter().find(|known| known.name == *part)) {
        page.hanging(4, 8, &format!("Work on {} ({}) undoes it.", title.name, title.title));
    }
}

/// Whether one part is a part of another.
fn is_below(part: &str, above: &str) -> bool {
    part.strip_prefix(above).is_some_and(|rest| rest.starts_with('.'))
}

/// The findings of the items that ask, what is open first.
fn asking(audit: &Audit, rules: &Rules, title: &str, asks: impl Fn(&Item) -> bool, page: &mut Page) {
    let items: BTreeSet<String> =
        rules.items.iter().filter(|item| asks(item)).map(|item| rules.full_name(item)).collect();
    let found: Vec<&Finding> = audit.findings.iter().filter(|finding| items.contains(&finding.item)).collect();
    page.gap();
    if found.is_empty() {
        page.line(0, "No item that is judged now asks about it.");
        return;
    }
    page.line(0, title);
    verdicts(found, page);
}

/// The parts that an item asks the log or somebody about, or of which it looks at each record.
fn about<'r>(rules: &'r Rules, item: &Item) -> BTreeSet<&'r str> {
    let program = &rules.program;
    let looked_at = program.logged_in(item.need).into_iter().map(|need| need.subject.as_str());
    let said = program.words_of(item.need).into_iter().filter_map(|word| program.abouts.get(word.about?));
    let each = item.each.and_then(|list| rules.list(list)?.part.as_ref()?.part());
    looked_at.chain(said.flatten().filter_map(|about| about.part())).chain(each).collect()
}
