//! What passes without a look: needs that are met whatever is recorded, and
//! lists that would let an item pass by being empty.

use super::ListId;
use super::check::Checker;
use crate::diagnostic::Diagnostic;
use crate::measure::Truth;
use crate::program::Condition;

impl Checker {
    /// Warns where a list recorded as empty would let an item pass silently.
    pub(super) fn warn_of_empty_lists(&mut self) {
        let mut warnings = Vec::new();
        let mut facts = crate::audit::Facts::bind(&self.rules, &crate::record::Record::default());
        for item in &self.rules.items {
            let lists: Vec<ListId> = item.reads_lists.iter().copied().filter(|id| Some(*id) != item.each).collect();
            for id in lists {
                if crate::audit::passes_when_empty(&self.rules, item, id, &mut facts) {
                    let list = self.rules.list(id).map_or("", |list| list.name.as_str());
                    warnings.push(
                        Diagnostic::warning(
                            "list::empty-passes",
                            format!("if `{list}` is recorded as empty, this item is met and nothing was looked at"),
                        )
                        .at(item.place, "this item")
                        .help(format!("say so with `when`, or need `count one in {list} > 0` as well")),
                    );
                }
            }
        }
        self.messages.extend(warnings);
        for item in &self.rules.items {
            // A plain `yes` is a mistake; a condition that comes to the same may be
            // meant, for a value that a later edition will change.
            let plain = matches!(self.rules.program.conditions.get(item.need), Some(Condition::Constant(Truth::True)));
            if plain || (!item.uses_today && crate::audit::passes_unrecorded(&self.rules, item, &facts)) {
                const MET: &str = "this item is met whatever is recorded";
                let message = if plain {
                    Diagnostic::error("item::always-met", MET)
                } else {
                    Diagnostic::warning("item::always-met", MET)
                };
                self.messages.push(message.at(item.place, "this item").help("write what must hold"));
            }
        }
    }
}
