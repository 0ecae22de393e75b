//! Why a condition came out as it did: the parts that decided, the values
//! they saw, and where those are recorded. Worked out only when asked for.

use super::cause::{MissingCause, Note, ObservedValue};
use super::finding::{Clause, Held, Join, Observed, Reason};
use super::judge::Judge;
use super::proof::Proof;
use super::typed::{TypedValue, day_text};
use crate::eval::Evaluation;
use crate::ir::{Child, Condition, ConditionId, Frame, InStore, LoggedId, Loop, Number, NumberId, RowId};
use crate::quantity::{Exact, ExactInterval, Truth, show};
use crate::source::Span;

/// At most so many records are named one by one in one reason.
const MAX_RECORDS: usize = 12;

/// Everything an explanation reads.
pub(super) struct Explanation<'a> {
    pub(super) judge: &'a Judge<'a>,
    pub(super) evaluation: Evaluation<'a>,
    /// Values come as data too, and rules with their places.
    pub(super) as_data: bool,
}

impl Explanation<'_> {
    /// The reasons for a condition's outcome: taken together they come out as it does.
    pub(super) fn reasons(&self, clause: Clause, node: ConditionId, frame: &mut Frame) -> Vec<Reason> {
        let mut out = Vec::new();
        self.add(node, frame, &mut out);
        out.iter_mut().for_each(|reason| set_clause(reason, clause));
        out
    }

    fn add(&self, node: ConditionId, frame: &mut Frame, out: &mut Vec<Reason>) {
        let truth = self.evaluation.truth(node, frame);
        let Some(condition) = self.judge.rules.program.conditions.get(node).copied() else { return };
        match condition {
            // What is denied came out the other way: it is told as one part, with its "not".
            Condition::Not(part) => {
                let mut inner = Vec::new();
                self.add(part, frame, &mut inner);
                out.push(self.as_one(node, truth, &inner));
            }
            Condition::And(parts) => {
                let parts = self.judge.rules.program.arguments.get(parts);
                let mut inner = Vec::new();
                for part in parts {
                    if self.evaluation.truth(*part, frame) == truth {
                        self.add(*part, frame, &mut inner);
                    }
                }
                // `between` is one phrase of two comparisons.
                if parts.iter().all(|part| self.span(*part) == self.span(node)) {
                    inner = vec![self.as_one(node, truth, &inner)];
                }
                out.append(&mut inner);
            }
            Condition::Or(parts) => {
                let mut ways = Vec::new();
                for part in self.judge.rules.program.arguments.get(parts) {
                    if self.evaluation.truth(*part, frame) == truth {
                        let mut inner = Vec::new();
                        self.add(*part, frame, &mut inner);
                        ways.push(self.one_way(*part, truth, inner));
                    }
                }
                if truth == Truth::True {
                    // One that holds is enough.
                    out.extend(
                        ways.into_iter()
                            .flat_map(|way| if way.join == Some(Join::All) { way.parts } else { vec![way] }),
                    );
                } else {
                    out.push(Reason { join: Some(Join::Any), parts: ways, ..self.bare(node, truth) });
                }
            }
            Condition::Every(over, body) | Condition::Some(over, body) => {
                self.loop_reasons(node, over, body, truth, frame, out);
            }
            _ => out.push(self.leaf(node, condition, truth, frame)),
        }
    }

    /// A reason that saw nothing yet.
    fn bare(&self, node: ConditionId, truth: Truth) -> Reason {
        Reason {
            clause: Clause::Need,
            expression: self.condition_text(node),
            held: held(truth),
            values: Vec::new(),
            notes: Vec::new(),
            lapses: Vec::new(),
            join: None,
            parts: Vec::new(),
        }
    }

    /// A condition as one part that saw what its own parts saw.
    fn as_one(&self, node: ConditionId, truth: Truth, inner: &[Reason]) -> Reason {
        let leaves: Vec<&Reason> = inner.iter().flat_map(Reason::leaves).collect();
        let mut reason = self.bare(node, truth);
        for value in leaves.iter().flat_map(|leaf| &leaf.values) {
            if !reason.values.contains(value) {
                reason.values.push(value.clone());
            }
        }
        reason.lapses = leaves.iter().flat_map(|leaf| &leaf.lapses).cloned().collect();
        reason.notes = leaves.iter().flat_map(|leaf| &leaf.notes).cloned().collect();
        reason.notes.dedup();
        reason
    }

    /// One way of several, as one reason.
    fn one_way(&self, node: ConditionId, truth: Truth, mut inner: Vec<Reason>) -> Reason {
        match inner.pop() {
            Some(only) if inner.is_empty() => only,
            last => {
                inner.extend(last);
                Reason { join: Some(Join::All), parts: inner, ..self.bare(node, truth) }
            }
        }
    }

    fn loop_reasons(
        &self,
        node: ConditionId,
        over: Loop,
        body: ConditionId,
        truth: Truth,
        frame: &mut Frame,
        out: &mut Vec<Reason>,
    ) {
        let every = matches!(self.judge.rules.program.conditions.get(node), Some(Condition::Every(..)));
        let list = self.judge.rules.list(over.list).map_or("", |list| list.name.as_str());
        let len = self.evaluation.len(over.list);
        let mut reason = self.bare(node, truth);
        let whole = self.evaluation.is_whole(over.list);
        if len == 0 {
            let list = list.to_owned();
            reason.notes.push(if whole { Note::ListEmpty(list) } else { Note::ListNotRecorded(list) });
            out.push(reason);
            return;
        }
        // What every record agrees on is one reason; what sets some apart is theirs.
        let settled = (truth == Truth::True) == every && truth != Truth::Undecided;
        if settled {
            reason.notes.push(Note::LookedAt(len, list.to_owned()));
            if !every {
                reason.values = self.why_none(over, body, len, frame);
            }
            out.push(reason);
            return;
        }
        let mut told = 0usize;
        for row in RowId::all(len) {
            frame.set(over.frame, row);
            let among = self.evaluation.among(over, frame);
            let of_body = self.evaluation.truth(body, frame);
            let holds = if every { (!among).or(of_body) } else { among.and(of_body) };
            if holds != truth {
                continue;
            }
            told = told.saturating_add(1);
            if told > MAX_RECORDS {
                continue;
            }
            let mut inner = Vec::new();
            self.add(body, frame, &mut inner);
            if let (Truth::Undecided, Some(condition)) = (among, over.condition) {
                self.add(condition, frame, &mut inner);
                // It fails if it is meant, and nobody knows whether it is.
                if every && of_body == Truth::False {
                    inner = vec![self.as_one(node, truth, &inner)];
                }
            }
            out.append(&mut inner);
        }
        if truth == Truth::Undecided && !whole {
            let notes = vec![Note::ListNotWhole(list.to_owned())];
            out.push(Reason { notes, ..self.bare(node, truth) });
        }
        if told > MAX_RECORDS {
            reason.notes.push(Note::MoreRecords(told.saturating_sub(MAX_RECORDS), list.to_owned()));
            out.push(reason);
        }
    }

    /// Where no record will do: what was seen of each that kept it from it.
    fn why_none(&self, over: Loop, body: ConditionId, len: u32, frame: &mut Frame) -> Vec<Observed> {
        let mut reasons = Vec::new();
        for row in RowId::all(len).take(MAX_RECORDS) {
            frame.set(over.frame, row);
            let left_out = over.condition.filter(|_| self.evaluation.among(over, frame) == Truth::False);
            self.add(left_out.unwrap_or(body), frame, &mut reasons);
        }
        let mut values: Vec<Observed> =
            reasons.iter().flat_map(Reason::leaves).flat_map(|reason| reason.values.iter().cloned()).collect();
        values.dedup();
        values
    }

    fn leaf(&self, node: ConditionId, condition: Condition, truth: Truth, frame: &mut Frame) -> Reason {
        let (mut values, mut notes, mut lapses) = (Vec::new(), Vec::new(), Vec::new());
        match condition {
            Condition::Compare { left, right, .. } | Condition::Equal(left, right) => {
                self.sides(&[left, right], frame, &mut values);
            }
            Condition::WithinLast(date, _) => {
                self.sides(&[date], frame, &mut values);
                notes.push(Note::JudgedFor(self.day()));
            }
            Condition::Fits(operand, pattern) => {
                values.extend(self.seen(InStore::Texts(operand), frame));
                let pattern = self.judge.rules.program.patterns.get(pattern);
                notes.extend(pattern.map(|pattern| Note::Pattern(pattern.title.clone())));
            }
            Condition::Words(..)
            | Condition::SameWords(..)
            | Condition::SameText(..)
            | Condition::SameLetters(..)
            | Condition::SomebodyElse(..)
            | Condition::Absent(_)
            | Condition::Recorded(_) => {
                let children = self.judge.rules.program.children_of_condition(condition);
                let read =
                    children.filter_map(|child| if let Child::Read(operand) = child { Some(operand) } else { None });
                values.extend(read.filter_map(|operand| self.seen(operand, frame)));
            }
            Condition::Alike(parts) => notes.extend(self.variants(parts, frame, &mut values)),
            Condition::After(later, earlier) => self.sides(&[later, earlier], frame, &mut values),
            Condition::Confirmed(need) => {
                let shown = self.proof_in_confirmations(need, frame);
                (values, notes, lapses) = (shown.values, shown.notes, shown.lapses);
            }
            Condition::Logged(entry) => {
                let shown = self.proof_in_log(entry);
                (values, notes, lapses) = (shown.values, shown.notes, shown.lapses);
            }
            Condition::Constant(_)
            | Condition::Not(_)
            | Condition::And(_)
            | Condition::Or(_)
            | Condition::Every(..)
            | Condition::Some(..) => {}
        }
        values.dedup();
        if self.reads_today(condition) && notes.is_empty() {
            notes.push(Note::JudgedFor(self.day()));
        }
        if truth == Truth::Undecided {
            notes.extend(self.either_day(condition, frame));
            if self.judge.undone {
                lapses.extend(self.undone(node, frame));
            }
        }
        Reason { values, notes, lapses, ..self.bare(node, truth) }
    }

    fn reads_today(&self, condition: Condition) -> bool {
        let sides = match condition {
            Condition::Compare { left, right, .. } | Condition::Equal(left, right) => [left, right],
            _ => return false,
        };
        sides.into_iter().any(|node| self.node_reads_today(node))
    }

    fn node_reads_today(&self, node: NumberId) -> bool {
        let program = &self.judge.rules.program;
        match program.numbers.get(node).copied() {
            Some(Number::Today) => true,
            Some(
                number @ (Number::Add(..)
                | Number::Subtract(..)
                | Number::Multiply(..)
                | Number::Divide(..)
                | Number::Shift(..)),
            ) => program
                .children_of_number(number)
                .any(|child| matches!(child, Child::Number(node) if self.node_reads_today(node))),
            _ => false,
        }
    }

    /// The day being judged.
    fn day(&self) -> String {
        date_text(&self.evaluation.today_exact()).unwrap_or_default()
    }

    /// A worked-out number in the unit its facts were written in.
    pub(super) fn worked_out(&self, name: String, node: NumberId, frame: &mut Frame) -> Observed {
        let range: ExactInterval = self.evaluation.number(node, frame);
        let (mut value, mut typed) = (ObservedValue::NotYet, None);
        if range.is_everything() {
            return Observed { name, value, typed, place: None, evidence: Vec::new() };
        }
        match self.judge.rules.program.dimensions.get(node).copied().flatten() {
            None => {
                if let Some(text) = date_text(&range) {
                    value = ObservedValue::WorkedOut(text);
                    typed = self.as_data.then(|| TypedValue::date(&range));
                }
            }
            Some(dimension) => {
                value = ObservedValue::WorkedOutWithoutUnit;
                if let Some(unit) = self.told_in(node, dimension, &range, frame) {
                    value = ObservedValue::WorkedOut(show(&range, &unit));
                    typed = self.as_data.then(|| TypedValue::number(&range, Some(&unit)));
                }
            }
        }
        Observed { name, value, typed, place: None, evidence: Vec::new() }
    }

    /// What the log shows of a need.
    pub(super) fn proof_in_log(&self, entry: LoggedId) -> Proof {
        let logged = self.judge.rules.program.logged.get(entry);
        logged.map_or_else(
            || Proof::of(MissingCause::NoEntry),
            |logged| self.judge.logbook.proof_of(self.judge.rules, self.judge.record, logged),
        )
    }

    fn span(&self, node: ConditionId) -> Option<Span> {
        self.judge.rules.program.condition_spans.get(node).copied()
    }

    fn condition_text(&self, node: ConditionId) -> String {
        self.span(node).map(|span| self.text(span)).unwrap_or_default()
    }

    pub(super) fn number_text(&self, node: NumberId) -> String {
        self.judge.rules.program.number_spans.get(node).map(|span| self.text(*span)).unwrap_or_default()
    }

    pub(super) fn text(&self, span: Span) -> String {
        self.judge.rules.sources.one_line(span)
    }
}

fn set_clause(reason: &mut Reason, clause: Clause) {
    reason.clause = clause;
    reason.parts.iter_mut().for_each(|part| set_clause(part, clause));
}

pub(super) fn held(truth: Truth) -> Held {
    match truth {
        Truth::True => Held::True,
        Truth::False => Held::False,
        Truth::Undecided => Held::Undecided,
    }
}

/// A date, or the days it may be.
fn date_text(range: &ExactInterval) -> Option<String> {
    let day = |exact: Option<&Exact>| exact.and_then(day_text);
    match (day(range.lo()), day(range.hi())) {
        (Some(first), Some(last)) if first == last => Some(first),
        (Some(first), Some(last)) => Some(format!("{first} to {last}")),
        _ => None,
    }
}
