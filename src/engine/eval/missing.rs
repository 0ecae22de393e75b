//! For an undecided condition: the smallest set of facts that, recorded well,
//! would let it come out true.

use super::evaluate::Evaluation;
use crate::ir::{
    AnyColumn, AnyOperand, AnySlot, Child, ColumnId, Condition, ConditionId, ConfirmedId, FactId, Frame, InStore,
    ListId, LoggedId, Loop, LoopId, Number, NumberId, Operand, Order, Origin, RowId, Run, Texts,
};
use crate::quantity::{Interval, Truth};

/// Something that is not known well enough.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum MissingInput {
    /// A fact; whether it is recorded, but too coarse.
    Slot(AnySlot, bool),
    /// A field of a record; whether it is recorded, but too coarse.
    Field { list: ListId, row: Option<RowId>, column: AnyColumn, coarse: bool },
    /// The records of a list of which none is known.
    List(ListId),
    /// Somebody's word that a list is whole.
    Whole(ListId),
    /// A person's word.
    Confirmation(ConfirmedId),
    /// A log entry.
    Entry(LoggedId),
}

impl Evaluation<'_> {
    /// Adds the facts that an undecided condition waits for: the smallest set
    /// that, recorded well, would let it come out true. Adds nothing where the
    /// condition is decided. Fields of records, whole lists, people's words and
    /// log entries are no facts; a whole finding names those too.
    pub fn missing_facts(&self, node: ConditionId, into: &mut Vec<FactId>) {
        for input in self.missing_inputs(node, true, &mut Frame::default()) {
            if let MissingInput::Slot(slot, _) = input {
                into.extend(self.program.slots.fact(slot));
            }
        }
    }

    /// What is missing for `node` to become `wish`; empty if it is so already
    /// or nothing could help.
    pub(crate) fn missing_inputs(&self, node: ConditionId, wish: bool, frame: &mut Frame) -> Vec<MissingInput> {
        let mut wants = Wants::default();
        if self.truth(node, frame) == Truth::Undecided {
            self.want(node, wish, frame, &mut wants);
            settle(&mut wants, 0);
        }
        // Where there was no choice there is nothing to choose better.
        if wants.chose { self.smallest(node, wish, frame, wants.all) } else { wants.all }
    }

    /// Adds what an undecided condition waits for; some of it perhaps twice.
    pub(crate) fn want(&self, node: ConditionId, wish: bool, frame: &mut Frame, into: &mut Wants) {
        let Some(condition) = self.program.conditions.get(node) else { return };
        match *condition {
            Condition::Not(part) => self.want(part, !wish, frame, into),
            Condition::And(parts) => self.of_parts(parts, (wish, wish), frame, into),
            Condition::Or(parts) => self.of_parts(parts, (wish, !wish), frame, into),
            Condition::Every(over, body) | Condition::Some(over, body) => self.of_loop(over, body, wish, frame, into),
            Condition::Compare { order, left, right } => self.of_sides(order, (left, right), wish, frame, into),
            // Two numbers are known to be the same only where both are sharp.
            Condition::Equal(left, right) if wish => {
                self.of_number(left, into, frame);
                self.of_number(right, into, frame);
            }
            Condition::Equal(left, right) => self.of_numbers(&[left, right], frame, into),
            Condition::WithinLast(date, _) => self.of_numbers(&[date], frame, into),
            Condition::After(later, earlier) => self.of_numbers(&[later, earlier], frame, into),
            Condition::Confirmed(need) => {
                into.push(MissingInput::Confirmation(need));
                self.of_since(self.program.confirmed.get(need).and_then(|need| need.since), frame, into);
            }
            Condition::Logged(need) => {
                into.push(MissingInput::Entry(need));
                self.of_since(self.program.logged.get(need).and_then(|need| need.since), frame, into);
            }
            Condition::Constant(_)
            | Condition::Words(..)
            | Condition::SameWords(..)
            | Condition::SameText(..)
            | Condition::SameLetters(..)
            | Condition::Fits(..)
            | Condition::SomebodyElse(..)
            | Condition::Absent(_)
            | Condition::Recorded(_)
            | Condition::Alike(_) => {
                for child in self.program.children_of_condition(*condition) {
                    match child {
                        Child::Read(operand) => self.of_operand(operand, frame, into),
                        Child::Column { list, column } => self.of_column(list, column, into),
                        _ => {}
                    }
                }
            }
        }
    }

    /// All undecided parts are needed, or the one that needs least: of several
    /// such, the first. A part that nothing could help is no choice.
    fn of_parts(&self, parts: Run<ConditionId>, (wish, all): (bool, bool), frame: &mut Frame, into: &mut Wants) {
        let from = into.len();
        let mut least: Option<usize> = None;
        for part in self.program.arguments.get(parts) {
            if self.truth(*part, frame) != Truth::Undecided {
                continue;
            }
            let end = into.len();
            self.want(*part, wish, frame, into);
            if !all {
                keep_least(into, from, end, &mut least);
            }
        }
    }

    fn of_loop(&self, over: Loop, body: ConditionId, wish: bool, frame: &mut Frame, into: &mut Wants) {
        let len = self.records_wanted(over.list, into);
        for row in RowId::all(len) {
            frame.set(over.frame, row);
            if self.truth(body, frame) == Truth::Undecided {
                self.want(body, wish, frame, into);
            }
            if let Some(condition) = over.condition
                && self.truth(condition, frame) == Truth::Undecided
            {
                self.want(condition, wish, frame, into);
            }
        }
    }

    /// The two sides of an ordering. Where a fact is missing a coarse one can
    /// mostly stay as it is; not so where it is open towards the other side,
    /// as `at least 3 in` is for the greater one: nothing is beyond that.
    fn of_sides(
        &self,
        order: Order,
        (left, right): (NumberId, NumberId),
        wish: bool,
        frame: &mut Frame,
        into: &mut Wants,
    ) {
        let left_is_less = matches!(order, Order::Less | Order::AtMost) == wish;
        let from = into.len();
        for (node, less) in [(left, left_is_less), (right, !left_is_less)] {
            let side: Interval = self.value(node, frame);
            let mut wants = Wants::default();
            self.of_number(node, &mut wants, frame);
            if wants.iter().all(sharper) && if less { side.hi == f64::INFINITY } else { side.lo == f64::NEG_INFINITY } {
                self.of_number(node, into, frame);
            }
        }
        let open = into.split_off(from);
        self.of_numbers(&[left, right], frame, into);
        into.extend(open);
    }

    fn of_numbers(&self, nodes: &[NumberId], frame: &mut Frame, into: &mut Wants) {
        let from = into.len();
        for node in nodes {
            self.of_number(*node, into, frame);
        }
        // Where facts are missing, sharper ones would not help yet.
        let added = into.get(from..).unwrap_or(&[]);
        if added.iter().any(sharper) && !added.iter().all(sharper) {
            let missing: Vec<MissingInput> = into.drain(from..).filter(|one| !sharper(one)).collect();
            into.extend(missing);
        }
    }

    /// The day after which something must have been.
    fn of_since(&self, since: Option<NumberId>, frame: &mut Frame, into: &mut Wants) {
        if let Some(since) = since {
            self.of_number(since, into, frame);
        }
    }

    fn of_number(&self, node: NumberId, missing_inputs: &mut Wants, frame: &mut Frame) {
        let Some(number) = self.program.numbers.get(node).copied() else { return };
        match number {
            // By far the most frequent.
            Number::Read(operand) => return self.of_operand(InStore::Numbers(operand), frame, missing_inputs),
            Number::Multiply(a, b) if self.drops_out(a, b, frame) || self.drops_out(b, a, frame) => return,
            _ => {}
        }
        let mut children = self.program.children_of_number(number);
        while let Some(child) = children.next() {
            match child {
                Child::Read(operand) => self.of_operand(operand, frame, missing_inputs),
                Child::Number(node) => self.of_number(node, missing_inputs, frame),
                // The rest is worked out for each of them.
                Child::Records(over) => return self.of_rows(over, children, missing_inputs, frame),
                Child::Condition(_) | Child::Column { .. } | Child::IfEmpty(_) => {}
            }
        }
    }

    /// Whether a number is multiplied by what is recorded as zero, so that nothing hangs on it.
    fn drops_out(&self, node: NumberId, by: NumberId, frame: &Frame) -> bool {
        let zero = match self.program.numbers.get(by) {
            Some(Number::Read(operand)) => {
                let by = self.interval(*operand, frame);
                by.lo >= 0.0 && by.hi <= 0.0
            }
            _ => false,
        };
        zero && self.is_a_number(node)
    }

    fn of_rows(&self, over: Loop, values: impl Iterator<Item = Child>, missing_inputs: &mut Wants, frame: &mut Frame) {
        let values: Vec<NumberId> =
            values.filter_map(|child| if let Child::Number(node) = child { Some(node) } else { None }).collect();
        let len = self.records_wanted(over.list, missing_inputs);
        for row in RowId::all(len) {
            frame.set(over.frame, row);
            let among = self.among(over, frame);
            if let (Truth::Undecided, Some(condition)) = (among, over.condition) {
                self.want(condition, true, frame, missing_inputs);
            }
            if among != Truth::False {
                for value in &values {
                    self.of_number(*value, missing_inputs, frame);
                }
            }
        }
    }

    /// Adds the records of a list if none is known, or the word that those known are all; gives their number.
    fn records_wanted(&self, list: ListId, into: &mut Wants) -> u32 {
        let len = self.len(list);
        if len == 0 {
            into.push(MissingInput::List(list));
        } else if !self.is_whole(list) {
            into.push(MissingInput::Whole(list));
        }
        len
    }

    fn of_operand(&self, operand: AnyOperand, frame: &Frame, into: &mut Wants) {
        let recorded = self.is_recorded(operand, frame);
        // What is not recorded is not sharp: the exact value need not be fetched.
        let sharp = recorded
            && match operand {
                InStore::Numbers(operand) => {
                    self.range(operand, frame).as_point().is_some() || self.interval(operand, frame).is_absent()
                }
                InStore::Words(_) | InStore::Texts(_) => true,
            };
        if sharp {
            return;
        }
        match operand.origin() {
            None => {}
            Some(Origin::Slot(slot)) => into.push(MissingInput::Slot(slot, recorded)),
            Some(Origin::Field { list, .. }) if self.len(list) == 0 => {
                self.records_wanted(list, into);
            }
            Some(Origin::Field { list, column, frame: at }) => {
                into.push(MissingInput::Field { list, row: frame.row(at), column, coarse: recorded });
            }
        }
    }

    /// Adds the texts of a whole column.
    fn of_column(&self, list: ListId, column: ColumnId<Texts>, into: &mut Wants) {
        let rows = self.records_wanted(list, into);
        for row in RowId::all(rows) {
            let operand = Operand::Field { list, column, frame: LoopId::ITEM };
            self.of_operand(InStore::Texts(operand), &Frame::of(Some(row)), into);
        }
    }
}

