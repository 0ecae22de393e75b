//! Facts and lists: kinds, limits, questions, slots.

use super::checker::Checker;
use super::derived_lists::name_in_the_log;
use crate::diagnostic::{Diagnostic, with_article};
use crate::ir::{
    AnyColumn, AnySlot, Arena, ChoiceSet, Columns, DERIVED_LISTS, ENTRIES, Fact, FieldId, HoldPointId, Kind, Limits,
    List, Named, NumberOf, PackId, PartOrAll, Place, RESERVED, State, Store, WordsOf,
};
use crate::quantity::{Dimension, Unit};
use crate::source::SharedText;
use crate::syntax::ast::{self, Declaration, FactDecl, LimitsDecl, ListDecl, Name, StateDecl, TypeDecl, TypeExpr};
use crate::syntax::not_a_quantity;

impl Checker {
    /// Second pass: facts and lists, whose types may name any choice.
    pub(crate) fn declare_facts(&mut self, declarations: &[Declaration], pack: PackId) {
        for declaration in declarations {
            match declaration {
                Declaration::Fact(fact) => self.fact(fact, pack),
                Declaration::List(list) => self.list(list, pack),
                _ => {}
            }
        }
    }

    /// That what a pack's country means are words of facts that the pack knows.
    pub(crate) fn country_means(&mut self, id: PackId) {
        let rules = &self.rules;
        let Some(pack) = rules.packs.get(id) else { return };
        let words_of = |name: &SharedText| {
            let known = rules.fact_by_name.get(name).and_then(|id| rules.fact(*id));
            known.filter(|fact| self.sees(id, fact.pack) && matches!(fact.kind, Kind::Choice(_)))
        };
        let wrong = pack.country_means.iter().filter_map(|(name, word)| {
            let words = words_of(name).map(|fact| rules.words(fact.kind)).unwrap_or_default();
            let help = match words.as_slice() {
                [] => format!("no fact `{name}` that is answered with a word is known to the pack: name one, or build on the pack that has it"),
                known if known.contains(&word.as_str()) => return None,
                known => format!("the words of `{name}` are {}", known.join(", ")),
            };
            let message = format!("`{}/pack.toml`: `country_means` gives `{name}` the word `{word}`", pack.name);
            Some(Diagnostic::error("pack::country", message).help(help))
        });
        let wrong: Vec<Diagnostic> = wrong.collect();
        self.messages.extend(wrong);
    }

    /// The kind a type stands for; an error if it stands for none.
    pub(super) fn kind(&mut self, decl: &TypeDecl) -> Option<Kind> {
        match &decl.kind {
            TypeExpr::YesNo => Some(Kind::YesNo),
            TypeExpr::Words(words) => match words.as_slice() {
                [one] => self.named_kind(one),
                _ => Some(Kind::Choice(self.choice(words, None))),
            },
            TypeExpr::Quantity(words) => {
                let mut so_far = Dimension::NUMBER;
                for (divides, word) in words {
                    let Some(next) = Dimension::named(&word.text) else {
                        self.unknown("quantity", word, Dimension::names());
                        return None;
                    };
                    let joined = if *divides { so_far.per(next) } else { so_far.times(next) };
                    let Some(joined) = joined else {
                        self.error(
                            Diagnostic::error(
                                "type::mismatch",
                                format!("`{}` cannot be combined like this", word.text),
                            )
                            .at(word.span, "this quantity")
                            .help("use `temperature-difference` where a difference is meant"),
                        );
                        return None;
                    };
                    so_far = joined;
                }
                Some(Kind::Number(so_far))
            }
        }
    }

    pub(super) fn named_kind(&mut self, word: &Name) -> Option<Kind> {
        match word.as_str() {
            "text" => return Some(Kind::Text),
            "count" => return Some(Kind::Count),
            "date" => return Some(Kind::Date),
            _ => {}
        }
        if let Some((_, named)) = Named::WORDS.iter().find(|(known, _)| *known == word.as_str()) {
            return Some(Kind::Named(*named));
        }
        if let Some(n) = self.choice_names.get(word.as_str()).copied() {
            if self.in_sight("choice", word) {
                return Some(Kind::Choice(n));
            }
            self.unknown("choice", word, []);
            return None;
        }
        if let Some(dimension) = Dimension::named(&word.text) {
            return Some(Kind::Number(dimension));
        }
        let mut known: Vec<SharedText> = self.choice_names.keys().cloned().collect();
        let named = Named::WORDS.iter().map(|(word, _)| *word);
        known.extend(Dimension::names().chain(["text", "count", "date"]).chain(named).map(SharedText::from));
        self.unknown("kind", word, known.iter().map(AsRef::as_ref));
        None
    }

