//! Conditions on texts, on what is recorded, on the day and on people's words.

use super::confirmation::{ConfirmationOutcome, ConfirmationRef, Confirmations};
use super::evaluate::Evaluation;
use super::facts::Text;
use crate::ir::{
    AboutId, AlikePart, AnyOperand, Calendar, ChoiceSet, Confirmed, ConfirmedId, Frame, InStore, NumberId, Operand,
    PatternId, Run, TextId, Texts,
};
use crate::project::LastDisturbed;
use crate::quantity::{Date, DateRange, ExactInterval, Truth};

impl Evaluation<'_> {
    pub(crate) fn fits(&self, operand: Operand<Texts>, pattern: PatternId, frame: &Frame) -> Truth {
        let text = self.facts.string(self.text(operand, frame));
        match (text, self.program.patterns.get(pattern)) {
            (Some(text), Some(pattern)) => pattern.form.fits(text).map_or(Truth::Undecided, Truth::from),
            _ => Truth::Undecided,
        }
    }

    /// The texts of `alike`, and whether any of them is not known.
    pub(crate) fn alike_texts(&self, parts: Run<AlikePart>, frame: &Frame) -> (Vec<TextId>, bool) {
        let (mut texts, mut open) = (Vec::new(), false);
        for part in self.program.alikes.get(parts) {
            match *part {
                AlikePart::One(operand) => texts.push(self.text(operand, frame)),
                AlikePart::Every { list, column } => {
                    let values = self.facts.lists.get(list);
                    let column = values.and_then(|list| list.texts.get(column));
                    open |= self.len(list) == 0 || !self.is_whole(list);
                    texts.extend(column.into_iter().flatten().copied());
                }
            }
        }
        open |= texts.contains(&Text::Unknown);
        (texts.into_iter().filter_map(Text::id).collect(), open)
    }

    pub(crate) fn alike(&self, parts: Run<AlikePart>, frame: &Frame) -> Truth {
        let (texts, open) = self.alike_texts(parts, frame);
        let differ = texts.windows(2).any(|pair| matches!(pair, [a, b] if a != b));
        if differ {
            return Truth::False;
        }
        if open || texts.len() < 2 { Truth::Undecided } else { Truth::True }
    }

    /// Whether two texts are one, but for capital and small letters.
    pub(crate) fn same_letters(&self, a: Text, b: Text) -> Truth {
        let small = |text| self.facts.string(text).map(str::to_lowercase);
        match (a.same(b), small(a).zip(small(b))) {
            (Truth::False, Some((a, b))) => Truth::from(a == b),
            (same, _) => same,
        }
    }

    pub(crate) fn absent(&self, operand: AnyOperand, frame: &Frame) -> Truth {
        match operand {
            InStore::Numbers(operand) => {
                let value = self.interval(operand, frame);
                if value.is_absent() {
                    Truth::True
                } else if value.is_everything() {
                    Truth::Undecided
                } else {
                    Truth::False
                }
            }
            InStore::Words(operand) => self.words(operand, frame).among(ChoiceSet::ABSENT),
            InStore::Texts(operand) => match self.text(operand, frame) {
                Text::Absent => Truth::True,
                Text::Unknown => Truth::Undecided,
                Text::Is(_) => Truth::False,
            },
        }
    }

    pub(crate) fn is_recorded(&self, operand: AnyOperand, frame: &Frame) -> bool {
        match operand {
            InStore::Numbers(operand) => !self.interval(operand, frame).is_everything(),
            InStore::Words(operand) => self.words(operand, frame).is_single(),
            InStore::Texts(operand) => self.text(operand, frame) != Text::Unknown,
        }
    }

    /// Not after today, and today no later than the span's end. Shifting keeps
    /// the order of dates, so two comparisons of ends decide it.
    pub(crate) fn within_last(&self, date: NumberId, span: Calendar, frame: &mut Frame) -> Truth {
        let when: ExactInterval = self.number(date, frame);
        let (Some((first, last)), Some((today_first, today_last))) = (when.days(), self.today_exact().days()) else {
            return Truth::Undecided;
        };
        let end = |days: i32| span.after(Date::from_days(days));
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
        holds(last <= today_first, first > today_last)
            .and(holds(today_last <= first_end.first.days(), today_first > last_end.last.days()))
    }

    /// Whether people in these roles have confirmed it, and nothing has
    /// disturbed what it is about since.
    pub(crate) fn confirmed(&self, need: ConfirmedId, frame: &mut Frame) -> Truth {
        let Some(need) = self.program.confirmed.get(need) else { return Truth::Undecided };
        self.outcome(need, frame).1.truth()
    }

    /// What those who are asked have said by the day, and what it comes to.
    pub(crate) fn outcome(&self, need: &Confirmed, frame: &mut Frame) -> (Confirmations<'_>, ConfirmationOutcome) {
        let words = Confirmations::by(self.day, self.confirmations, |word| word.is_asked(need));
        let mut later = |word: &ConfirmationRef<'_>| self.is_after(word.on, need.since, frame);
        let mut stands: Vec<bool> = Vec::with_capacity(words.last.len());
        for word in &words.last {
            stands.push(self.undisturbed(word, need.about) && later(word));
        }
        let stands: Vec<&ConfirmationRef<'_>> =
            words.last.iter().zip(stands).filter(|(_, stands)| *stands).map(|(word, _)| *word).collect();
        let outcome = words.outcome(|word| stands.iter().any(|one| std::ptr::eq(*one, word)));
        (words, outcome)
    }

    /// Whether a word was certainly given after all that disturbed what it is about.
    pub(crate) fn undisturbed(&self, word: &ConfirmationRef<'_>, about: Option<AboutId>) -> bool {
        let Some(about) = about else { return true };
        // Without a log nobody knows: never a guess.
        let disturbed = self.facts.disturbed.get(about);
        let by_time = |last: &LastDisturbed| {
            let on_that_day = word.on == DateRange::day(last.day);
            on_that_day && last.at.zip(word.at).is_some_and(|(disturbed, said)| disturbed < said)
        };
        disturbed.is_some_and(|last| last.is_none_or(|last| last.day < word.on.first || by_time(&last)))
    }
}