/// Whether it is recorded, but too coarse.
fn sharper(one: &MissingInput) -> bool {
    matches!(one, MissingInput::Slot(_, true) | MissingInput::Field { coarse: true, .. })
}

/// What is missing so far, and whether one of several ways was chosen.
#[derive(Debug, Default)]
pub(crate) struct Wants {
    pub(crate) all: Vec<MissingInput>,
    pub(crate) chose: bool,
}

impl std::ops::Deref for Wants {
    type Target = Vec<MissingInput>;

    fn deref(&self) -> &Vec<MissingInput> {
        &self.all
    }
}

impl std::ops::DerefMut for Wants {
    fn deref_mut(&mut self) -> &mut Vec<MissingInput> {
        &mut self.all
    }
}

/// Of what was added before `end` and what was added from there, keeps the less.
fn keep_least(into: &mut Wants, from: usize, end: usize, least: &mut Option<usize>) {
    settle(into, end);
    let needs = into.len().saturating_sub(end);
    into.chose |= least.is_some();
    let less = least.is_none_or(|least| needs < least);
    if needs > 0 && less {
        into.drain(from..end);
        *least = Some(needs);
    } else {
        into.truncate(end);
    }
}

/// Orders what was added from a place on, each once.
pub(crate) fn settle(missing_inputs: &mut Vec<MissingInput>, from: usize) {
    // Most often one fact is missing: nothing to put in order.
    if missing_inputs.len().saturating_sub(from) > 1 {
        let mut added = missing_inputs.split_off(from);
        added.sort_unstable();
        added.dedup();
        missing_inputs.append(&mut added);
    }
}