    pub(super) fn checked_fact(
        &mut self,
        decl: &FactDecl,
        pack: PackId,
        place: impl FnOnce(Kind, bool, ChoiceSet, bool) -> Place,
    ) -> Option<Fact> {
        let kind = self.kind(&decl.kind)?;
        let limits = decl.kind.limits.as_ref().and_then(|limits| self.limits(limits, kind));
        let Some(ask) = &decl.ask else {
            self.error(
                Diagnostic::error("fact::no-question", format!("the fact `{}` asks nothing", decl.name.text))
                    .at(decl.name.span, "this fact")
                    .help("add `ask \"...\"`: the question the builder is to answer"),
            );
            return None;
        };
        let example = decl.example.as_ref().map(|text| text.text.clone());
        let unit = match (kind, &example) {
            (Kind::Number(dimension), Some(example)) => {
                let read = crate::quantity::Quantity::parse(example);
                match read {
                    Ok(quantity) if quantity.dimension() == dimension => Some(quantity.unit),
                    Ok(quantity) => {
                        self.error(
                            Diagnostic::error(
                                "unit::mismatch",
                                format!(
                                    "the example is {}, the fact {}",
                                    with_article(&quantity.dimension().describe()),
                                    with_article(&dimension.describe())
                                ),
                            )
                            .at(decl.example.as_ref().map_or(decl.name.span, |e| e.span), "this example")
                            .help("give an example in a unit of the fact's kind"),
                        );
                        None
                    }
                    Err(_) if example == "none" && decl.kind.optional => Unit::usual(&dimension),
                    Err(error) => {
                        self.error(
                            not_a_quantity(&error, error.to_string())
                                .at(decl.example.as_ref().map_or(decl.name.span, |e| e.span), "this example")
                                .help("write an example the builder could copy"),
                        );
                        None
                    }
                }
            }
            (Kind::Number(dimension), None) => Unit::usual(&dimension),
            _ => None,
        };
        let state = decl.state.as_ref().map(|state| self.state(state, kind));
        let never_negative = kind == Kind::Count
            || limits.as_ref().and_then(|limits| limits.range.lo()).is_some_and(|low| low.signum() >= 0);
        Some(Fact {
            name: decl.name.text.clone(),
            kind,
            optional: decl.kind.optional,
            limits,
            ask: ask.text.clone(),
            example,
            unit,
            state,
            none_until: None,
            place: decl.name.span,
            pack,
            slot: place(kind, decl.kind.optional, self.all_words(kind, decl.kind.optional), never_negative),
        })
    }

    /// Whose state a value describes.
    fn state(&mut self, decl: &StateDecl, kind: Kind) -> State {
        if decl.own_day && kind != Kind::Date {
            let message = Diagnostic::error("state::no-day", "this is no day on which the part could have been so");
            let help = "take `on that day` out, or let the kind be `date`";
            self.error(message.at(decl.span, "on which day?").help(help));
        }
        State { of: decl.of.as_ref().map(|of| self.part_or_all(of)), itself: decl.itself, own_day: decl.own_day }
    }

    /// A part that is known, or the whole aircraft.
    pub(super) fn part_or_all(&mut self, of: &ast::PartOrAll) -> PartOrAll {
        match of {
            ast::PartOrAll::Everything => PartOrAll::Everything,
            ast::PartOrAll::Part(part) => {
                self.subject_known(part);
                PartOrAll::Part(part.text.to_string())
            }
        }
    }

    pub(super) fn limits(&mut self, decl: &LimitsDecl, kind: Kind) -> Option<Limits> {
        let dimension = match kind {
            Kind::Number(dimension) => dimension,
            Kind::Count => Dimension::NUMBER,
            Kind::YesNo | Kind::Choice(_) | Kind::Text | Kind::Named(_) | Kind::Date => {
                self.error(
                    Diagnostic::error("type::mismatch", "only numbers and quantities can have limits")
                        .at(decl.span, "these limits")
                        .help("take the limits out"),
                );
                return None;
            }
        };
        for measured in decl.low.iter().chain(&decl.high) {
            if measured.quantity.dimension() != dimension {
                self.error(
                    Diagnostic::error(
                        "unit::mismatch",
                        format!(
                            "a limit of {} cannot be {}",
                            with_article(&dimension.describe()),
                            with_article(&measured.quantity.dimension().describe())
                        ),
                    )
                    .at(measured.span, "this limit")
                    .help("write the limit in a unit of the fact's kind"),
                );
                return None;
            }
        }
        let low = decl.low.as_ref().and_then(|m| m.quantity.range.lo().cloned());
        let high = decl.high.as_ref().and_then(|m| m.quantity.range.hi().cloned());
        let text = self.rules.sources.text(decl.span).to_owned().into();
        Some(Limits {
            range: crate::quantity::ExactInterval::new(low, high),
            above: decl.above,
            below: decl.below,
            text,
        })
    }

