//! Items, amendments and items set aside.

use super::checker::Checker;
use super::lower::{Lowered, Scope};
use crate::diagnostic::Diagnostic;
use crate::ir::{Arena, Cite, ConditionId, HoldPointId, Id, Item, Let, PackId, Show, Titled};
use crate::source::{SharedText, Span};
use crate::syntax::ast::{Clauses, ItemDecl, Name, Text};
use crate::vocabulary::{Basis, Mark};

impl Checker {
    pub(crate) fn item(&mut self, decl: &ItemDecl, pack: PackId) {
        let clauses = &decl.clauses;
        let (from, until) = clauses.in_force.first().copied().unwrap_or((None, None));
        if !self.item_name_is_free(decl, pack, from, until) {
            return;
        }
        let mut scope = self.scope(pack);
        let each = match &decl.each {
            None => None,
            Some((variable, list)) => {
                let Some(id) = self.list_named(list, &mut scope) else { return };
                self.variable_is_free(variable, &scope);
                scope.loops.push((variable.text.clone(), id));
                Some(id)
            }
        };
        let lets = self.lets(clauses, &[], &mut scope);
        let when = self.joined(&clauses.whens, decl.name.span, &mut scope);
        let need = self.joined(&clauses.needs, decl.name.span, &mut scope);
        if clauses.needs.is_empty() {
            self.missing(
                clauses,
                Diagnostic::error("item::no-need", format!("the item `{}` needs nothing", decl.name.text))
                    .at(decl.name.span, "this item")
                    .help("add `need ...`: what must hold"),
            );
        }
        let by = self.hold_point_of(clauses, &decl.name);
        let zone = clauses.zone.first().and_then(|name| self.titled(name, "zone", |checker| &checker.rules.zones));
        let basis = self.basis(clauses, &decl.name);
        let cites = self.cites(&clauses.cites, pack);
        if clauses.cites.is_empty() {
            self.missing(
                clauses,
                Diagnostic::error("item::no-source", format!("the item `{}` has no source", decl.name.text))
                    .at(decl.name.span, "this item")
                    .help("add `cite SOURCE, \"paragraph\"`, or `cite common practice` where nobody published it"),
            );
        }
        self.basis_agrees(basis, &cites, decl.name.span);
        self.one_each(clauses);
        let shows = self.shows(clauses, decl.each.as_ref().map(|(variable, list)| (variable.as_str(), list.as_str())));
        self.system_known(&decl.name);
        if from.zip(until).is_some_and(|(from, until)| until < from) || clauses.in_force.len() > 1 {
            self.error(
                Diagnostic::error("item::in-force", "the dates in force stand once, and end after they begin")
                    .at(decl.name.span, "this item")
                    .help("write `in force from 2025-10-22 until 2026-07-23`"),
            );
        }
        let (Some(need), Some(by), Some(basis)) = (need, by, basis) else {
            // Whatever stopped it has a message; if not, the item must not vanish unsaid.
            if !self.messages.iter().any(Diagnostic::is_error) {
                self.missing(
                    clauses,
                    Diagnostic::error(
                        "item::not-understood",
                        format!("the item `{}` is not understood", decl.name.text),
                    )
                    .at(decl.name.span, "this item")
                    .help("look at its `need` and `when`"),
                );
            }
            return;
        };
        let item = Item {
            name: decl.name.text.clone(),
            pack,
            title: decl.title.text.clone(),
            each,
            each_name: decl.each.as_ref().map(|(variable, _)| variable.text.clone()),
            when,
            need,
            lets,
            shows,
            by,
            zone,
            basis,
            cites,
            check: first(&clauses.check),
            remedy: first(&clauses.remedy),
            caution: first(&clauses.caution),
            ask: first(&clauses.ask),
            stops_the_visit: clauses.stops,
            no_concession: clauses.no_concession,
            // Items further down are not known yet: see `Checker::after`.
            after: Vec::new(),
            takes: self.takes(clauses),
            from,
            until,
            uses_today: scope.uses_today,
            confirm: scope.confirm,
            set_aside: Vec::new(),
            own_need: need,
            own_basis: basis,
            added: Vec::new(),
            bound: Vec::new(),
            place: decl.name.span,
            examples: Vec::new(),
            reads: scope.reads.into_iter().collect(),
            reads_lists: scope.reads_lists.into_iter().collect(),
        };
        if item.confirm && item.ask.is_none() {
            self.error(
                Diagnostic::error(
                    "item::no-question",
                    format!("the item `{}` asks a person to confirm, but asks nothing", item.name),
                )
                .at(item.place, "this item")
                .help("add `ask \"...\"`: the question to that person"),
            );
        }
        let at = self.add_item(&decl.name, item);
        self.examples(at, &clauses.tries, pack);
    }

