//! What is asked of each record says something of it: a part of a body or of a
//! `where` that reads no record is as true of one as of the next, and was meant
//! to stand outside.

use super::super::checker::Checker;
use super::Scope;
use crate::diagnostic::Diagnostic;
use crate::ir::{Child, Condition, ConditionId, InStore, LoopId, MAX_FRAMES, Number, Operand, Sameness};
use crate::source::Span;
use crate::syntax::ast::{Expr, ExprKind, Name};

/// A set of loops, a bit for each: those whose record something reads. A bit each for what else may differ.
pub(in crate::check) type Records = u8;

/// Something hangs on the day that is judged.
const DAY: Records = 1 << 6;
/// Something hangs on what people say of the item, or of its record.
const WORD: Records = 1 << 7;

const _: () = assert!(1 << MAX_FRAMES <= DAY, "a bit for each loop");

/// Where a loop or a lookup comes to the same that reads these.
pub(super) fn sameness(read: Records) -> Sameness {
    match read {
        0 => Sameness::Always,
        DAY => Sameness::OnADay,
        _ => Sameness::Never,
    }
}

/// Where a condition stands that is asked of each record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    Where,
    Has,
}

fn only(of: LoopId) -> Records {
    u32::try_from(of.index()).ok().and_then(|bit| Records::checked_shl(1, bit)).unwrap_or_default()
}

fn of_operand<S>(operand: Operand<S>) -> Records {
    match operand {
        Operand::Field { frame, .. } => only(frame),
        Operand::Slot(_) | Operand::Constant(_) => 0,
    }
}

impl Checker {
    pub(super) fn records_of_number(&self, number: Number) -> Records {
        let day = if matches!(number, Number::Today) { DAY } else { 0 };
        day | self.records_of(self.rules.program.children_of_number(number))
    }

    pub(super) fn records_of_condition(&self, condition: Condition) -> Records {
        let itself = match condition {
            Condition::Confirmed { .. } => WORD,
            Condition::WithinLast(..) => DAY,
            _ => 0,
        };
        itself | self.records_of(self.rules.program.children_of_condition(condition))
    }

    /// The records that these read, but for that of their own loop.
    fn records_of(&self, children: impl Iterator<Item = Child>) -> Records {
        let (mut read, mut own) = (0, 0);
        for child in children {
            read |= match child {
                Child::Condition(node) => self.records_read_by(node),
                Child::Number(node) | Child::IfEmpty(node) => {
                    self.read_records.0.get(node).copied().unwrap_or_default()
                }
                Child::Records(over) => {
                    own |= only(over.frame);
                    over.condition.map_or(0, |condition| self.records_read_by(condition))
                }
                Child::Read(InStore::Numbers(operand)) => of_operand(operand),
                Child::Read(InStore::Words(operand)) => of_operand(operand),
                Child::Read(InStore::Texts(operand)) => of_operand(operand),
                Child::Column { .. } => 0,
            };
        }
        read & !own
    }

    fn records_read_by(&self, condition: ConditionId) -> Records {
        self.read_records.1.get(condition).copied().unwrap_or_default()
    }

    /// An error for each part of a condition asked of each record that reads
    /// neither this record nor one of a loop around it.
    pub(super) fn each_part_reads_a_record(
        &mut self,
        expr: &Expr,
        node: ConditionId,
        part: Part,
        (record, scope): (&Name, &Scope),
    ) {
        let program = &self.rules.program;
        let below: Vec<(&Expr, ConditionId)> = match (&expr.kind, program.conditions.get(node)) {
            (ExprKind::And(exprs), Some(Condition::And(nodes))) | (ExprKind::Or(exprs), Some(Condition::Or(nodes))) => {
                exprs.iter().zip(program.arguments.get(*nodes).iter().copied()).collect()
            }
            (ExprKind::Not(expr), Some(Condition::Not(node))) => vec![(&**expr, *node)],
            _ => Vec::new(),
        };
        if below.is_empty() && self.records_read_by(node) & !(DAY | WORD) == 0 {
            self.says_nothing_of(record, part, expr.span, scope);
        }
        for (expr, node) in below {
            self.each_part_reads_a_record(expr, node, part, (record, scope));
        }
    }

    fn says_nothing_of(&mut self, record: &Name, part: Part, span: Span, scope: &Scope) {
        let around = scope.loops.iter().filter(|(name, _)| !name.is_empty() && *name != record.text);
        let around: Vec<String> = around.map(|(name, _)| format!("`{name}`")).collect();
        let of = match around.as_slice() {
            [] => format!("`{}`", record.text),
            around => format!("`{}` or {}", record.text, around.join(" or ")),
        };
        let (behind, outside) = match part {
            Part::Where => ("where", "outside, with parentheses around what the `where` belongs to"),
            Part::Has => ("has", "in front of `every` or `some`, or behind parentheses around all of it"),
        };
        let message = format!("this part of what stands behind `{behind}` says nothing of {of}");
        let message = Diagnostic::error("list::not-of-the-record", message)
            .at(span, "the same for every record")
            .at(record.span, "the record")
            .help(format!("what stands behind `{behind}` reaches to the end of the clause: write this {outside}"));
        // A formula is checked by itself, and again wherever it is called.
        if !self.messages.iter().any(|told| told.code == message.code && told.labels == message.labels) {
            self.error(message);
        }
    }
}