    pub(super) fn fact(&mut self, decl: &FactDecl, pack: PackId) {
        let Some(kept) = self.declare_value("fact", &decl.name, pack) else { return };
        if self.clashes(&decl.name) || self.reserved(&decl.name) || !self.of_the_log("fact", &decl.name) {
            return;
        }
        if let Some(state) = decl.state.as_ref().filter(|state| state.of.is_none()) {
            let message = format!("the fact `{}` stands in no record whose part it could be of", decl.name.text);
            let help = "name the part, such as `of engine.mount`";
            self.error(Diagnostic::error("state::no-record", message).at(state.span, "of which part?").help(help));
        }
        let id = self.rules.facts.next();
        let mut slots = std::mem::take(&mut self.rules.program.slots);
        let fact = self.checked_fact(decl, pack, |kind, optional, all, never_negative| {
            Place::Slot(match kind.store() {
                Store::Numbers => AnySlot::Numbers(slots.numbers.push(NumberOf { of: id, optional, never_negative })),
                Store::Words => AnySlot::Words(slots.words.push(WordsOf { of: id, all })),
                Store::Texts => AnySlot::Texts(slots.texts.push(id)),
            })
        });
        self.rules.program.slots = slots;
        let none_until = decl.none_until.as_ref().and_then(|point| self.none_until(decl, point));
        let Some(fact) = fact.map(|fact| Fact { name: kept, none_until, ..fact }) else { return };
        self.rules.fact_by_name.insert(fact.name.clone(), id);
        self.rules.facts.push(fact);
    }

    /// The hold point until which a fact that nobody recorded is taken as none.
    fn none_until(&mut self, decl: &FactDecl, point: &Name) -> Option<HoldPointId> {
        if !decl.kind.optional {
            let message = format!("the fact `{}` can never be none", decl.name.text);
            let help = "write `optional` before its kind, or take `none until` out";
            self.error(Diagnostic::error("fact::never-none", message).at(point.span, "none until then?").help(help));
            return None;
        }
        self.hold_point(point)
    }

    /// A word that means something in the builder's files is no name of a pack's.
    pub(super) fn reserved(&mut self, name: &Name) -> bool {
        // In the middle of a name it is a table of the builder's, and means the same; what begins an entry is one.
        let first = name.text.split('.').next().unwrap_or("");
        if !ENTRIES.contains(&first) && !name.text.split('.').any(|piece| RESERVED.contains(&piece)) {
            return false;
        }
        let words = [RESERVED.join(", "), ENTRIES.join(", ")].join(", ");
        self.error(
            Diagnostic::error(
                "name::reserved",
                format!("`{}` has a name that is kept for the builder's files", name.text),
            )
            .at(name.span, "this name")
            .help(format!("these mean something in every project: {words}; say more exactly what it is")),
        );
        true
    }

    /// A fact cannot have the name of a list, nor stand inside one.
    pub(super) fn clashes(&mut self, name: &Name) -> bool {
        let ends = name.text.match_indices('.').map(|(at, _)| at).chain([name.text.len()]);
        let groups = ends.filter_map(|end| name.text.get(..end));
        let inside = groups.filter_map(|group| self.rules.list_by_name.get(group)).next();
        let Some(place) = inside.and_then(|id| self.rules.list(*id)).map(|list| list.place) else { return false };
        self.error(
            Diagnostic::error("name::twice", format!("`{}` has the name of a list, or stands inside one", name.text))
                .at(name.span, "this name")
                .at(place, "the list")
                .help("give one of the two another name"),
        );
        true
    }

    /// All that something of a kind can be.
    fn all_words(&self, kind: Kind, optional: bool) -> ChoiceSet {
        let words = ChoiceSet::first(self.rules.words(kind).len());
        if optional { words.or_absent() } else { words }
    }

