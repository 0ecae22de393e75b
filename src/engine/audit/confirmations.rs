//! What people's words show of a need, told: the word that counts, or what
//! has become of it and what undid it.

use super::cause::{EntryState, MissingCause, Note};
use super::explain::Explanation;
use super::finding::{Lapse, LineKind, LogLine};
use super::proof::{Proof, entry_ref, log_line, seen};
use crate::eval::ConfirmationOutcome;
use crate::eval::ConfirmationRef;
use crate::ir::{AboutId, ConfirmedId, Frame};
use crate::lapse::{EntryStanding, StateOf};
use crate::project::Confirmation;
use std::collections::BTreeSet;

/// At most so many words are told.
const MOST: usize = 4;

impl Explanation<'_> {
    /// Tells what was said by the allowed roles, and how it stands.
    pub(super) fn proof_in_confirmations(&self, need: ConfirmedId, frame: &mut Frame) -> Proof {
        let mut proof = Proof::of(MissingCause::Confirmed);
        let Some(need) = self.judge.rules.program.confirmed.get(need) else { return proof };
        let (confirmations, said) = self.evaluation.outcome(need, frame);
        let about = need.about;
        proof.notes.push(Note::Confirmation(said));
        let words = self.evaluation.confirmations.iter();
        let passed_over = words.filter(|word| need.roles.hears(word.role) && !word.is_asked(need));
        let names: BTreeSet<&str> = passed_over.map(|word| word.recorded.who.as_str()).collect();
        if !names.is_empty() {
            proof.notes.push(Note::NotSomebodyElse(names.into_iter().map(str::to_owned).collect()));
        }
        proof.why = match said {
            ConfirmationOutcome::Nothing if self.evaluation.confirmations.is_empty() => MissingCause::NoConfirmation,
            ConfirmationOutcome::Nothing | ConfirmationOutcome::Doubted => MissingCause::NoneSettles,
            ConfirmationOutcome::NotYet => {
                self.become_of(&confirmations.last, about, &mut proof);
                MissingCause::PerhapsToCome
            }
            ConfirmationOutcome::Unclear | ConfirmationOutcome::Lapsed => {
                self.become_of(&confirmations.last, about, &mut proof)
            }
            ConfirmationOutcome::Yes | ConfirmationOutcome::No => {
                self.words_that_count(&confirmations.last, &mut proof);
                MissingCause::Confirmed
            }
        };
        proof
    }

    /// Adds the words on which it rests: by whom, on which day, and where.
    fn words_that_count(&self, last: &[&ConfirmationRef<'_>], proof: &mut Proof) {
        for word in last.iter().map(|word| word.recorded).take(MOST) {
            let state = if word.holds { EntryState::ItIsSo } else { EntryState::ItIsNotSo };
            proof.values.push(seen(self.confirmation_line(word), state));
        }
    }

    /// Adds what became of each word, and says why none of them counts.
    fn become_of(&self, last: &[&ConfirmationRef<'_>], about: Option<AboutId>, proof: &mut Proof) -> MissingCause {
        let judge = self.judge;
        let parts = about.and_then(|about| judge.rules.program.abouts.get(about)).map_or(&[][..], Vec::as_slice);
        let mut unclear = None;
        for word in last.iter().map(|word| word.recorded).take(MOST) {
            let line = self.confirmation_line(word);
            let (standing, part) = judge.logbook.standing_of_word(word, parts);
            let state = match standing {
                EntryStanding::Lapsed(by) => {
                    let undone_by = log_line(judge.record, by);
                    proof.lapses.push(Lapse {
                        shown: line,
                        undone_by,
                        through: judge.logbook.how(by, StateOf::looked_at(part)),
                    });
                    continue;
                }
                EntryStanding::Unclear(other) | EntryStanding::Undated(other) => {
                    let other = entry_ref(judge.record, other);
                    unclear = unclear.or(Some(MissingCause::UnclearSince(other.clone())));
                    EntryState::UnclearOrder(other)
                }
                EntryStanding::Off(by) => {
                    let by = entry_ref(judge.record, by);
                    unclear = unclear.or(Some(MissingCause::Off(by.clone())));
                    EntryState::Off(by)
                }
                EntryStanding::NotYet => EntryState::UnclearBeforeAudit,
                EntryStanding::Counts | EntryStanding::Weak if word.holds => EntryState::ItIsSo,
                EntryStanding::Counts | EntryStanding::Weak => EntryState::ItIsNotSo,
            };
            proof.values.push(seen(line, state));
        }
        if last.windows(2).any(|two| matches!(two, [one, other] if one.holds != other.holds)) {
            MissingCause::Contradicting
        } else {
            unclear.unwrap_or(MissingCause::ConfirmationLapsed)
        }
    }

    /// A person's word as a line of the log is told.
    fn confirmation_line(&self, word: &Confirmation) -> LogLine {
        let of = word.subject.as_ref().map_or_else(String::new, |subject| format!(" of {subject}"));
        LogLine {
            kind: LineKind::Confirmation,
            on: word.on.to_string(),
            event: if word.holds { "confirmed" } else { "confirmed not" }.to_owned(),
            subject: format!("{}{of}", word.item),
            who: word.who.clone(),
            role: word.role.clone(),
            note: word.note.clone(),
            place: self.judge.record.sources.place(word.place),
            evidence: Vec::new(),
        }
    }
}
