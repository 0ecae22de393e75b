//! Why a sum of a date and months is undecided though the date is known: that
//! month has no such day.

use super::cause::Note;
use super::explain::Explanation;
use crate::ir::{Calendar, Child, Condition, Frame, Number, NumberId};
use crate::quantity::{Date, ExactInterval};

impl Explanation<'_> {
    /// The two days that a comparison with a known date may mean.
    pub(super) fn either_day(&self, condition: Condition, frame: &mut Frame) -> Option<Note> {
        match condition {
            Condition::WithinLast(date, by) => self.either_day_after(date, by, frame),
            Condition::Compare { left, right, .. } | Condition::Equal(left, right) => {
                self.either_day_in(left, frame).or_else(|| self.either_day_in(right, frame))
            }
            _ => None,
        }
    }

    fn either_day_in(&self, node: NumberId, frame: &mut Frame) -> Option<Note> {
        let program = &self.judge.rules.program;
        let number = program.numbers.get(node).copied()?;
        if let Number::Shift(date, by) = number
            && let Some(note) = self.either_day_after(date, by, frame)
        {
            return Some(note);
        }
        program.children_of_number(number).find_map(|child| match child {
            Child::Number(node) => self.either_day_in(node, frame),
            _ => None,
        })
    }

    fn either_day_after(&self, date: NumberId, by: Calendar, frame: &mut Frame) -> Option<Note> {
        let (first, last) = self.evaluation.number::<ExactInterval>(date, frame).days()?;
        let days = by.after(Date::from_days(first)).filter(|days| first == last && days.first != days.last)?;
        Some(Note::EitherDay(days.first.to_string(), days.last.to_string()))
    }
}
