//! What people's words about an item come to, where some of them are known
//! only to the month and others are of people who were not asked.

use super::evaluate::Word;
use crate::measure::{DateRange, Truth};

/// What was heard by a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Heard {
    /// Nobody who is asked has certainly spoken yet.
    Nobody,
    /// The last word of those asked is yes.
    Yes,
    /// It is no.
    No,
    /// It may be either: nobody knows which word was the last.
    Unclear,
    /// It is yes, and somebody who is not asked said no, perhaps later.
    Doubted,
}

impl Heard {
    /// The latest word of those asked counts, in whatever order the days that
    /// are known allow: of two that may be of one day, either may be the last.
    ///
    /// The no of somebody else does not make it false. But what was said before
    /// it is no longer enough: somebody who is asked has to look again.
    pub(super) fn by(today: DateRange, words: &[Word], asked: impl Fn(&Word) -> bool) -> Self {
        let surely = words.iter().filter(|word| asked(word) && word.on.last <= today.first);
        // Whatever was the last word, it was not before this day.
        let Some(newest) = surely.map(|word| word.on.first).max() else { return Self::Nobody };
        let may_be_last = |word: &&Word| word.on.first <= today.last && word.on.last.min(today.last) >= newest;
        let last = || words.iter().filter(may_be_last);
        let said = |holds: bool| last().any(|word| asked(word) && word.holds == holds);
        match (said(true), said(false)) {
            (true, true) => Self::Unclear,
            (false, _) => Self::No,
            (true, false) if last().any(|word| !asked(word) && !word.holds) => Self::Doubted,
            (true, false) => Self::Yes,
        }
    }

    /// Whether it is confirmed.
    pub(super) fn truth(self) -> Truth {
        match self {
            Self::Yes => Truth::True,
            Self::No => Truth::False,
            Self::Nobody | Self::Unclear | Self::Doubted => Truth::Undecided,
        }
    }

    /// For the reader of a report.
    pub(super) fn note(self) -> &'static str {
        match self {
            Self::Nobody => "nobody entitled has confirmed it",
            Self::Yes | Self::No => "a person's recorded word",
            Self::Unclear => "some say yes, some no, and the days do not tell which was the last word",
            Self::Doubted => {
                "confirmed, but somebody who is not asked said no, then or later: look again, and record a new word"
            }
        }
    }
}
