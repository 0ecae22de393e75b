//! Facts and lists of one name in packs that know nothing of each other: each
//! is then called by its pack as well, `latch/canopy.pull`.

use super::checker::Checker;
use crate::diagnostic::Diagnostic;
use crate::ir::PackId;
use crate::source::SharedText;
use crate::syntax::ast::Name;

/// Names that the log keeps mean the same in every pack.
const OF_THE_LOG: &str = "log.";

impl Checker {
    /// Notes the name of a fact or list and says under which it is kept: its
    /// own, or with its pack before it where another pack, which this one does
    /// not build on, has it too. Nothing, and an error, where one pack would have it twice.
    pub(super) fn declare_value(&mut self, kind: &'static str, name: &Name, pack: PackId) -> Option<SharedText> {
        let owner = ["fact", "list"].into_iter().find_map(|kind| self.places.get(kind)?.get(name.as_str()));
        let stranger = |(_, owner): &&(_, PackId)| *owner != pack && !self.sees(pack, *owner);
        let Some((first, owner)) = owner.filter(stranger).copied().filter(|_| !name.text.starts_with(OF_THE_LOG))
        else {
            return self.declare(kind, name, pack).then(|| name.text.clone());
        };
        // Of those that share it already this pack may build on one.
        let known = self.shared.get(&name.text);
        if known.is_some_and(|known| known.keys().any(|other| self.sees(pack, *other))) {
            let message = Diagnostic::error("name::twice", format!("the {kind} `{}` is declared twice", name.text));
            let message = message.at(name.span, "declared here again").at(first, "first declared here");
            self.error(message.help("rename one of the two, or take one out"));
            return None;
        }
        self.call_by_pack(&name.text, owner);
        let full = self.full(&name.text, pack);
        self.shared.entry(name.text.clone()).or_default().insert(pack, full.clone());
        self.declare(kind, &Name { text: full.clone(), span: name.span }, pack).then_some(full)
    }

    /// The name under which a fact or list is kept that a pack calls so.
    pub(super) fn kept_name<'n>(&'n self, name: &'n str, pack: PackId) -> &'n str {
        self.only_seen(name, pack).map_or(name, SharedText::as_str)
    }

    /// Of the packs that share a name, the full name in the only one that a pack can see.
    pub(super) fn only_seen(&self, name: &str, pack: PackId) -> Option<&SharedText> {
        let known = self.shared.get(name)?;
        let mut seen = known.iter().filter(|(owner, _)| self.sees(pack, **owner));
        seen.next().filter(|_| seen.next().is_none()).map(|(_, full)| full)
    }

    fn full(&self, name: &str, pack: PackId) -> SharedText {
        let pack = self.rules.packs.get(pack).map_or("", |pack| pack.name.as_str());
        [pack, "/", name].concat().into()
    }

    /// What had the name alone until now is called by its pack as well.
    fn call_by_pack(&mut self, name: &SharedText, owner: PackId) {
        let full = self.full(name, owner);
        let known = self.shared.entry(name.clone()).or_default();
        if known.insert(owner, full.clone()).is_some() {
            return;
        }
        if let Some(id) = self.rules.fact_by_name.remove(name) {
            self.rules.fact_by_name.insert(full.clone(), id);
            if let Some(fact) = self.rules.facts.get_mut(id) {
                fact.name.clone_from(&full);
            }
        }
        if let Some(id) = self.rules.list_by_name.remove(name) {
            self.rules.list_by_name.insert(full.clone(), id);
            if let Some(list) = self.rules.lists.get_mut(id) {
                list.name.clone_from(&full);
            }
        }
        // Evidence is asked for by name.
        let sees: Vec<bool> = self.rules.items.iter().map(|item| self.sees(item.pack, owner)).collect();
        for (item, _) in self.rules.items.iter_mut().zip(sees).filter(|(_, sees)| *sees) {
            for show in item.shows.iter_mut().filter(|show| show.subject == *name) {
                show.subject.clone_from(&full);
            }
        }
    }
}
