//! Worked examples: what they give is checked like what a builder records.

use super::checker::Checker;
use crate::diagnostic::Diagnostic;
use crate::ir::{
    ChoiceSet, Example, Fact, Given, GivenEntry, GivenEvidence, GivenList, GivenValue, GivenWord, HOW_MANY, Item,
    ItemId, Kind, ListId, PART, PackId, Value,
};
use crate::quantity::{Date, DateRange, Dimension, Exact, ExactInterval};
use crate::source::{SharedText, Span};
use crate::syntax::ast::{self, EntryDecl, Literal, LiteralKind, Name, TryDecl};
use crate::vocabulary::{Event, Verdict};
use std::num::NonZeroU32;

impl Checker {
    pub(super) fn examples(&mut self, item: ItemId, tries: &[TryDecl], pack: PackId) {
        for decl in tries {
            let words = [Verdict::Met, Verdict::Unmet, Verdict::NotShown, Verdict::NotApplicable];
            let Some(expect) = words.into_iter().find(|verdict| verdict.word() == decl.verdict.text) else {
                self.unknown("verdict", &decl.verdict, words.iter().map(|verdict| verdict.word()));
                continue;
            };
            let (mut given, mut on) = (Given::default(), None);
            for part in &decl.given {
                match part {
                    ast::Given::Fact(name, literal) => self.given_fact(name, literal, &mut given, pack),
                    ast::Given::Entry(entry) => self.given_entry(entry, &mut given),
                    ast::Given::On(date) => {
                        self.given_once("on", on.is_some(), decl);
                        on = Some(date.first);
                    }
                    ast::Given::Visit(date) => {
                        self.given_once("visit", given.visit.is_some(), decl);
                        given.visit = Some(*date);
                    }
                    ast::Given::Evidence(kind, subject) => self.given_evidence(item, kind, subject, &mut given),
                    ast::Given::Person(name, role) => self.given_person(name, role, &mut given),
                    ast::Given::Confirmed { holds, by, on, span } => {
                        self.given_word(*holds, by.as_ref(), *on, *span, &mut given);
                    }
                }
            }
            let example = Example { name: decl.name.text.clone(), given, on, expect, place: decl.span };
            if let Some(item) = self.rules.items.get_mut(item) {
                item.examples.push(example);
            }
        }
    }

    fn given_once(&mut self, what: &str, again: bool, decl: &TryDecl) {
        if again {
            self.error(
                Diagnostic::error("try::twice", format!("`{what}` is given twice in this example"))
                    .at(decl.name.span, "in this example")
                    .help("keep one"),
            );
        }
    }

    fn given_twice(&mut self, name: &Name) {
        self.error(
            Diagnostic::error("try::twice", format!("`{}` is given twice in this example", name.text))
                .at(name.span, "given again")
                .help("keep one"),
        );
    }

    fn given_fact(&mut self, name: &Name, literal: &Literal, to: &mut Given, pack: PackId) {
        let list = self.rules.list_by_name.get(self.kept_name(name.as_str(), pack)).copied();
        if let Some(id) = list {
            if !self.in_sight("list", name) {
                self.unknown("list", name, []);
                return;
            }
            if to.lists.contains_key(&id) {
                self.given_twice(name);
            }
            if let Some(list) = self.given_list(id, literal) {
                to.lists.insert(id, list);
            }
            return;
        }
        let fact = self.rules.fact_by_name.get(self.kept_name(name.as_str(), pack)).copied();
        let fact = fact.filter(|id| self.rules.fact(*id).is_some_and(|fact| self.sees(pack, fact.pack)));
        let Some(id) = fact else {
            let known: Vec<_> = self.rules.fact_by_name.keys().chain(self.rules.list_by_name.keys()).cloned().collect();
            self.unknown("fact", name, known.iter().map(AsRef::as_ref));
            return;
        };
        let Some(fact) = self.rules.fact(id).cloned() else { return };
        if to.facts.contains_key(&id) {
            self.given_twice(name);
        }
        if let Some(value) = self.given_value(&fact, literal) {
            to.facts.insert(id, value);
        }
    }

