//! Conditions on texts, on what is recorded, on the day and on people's words.

use super::confirmation::Heard;
use super::evaluate::{Evaluation, Word, among};
use super::facts::{ABSENT_TEXT, UNKNOWN_TEXT};
use crate::ir::{ABSENT_WORD, AlikePart, Calendar, Frame, NO_NODE, Operand, Store};
use crate::quantity::{Date, Range, Truth};

impl Evaluation<'_> {
    pub(crate) fn fits(&self, operand: Operand, pattern: u32, frame: &Frame) -> Truth {
        let text = self.facts.string(self.text(operand, frame));
        match (text, self.program.patterns.get(pattern as usize)) {
            (Some(text), Some(pattern)) => Truth::from(pattern.form.fits(text)),
            _ => Truth::Undecided,
        }
    }

    /// The texts of `alike`, and whether any of them is not known.
    pub(crate) fn alike_texts(&self, start: u32, len: u32, frame: &Frame) -> (Vec<u32>, bool) {
        let (mut texts, mut open) = (Vec::new(), false);
        let from = start as usize;
        for part in self.program.alikes.get(from..from.saturating_add(len as usize)).unwrap_or(&[]) {
            match *part {
                AlikePart::One(operand) => texts.push(self.text(operand, frame)),
                AlikePart::Every { list, column } => {
                    let values = self.facts.lists.get(list as usize);
                    let column = values.and_then(|list| list.texts.get(column as usize));
                    let len = values.and_then(|list| list.len);
                    open |= len.unwrap_or(0) == 0;
                    texts.extend(column.into_iter().flatten().copied());
                }
            }
        }
        open |= texts.contains(&UNKNOWN_TEXT);
        texts.retain(|text| *text != UNKNOWN_TEXT && *text != ABSENT_TEXT);
        (texts, open)
    }

    pub(crate) fn alike(&self, start: u32, len: u32, frame: &Frame) -> Truth {
        let (texts, open) = self.alike_texts(start, len, frame);
        let differ = texts.windows(2).any(|pair| matches!(pair, [a, b] if a != b));
        if differ {
            return Truth::False;
        }
        if open || texts.len() < 2 { Truth::Undecided } else { Truth::True }
    }

    /// Whether two texts are one, but for capital and small letters.
    pub(crate) fn same_letters(&self, a: u32, b: u32) -> Truth {
        let small = |id| self.facts.string(id).map(str::to_lowercase);
        match (same_text(a, b), small(a).zip(small(b))) {
            (Truth::False, Some((a, b))) => Truth::from(a == b),
            (same, _) => same,
        }
    }

    pub(crate) fn absent(&self, store: Store, operand: Operand, frame: &Frame) -> Truth {
        match store {
            Store::Numbers => {
                let value = self.interval(operand, frame);
                if value.is_absent() {
                    Truth::True
                } else if value.is_everything() {
                    Truth::Undecided
                } else {
                    Truth::False
                }
            }
            Store::Words => among(self.words(operand, frame), ABSENT_WORD),
            Store::Texts => match self.text(operand, frame) {
                ABSENT_TEXT => Truth::True,
                UNKNOWN_TEXT => Truth::Undecided,
                _ => Truth::False,
            },
        }
    }

    pub(crate) fn is_recorded(&self, store: Store, operand: Operand, frame: &Frame) -> bool {
        match store {
            Store::Numbers => !self.interval(operand, frame).is_everything(),
            Store::Words => self.words(operand, frame).count_ones() == 1,
            Store::Texts => self.text(operand, frame) != UNKNOWN_TEXT,
        }
    }

    /// Not after today, and today no later than the span's end. Shifting keeps
    /// the order of dates, so two comparisons of ends decide it.
    pub(crate) fn within_last(&self, date: u32, span: Calendar, frame: &mut Frame) -> Truth {
        let when: Range = self.number(date, frame);
        let (Some((first, last)), Some((today_first, today_last))) = (when.days(), self.today_exact().days()) else {
            return Truth::Undecided;
        };
        let end = |days: i32| {
            let date = Date::from_days(days);
            match span {
                Calendar::MonthEnd(n) => date.end_of_month_after(n),
                Calendar::Months(n) => date.add_months(n),
                Calendar::Days(n) => date.add_days(n),
            }
            .map(Date::days)
        };
        let (Some(first_end), Some(last_end)) = (end(first), end(last)) else { return Truth::Undecided };
        let holds = |all: bool, none: bool| {
            if all {
                Truth::True
            } else if none {
                Truth::False
            } else {
                Truth::Undecided
            }
        };
        holds(last <= today_first, first > today_last).and(holds(today_last <= first_end, today_first > last_end))
    }

    /// Whether people in these roles have confirmed it, and nothing has
    /// disturbed what it is about since.
    pub(crate) fn confirmed(&self, roles: u64, about: u32) -> Truth {
        self.heard(roles).said(|word| self.undisturbed(word, about)).truth()
    }

    /// What people in these roles have said by the day, anybody for none.
    pub(crate) fn heard(&self, roles: u64) -> Heard<'_> {
        let asked = |word: &Word| roles == 0 || roles & (1u64 << word.role.min(63)) != 0;
        Heard::by(self.day, self.confirmations, asked)
    }

    /// Whether a word was certainly given after all that disturbed what it is about.
    pub(crate) fn undisturbed(&self, word: &Word, about: u32) -> bool {
        if about == NO_NODE {
            return true;
        }
        // Without a log nobody knows: never a guess.
        let disturbed = self.facts.disturbed.get(about as usize);
        disturbed.is_some_and(|day| day.is_none_or(|day| day < word.on.first))
    }
}

pub(crate) fn same_words(a: u64, b: u64) -> Truth {
    if (a | b) & ABSENT_WORD != 0 {
        Truth::Undecided
    } else if a == b && a.count_ones() == 1 {
        Truth::True
    } else if a & b == 0 {
        Truth::False
    } else {
        Truth::Undecided
    }
}

pub(crate) fn same_text(a: u32, b: u32) -> Truth {
    if a >= ABSENT_TEXT || b >= ABSENT_TEXT { Truth::Undecided } else { Truth::from(a == b) }
}
