//! For an undecided condition: the smallest set of facts that, recorded well,
//! would let it come out true.

use super::evaluate::{Evaluation, set_row};
use crate::ir::FactId;
use crate::ir::{AlikePart, Condition, Frame, Loop, NO_NODE, Operand, Order, Store, Term};
use crate::quantity::{Interval, Truth};

/// Something that is not known well enough.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Wanting {
    /// A fact's slot in a store; whether it is recorded, but too coarse.
    Slot(u8, u32, bool),
    /// A list, row, store, column; whether it is recorded, but too coarse.
    Field(u32, u32, u8, u32, bool),
    /// A whole list.
    List(u32),
    /// A person's word: the bits of the roles, and what it is about.
    Word(u64, u32),
    /// A log entry, by place in the program.
    Entry(u32),
}

/// A store as a number, to be ordered.
pub(crate) fn store_number(store: Store) -> u8 {
    match store {
        Store::Numbers => 0,
        Store::Words => 1,
        Store::Texts => 2,
    }
}

impl Evaluation<'_> {
    /// Adds the facts that an undecided condition waits for: the smallest set
    /// that, recorded well, would let it come out true. Adds nothing where the
    /// condition is decided. Fields of records, whole lists, people's words and
    /// log entries are no facts; a whole finding names those too.
    pub fn missing_facts(&self, node: u32, into: &mut Vec<FactId>) {
        for wanting in self.wanting(node, true, &mut Frame::default()) {
            if let Wanting::Slot(store, slot, _) = wanting {
                into.extend(self.fact_in(store, slot));
            }
        }
    }

    /// The fact that a slot of a store belongs to.
    fn fact_in(&self, store: u8, slot: u32) -> Option<FactId> {
        let (slots, at) = (&self.program.slots, slot as usize);
        match store {
            0 => slots.numbers.get(at).copied(),
            1 => slots.words.get(at).map(|(fact, _)| *fact),
            _ => slots.texts.get(at).copied(),
        }
    }

    /// What is wanting for `node` to become `wish`; empty if it is so already
    /// or nothing could help.
    pub(crate) fn wanting(&self, node: u32, wish: bool, frame: &mut Frame) -> Vec<Wanting> {
        let mut wants = Wants::default();
        if self.truth(node, frame) == Truth::Undecided {
            self.want(node, wish, frame, &mut wants);
            settle(&mut wants, 0);
        }
        // Where there was no choice there is nothing to choose better.
        if wants.chose { self.smallest(node, wish, frame, wants.all) } else { wants.all }
    }

    /// Adds what an undecided condition waits for; some of it perhaps twice.
    pub(crate) fn want(&self, node: u32, wish: bool, frame: &mut Frame, into: &mut Wants) {
        let Some(condition) = self.program.conditions.get(node as usize) else { return };
        match *condition {
            Condition::Not(part) => self.want(part, !wish, frame, into),
            Condition::And { start, len } => self.of_parts(start, len, (wish, wish), frame, into),
            Condition::Or { start, len } => self.of_parts(start, len, (wish, !wish), frame, into),
            Condition::Every(over, body) | Condition::Some(over, body) => self.of_loop(over, body, wish, frame, into),
            Condition::Compare { order, left, right } => self.of_sides(order, (left, right), wish, frame, into),
            // Two numbers are known to be the same only where both are sharp.
            Condition::Equal(left, right) if wish => {
                self.of_number(left, into, frame);
                self.of_number(right, into, frame);
            }
            Condition::Equal(left, right) => self.of_numbers(&[left, right], frame, into),
            Condition::CompareConstant { order, sides, .. } => {
                if let &[left, right] = self.program.arguments(sides, 2) {
                    self.of_sides(order, (left, right), wish, frame, into);
                }
            }
            Condition::CompareScaled { order, sides, .. } => {
                if let &[left, right] = self.program.arguments(sides.saturating_add(2), 2) {
                    self.of_sides(order, (left, right), wish, frame, into);
                }
            }
            Condition::WithinLast(date, _) => self.of_numbers(&[date], frame, into),
            Condition::Words(operand, _) => self.of_operand(Store::Words, operand, frame, into),
            Condition::SameWords(a, b) => {
                self.of_operand(Store::Words, a, frame, into);
                self.of_operand(Store::Words, b, frame, into);
            }
            Condition::SameText(a, b) | Condition::SameLetters(a, b) => {
                self.of_operand(Store::Texts, a, frame, into);
                self.of_operand(Store::Texts, b, frame, into);
            }
            Condition::Fits(operand, _) => self.of_operand(Store::Texts, operand, frame, into),
            Condition::Absent(store, operand) | Condition::Recorded(store, operand) => {
                self.of_operand(store, operand, frame, into);
            }
            Condition::Alike { start, len } => self.of_alike(start, len, frame, into),
            Condition::Confirmed { roles, about } => into.push(Wanting::Word(roles, about)),
            Condition::Logged(entry) => into.push(Wanting::Entry(entry)),
            Condition::Constant(_) => {}
        }
    }

    /// All undecided parts are needed, or the one that needs least: of several
    /// such, the first. A part that nothing could help is no choice.
    fn of_parts(&self, start: u32, len: u32, (wish, all): (bool, bool), frame: &mut Frame, into: &mut Wants) {
        let from = into.len();
        let mut least: Option<usize> = None;
        for part in self.program.arguments(start, len) {
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

    fn of_loop(&self, over: Loop, body: u32, wish: bool, frame: &mut Frame, into: &mut Wants) {
        let len = self.len(over.list).unwrap_or(0);
        if len == 0 {
            into.push(Wanting::List(over.list));
        }
        for row in 0..len {
            set_row(frame, over.frame, row);
            if self.truth(body, frame) == Truth::Undecided {
                self.want(body, wish, frame, into);
            }
            if over.condition != NO_NODE && self.truth(over.condition, frame) == Truth::Undecided {
                self.want(over.condition, wish, frame, into);
            }
        }
    }

    /// The two sides of an ordering. Where a fact is missing a coarse one can
    /// mostly stay as it is; not so where it is open towards the other side,
    /// as `at least 3 in` is for the greater one: nothing is beyond that.
    fn of_sides(&self, order: Order, (left, right): (u32, u32), wish: bool, frame: &mut Frame, into: &mut Wants) {
        let left_is_less = matches!(order, Order::Less | Order::AtMost) == wish;
        let from = into.len();
        for (node, less) in [(left, left_is_less), (right, !left_is_less)] {
            let side: Interval = self.number(node, frame);
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

    fn of_numbers(&self, nodes: &[u32], frame: &mut Frame, into: &mut Wants) {
        let from = into.len();
        for node in nodes {
            self.of_number(*node, into, frame);
        }
        // Where facts are missing, sharper ones would not help yet.
        let added = into.get(from..).unwrap_or(&[]);
        if added.iter().any(sharper) && !added.iter().all(sharper) {
            let missing: Vec<Wanting> = into.drain(from..).filter(|one| !sharper(one)).collect();
            into.extend(missing);
        }
    }

    fn of_number(&self, node: u32, wanting: &mut Wants, frame: &mut Frame) {
        let Some(number) = self.program.numbers.get(node as usize) else { return };
        let mut terms = self.program.terms_of(*number);
        while let Some(term) = terms.next() {
            match term {
                Term::Read(store, operand) => self.of_operand(store, operand, frame, wanting),
                Term::Number(node) => self.of_number(node, wanting, frame),
                // The rest is worked out for each of them.
                Term::Records(over) => return self.of_rows(over, terms, wanting, frame),
            }
        }
    }

    fn of_rows(&self, over: Loop, values: impl Iterator<Item = Term>, wanting: &mut Wants, frame: &mut Frame) {
        let values: Vec<u32> =
            values.filter_map(|term| if let Term::Number(node) = term { Some(node) } else { None }).collect();
        let len = self.len(over.list).unwrap_or(0);
        if len == 0 {
            wanting.push(Wanting::List(over.list));
        }
        for row in 0..len {
            set_row(frame, over.frame, row);
            let among = self.among(over, frame);
            if among == Truth::Undecided {
                self.want(over.condition, true, frame, wanting);
            }
            if among != Truth::False {
                for value in &values {
                    self.of_number(*value, wanting, frame);
                }
            }
        }
    }

    fn of_operand(&self, store: Store, operand: Operand, frame: &Frame, into: &mut Wants) {
        let recorded = self.is_recorded(store, operand, frame);
        // What is not recorded is not sharp: the exact value need not be fetched.
        let sharp = recorded
            && match store {
                Store::Numbers => {
                    self.range(operand, frame).as_point().is_some() || self.interval(operand, frame).is_absent()
                }
                Store::Words | Store::Texts => true,
            };
        match operand {
            _ if sharp => {}
            Operand::Constant(_) => {}
            Operand::Slot(slot) => into.push(Wanting::Slot(store_number(store), slot, recorded)),
            Operand::Field { list, .. } if self.len(list).is_none() => into.push(Wanting::List(list)),
            Operand::Field { list, column, frame: at } => {
                let row = frame.get(usize::from(at)).copied().unwrap_or(u32::MAX);
                into.push(Wanting::Field(list, row, store_number(store), column, recorded));
            }
        }
    }

    fn of_alike(&self, start: u32, len: u32, frame: &Frame, into: &mut Wants) {
        let from = start as usize;
        for part in self.program.alikes.get(from..from.saturating_add(len as usize)).unwrap_or(&[]) {
            match *part {
                AlikePart::One(operand) => self.of_operand(Store::Texts, operand, frame, into),
                AlikePart::Every { list, column } => {
                    let rows = self.len(list).unwrap_or(0);
                    if rows == 0 {
                        into.push(Wanting::List(list));
                    }
                    for row in 0..rows {
                        let mut at = *frame;
                        set_row(&mut at, 0, row);
                        self.of_operand(Store::Texts, Operand::Field { list, column, frame: 0 }, &at, into);
                    }
                }
            }
        }
    }
}

/// Whether it is recorded, but too coarse.
fn sharper(one: &Wanting) -> bool {
    matches!(one, Wanting::Slot(_, _, true) | Wanting::Field(.., true))
}

/// What is wanting so far, and whether one of several ways was chosen.
#[derive(Debug, Default)]
pub(crate) struct Wants {
    pub(crate) all: Vec<Wanting>,
    pub(crate) chose: bool,
}

impl std::ops::Deref for Wants {
    type Target = Vec<Wanting>;

    fn deref(&self) -> &Vec<Wanting> {
        &self.all
    }
}

impl std::ops::DerefMut for Wants {
    fn deref_mut(&mut self) -> &mut Vec<Wanting> {
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
pub(crate) fn settle(wanting: &mut Vec<Wanting>, from: usize) {
    // Most often one fact is wanting: nothing to put in order.
    if wanting.len().saturating_sub(from) > 1 {
        let mut added = wanting.split_off(from);
        added.sort_unstable();
        added.dedup();
        wanting.append(&mut added);
    }
}