    pub(super) fn list(&mut self, decl: &ListDecl, pack: PackId) {
        let Some(kept) = self.declare_value("list", &decl.name, pack) else { return };
        if self.reserved(&decl.name) || !self.of_the_log("list", &decl.name) {
            return;
        }
        let Some(ask) = &decl.ask else {
            self.error(
                Diagnostic::error("fact::no-question", format!("the list `{}` asks nothing", decl.name.text))
                    .at(decl.name.span, "this list")
                    .help("add `ask \"...\"` after the list's name"),
            );
            return;
        };
        let part = decl.part.as_ref().map(|part| self.part_or_all(part));
        let (mut fields, mut columns): (Arena<FieldId, Fact>, Columns) = (Arena::default(), Columns::default());
        for field in &decl.fields {
            if fields.iter().any(|other| other.name == field.name.text) {
                self.error(
                    Diagnostic::error("name::twice", format!("the field `{}` is declared twice", field.name.text))
                        .at(field.name.span, "again")
                        .help("rename it"),
                );
                continue;
            }
            // Nobody writes the lists that the log keeps.
            if !DERIVED_LISTS.contains(&decl.name.as_str()) && self.reserved(&field.name) {
                continue;
            }
            let at = fields.next();
            let fact = self.checked_fact(field, pack, |kind, optional, all, never_negative| {
                Place::Column(match kind.store() {
                    Store::Numbers => {
                        AnyColumn::Numbers(columns.numbers.push(NumberOf { of: at, optional, never_negative }))
                    }
                    Store::Words => AnyColumn::Words(columns.words.push(WordsOf { of: at, all })),
                    Store::Texts => AnyColumn::Texts(columns.texts.push(at)),
                })
            });
            let Some(fact) = fact else { continue };
            fields.push(fact);
        }
        self.derived_fields(&decl.name.text, &fields);
        let named_by = self.named_by(decl, &fields).unwrap_or_else(|| {
            // What is wrong has been told: the rest is checked as if there were a name.
            let (at, column) = (fields.next(), AnyColumn::Texts(columns.texts.push(fields.next())));
            fields.push(Fact {
                name: name_in_the_log(&decl.name.text).unwrap_or("name").into(),
                kind: Kind::Text,
                optional: false,
                limits: None,
                ask: "What it is called".into(),
                example: None,
                unit: None,
                state: None,
                none_until: None,
                place: decl.name.span,
                pack,
                slot: Place::Column(column),
            });
            at
        });
        let id = self.rules.lists.next();
        self.rules.list_by_name.insert(kept.clone(), id);
        self.rules.program.columns.push(columns);
        self.rules.lists.push(List {
            name: kept,
            ask: ask.text.clone(),
            part,
            fields,
            named_by,
            many_alike: decl.many_alike,
            place: decl.name.span,
            pack,
        });
    }

    /// The field that names a record: compulsory, because a word that a list is whole says of
    /// which records, and lasts only while there are just these.
    fn named_by(&mut self, decl: &ListDecl, fields: &Arena<FieldId, Fact>) -> Option<FieldId> {
        let of_the_log = name_in_the_log(&decl.name.text);
        let is_text = |field: &Fact| field.kind == Kind::Text && (!field.optional || of_the_log.is_some());
        let written = decl.named_by.as_ref().map(|name| name.text.as_str());
        let at = written.or(of_the_log).and_then(|name| fields.position(|field| field.name == *name && is_text(field)));
        let message = match (&decl.named_by, of_the_log) {
            (Some(name), Some(of_the_log)) if name.text != of_the_log => Diagnostic::error(
                "list::named-by",
                format!("the log names the records of `{}` by `{of_the_log}`", decl.name.text),
            )
            .at(name.span, "this field")
            .help(format!("write `named by {of_the_log}`")),
            (Some(name), _) if at.is_none() => {
                let message = format!("a record is named by one of its texts; `{}` is none", name.text);
                Diagnostic::error("list::named-by", message)
                    .at(name.span, "this field")
                    .help("name a field whose kind is `text`")
            }
            (None, None) => {
                let texts: Vec<String> = fields
                    .iter()
                    .filter(|field| is_text(field))
                    .map(|field| format!("`named by {}`", field.name))
                    .collect();
                let help = match texts.as_slice() {
                    [] => "add `field name : text  ask \"Which one\"` and `named by name`".to_owned(),
                    texts => format!("add {}", texts.join(" or ")),
                };
                let message = format!("nothing says what a record of `{}` is called", decl.name.text);
                Diagnostic::error("list::nameless", message)
                    .at(decl.name.span, "say which of its texts names a record")
                    .help(help)
            }
            _ => return at,
        };
        self.error(message);
        at
    }
}