    fn given_list(&mut self, id: ListId, literal: &Literal) -> Option<GivenList> {
        let fields = self.rules.list(id)?.fields.clone();
        let (records, maybe_more) = match &literal.kind {
            LiteralKind::Empty => (&[][..], false),
            LiteralKind::Records(records, maybe_more) => (records.as_slice(), *maybe_more),
            _ => {
                self.error(
                    Diagnostic::error("type::mismatch", "a list is given as records in parentheses")
                        .at(literal.span, "this is no list")
                        .help("write `(name = \"...\", ...), (...)`, or `empty`"),
                );
                return None;
            }
        };
        let (mut checked, mut how_many, mut parts) = (Vec::new(), Vec::new(), Vec::new());
        for record in records {
            let mut row = vec![None; fields.len()];
            let (mut stands_for, mut of_part) = (NonZeroU32::MIN, None);
            for (name, value) in record {
                if name.text == HOW_MANY {
                    stands_for = self.how_many(id, name, value).unwrap_or(stands_for);
                    continue;
                }
                // The log's lists have a field of that name.
                if name.text == PART && !fields.iter().any(|field| field.name == PART) {
                    of_part = self.own_part(value);
                    continue;
                }
                let Some(at) = fields.position(|field| field.name == name.text) else {
                    self.unknown("field", name, fields.iter().map(|field| field.name.as_str()));
                    continue;
                };
                let value = fields.get(at).and_then(|field| self.given_value(field, value));
                if let Some(place) = row.get_mut(at.index()) {
                    if place.is_some() {
                        self.given_twice(name);
                    }
                    *place = value;
                }
            }
            checked.push(row);
            how_many.push(stands_for);
            parts.push(of_part);
        }
        Some(GivenList { records: checked, how_many, parts, whole: !maybe_more, place: literal.span })
    }

    /// The part that a record names as its own, in quotes.
    fn own_part(&mut self, literal: &Literal) -> Option<SharedText> {
        let LiteralKind::Text(text) = &literal.kind else {
            let message = Diagnostic::error("type::mismatch", "a record names the part it is of in quotes");
            let help = "write it as the builder does, such as `part = \"engine.mount\"`";
            self.error(message.at(literal.span, "this is none").help(help));
            return None;
        };
        let name = Name { text: text.clone(), span: literal.span };
        self.subject_known(&name);
        Some(name.text)
    }

    /// For how many a record stands: a whole number from 1, where its list allows it.
    fn how_many(&mut self, id: ListId, name: &Name, literal: &Literal) -> Option<NonZeroU32> {
        let list = self.rules.list(id)?;
        if !list.many_alike {
            let message = format!("a record of `{}` stands for one thing", list.name);
            let place = list.place;
            self.error(
                Diagnostic::error("record::how-many", message)
                    .at(name.span, "for many")
                    .at(place, "this list does not say `many alike`")
                    .help("give a record for each of them"),
            );
            return None;
        }
        let many = match &literal.kind {
            LiteralKind::Measured(quantity) if quantity.dimension() == Dimension::NUMBER => {
                let exact = quantity.range.as_point().filter(|many| many.is_whole());
                exact.and_then(Exact::to_i64).and_then(|many| u32::try_from(many).ok()).and_then(NonZeroU32::new)
            }
            _ => None,
        };
        if many.is_none() {
            self.error(
                Diagnostic::error("record::how-many", "a record stands for a whole number of things, from 1")
                    .at(literal.span, "this is none")
                    .help("write how many there are, such as `how_many = 48`"),
            );
        }
        many
    }

    fn given_value(&mut self, fact: &Fact, literal: &Literal) -> Option<GivenValue> {
        let dimension = match fact.kind {
            Kind::Number(dimension) => Some(dimension),
            Kind::Count => Some(Dimension::NUMBER),
            Kind::YesNo | Kind::Choice(_) | Kind::Text | Kind::Named(_) | Kind::Date => None,
        };
        let value = match (&literal.kind, fact.kind) {
            (LiteralKind::None, _) if fact.optional => Value::Absent,
            (LiteralKind::Text(text), Kind::Text | Kind::Named(_)) => Value::Text(text.to_string()),
            (LiteralKind::Word(word), Kind::YesNo | Kind::Choice(_)) => {
                let words: Vec<String> = self.rules.words(fact.kind).iter().map(|w| (*w).to_owned()).collect();
                let Some(bit) = words.iter().position(|known| known == word) else {
                    self.unknown(
                        "word",
                        &Name { text: word.clone(), span: literal.span },
                        words.iter().map(String::as_str),
                    );
                    return None;
                };
                Value::Words(ChoiceSet::word(bit))
            }
            (LiteralKind::Measured(quantity), _) if Some(quantity.dimension()) == dimension => {
                let Some(range) = fact.within_limits(&quantity.range) else {
                    let limits = fact.limits.as_ref().map_or("", |limits| limits.text.as_str()).to_owned();
                    self.error(
                        Diagnostic::error("fact::limits", format!("`{}` must be {limits}", fact.name))
                            .at(literal.span, "this value")
                            .at(fact.place, "declared here")
                            .help("give a value a builder could record"),
                    );
                    return None;
                };
                if fact.kind == Kind::Count && !is_count(&quantity.range) {
                    self.error(
                        Diagnostic::error("type::mismatch", format!("`{}` is a count", fact.name))
                            .at(literal.span, "this is no whole number")
                            .at(fact.place, "declared here")
                            .help("give a whole number, zero or more"),
                    );
                    return None;
                }
                Value::Number(range)
            }
            (LiteralKind::Date(date), Kind::Date) => Value::Number(days(*date)),
            // A lone year reads as a number until it is known to be a date.
            (LiteralKind::Measured(_), Kind::Date) if self.year(literal).is_some() => {
                Value::Number(days(self.year(literal)?))
            }
            _ => {
                self.error(
                    Diagnostic::error("type::mismatch", format!("`{}` cannot be this", fact.name))
                        .at(literal.span, "this value")
                        .at(fact.place, "the fact is declared here")
                        .help(format!("answer the question: {}", fact.ask)),
                );
                return None;
            }
        };
        let unit = match &literal.kind {
            LiteralKind::Measured(quantity) => Some(quantity.unit.clone()),
            _ => None,
        };
        let taken = literal.taken.as_deref();
        let on = taken.and_then(|taken| taken.on);
        let instrument = taken.and_then(|taken| taken.instrument.as_ref()).map(|text| text.text.clone());
        Some(GivenValue { value, unit, on, instrument, place: literal.span })
    }

