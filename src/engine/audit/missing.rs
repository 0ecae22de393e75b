//! What would help to decide: facts, records, confirmations and entries, each
//! with its question and why it is wanted.

use super::cause::{MissingCause, MissingKind};
use super::explain::Explanation;
use super::finding::Missing;
use super::proof::entry_ref;
use super::undone::Read;
use crate::eval::MissingInput;
use crate::ir::{Frame, List, ListId};
use crate::lapse::Wholeness;
use crate::project::Recorded;

impl Explanation<'_> {
    /// What is missing, in names and questions.
    pub(super) fn missing(&self, input: &MissingInput, item_ask: &str, frame: &mut Frame) -> Option<Missing> {
        let of = |read: Read<'_>, coarse: bool| Missing {
            kind: MissingKind::Fact,
            why: if coarse {
                MissingCause::TooCoarse(read.recorded.map_or_else(String::new, Recorded::told))
            } else {
                self.why_again(&read).unwrap_or(MissingCause::NotRecorded)
            },
            fact: read.name,
            ask: read.fact.ask.clone(),
            example: read.fact.example.clone(),
        };
        match *input {
            MissingInput::Slot(slot, coarse) => Some(of(self.fact(slot)?, coarse)),
            MissingInput::Field { list, row, column, coarse } => {
                let missing = of(self.field(list, row, column)?, coarse);
                let kept = self.judge.rules.list(list).is_some_and(List::derived);
                Some(if kept { from_log(missing) } else { missing })
            }
            MissingInput::List(list) if self.judge.rules.list(list)?.derived() => self.whole_word(list),
            MissingInput::List(list) => {
                let list = self.judge.rules.list(list)?;
                Some(Missing {
                    kind: MissingKind::List,
                    fact: list.name.to_string(),
                    ask: list.ask.clone(),
                    example: None,
                    why: MissingCause::NoRecords,
                })
            }
            MissingInput::Whole(list) => self.whole_word(list),
            MissingInput::Confirmation(need) => Some(Missing {
                kind: MissingKind::Confirmation,
                fact: "confirmed".to_owned(),
                ask: item_ask.to_owned().into(),
                example: None,
                why: self.proof_in_confirmations(need, frame).why,
            }),
            MissingInput::Entry(entry) => {
                let logged = self.judge.rules.program.logged.get(entry)?;
                let people =
                    if logged.people > 1 { format!(" by {} different people", logged.people) } else { String::new() };
                let (event, part) = (logged.event.words(), &logged.subject);
                Some(Missing {
                    kind: MissingKind::LogEntry,
                    fact: format!("{event} {part}"),
                    ask: format!("Has `{part}` been {event}{people} since it was last disturbed?").into(),
                    example: Some(format!("cotterpin log {event} {part}").into()),
                    why: self.proof_in_log(entry).why,
                })
            }
        }
    }
}

impl Explanation<'_> {
    /// The word that a list is whole, or the log that it comes from.
    pub(super) fn whole_word(&self, id: ListId) -> Option<Missing> {
        let judge = self.judge;
        let list = judge.rules.list(id)?;
        Some(Missing {
            kind: MissingKind::Whole,
            fact: judge.list_or_log(id)?.to_string(),
            ask: list.ask.clone(),
            example: None,
            why: match judge.lists.get(id)? {
                Wholeness::Whole | Wholeness::Unsaid => MissingCause::NotSaidWhole,
                Wholeness::NotYet => MissingCause::WholePerhapsToCome,
                Wholeness::Differs { came, went } => {
                    MissingCause::WholeOfOthers { came: came.clone(), went: went.clone() }
                }
                Wholeness::OtherEntries { said, now } => MissingCause::WholeOfOtherEntries { said: *said, now: *now },
                Wholeness::LaterEntry(entry) => MissingCause::WholeBefore(entry_ref(judge.record, entry)),
                Wholeness::Undone(entry) => MissingCause::WholeUndone(entry_ref(judge.record, entry)),
            },
        })
    }
}

/// What a list that the log keeps does not tell: nobody is asked for it.
fn from_log(missing: Missing) -> Missing {
    Missing { kind: MissingKind::LogField, why: MissingCause::LogLeavesOpen, example: None, ..missing }
}
