//! The recorded values that a condition saw, each with its name and place.

use super::explain::Explanation;
use super::finding::Seen;
use crate::ir::{AlikePart, Frame, Number, Operand, Store, Term};
use crate::ir::{Fact, FactId, ListId};
use crate::project::Recorded;
use crate::project::record_name;

impl Explanation<'_> {
    pub(super) fn sides(&self, nodes: &[u32], frame: &mut Frame, values: &mut Vec<Seen>) {
        for node in nodes {
            let before = values.len();
            self.facts_of(*node, frame, values);
            let plain =
                matches!(self.judge.rules.program.numbers.get(*node as usize), Some(Number::Read(_) | Number::Today));
            if !plain && values.len() > before.saturating_sub(usize::from(before > 0)) {
                values.push(Seen {
                    name: self.text(self.number_span(*node)),
                    value: self.value_text(*node, frame),
                    place: None,
                });
            }
        }
    }

    /// The recorded values a number is worked out from.
    pub(super) fn facts_of(&self, node: u32, frame: &mut Frame, values: &mut Vec<Seen>) {
        let Some(number) = self.judge.rules.program.numbers.get(node as usize).copied() else { return };
        for term in self.judge.rules.program.terms_of(number) {
            match term {
                Term::Read(store, operand) => values.extend(self.seen(store, operand, frame)),
                Term::Number(node) => self.facts_of(node, frame, values),
                // What was worked out for each record is told with the records.
                Term::Records(over) => return values.extend(self.list_seen(over.list)),
            }
        }
    }

    pub(super) fn list_seen(&self, list: u32) -> Option<Seen> {
        let name = self.judge.rules.lists.get(list as usize)?.name.clone();
        let rows = self.judge.rows(ListId(list));
        let value = rows.map_or_else(|| "not recorded".to_owned(), |rows| format!("{} records", rows.rows.len()));
        Some(Seen { name: name.to_string(), value, place: rows.map(|rows| self.sources.place(rows.place)) })
    }

    /// The fact or field of an operand, with what is recorded of it.
    pub(super) fn operand(
        &self,
        store: Store,
        operand: Operand,
        frame: &Frame,
    ) -> Option<(String, &Fact, Option<&Recorded>)> {
        match operand {
            Operand::Constant(_) => None,
            Operand::Slot(slot) => {
                let id = self.fact_of_slot(store, slot)?;
                let fact = self.judge.rules.fact(id)?;
                Some((fact.name.to_string(), fact, self.judge.record.facts.get(&id)))
            }
            Operand::Field { list, column, frame: at } => {
                self.field(list, frame.get(usize::from(at)).copied()?, store, column)
            }
        }
    }

    pub(super) fn field(
        &self,
        list: u32,
        row: u32,
        store: Store,
        column: u32,
    ) -> Option<(String, &Fact, Option<&Recorded>)> {
        let columns = self.judge.rules.program.columns.get(list as usize)?;
        let at = column as usize;
        let field = match store {
            Store::Numbers => columns.numbers.get(at).copied(),
            Store::Words => columns.words.get(at).map(|(field, _)| *field),
            Store::Texts => columns.texts.get(at).copied(),
        }? as usize;
        let declared = self.judge.rules.lists.get(list as usize)?;
        let fact = declared.fields.get(field)?;
        let Some(rows) = self.judge.rows(ListId(list)) else {
            return Some((format!("{}.{}", declared.name, fact.name), fact, None));
        };
        let name = record_name(self.judge.rules, ListId(list), rows, row as usize).unwrap_or_default();
        let recorded = rows.rows.get(row as usize).and_then(|row| row.fields.get(field)).and_then(Option::as_ref);
        Some((format!("{}[{name}].{}", declared.name, fact.name), fact, recorded))
    }

    pub(super) fn fact_of_slot(&self, store: Store, slot: u32) -> Option<FactId> {
        let slots = &self.judge.rules.program.slots;
        match store {
            Store::Numbers => slots.numbers.get(slot as usize).copied(),
            Store::Words => slots.words.get(slot as usize).map(|(id, _)| *id),
            Store::Texts => slots.texts.get(slot as usize).copied(),
        }
    }

    pub(super) fn seen(&self, store: Store, operand: Operand, frame: &Frame) -> Option<Seen> {
        let (name, _, recorded) = self.operand(store, operand, frame)?;
        let quote = |recorded: &Recorded| {
            if store == Store::Texts { format!("{:?}", recorded.text) } else { recorded.text.clone() }
        };
        Some(Seen {
            name,
            value: recorded.map_or_else(|| "not recorded".to_owned(), quote),
            place: recorded.map(|recorded| self.sources.place(recorded.place)),
        })
    }

    /// Every text that `alike` compares, each with its place.
    pub(super) fn variants(&self, start: u32, len: u32, frame: &Frame, values: &mut Vec<Seen>) -> Option<String> {
        let from = start as usize;
        for part in self.judge.rules.program.alikes.get(from..from.saturating_add(len as usize)).unwrap_or(&[]) {
            match *part {
                AlikePart::One(operand) => values.extend(self.seen(Store::Texts, operand, frame)),
                AlikePart::Every { list, column } => {
                    let rows = self.evaluation.len(list).unwrap_or(0);
                    if rows == 0 {
                        values.extend(self.list_seen(list));
                    }
                    for row in 0..rows {
                        let found = self.field(list, row, Store::Texts, column);
                        let present = found.filter(|(_, _, recorded)| {
                            recorded.is_none_or(|one| one.value != crate::project::Value::Absent)
                        });
                        values.extend(present.map(|(name, _, recorded)| Seen {
                            name,
                            value:
                                recorded.map_or_else(
                                    || "not recorded".to_owned(),
                                    |recorded| format!("{:?}", recorded.text),
                                ),
                            place: recorded.map(|recorded| self.sources.place(recorded.place)),
                        }));
                    }
                }
            }
        }
        let (mut texts, _) = self.evaluation.alike_texts(start, len, frame);
        texts.sort_unstable();
        texts.dedup();
        (texts.len() > 1).then(|| format!("{} different texts, compared character for character", texts.len()))
    }
}
