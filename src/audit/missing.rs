//! What would help to decide: facts, records, confirmations and entries, each
//! with its question and why it is wanted.

use super::cause::{MissingCause, MissingKind};
use super::explain::Explanation;
use super::finding::Missing;
use crate::eval::MissingInput;
use crate::ir::{Fact, List};
use crate::project::Recorded;

impl Explanation<'_> {
    /// What is missing, in names and questions.
    pub(super) fn missing(&self, input: &MissingInput, item_ask: &str) -> Option<Missing> {
        let of = |name: String, fact: &Fact, coarse: bool, recorded: Option<&Recorded>| Missing {
            kind: MissingKind::Fact,
            fact: name,
            ask: fact.ask.clone(),
            example: fact.example.clone(),
            why: if coarse {
                MissingCause::TooCoarse(recorded.map_or_else(String::new, |recorded| recorded.text.clone()))
            } else {
                MissingCause::NotRecorded
            },
        };
        match *input {
            MissingInput::Slot(slot, coarse) => {
                let (name, fact, recorded) = self.fact(slot)?;
                Some(of(name, fact, coarse, recorded))
            }
            MissingInput::Field { list, row, column, coarse } => {
                let (name, fact, recorded) = self.field(list, row, column)?;
                let missing = of(name, fact, coarse, recorded);
                let kept = self.judge.rules.list(list).is_some_and(List::derived);
                Some(if kept { from_log(missing) } else { missing })
            }
            MissingInput::List(list) => {
                let list = self.judge.rules.list(list)?;
                Some(Missing {
                    kind: if list.derived() { MissingKind::LogField } else { MissingKind::List },
                    fact: list.name.to_string(),
                    ask: list.ask.clone(),
                    example: None,
                    why: MissingCause::NoRecords,
                })
            }
            MissingInput::Confirmation(roles, about) => Some(Missing {
                kind: MissingKind::Confirmation,
                fact: "confirmed".to_owned(),
                ask: item_ask.to_owned().into(),
                example: None,
                why: self.proof_in_confirmations(roles, about).why,
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

/// What a list that the log keeps does not tell: nobody is asked for it.
fn from_log(missing: Missing) -> Missing {
    Missing { kind: MissingKind::LogField, why: MissingCause::LogLeavesOpen, example: None, ..missing }
}
