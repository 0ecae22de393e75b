//! Items, amendments and items set aside.

use super::check::Checker;
use super::lower::{Lowered, Scope};
use super::{Basis, Item, Let, ListId, Mark, Show, Titled};
use crate::diagnostic::Diagnostic;
use crate::measure::Truth;
use crate::program::Condition;
use crate::source::Span;
use crate::syntax::tree::{AmendDecl, Clauses, ItemDecl, Name, Text};

impl Checker<'_> {
    pub(super) fn item(&mut self, decl: &ItemDecl, pack: usize) {
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
                scope.loops.push((variable.text.clone(), id));
                Some(id)
            }
        };
        let lets = self.lets(clauses, &mut scope);
        let when = self.joined(&clauses.whens, decl.name.span, &mut scope);
        let need = self.joined(&clauses.needs, decl.name.span, &mut scope);
        if clauses.needs.is_empty() {
            self.error(
                Diagnostic::error("item::no-need", format!("the item `{}` needs nothing", decl.name.text))
                    .at(decl.name.span, "this item")
                    .help("add `need ...`: what must hold"),
            );
        }
        let by = self.one_of_titled(&clauses.by, "hold point", &decl.name, |checker| &checker.rules.hold_points);
        let zone = if clauses.zone.is_empty() {
            None
        } else {
            self.one_of_titled(&clauses.zone, "zone", &decl.name, |checker| &checker.rules.zones)
        };
        let basis = self.basis(clauses, &decl.name);
        let cites = self.cites(&clauses.cites, pack);
        if clauses.cites.is_empty() {
            self.error(
                Diagnostic::error("item::no-source", format!("the item `{}` has no source", decl.name.text))
                    .at(decl.name.span, "this item")
                    .help("add `cite SOURCE, \"paragraph\"`, or `cite common practice` where nobody published it"),
            );
        }
        self.basis_agrees(basis, &cites, decl.name.span);
        self.one_each(clauses);
        let shows = self
            .shows(clauses, decl.each.as_ref().map(|(variable, list)| (variable.text.as_str(), list.text.as_str())));
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
                self.error(
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
            remedy: first(&clauses.remedy),
            caution: first(&clauses.caution),
            ask: first(&clauses.ask),
            stops_the_visit: clauses.stops,
            no_concession: clauses.no_concession,
            from,
            until,
            uses_today: scope.uses_today,
            confirm: scope.confirm,
            set_aside: None,
            amended_by: Vec::new(),
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
        self.rules.items.push(item);
        let at = self.rules.items.len().saturating_sub(1);
        self.examples(at, &clauses.tries, pack);
    }

    fn scope(&self, pack: usize) -> Scope {
        let began = self.rules.program.conditions.len().saturating_add(self.rules.program.numbers.len());
        Scope { pack, began, ..Scope::default() }
    }

    /// The same name may stand twice only where the dates in force do not overlap.
    fn item_name_is_free(
        &mut self,
        decl: &ItemDecl,
        pack: usize,
        from: Option<crate::measure::Date>,
        until: Option<crate::measure::Date>,
    ) -> bool {
        let overlaps = |item: &&Item| {
            let before = until.zip(item.from).is_some_and(|(until, from)| until < from);
            let after = from.zip(item.until).is_some_and(|(from, until)| from > until);
            item.name == decl.name.text && (item.pack != pack || !(before || after))
        };
        let Some(other) = self.rules.items.iter().find(overlaps).map(|item| item.place) else { return true };
        self.error(
            Diagnostic::error("name::twice", format!("the item `{}` is declared twice", decl.name.text))
                .at(decl.name.span, "declared here again")
                .at(other, "first declared here")
                .help("rename one of them; two editions of one item need dates in force that do not overlap"),
        );
        false
    }

    fn lets(&mut self, clauses: &Clauses, scope: &mut Scope) -> Vec<Let> {
        let mut lets = Vec::new();
        for (name, value) in &clauses.lets {
            let Some(lowered) = self.value(value, None, scope) else { continue };
            if let Lowered::Number(node, dimension) = lowered {
                lets.push(Let { name: name.text.clone(), node, dimension });
            }
            scope.values.insert(name.text.clone(), lowered);
        }
        lets
    }

    fn joined(&mut self, parts: &[crate::syntax::tree::Expr], span: Span, scope: &mut Scope) -> Option<u32> {
        let nodes: Vec<_> = parts.iter().map(|part| self.condition(part, scope)).collect();
        let nodes: Vec<u32> = nodes.into_iter().collect::<Option<_>>()?;
        if nodes.is_empty() { None } else { Some(self.join(&nodes, true, span)) }
    }

    fn one_of_titled(
        &mut self,
        names: &[Name],
        what: &'static str,
        item: &Name,
        of: fn(&Self) -> &Vec<Titled>,
    ) -> Option<usize> {
        let Some(name) = names.first() else {
            self.error(
                Diagnostic::error("item::no-hold-point", format!("the item `{}` names no {what}", item.text))
                    .at(item.span, "this item")
                    .help("add `by visit` or another hold point"),
            );
            return None;
        };
        let found = of(self).iter().position(|titled| titled.name == name.text);
        if found.is_none() {
            let known: Vec<String> = of(self).iter().map(|titled| titled.name.clone()).collect();
            self.unknown(what, name, known.iter().map(String::as_str));
        }
        found
    }

    fn basis(&mut self, clauses: &Clauses, item: &Name) -> Option<Basis> {
        if clauses.basis.is_empty() {
            self.error(
                Diagnostic::error(
                    "item::no-basis",
                    format!("the item `{}` does not say what kind of word it is", item.text),
                )
                .at(item.span, "this item")
                .help("add `basis law`, `advice`, `handbook`, `association`, `kit`, `common practice` or `own`"),
            );
        }
        clauses.basis.first().map(|(basis, _)| *basis)
    }

    /// Advice never looks like law: common practice cannot be cited as anything else.
    fn basis_agrees(&mut self, basis: Option<Basis>, cites: &[super::Cite], span: Span) {
        let only_practice = !cites.is_empty() && cites.iter().all(|cite| cite.mark == Mark::CommonPractice);
        let wrong = match basis {
            Some(Basis::Law | Basis::Advice | Basis::Handbook | Basis::Association) if only_practice => {
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
    fn one_each(&mut self, clauses: &Clauses) {
        let texts = [("remedy", &clauses.remedy), ("caution", &clauses.caution), ("ask", &clauses.ask)];
        let again: Vec<(&str, Span)> = texts
            .iter()
            .filter_map(|(what, texts)| texts.get(1).map(|text| (*what, text.span)))
            .chain(
                [("by", clauses.by.get(1)), ("zone", clauses.zone.get(1))]
                    .iter()
                    .filter_map(|(what, name)| name.map(|name| (*what, name.span))),
            )
            .chain(clauses.basis.get(1).map(|(_, span)| ("basis", *span)))
            .collect();
        for (what, span) in again {
            self.error(
                Diagnostic::error("item::twice", format!("`{what}` stands twice in this item"))
                    .at(span, "again")
                    .help("keep one"),
            );
        }
    }

    fn shows(&mut self, clauses: &Clauses, each: Option<(&str, &str)>) -> Vec<Show> {
        let mut shows = Vec::new();
        for (kinds, subject) in &clauses.shows {
            let mut found = Vec::new();
            for kind in kinds {
                match self.rules.evidence.iter().position(|known| known.name == kind.text) {
                    Some(at) => found.push(at),
                    None => {
                        let known: Vec<String> = self.rules.evidence.iter().map(|e| e.name.clone()).collect();
                        self.unknown("kind of evidence", kind, known.iter().map(String::as_str));
                    }
                }
            }
            let of_record = each.is_some_and(|(variable, _)| variable == subject.text);
            let known = |name: &String| *name == subject.text || name.starts_with(&format!("{}.", subject.text));
            let is_known =
                of_record || self.rules.fact_by_name.keys().any(known) || self.rules.list_by_name.keys().any(known);
            if !is_known {
                let names: Vec<String> =
                    self.rules.fact_by_name.keys().chain(self.rules.list_by_name.keys()).cloned().collect();
                self.unknown("fact or list", subject, names.iter().map(String::as_str));
            }
            let subject = if of_record { String::new() } else { subject.text.clone() };
            shows.push(Show { kinds: found, subject });
        }
        shows
    }

    fn system_known(&mut self, name: &Name) {
        let system = name.text.split('.').next().unwrap_or("");
        if !self.rules.systems.iter().any(|known| known.name == system) {
            let known: Vec<String> = self.rules.systems.iter().map(|s| s.name.clone()).collect();
            self.unknown(
                "system",
                &Name { text: system.to_owned(), span: name.span },
                known.iter().map(String::as_str),
            );
        }
    }

    pub(super) fn amend(&mut self, decl: &AmendDecl, pack: usize) {
        for at in self.items_elsewhere(&decl.name, pack) {
            self.amend_one(at, decl, pack);
        }
    }

    fn amend_one(&mut self, at: usize, decl: &AmendDecl, pack: usize) {
        let clauses = &decl.clauses;
        let mut scope = self.scope(pack);
        // A record goes by the name the amended item gives it.
        let each = self.rules.items.get(at).and_then(|item| item.each_name.clone().zip(item.each));
        scope.loops.extend(each);
        let lets = self.lets(clauses, &mut scope);
        let need = self.joined(&clauses.needs, decl.name.span, &mut scope);
        if clauses.needs.is_empty() && clauses.basis.is_empty() {
            self.error(
                Diagnostic::error("item::no-need", "an amendment adds a need or a basis")
                    .at(decl.name.span, "this one adds none")
                    .help("add `need ...`, or `basis ...` with its source; to relax an item use `set aside`"),
            );
        }
        if clauses.cites.is_empty() {
            self.error(
                Diagnostic::error("item::no-source", format!("the amendment of `{}` has no source", decl.name.text))
                    .at(decl.name.span, "this amendment")
                    .help("add `cite SOURCE, \"paragraph\"` or `cite common practice`"),
            );
        }
        let cites = self.cites(&clauses.cites, pack);
        self.basis_agrees(clauses.basis.first().map(|(basis, _)| *basis), &cites, decl.name.span);
        let before = self.rules.items.get(at).map(|item| item.need);
        let joined = before.zip(need).map(|(before, need)| self.join(&[before, need], true, decl.name.span));
        if let Some(item) = self.rules.items.get_mut(at) {
            if let Some(joined) = joined {
                item.need = joined;
                item.amended_by.push(pack);
                // Examples written before the amendment no longer tell the whole need.
                item.examples.clear();
            }
            item.lets.extend(lets);
            item.cites.extend(cites);
            // What law asks is law, whoever asked for it first.
            if let Some((basis, _)) = clauses.basis.first() {
                item.basis = item.basis.min(*basis);
            }
            item.uses_today |= scope.uses_today;
            item.confirm |= scope.confirm;
            item.reads.extend(scope.reads);
            item.reads_lists.extend(scope.reads_lists);
            item.reads.sort();
            item.reads.dedup();
            if let Some(remedy) = first(&clauses.remedy) {
                item.remedy =
                    Some(item.remedy.take().map_or_else(|| remedy.clone(), |so_far| format!("{so_far} {remedy}")));
            }
        }
        self.examples(at, &clauses.tries, pack);
    }

    pub(super) fn set_aside(&mut self, name: &Name, because: &Text, pack: usize) {
        for at in self.items_elsewhere(name, pack) {
            if let Some(item) = self.rules.items.get_mut(at) {
                item.set_aside = Some((pack, because.text.clone()));
            }
        }
    }

    /// Every edition of an item of a pack this one builds on.
    fn items_elsewhere(&mut self, name: &Name, pack: usize) -> Vec<usize> {
        let hit = |item: &Item| item.name == name.text && item.pack != pack && self.sees(pack, item.pack);
        let found: Vec<usize> =
            self.rules.items.iter().enumerate().filter(|(_, item)| hit(item)).map(|(at, _)| at).collect();
        if found.is_empty() {
            let known: Vec<String> =
                self.rules.items.iter().filter(|item| item.pack != pack).map(|item| item.name.clone()).collect();
            self.unknown("item of another pack", name, known.iter().map(String::as_str));
        }
        found
    }

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
            let plain =
                matches!(self.rules.program.conditions.get(item.need as usize), Some(Condition::Constant(Truth::True)));
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

fn first(texts: &[Text]) -> Option<String> {
    texts.first().map(|text| text.text.clone())
}
