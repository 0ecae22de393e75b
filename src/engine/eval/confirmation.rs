//! What people's words about an item come to, where some of them are known
//! only to the month, others are of people who were not asked, and work has
//! been done since.

use crate::ir::{Confirmed, RoleId, RoleSet};
use crate::project::Confirmation;
use crate::quantity::{DateRange, Truth};
use serde::{Deserialize, Serialize};

/// A person's word, as far as the evaluator needs it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct ConfirmationRef<'r> {
    /// The role.
    pub(crate) role: RoleId,
    /// All roles of whoever spoke; `None` for somebody whom the project does not name.
    pub(crate) person: Option<RoleSet>,
    /// Whether it is a builder's, in a role in which no builder is heard.
    pub(crate) out_of_role: bool,
    /// The days it may have been given on.
    pub(crate) on: DateRange,
    /// The time on that day, where it was written.
    pub(crate) at: Option<u32>,
    /// Whether it is so.
    pub(crate) holds: bool,
    /// The confirmation itself.
    pub(crate) recorded: &'r Confirmation,
}

impl ConfirmationRef<'_> {
    /// Whether it was certainly given before another one of the same day, by the times of both.
    fn is_before_by_time(&self, other: &Self) -> bool {
        let on_one_day = self.on == other.on && self.on.first == self.on.last;
        on_one_day && self.at.zip(other.at).is_some_and(|(own, other)| own < other)
    }

    /// Whether it is by somebody who is asked.
    pub(crate) fn is_asked(&self, need: &Confirmed) -> bool {
        let somebody_else = || self.person.is_some_and(|roles| !roles.meets(need.other_than));
        !self.out_of_role && need.roles.hears(self.role) && (need.other_than == RoleSet::ANY || somebody_else())
    }
}

/// The words that may have been the last by a day.
#[derive(Debug)]
pub(crate) struct Confirmations<'w> {
    /// Of those who are asked.
    pub(crate) last: Vec<&'w ConfirmationRef<'w>>,
    /// Whether any of them has certainly spoken yet.
    surely: bool,
    /// Whether somebody who is not asked said no, then or later.
    doubted: bool,
    today: DateRange,
}

/// What people's words come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ConfirmationOutcome {
    /// Nobody who is asked has spoken yet.
    Nothing,
    /// Somebody may have: the days that are known begin before the audit, and end after it.
    NotYet,
    /// The last word of those asked is yes.
    Yes,
    /// It is no.
    No,
    /// It may be either: nobody knows which word was the last.
    Unclear,
    /// It is yes, and somebody who is not asked said no, perhaps later.
    Doubted,
    /// What it is about may have been disturbed since.
    Lapsed,
}

impl<'w> Confirmations<'w> {
    /// The latest word of those asked counts, in whatever order the days that
    /// are known allow: of two that may be of one day, either may be the last.
    ///
    /// The no of somebody else does not make it false. But what was said before
    /// it is no longer enough: somebody who is asked has to look again.
    pub(crate) fn by(
        today: DateRange,
        words: &'w [ConfirmationRef<'w>],
        asked: impl Fn(&ConfirmationRef<'_>) -> bool,
    ) -> Self {
        let surely = words.iter().filter(|word| asked(word) && word.on.last <= today.first);
        // Whatever was the last word, it was not before this day.
        let Some(newest) = surely.map(|word| word.on.first).max() else {
            let last = words.iter().filter(|word| asked(word) && word.on.first <= today.last).collect();
            return Self { last, surely: false, doubted: false, today };
        };
        let later =
            |word: &ConfirmationRef<'_>| words.iter().any(|other| asked(other) && word.is_before_by_time(other));
        let may_be_last = |word: &&ConfirmationRef<'_>| {
            word.on.first <= today.last && word.on.last.min(today.last) >= newest && !later(word)
        };
        let last = || words.iter().filter(may_be_last);
        let doubted = last().any(|word| !asked(word) && !word.holds);
        Self { last: last().filter(|word| asked(word)).collect(), surely: true, doubted, today }
    }

    /// What the words come to; `stands` says of one whether it was certainly
    /// given after all that disturbed what it is about.
    pub(crate) fn outcome(&self, stands: impl Fn(&ConfirmationRef<'_>) -> bool) -> ConfirmationOutcome {
        let any = |holds: bool| self.last.iter().any(|word| word.holds == holds);
        let counts = |word: &&&ConfirmationRef<'_>| word.on.last <= self.today.first && stands(word);
        match (any(true), any(false)) {
            (false, false) => ConfirmationOutcome::Nothing,
            _ if !self.surely => ConfirmationOutcome::NotYet,
            (true, true) => ConfirmationOutcome::Unclear,
            _ if !self.last.iter().any(|word| counts(&word)) => ConfirmationOutcome::Lapsed,
            (false, true) => ConfirmationOutcome::No,
            (true, false) if self.doubted => ConfirmationOutcome::Doubted,
            (true, false) => ConfirmationOutcome::Yes,
        }
    }
}

impl ConfirmationOutcome {
    /// Whether it is confirmed.
    pub(crate) fn truth(self) -> Truth {
        match self {
            Self::Yes => Truth::True,
            Self::No => Truth::False,
            Self::Nothing | Self::NotYet | Self::Unclear | Self::Doubted | Self::Lapsed => Truth::Undecided,
        }
    }
}
