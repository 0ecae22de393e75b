//! What an item says of the job that meets it: how long it takes, and what must be met before.

use super::checker::Checker;
use crate::diagnostic::Diagnostic;
use crate::ir::{Item, ItemId, PackId};
use crate::quantity::{Dimension, ExactInterval};
use crate::syntax::ast::{Clauses, ItemDecl, Name};

impl Checker {
    /// A time, and some of it: a job that takes none is no job.
    pub(super) fn takes(&mut self, clauses: &Clauses) -> Option<ExactInterval> {
        let written = clauses.takes.first()?;
        let is_time = Some(written.quantity.dimension()) == Dimension::named("time");
        let some = written.quantity.range.lo().is_some_and(|least| least.signum() > 0);
        if is_time && some {
            return Some(written.quantity.range.clone());
        }
        let why = if is_time { "this must be more than nothing" } else { "expected a time" };
        self.error(
            Diagnostic::error("item::takes", "what a job takes is a time")
                .at(written.span, why)
                .help("write `takes 45 min` or `takes 2 h`"),
        );
        None
    }

    /// Finds the items a job waits for, when all items are known.
    pub(crate) fn after(&mut self, decl: &ItemDecl, pack: PackId) {
        let own = |at: &ItemId| self.rules.items.get(*at).is_some_and(|item| item.place == decl.name.span);
        // An item with mistakes is not among them; its mistakes are told.
        let Some(at) = self.items_named(&decl.name.text).find(own) else { return };
        let mut after: Vec<ItemId> = Vec::new();
        for name in &decl.clauses.after {
            after.extend(self.seen_items(name, &decl.name, pack));
        }
        after.sort();
        after.dedup();
        if let Some(item) = self.rules.items.get_mut(at) {
            item.after = after;
        }
    }

    /// Every edition of an item of this pack or one it builds on.
    fn seen_items(&mut self, name: &Name, of: &Name, pack: PackId) -> Vec<ItemId> {
        if name.text == of.text {
            self.error(
                Diagnostic::error("item::after-itself", format!("the item `{}` waits for itself", of.text))
                    .at(name.span, "its own name")
                    .help("take it out, or name the item that comes before"),
            );
            return Vec::new();
        }
        let owner = |at: &ItemId| self.rules.items.get(*at).map(|item| item.pack);
        let named: Vec<(ItemId, PackId)> =
            self.items_named(&name.text).filter_map(|at| Some((at, owner(&at)?))).collect();
        let seen = named.iter().filter(|(_, owner)| self.sees(pack, *owner));
        let found: Vec<ItemId> = seen.map(|(at, _)| *at).collect();
        match named.first() {
            Some((_, owner)) if found.is_empty() => self.out_of_sight("item", name, *owner),
            None => {
                let in_sight = |item: &&Item| self.sees(pack, item.pack);
                let known: Vec<_> = self.rules.items.iter().filter(in_sight).map(|item| item.name.clone()).collect();
                self.unknown("item", name, known.iter().map(AsRef::as_ref));
            }
            Some(_) => {}
        }
        found
    }
}
