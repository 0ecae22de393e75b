//! Worked examples: what is given becomes a small record.

use super::check::Checker;
use super::{Event, Example, Fact, Item, Kind, ListId};
use crate::audit::Verdict;
use crate::diagnostic::Diagnostic;
use crate::measure::{Date, DateRange, Dimension, Exact, Range};
use crate::record::{Confirmation, Entry, Evidence, Person, Record, Recorded, Row, Rows, Value};
use crate::source::Span;
use crate::syntax::tree::{EntryDecl, Given, Literal, LiteralKind, Name, TryDecl};

impl Checker {
    pub(super) fn examples(&mut self, item: usize, tries: &[TryDecl], pack: usize) {
        for decl in tries {
            let words = [Verdict::Met, Verdict::Unmet, Verdict::NotShown, Verdict::NotApplicable];
            let Some(expect) = words.into_iter().find(|verdict| verdict.word() == decl.verdict.text) else {
                self.unknown("verdict", &decl.verdict, words.iter().map(|verdict| verdict.word()));
                continue;
            };
            let (mut record, mut on) = (Record::default(), None);
            // Confirmations and evidence of records need the lists to be known first.
            for given in &decl.given {
                match given {
                    Given::Fact(name, literal) => self.given_fact(name, literal, &mut record, pack),
                    Given::Entry(entry) => self.given_entry(entry, &mut record),
                    Given::On(date) => {
                        self.given_once("on", on.is_some(), decl);
                        on = Some(date.first);
                    }
                    Given::Visit(date) => {
                        self.given_once("visit", record.visit.is_some(), decl);
                        record.visit = Some(*date);
                    }
                    Given::Confirmed { .. } | Given::Evidence(..) => {}
                }
            }
            for given in &decl.given {
                match given {
                    Given::Evidence(kind, subject) => self.given_evidence(item, kind, subject, &mut record),
                    Given::Confirmed { holds, by, on, span } => {
                        self.given_word(item, *holds, by.as_ref(), *on, *span, &mut record);
                    }
                    Given::Fact(..) | Given::On(_) | Given::Visit(_) | Given::Entry(_) => {}
                }
            }
            let example = Example { name: decl.name.text.to_string(), record, on, expect, place: decl.span };
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

    fn given_fact(&mut self, name: &Name, literal: &Literal, record: &mut Record, pack: usize) {
        let list = self.rules.list_by_name.get(name.as_str()).copied();
        if let Some(id) = list {
            if !self.in_sight("list", name) {
                self.unknown("list", name, []);
                return;
            }
            if record.lists.contains_key(&id) {
                self.given_twice(name);
            }
            if let Some(rows) = self.given_rows(id, literal) {
                record.lists.insert(id, rows);
            }
            return;
        }
        let fact = self.rules.fact_by_name.get(name.as_str()).copied();
        let fact = fact.filter(|id| self.rules.fact(*id).is_some_and(|fact| self.sees(pack, fact.pack)));
        let Some(id) = fact else {
            let known: Vec<_> = self.rules.fact_by_name.keys().chain(self.rules.list_by_name.keys()).cloned().collect();
            self.unknown("fact", name, known.iter().map(AsRef::as_ref));
            return;
        };
        let Some(fact) = self.rules.fact(id).cloned() else { return };
        if record.facts.contains_key(&id) {
            self.given_twice(name);
        }
        if let Some(value) = self.given_value(&fact, literal) {
            record.facts.insert(id, value);
        }
    }

    fn given_rows(&mut self, id: ListId, literal: &Literal) -> Option<Rows> {
        let fields = self.rules.list(id)?.fields.clone();
        let records = match &literal.kind {
            LiteralKind::Empty => &[][..],
            LiteralKind::Records(records) => records.as_slice(),
            _ => {
                self.error(
                    Diagnostic::error("type::mismatch", "a list is given as records in parentheses")
                        .at(literal.span, "this is no list")
                        .help("write `(name = \"...\", ...), (...)`, or `empty`"),
                );
                return None;
            }
        };
        let mut rows = Vec::new();
        for record in records {
            let mut row = Row { fields: vec![None; fields.len()], place: literal.span };
            for (name, value) in record {
                let Some(at) = fields.iter().position(|field| field.name == name.text) else {
                    self.unknown("field", name, fields.iter().map(|field| field.name.as_str()));
                    continue;
                };
                let value = fields.get(at).and_then(|field| self.given_value(field, value));
                if let Some(place) = row.fields.get_mut(at) {
                    if place.is_some() {
                        self.given_twice(name);
                    }
                    *place = value;
                }
            }
            rows.push(row);
        }
        Some(Rows { rows, place: literal.span })
    }

    fn given_value(&mut self, fact: &Fact, literal: &Literal) -> Option<Recorded> {
        let dimension = match fact.kind {
            Kind::Number(dimension) => Some(dimension),
            Kind::Count => Some(Dimension::NUMBER),
            Kind::YesNo | Kind::Choice(_) | Kind::Text | Kind::Date => None,
        };
        let value = match (&literal.kind, fact.kind) {
            (LiteralKind::None, _) if fact.optional => Value::Absent,
            (LiteralKind::Text(text), Kind::Text) => Value::Text(text.to_string()),
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
                Value::Words(1u64 << bit.min(62))
            }
            (LiteralKind::Measured(quantity), _) if Some(quantity.dimension()) == dimension => {
                if !within_limits(fact, &quantity.range) {
                    let limits = fact.limits.as_ref().map_or("", |limits| limits.text.as_str()).to_owned();
                    self.error(
                        Diagnostic::error("fact::limits", format!("`{}` must be {limits}", fact.name))
                            .at(literal.span, "this value")
                            .at(fact.place, "declared here")
                            .help("give a value a builder could record"),
                    );
                    return None;
                }
                if fact.kind == Kind::Count && !is_count(&quantity.range) {
                    self.error(
                        Diagnostic::error("type::mismatch", format!("`{}` is a count", fact.name))
                            .at(literal.span, "this is no whole number")
                            .at(fact.place, "declared here")
                            .help("give a whole number, nought or more"),
                    );
                    return None;
                }
                Value::Number(quantity.range.clone())
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
        Some(Recorded { value, text: self.rules.sources.text(literal.span).to_owned(), unit, place: literal.span })
    }

    fn year(&self, literal: &Literal) -> Option<DateRange> {
        DateRange::parse(self.rules.sources.text(literal.span)).ok()
    }

    fn given_evidence(&mut self, item: usize, kind: &Name, subject: &Name, record: &mut Record) {
        if self.evidence_kind(kind).is_none() {
            return;
        }
        let mut subjects = vec![subject.text.to_string()];
        // The item's own word for a record stands for every record of the example.
        let of_record = |item: &&Item| item.each_name.as_ref().is_some_and(|name| *name == subject.text);
        let each = self.rules.items.get(item).filter(of_record).and_then(|item| item.each);
        if each.is_none() {
            self.evidence_subject(subject);
        }
        if let Some((id, rows)) = each.and_then(|id| record.lists.get(&id).map(|rows| (id, rows))) {
            subjects = crate::audit::record_names(&self.rules, id, rows);
            let list = self.rules.list(id).map_or("", |list| list.name.as_str());
            subjects = subjects.into_iter().map(|name| format!("{list}[{name}]")).collect();
        }
        for subject in subjects {
            record.evidence.push(Evidence {
                subject,
                kind: kind.text.to_string(),
                file: String::new(),
                found: true,
                place: kind.span,
            });
        }
    }

    /// One line of the log. Lines of one day come in the order written.
    fn given_entry(&mut self, decl: &EntryDecl, record: &mut Record) {
        let zone = matches!(decl.event, Event::Opened | Event::Closed)
            && self.rules.zones.iter().any(|zone| zone.name == decl.subject.text);
        if !zone {
            self.subject_known(&decl.subject);
        }
        if let Some(role) = decl.role.as_ref().filter(|role| !self.rules.roles.iter().any(|r| r.name == role.text)) {
            let known: Vec<_> = self.rules.roles.iter().map(|known| known.name.clone()).collect();
            self.unknown("role", role, known.iter().map(AsRef::as_ref));
        }
        let first = || self.rules.roles.first().map(|role| role.name.clone()).unwrap_or_default();
        let who = decl.who.as_ref().map_or_else(|| "somebody".to_owned(), |who| who.text.to_string());
        let person = Person { name: who.clone(), roles: Vec::new(), place: decl.span };
        record.people.entry(who.clone()).or_insert(person);
        record.log.push(Entry {
            instrument: decl.instrument.as_ref().map(|text| text.text.to_string()),
            points: decl.points.iter().map(|point| point.text.to_string()).collect(),
            role: decl.role.as_ref().map_or_else(first, |role| role.text.clone()).into(),
            ..Entry::new(decl.event, &decl.subject.text, &who, decl.on, decl.span)
        });
    }

    fn given_word(
        &mut self,
        item: usize,
        holds: bool,
        by: Option<&Name>,
        on: Option<DateRange>,
        span: Span,
        record: &mut Record,
    ) {
        let role = match by {
            Some(role) => {
                let known: Vec<_> = self.rules.roles.iter().map(|known| known.name.clone()).collect();
                if !known.contains(&role.text) || !self.in_sight("role", role) {
                    self.unknown("role", role, known.iter().map(AsRef::as_ref));
                }
                role.text.clone()
            }
            None => self.rules.roles.first().map(|role| role.name.clone()).unwrap_or_default(),
        };
        let Some(found) = self.rules.items.get(item) else { return };
        let name = self.rules.full_name(found);
        let on = on.or_else(|| Date::new(1970, 1, 1).map(DateRange::day));
        let Some(on) = on else { return };
        let subjects: Vec<Option<String>> = match found.each.and_then(|id| record.lists.get(&id).map(|rows| (id, rows)))
        {
            Some((id, rows)) => crate::audit::record_names(&self.rules, id, rows).into_iter().map(Some).collect(),
            None => vec![None],
        };
        for subject in subjects {
            record.confirmations.push(Confirmation {
                item: name.clone(),
                subject,
                who: "somebody".to_owned(),
                role: role.to_string(),
                on,
                holds,
                note: None,
                place: span,
            });
        }
    }
}

/// Whether a count can be this: whole, and not below nought.
fn is_count(range: &Range) -> bool {
    let whole = |end: Option<&Exact>| end.is_none_or(Exact::is_whole);
    whole(range.lo()) && whole(range.hi()) && range.lo().is_none_or(|low| low.signum() >= 0)
}

/// The days a date may be.
fn days(date: DateRange) -> Range {
    let day = |date: Date| Some(Exact::from_int(i64::from(date.days())));
    Range::new(day(date.first), day(date.last))
}

/// Whether every possible value keeps the fact's limits.
pub(crate) fn within_limits(fact: &Fact, range: &Range) -> bool {
    let Some(limits) = &fact.limits else { return true };
    let low = limits
        .range
        .lo()
        .is_none_or(|limit| range.lo().is_some_and(|lo| if limits.above { lo > limit } else { lo >= limit }));
    let high = limits
        .range
        .hi()
        .is_none_or(|limit| range.hi().is_some_and(|hi| if limits.below { hi < limit } else { hi <= limit }));
    low && high
}