    pub(super) fn scope(&self, pack: PackId) -> Scope {
        let began = self.rules.program.conditions.len().saturating_add(self.rules.program.numbers.len());
        Scope { began, ..Scope::of(pack) }
    }

    /// The same name may stand twice only where the dates in force do not overlap.
    fn item_name_is_free(
        &mut self,
        decl: &ItemDecl,
        pack: PackId,
        from: Option<crate::quantity::Date>,
        until: Option<crate::quantity::Date>,
    ) -> bool {
        let overlaps = |item: &&Item| {
            let before = until.zip(item.from).is_some_and(|(until, from)| until < from);
            let after = from.zip(item.until).is_some_and(|(from, until)| from > until);
            // A pack that knows nothing of another may have a name of it; they go by their packs.
            if item.pack == pack { !(before || after) } else { self.sees(pack, item.pack) }
        };
        let mut same = self.items_named(&decl.name.text).filter_map(|at| self.rules.items.get(at));
        let other = same.find(overlaps).map(|item| item.place);
        drop(same);
        let Some(other) = other else { return true };
        self.error(
            Diagnostic::error("name::twice", format!("the item `{}` is declared twice", decl.name.text))
                .at(decl.name.span, "declared here again")
                .at(other, "first declared here")
                .help("rename one of them; two editions of one item need dates in force that do not overlap"),
        );
        false
    }

    /// Names for values, in the order written; `taken` are those an amended item has.
    pub(super) fn lets(&mut self, clauses: &Clauses, taken: &[SharedText], scope: &mut Scope) -> Vec<Let> {
        let mut lets = Vec::new();
        for (name, value) in &clauses.lets {
            self.let_is_free(name, taken, scope);
            let Some(lowered) = self.value(value, None, scope) else { continue };
            if let Lowered::Number(node, dimension) = lowered {
                lets.push(Let { name: name.text.clone(), node, dimension, place: value.span });
            }
            scope.values.insert(name.text.clone(), lowered);
        }
        lets
    }

    pub(super) fn joined(
        &mut self,
        parts: &[crate::syntax::ast::Expr],
        span: Span,
        scope: &mut Scope,
    ) -> Option<ConditionId> {
        let nodes: Vec<_> = parts.iter().map(|part| self.condition(part, scope)).collect();
        let nodes: Vec<ConditionId> = nodes.into_iter().collect::<Option<_>>()?;
        if nodes.is_empty() { None } else { Some(self.join(&nodes, true, span)) }
    }

    fn hold_point_of(&mut self, clauses: &Clauses, item: &Name) -> Option<HoldPointId> {
        if clauses.by.is_empty() {
            self.missing(
                clauses,
                Diagnostic::error("item::no-hold-point", format!("the item `{}` names no hold point", item.text))
                    .at(item.span, "this item")
                    .help("add `by visit` or another hold point"),
            );
        }
        clauses.by.first().and_then(|name| self.hold_point(name))
    }

    /// Says that a clause is missing, unless it may stand in what is not understood.
    pub(super) fn missing(&mut self, clauses: &Clauses, message: Diagnostic) {
        if !clauses.broken_off {
            self.error(message);
        }
    }

    /// A hold point that is known.
    pub(super) fn hold_point(&mut self, name: &Name) -> Option<HoldPointId> {
        self.titled(name, "hold point", |checker| &checker.rules.hold_points)
    }

