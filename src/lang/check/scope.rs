//! Names that must be free, and names of parts and evidence that must be known.

use super::checker::Checker;
use super::lower::Scope;
use crate::diagnostic::Diagnostic;
use crate::ir::{EvidenceId, PackId};
use crate::source::SharedText;
use crate::syntax::ast::Name;
use std::borrow::Borrow;
use std::collections::BTreeMap;
use std::ops::Bound;

impl Checker {
    fn hides(&mut self, name: &Name, what: &str, help: &str) {
        self.error(
            Diagnostic::error("name::hides", format!("`{}` has the name of {what}, and would hide it", name.text))
                .at(name.span, "this name")
                .help(help),
        );
    }

    /// A `let` stands once, and hides neither a fact nor a field of a record.
    pub(super) fn let_is_free(&mut self, name: &Name, taken: &[SharedText], scope: &Scope) {
        const HELP: &str = "give the value another name";
        if scope.values.contains_key(name.as_str()) || taken.contains(&name.text) {
            self.hides(name, "another `let` of this item", HELP);
        } else if self.fact_in_sight(&name.text, scope.pack) {
            self.hides(name, "a fact", HELP);
        } else if name.text.split_once('.').is_some_and(|(first, _)| is_variable(scope, first)) {
            self.hides(name, "a field of a record", HELP);
        }
    }

    /// The name of a record hides neither another record, nor a fact, nor a `let`.
    pub(super) fn variable_is_free(&mut self, name: &Name, scope: &Scope) {
        const HELP: &str = "call the record something else";
        let inside = format!("{}.", name.text);
        if is_variable(scope, &name.text) {
            self.hides(name, "a record of an outer list", HELP);
        } else if scope.values.contains_key(name.as_str()) || begins(&scope.values, &inside) {
            self.hides(name, "a `let`", HELP);
        } else if let Some(fact) = self.first_fact(&inside, scope.pack) {
            self.hides(name, &format!("the first part of the fact `{fact}`"), HELP);
        }
    }

    /// A formula's parameter stands once, and hides no fact.
    pub(super) fn parameter_is_free(&mut self, name: &Name, scope: &Scope) {
        const HELP: &str = "give the parameter another name";
        if scope.values.contains_key(name.as_str()) {
            self.hides(name, "another parameter", HELP);
        } else if self.fact_in_sight(&name.text, scope.pack) {
            self.hides(name, "a fact", HELP);
        }
    }

    fn fact_in_sight(&self, name: &str, pack: PackId) -> bool {
        let fact = self.rules.fact_by_name.get(self.kept_name(name, pack)).and_then(|id| self.rules.fact(*id));
        fact.is_some_and(|fact| self.sees(pack, fact.pack))
    }

    /// The first fact in sight whose name begins like this.
    fn first_fact(&self, beginning: &str, pack: PackId) -> Option<SharedText> {
        let from = self.rules.fact_by_name.range::<str, _>((Bound::Included(beginning), Bound::Unbounded));
        let mut names = from.map(|(name, _)| name).take_while(|name| name.starts_with(beginning));
        names.find(|name| self.fact_in_sight(name, pack)).cloned()
    }

    /// The place of a kind of evidence; an error if there is none.
    pub(super) fn evidence_kind(&mut self, kind: &Name) -> Option<EvidenceId> {
        let found = self.rules.evidence.position(|known| known.name == kind.text);
        let found = found.filter(|_| self.in_sight("kind of evidence", kind));
        if found.is_none() {
            let known: Vec<_> = self.rules.evidence.iter().map(|e| e.name.clone()).collect();
            self.unknown("kind of evidence", kind, known.iter().map(AsRef::as_ref));
        }
        found
    }

    /// Evidence is of a fact, a list, a group of them, or a part.
    pub(super) fn evidence_subject(&mut self, subject: &Name) -> SharedText {
        let kept = self.pack_at(subject.span).and_then(|pack| self.only_seen(subject.as_str(), pack));
        let kept = kept.unwrap_or(&subject.text).clone();
        let inside = format!("{}.", subject.text);
        let subjects = || self.rules.subjects.iter().map(|part| &part.name);
        let part = subjects().any(|name| *name == subject.text || name.starts_with(&inside));
        let known = part
            || self.rules.fact_by_name.contains_key(&kept)
            || self.rules.list_by_name.contains_key(&kept)
            || self.pack_at(subject.span).is_some_and(|pack| self.first_fact(&inside, pack).is_some())
            || begins(&self.rules.list_by_name, &inside);
        let hidden = ["fact", "list", "subject"].into_iter().find(|kind| !self.in_sight(kind, subject));
        if known && hidden.is_none() {
            return kept;
        }
        let (facts, lists) = (self.rules.fact_by_name.keys(), self.rules.list_by_name.keys());
        let names: Vec<_> = facts.chain(lists).chain(subjects()).cloned().collect();
        self.unknown(hidden.unwrap_or("fact, list or part"), subject, names.iter().map(AsRef::as_ref));
        kept
    }

    /// A part that is inspected or disturbed is declared, exactly so.
    pub(crate) fn subject_known(&mut self, subject: &Name) {
        let declared = self.rules.subjects.iter().any(|part| part.name == subject.text);
        if !declared || !self.in_sight("subject", subject) {
            let known: Vec<_> = self.rules.subjects.iter().map(|part| part.name.clone()).collect();
            self.unknown("subject", subject, known.iter().map(AsRef::as_ref));
        }
    }
}

fn is_variable(scope: &Scope, name: &str) -> bool {
    scope.loops.iter().any(|(known, _)| known == name)
}

/// Whether any name begins like this.
fn begins<N: Borrow<str> + Ord, T>(names: &BTreeMap<N, T>, beginning: &str) -> bool {
    let mut from = names.range::<str, _>((Bound::Included(beginning), Bound::Unbounded));
    from.next().is_some_and(|(name, _)| name.borrow().starts_with(beginning))
}
