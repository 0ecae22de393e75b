//! What passes without a look: needs that are met whatever is recorded, and
//! lists that would let an item pass by being empty.

use super::empty::passes_when_empty;
use crate::diagnostic::Diagnostic;
use crate::eval::{Evaluation, Facts};
use crate::ir::{Item, ListId, PackId, Rules};
use crate::project::Record;
use crate::quantity::{Date, DateRange, Truth};

/// What is to be said of the items of packs that come from no library, and of those they add to.
/// The packs of the binary are tried together by a test.
pub(crate) fn warnings(rules: &Rules) -> Vec<Diagnostic> {
    let own = |pack: PackId| pack.index() >= rules.prebuilt_packs;
    let items = rules.items.iter().filter(|item| own(item.pack) || item.added.iter().any(|added| own(added.pack)));
    let mut facts = Facts::bind(rules, &Record::default());
    let mut warnings = Vec::new();
    for item in items {
        for id in item.reads_lists.iter().copied().filter(|id| Some(*id) != item.each) {
            if passes_when_empty(rules, item, id, &mut facts) {
                warnings.push(empty_passes(rules, item, id));
            }
        }
        if !item.uses_today && passes_unrecorded(rules, item, &facts) {
            warnings.push(
                Diagnostic::warning("item::always-met", "this item is met whatever is recorded")
                    .at(item.place, "this item")
                    .help("write what must hold"),
            );
        }
    }
    warnings
}

fn empty_passes(rules: &Rules, item: &Item, id: ListId) -> Diagnostic {
    let list = rules.list(id).map_or("", |list| list.name.as_str());
    let message = format!("if `{list}` is recorded as empty, this item is met and nothing was looked at");
    Diagnostic::warning("list::empty-passes", message)
        .at(item.place, "this item")
        .help(format!("say so with `when`, or need `count one in {list} > 0` as well"))
}

/// Whether an item's need holds with nothing recorded at all.
fn passes_unrecorded(rules: &Rules, item: &Item, facts: &Facts) -> bool {
    let Some(day) = Date::new(2000, 1, 1).map(DateRange::day) else { return false };
    Evaluation::new(&rules.program, facts, day).decide_for(item.need, None) == Truth::True
}
