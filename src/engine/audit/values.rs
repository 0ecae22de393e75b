//! The recorded values that a condition saw, each with its name and place.

use super::cause::{Note, ObservedValue};
use super::explain::Explanation;
use super::finding::Observed;
use super::typed::TypedValue;
use super::undone::Read;
use crate::ir::{
    AlikePart, AnyColumn, AnyOperand, AnySlot, Child, Frame, InStore, ListId, Number, NumberId, Origin, RowId, Run,
};
use crate::lapse::{of_fact, of_field};
use crate::project::{Recorded, record_name};

impl Explanation<'_> {
    pub(super) fn sides(&self, nodes: &[NumberId], frame: &mut Frame, values: &mut Vec<Observed>) {
        for node in nodes {
            let before = values.len();
            self.facts_of(*node, frame, values);
            let plain = matches!(self.judge.rules.program.numbers.get(*node), Some(Number::Read(_) | Number::Today));
            if !plain && values.len() > before.saturating_sub(usize::from(before > 0)) {
                values.push(self.worked_out(self.number_text(*node), *node, frame));
            }
        }
    }

    /// The recorded values a number is worked out from.
    pub(super) fn facts_of(&self, node: NumberId, frame: &mut Frame, values: &mut Vec<Observed>) {
        let Some(number) = self.judge.rules.program.numbers.get(node).copied() else { return };
        for child in self.judge.rules.program.children_of_number(number) {
            match child {
                Child::Read(operand) => values.extend(self.seen(operand, frame)),
                Child::Number(node) => self.facts_of(node, frame, values),
                // What was worked out for each record is told with the records.
                Child::Records(over) => return values.extend(self.list_observed(over.list)),
                Child::Condition(_) | Child::Column { .. } | Child::IfEmpty(_) => {}
            }
        }
    }

    pub(super) fn list_observed(&self, list: ListId) -> Option<Observed> {
        let name = self.judge.rules.list(list)?.name.clone();
        let rows = self.judge.rows(list);
        // Said to have none, it is recorded without a record.
        let known = rows.map(|rows| rows.rows.len()).or_else(|| self.judge.is_whole(list).then_some(0));
        let value = known.map_or(ObservedValue::NotRecorded, ObservedValue::Records);
        Some(Observed {
            name: name.to_string(),
            value,
            typed: None,
            place: rows.map(|rows| self.judge.record.sources.place(rows.place)),
            evidence: Vec::new(),
        })
    }

    /// The fact or field of an operand, with what is recorded of it.
    pub(super) fn operand(&self, operand: AnyOperand, frame: &Frame) -> Option<Read<'_>> {
        match operand.origin()? {
            Origin::Slot(slot) => self.fact(slot),
            Origin::Field { list, column, frame: at } => self.field(list, frame.row(at), column),
        }
    }

    /// A fact, with what is recorded of it.
    pub(super) fn fact(&self, slot: AnySlot) -> Option<Read<'_>> {
        let id = self.judge.rules.program.slots.fact(slot)?;
        let fact = self.judge.rules.fact(id)?;
        let recorded = self.judge.recorded(id);
        Some(Read { name: fact.name.to_string(), fact, recorded, state: of_fact(fact) })
    }

    /// A field of a record, with what is recorded of it.
    pub(super) fn field(&self, list: ListId, row: Option<RowId>, column: AnyColumn) -> Option<Read<'_>> {
        let field = self.judge.rules.program.columns.get(list)?.field(column)?;
        let declared = self.judge.rules.list(list)?;
        let fact = declared.fields.get(field)?;
        let Some(rows) = self.judge.rows(list) else {
            return Some(Read { name: format!("{}.{}", declared.name, fact.name), fact, recorded: None, state: None });
        };
        let name = row.and_then(|row| record_name(self.judge.rules, list, rows, row)).unwrap_or_default();
        let row = row.and_then(|row| rows.rows.get(row.index()));
        let recorded = row.and_then(|row| row.field(field));
        let state = row.and_then(|row| of_field(declared, fact, row));
        Some(Read { name: format!("{}[{name}].{}", declared.name, fact.name), fact, recorded, state })
    }

    pub(super) fn seen(&self, operand: AnyOperand, frame: &Frame) -> Option<Observed> {
        let read = self.operand(operand, frame)?;
        Some(self.observed(read, matches!(operand, InStore::Texts(_))))
    }

    fn observed(&self, read: Read<'_>, quoted: bool) -> Observed {
        let text = |recorded: &Recorded| if quoted { format!("{:?}", recorded.text) } else { recorded.told() };
        let value = self.as_it_counts(&read, read.recorded.map(text).unwrap_or_default());
        let place = read.recorded.map(|recorded| self.judge.place(recorded));
        let recorded = read.recorded.filter(|_| self.as_data);
        let typed = recorded.map(|one| TypedValue::of(self.judge.rules, read.fact.kind, one, read.fact.unit.as_ref()));
        let evidence = read.recorded.map_or_else(Vec::new, |_| self.evidence_beside(&read.name));
        Observed { name: read.name, value, typed, place, evidence }
    }

    /// The files that are named beside a fact, or beside the record of a field, as far as they are there.
    fn evidence_beside(&self, name: &str) -> Vec<String> {
        let subject = name.rsplit_once("].").map_or(name, |(record, _)| name.get(..=record.len()).unwrap_or(name));
        let all = &self.judge.record.evidence;
        let first = all.partition_point(|one| one.subject.as_str() < subject);
        let beside = all.get(first..).unwrap_or(&[]).iter().take_while(|one| one.subject == subject);
        let mut files: Vec<String> = beside.filter(|one| one.found).map(|one| one.file.clone()).collect();
        files.dedup();
        files
    }

    /// Every text that `alike` compares, each with its place.
    pub(super) fn variants(&self, parts: Run<AlikePart>, frame: &Frame, values: &mut Vec<Observed>) -> Option<Note> {
        for part in self.judge.rules.program.alikes.get(parts) {
            match *part {
                AlikePart::One(operand) => values.extend(self.seen(InStore::Texts(operand), frame)),
                AlikePart::Every { list, column } => {
                    let rows = self.evaluation.len(list);
                    if rows == 0 {
                        values.extend(self.list_observed(list));
                    }
                    for row in RowId::all(rows) {
                        let found = self.field(list, Some(row), InStore::Texts(column));
                        let present = found
                            .filter(|read| read.recorded.is_none_or(|one| one.value != crate::project::Value::Absent));
                        values.extend(present.map(|read| self.observed(read, true)));
                    }
                }
            }
        }
        let (mut texts, _) = self.evaluation.alike_texts(parts, frame);
        texts.sort_unstable();
        texts.dedup();
        (texts.len() > 1).then_some(Note::DifferentTexts(texts.len()))
    }
}