    fn titled<I: Id>(&mut self, name: &Name, what: &'static str, of: fn(&Self) -> &Arena<I, Titled>) -> Option<I> {
        let found = of(self).position(|titled| titled.name == name.text);
        let found = found.filter(|_| self.in_sight(what, name));
        if found.is_none() {
            let known: Vec<_> = of(self).iter().map(|titled| titled.name.clone()).collect();
            self.unknown(what, name, known.iter().map(AsRef::as_ref));
        }
        found
    }

    pub(super) fn basis(&mut self, clauses: &Clauses, item: &Name) -> Option<Basis> {
        if clauses.basis.is_empty() {
            self.missing(
                clauses,
                Diagnostic::error(
                    "item::no-basis",
                    format!("the item `{}` does not say what kind of word it is", item.text),
                )
                .at(item.span, "this item")
                .help("add `basis law`, `limitations`, `advice`, `handbook`, `association`, `kit`, `common practice` or `own`"),
            );
        }
        clauses.basis.first().map(|(basis, _)| *basis)
    }

    /// Advice never looks like law: common practice cannot be cited as anything else.
    pub(super) fn basis_agrees(&mut self, basis: Option<Basis>, cites: &[Cite], span: Span) {
        let only_practice = !cites.is_empty() && cites.iter().all(|cite| cite.mark == Mark::CommonPractice);
        let wrong = match basis {
            Some(Basis::Law | Basis::Limitations | Basis::Advice | Basis::Handbook | Basis::Association)
                if only_practice =>
            {
                "common practice is no published document, so the basis cannot be more than `common practice`, `kit` or `own`"
            }
            Some(Basis::CommonPractice) if !only_practice && !cites.is_empty() => {
                "a published document is cited, so the basis is not `common practice`"
            }
            _ => return,
        };
        self.error(
            Diagnostic::error("item::basis", wrong)
                .at(span, "this item")
                .help("cite the document, or change the basis"),
        );
    }

    /// Clauses that can stand only once.
    pub(super) fn one_each(&mut self, clauses: &Clauses) {
        let texts = [
            ("check", &clauses.check),
            ("remedy", &clauses.remedy),
            ("caution", &clauses.caution),
            ("ask", &clauses.ask),
        ];
        let again: Vec<(&str, Span)> = texts
            .iter()
            .filter_map(|(what, texts)| texts.get(1).map(|text| (*what, text.span)))
            .chain(
                [("by", clauses.by.get(1)), ("zone", clauses.zone.get(1))]
                    .iter()
                    .filter_map(|(what, name)| name.map(|name| (*what, name.span))),
            )
            .chain(clauses.takes.get(1).map(|time| ("takes", time.span)))
            .chain(clauses.basis.get(1).map(|(_, span)| ("basis", *span)))
            .collect();
        for (what, span) in again {
            self.once(what, Some(span));
        }
    }

    /// An error if there is a second clause of that name.
    pub(super) fn once(&mut self, what: &str, second: Option<Span>) {
        let Some(span) = second else { return };
        self.error(
            Diagnostic::error("item::twice", format!("`{what}` stands twice in this item"))
                .at(span, "again")
                .help("keep one"),
        );
    }

    fn shows(&mut self, clauses: &Clauses, each: Option<(&str, &str)>) -> Vec<Show> {
        let mut shows = Vec::new();
        for (kinds, subject) in &clauses.shows {
            let mut found = Vec::new();
            for kind in kinds {
                found.extend(self.evidence_kind(kind));
            }
            let of_record = each.is_some_and(|(variable, _)| variable == subject.text);
            let subject = if of_record { SharedText::default() } else { self.evidence_subject(subject) };
            shows.push(Show { kinds: found, subject });
        }
        shows
    }

    fn system_known(&mut self, name: &Name) {
        let system = name.text.split('.').next().unwrap_or("");
        let word = Name { text: system.to_owned().into(), span: name.span };
        if !self.rules.systems.iter().any(|known| known.name == system) || !self.in_sight("system", &word) {
            let known: Vec<_> = self.rules.systems.iter().map(|s| s.name.clone()).collect();
            self.unknown("system", &word, known.iter().map(AsRef::as_ref));
        }
    }
}

pub(super) fn first(texts: &[Text]) -> Option<SharedText> {
    texts.first().map(|text| text.text.clone())
}
