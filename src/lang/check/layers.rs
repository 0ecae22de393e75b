//! Packs on packs: amendments, and items set aside.

use super::checker::Checker;
use super::items::first;
use crate::diagnostic::Diagnostic;
use crate::ir::{Added, Aside, Bound, Cite, Item, ItemId, PackId};
use crate::source::SharedText;
use crate::syntax::ast::{AmendDecl, Name, SetAsideDecl};
use crate::vocabulary::Basis;

impl Checker {
    /// Adds a need to every edition of another pack's item, or says that what
    /// the item asks is more binding here.
    pub(crate) fn amend(&mut self, decl: &AmendDecl, pack: PackId) {
        let (clauses, name) = (&decl.clauses, &decl.name);
        if clauses.needs.is_empty() && clauses.basis.is_empty() {
            self.missing(
                clauses,
                Diagnostic::error("item::no-need", "an amendment adds a need or a basis")
                    .at(name.span, "this one adds none")
                    .help("add `need ...`, or `basis ...` with its source; to relax an item use `set aside`"),
            );
            return;
        }
        let basis = self.basis(clauses, name);
        let cites = self.cites(&clauses.cites, pack);
        if clauses.cites.is_empty() {
            self.missing(
                clauses,
                Diagnostic::error("item::no-source", format!("the amendment of `{}` has no source", name.text))
                    .at(name.span, "this amendment")
                    .help("add `cite SOURCE, \"paragraph\"` or `cite common practice`"),
            );
        }
        self.basis_agrees(basis, &cites, name.span);
        self.one_each(clauses);
        let found = self.items_elsewhere(name, pack);
        let Some(basis) = basis else { return };
        for at in found {
            if clauses.needs.is_empty() {
                self.bind_more(at, decl, pack, basis, &cites);
            } else {
                self.amend_one(at, decl, pack, basis, &cites);
            }
        }
    }

    /// What law asks is law, whoever asked for it first: a country makes law of
    /// what the trade does anyway. A less binding word changes nothing.
    fn bind_more(&mut self, at: ItemId, decl: &AmendDecl, pack: PackId, basis: Basis, cites: &[Cite]) {
        let Some(item) = self.rules.items.get_mut(at) else { return };
        item.basis = item.basis.min(basis);
        item.cites.extend_from_slice(cites);
        item.bound.push(Bound { pack, basis, cites: cites.to_vec() });
        let join = |own: Option<SharedText>, more: Option<SharedText>| match (own, more) {
            (Some(own), Some(more)) => Some(format!("{own} {more}").into()),
            (own, more) => own.or(more),
        };
        item.check = join(item.check.take(), first(&decl.clauses.check));
        item.remedy = join(item.remedy.take(), first(&decl.clauses.remedy));
        item.caution = join(item.caution.take(), first(&decl.clauses.caution));
        self.examples(at, &decl.clauses.tries, pack);
    }

    fn amend_one(&mut self, at: ItemId, decl: &AmendDecl, pack: PackId, basis: Basis, cites: &[Cite]) {
        let clauses = &decl.clauses;
        let mut scope = self.scope(pack);
        // A record goes by the name the amended item gives it.
        let Some(item) = self.rules.items.get(at) else { return };
        let (before, each) = (item.need, item.each_name.clone().zip(item.each));
        let taken: Vec<SharedText> = item.lets.iter().map(|one| one.name.clone()).collect();
        scope.loops.extend(each);
        let lets = self.lets(clauses, &taken, &mut scope);
        let Some(need) = self.joined(&clauses.needs, decl.name.span, &mut scope) else { return };
        let joined = self.join(&[before, need], true, decl.name.span);
        let added = Added {
            pack,
            need,
            basis,
            cites: cites.to_vec(),
            check: first(&clauses.check),
            remedy: first(&clauses.remedy),
            caution: first(&clauses.caution),
            place: decl.name.span,
        };
        if let Some(item) = self.rules.items.get_mut(at) {
            item.need = joined;
            item.lets.extend(lets);
            item.added.push(added);
            item.uses_today |= scope.uses_today;
            item.confirm |= scope.confirm;
            item.reads.extend(scope.reads);
            item.reads.sort();
            item.reads.dedup();
            item.reads_lists.extend(scope.reads_lists);
            item.reads_lists.sort();
            item.reads_lists.dedup();
            // Examples written before the amendment no longer tell the whole need.
            item.examples.clear();
        }
        self.examples(at, &clauses.tries, pack);
    }

    /// Sets every edition of another pack's item aside. What it rests on is
    /// kept, and shown beside the reason.
    pub(crate) fn set_aside(&mut self, decl: &SetAsideDecl, pack: PackId) {
        let cites = self.cites(&decl.cites, pack);
        let basis = decl.basis.first().map(|(basis, _)| *basis);
        if !cites.is_empty() {
            self.basis_agrees(basis, &cites, decl.name.span);
        }
        self.once("basis", decl.basis.get(1).map(|(_, span)| *span));
        if decl.because.text.trim().is_empty() {
            let message =
                Diagnostic::error("item::no-reason", format!("`{}` is set aside for no reason", decl.name.text));
            self.error(
                message.at(decl.because.span, "this is empty").help("say why it does not hold for this aircraft"),
            );
        }
        for at in self.items_elsewhere(&decl.name, pack) {
            let aside = Aside { pack, because: decl.because.text.clone(), basis, cites: cites.clone() };
            if let Some(item) = self.rules.items.get_mut(at) {
                item.set_aside.push(aside);
            }
        }
    }

    /// Every edition of an item of a pack this one builds on.
    fn items_elsewhere(&mut self, name: &Name, pack: PackId) -> Vec<ItemId> {
        let of_others: Vec<(ItemId, PackId)> = self
            .items_named(&name.text)
            .filter_map(|at| Some((at, self.rules.items.get(at)?.pack)))
            .filter(|(_, owner)| *owner != pack)
            .collect();
        let found: Vec<ItemId> =
            of_others.iter().filter(|(_, owner)| self.sees(pack, *owner)).map(|(at, _)| *at).collect();
        let mut owners = of_others.iter().map(|(_, owner)| *owner).filter(|owner| self.sees(pack, *owner));
        let first = owners.next();
        if owners.any(|owner| Some(owner) != first) {
            let message = format!("`{}` is an item of more than one pack that this one builds on", name.text);
            let help = "nobody can tell which is meant: build on one of them";
            self.error(Diagnostic::error("name::twice", message).at(name.span, "of which pack?").help(help));
            return Vec::new();
        }
        if !found.is_empty() {
            return found;
        }
        match of_others.first() {
            Some((_, owner)) => self.out_of_sight("item", name, *owner),
            None => {
                let elsewhere = |item: &&Item| item.pack != pack && self.sees(pack, item.pack);
                let known: Vec<_> = self.rules.items.iter().filter(elsewhere).map(|item| item.name.clone()).collect();
                self.unknown("item of another pack", name, known.iter().map(AsRef::as_ref));
            }
        }
        found
    }
}