    fn year(&self, literal: &Literal) -> Option<DateRange> {
        DateRange::parse(self.rules.sources.text(literal.span)).ok()
    }

    fn given_evidence(&mut self, item: ItemId, kind: &Name, subject: &Name, to: &mut Given) {
        if self.evidence_kind(kind).is_none() {
            return;
        }
        // The item's own word for a record stands for every record of the example.
        let of_record = |item: &Item| item.each.is_some() && item.each_name.as_ref() == Some(&subject.text);
        let per_record = self.rules.items.get(item).is_some_and(of_record);
        let of = if per_record { subject.text.clone() } else { self.evidence_subject(subject) };
        to.evidence.push(GivenEvidence { kind: kind.text.clone(), subject: of, per_record, place: kind.span });
    }

    /// One line of the log. Lines of one day come in the order written.
    fn given_entry(&mut self, decl: &EntryDecl, to: &mut Given) {
        let zone = matches!(decl.event, Event::Opened | Event::Closed)
            && self.rules.zones.iter().any(|zone| zone.name == decl.subject.text);
        if !zone {
            self.subject_known(&decl.subject);
        }
        let misplaced = decl.for_good && decl.event != Event::Removed || decl.another && decl.event != Event::Refitted;
        if misplaced {
            let message = Diagnostic::error("try::misplaced", "a part is removed for good, or refitted with another");
            self.error(message.at(decl.span, "neither fits here").help("take it out"));
        }
        let known = self.rules.subjects.iter().find(|part| part.name == decl.subject.text);
        if decl.for_good && known.is_some_and(|part| !part.can_be_left_off) {
            let message = format!("the aircraft cannot be without `{}`", decl.subject.text);
            let help = "write `can be left off` behind the part, or take `for good` out";
            self.error(Diagnostic::error("try::for-good", message).at(decl.span, "for good").help(help));
        }
        if let Some(role) = decl.role.as_ref().filter(|role| !self.rules.roles.iter().any(|r| r.name == role.text)) {
            let known: Vec<_> = self.rules.roles.iter().map(|known| known.name.clone()).collect();
            self.unknown("role", role, known.iter().map(AsRef::as_ref));
        }
        let first = || self.rules.roles.first().map(|role| role.name.clone()).unwrap_or_default();
        to.log.push(GivenEntry {
            event: decl.event,
            subject: decl.subject.text.clone(),
            who: decl.who.as_ref().map(|who| who.text.clone()),
            role: decl.role.as_ref().map_or_else(first, |role| role.text.clone()),
            on: decl.on,
            instrument: decl.instrument.as_ref().map(|text| text.text.clone()),
            for_good: decl.for_good && decl.event == Event::Removed,
            another: decl.another && decl.event == Event::Refitted,
            points: decl.points.iter().map(|point| point.text.clone()).collect(),
            place: decl.span,
        });
    }

    fn given_person(&mut self, name: &ast::Text, role: &Name, to: &mut Given) {
        self.known_role(role);
        to.people.push((name.text.clone(), role.text.clone()));
    }

    fn given_word(&mut self, holds: bool, by: Option<&Name>, on: Option<DateRange>, span: Span, to: &mut Given) {
        let role = match by {
            Some(role) => {
                self.known_role(role);
                role.text.clone()
            }
            None => self.rules.roles.first().map(|role| role.name.clone()).unwrap_or_default(),
        };
        let Some(on) = on.or_else(|| Date::new(1970, 1, 1).map(DateRange::day)) else { return };
        to.words.push(GivenWord { holds, role, on, place: span });
    }
}

/// Whether a count can be this: whole, and not below zero.
fn is_count(range: &ExactInterval) -> bool {
    let whole = |end: Option<&Exact>| end.is_none_or(Exact::is_whole);
    whole(range.lo()) && whole(range.hi()) && range.lo().is_none_or(|low| low.signum() >= 0)
}

/// The days a date may be.
fn days(date: DateRange) -> ExactInterval {
    let day = |date: Date| Some(Exact::from_int(i64::from(date.days())));
    ExactInterval::new(day(date.first), day(date.last))
}
