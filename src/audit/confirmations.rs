//! What people's words show of a need, told: the word that counts, or what
//! has become of it and what undid it.

use super::cause::{EntryState, MissingCause, Note};
use super::explain::Explanation;
use super::finding::{Lapse, LineKind, Told};
use super::lapses::{Shown, line as log_line, seen, told};
use crate::eval::Said;
use crate::eval::Word;
use crate::ir::{AboutId, RoleSet};
use crate::lapse::Standing;
use crate::project::Confirmation;

/// At most so many words are told.
const MOST: usize = 4;

impl Explanation<'_> {
    /// Tells what was said by the allowed roles, and how it stands.
    pub(super) fn spoken(&self, roles: RoleSet, about: Option<AboutId>) -> Shown {
        let heard = self.evaluation.heard(roles);
        let said = heard.said(|word| self.evaluation.undisturbed(word, about));
        let mut shown = Shown::of(MissingCause::Confirmed);
        shown.notes.push(Note::Confirmation(said));
        shown.why = match said {
            Said::Nothing if self.evaluation.confirmations.is_empty() => MissingCause::NoConfirmation,
            Said::Nothing | Said::Doubted => MissingCause::NoneSettles,
            Said::NotYet => {
                self.become_of(&heard.last, about, &mut shown);
                MissingCause::PerhapsToCome
            }
            Said::Unclear | Said::Lapsed => self.become_of(&heard.last, about, &mut shown),
            Said::Yes | Said::No => MissingCause::Confirmed,
        };
        shown
    }

    /// Adds what became of each word, and says why none of them counts.
    fn become_of(&self, last: &[&Word], about: Option<AboutId>, shown: &mut Shown) -> MissingCause {
        let judge = self.judge;
        let parts = about.and_then(|about| judge.rules.program.abouts.get(about)).map_or(&[][..], Vec::as_slice);
        let mut unclear = None;
        let given = last.iter().filter_map(|word| judge.record.confirmations.get(word.at));
        for word in given.take(MOST) {
            let line = self.told_word(word);
            let (standing, part) = judge.logbook.standing_of_word(word, parts);
            let state = match standing {
                Standing::Lapsed(by) => {
                    let undone_by = told(judge.record, self.sources, by);
                    shown.lapses.push(Lapse {
                        shown: line,
                        undone_by,
                        through: part.map(|part| judge.logbook.how(by, part)).unwrap_or_default(),
                    });
                    continue;
                }
                Standing::Unclear(other) => {
                    let other = log_line(self.sources, other);
                    unclear = unclear.or(Some(MissingCause::UnclearSince(other.clone())));
                    EntryState::UnclearOrder(other)
                }
                Standing::NotYet => EntryState::UnclearBeforeAudit,
                Standing::Counts | Standing::Weak if word.holds => EntryState::ItIsSo,
                Standing::Counts | Standing::Weak => EntryState::ItIsNotSo,
            };
            shown.values.push(seen(line, state));
        }
        if last.windows(2).any(|two| matches!(two, [one, other] if one.holds != other.holds)) {
            MissingCause::Contradicting
        } else {
            unclear.unwrap_or(MissingCause::ConfirmationLapsed)
        }
    }

    /// A person's word as a line of the log is told.
    fn told_word(&self, word: &Confirmation) -> Told {
        let of = word.subject.as_ref().map_or_else(String::new, |subject| format!(" of {subject}"));
        Told {
            kind: LineKind::Confirmation,
            on: word.on.to_string(),
            event: if word.holds { "confirmed" } else { "confirmed not" }.to_owned(),
            subject: format!("{}{of}", word.item),
            who: word.who.clone(),
            role: word.role.clone(),
            note: word.note.clone(),
            place: self.sources.place(word.place),
        }
    }
}
