//! What an item asks for, by the parts whose state that is: what work on them
//! undoes, of values, inspections, words and files alike.

use super::judge::Judge;
use crate::ir::{
    AnyColumn, AnyOperand, Child, Condition, ConditionId, FieldId, InStore, Item, ListId, LoopId, NumberId, Origin,
    PartOrAll, RowId,
};
use crate::lapse::{StateOf, of_evidence_named, of_fact, of_field};
use std::collections::BTreeSet;

impl Judge<'_> {
    /// The states that an item asks for: of one record, where it is raised for that.
    pub(super) fn states_asked(&self, item: &Item, row: Option<RowId>, subject: Option<&str>) -> BTreeSet<StateOf<'_>> {
        let mut states = self.states_of_need(item, row);
        for show in &item.shows {
            let named = self.show_subject(item, show, subject);
            states.extend(of_evidence_named(self.rules, self.record, &named));
        }
        states
    }

    /// Those of its need, evidence left aside.
    pub(super) fn states_of_need(&self, item: &Item, row: Option<RowId>) -> BTreeSet<StateOf<'_>> {
        let mut asked = Asked { judge: self, row, states: BTreeSet::new() };
        asked.condition(item.need);
        asked.states
    }
}

struct Asked<'j> {
    judge: &'j Judge<'j>,
    row: Option<RowId>,
    states: BTreeSet<StateOf<'j>>,
}

impl<'j> Asked<'j> {
    fn condition(&mut self, node: ConditionId) {
        let program = &self.judge.rules.program;
        let Some(condition) = program.conditions.get(node).copied() else { return };
        match condition {
            Condition::Confirmed(need) => {
                let about = program.confirmed.get(need).and_then(|need| need.about);
                let parts = about.and_then(|about| program.abouts.get(about)).into_iter().flatten();
                self.states.extend(parts.map(PartOrAll::part).map(StateOf::fitted));
            }
            Condition::Logged(entry) => {
                let part = program.logged.get(entry).map(|logged| logged.subject.as_str());
                self.states.extend(part.map(|part| StateOf::fitted(Some(part))));
            }
            _ => {}
        }
        for child in program.children_of_condition(condition) {
            self.child(child);
        }
    }

    fn number(&mut self, node: NumberId) {
        let program = &self.judge.rules.program;
        let Some(number) = program.numbers.get(node).copied() else { return };
        for child in program.children_of_number(number) {
            self.child(child);
        }
    }

    fn child(&mut self, child: Child) {
        match child {
            Child::Condition(node) => self.condition(node),
            Child::Number(node) | Child::IfEmpty(node) => self.number(node),
            Child::Read(operand) => self.read(operand),
            Child::Records(over) => over.condition.into_iter().for_each(|node| self.condition(node)),
            Child::Column { list, column } => self.column(list, None, InStore::Texts(column)),
        }
    }

    fn read(&mut self, operand: AnyOperand) {
        let rules = self.judge.rules;
        match operand.origin() {
            Some(Origin::Slot(slot)) => {
                let fact = rules.program.slots.fact(slot).and_then(|id| rules.fact(id));
                self.states.extend(fact.and_then(of_fact).map(|state| state.of));
            }
            Some(Origin::Field { list, column, frame }) => {
                let row = self.row.filter(|_| frame == LoopId::ITEM);
                self.column(list, row, column);
            }
            None => {}
        }
    }

    /// A field of one record, or of all.
    fn column(&mut self, list: ListId, row: Option<RowId>, column: AnyColumn) {
        let judge = self.judge;
        let found: Option<FieldId> = judge.rules.program.columns.get(list).and_then(|columns| columns.field(column));
        let (Some(declared), Some(rows)) = (judge.rules.list(list), judge.rows(list)) else { return };
        let Some(field) = found.and_then(|field| declared.fields.get(field)) else { return };
        let one = |(at, _): &(usize, _)| row.is_none_or(|row| row.index() == *at);
        let rows = rows.rows.iter().enumerate().filter(one);
        self.states.extend(rows.filter_map(|(_, row)| of_field(declared, field, row)).map(|state| state.of));
    }
}
