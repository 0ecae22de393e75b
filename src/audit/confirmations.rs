//! What people's words show of a need, told: the word that counts, or what
//! has become of it and what undid it.

use super::explain::Explanation;
use super::finding::{CONFIRMED, CONFIRMED_NOT, Lapse, Seen, Told};
use super::lapses::{Shown, told};
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
        let mut shown = Shown::default();
        let heard = self.evaluation.heard(roles);
        let said = heard.said(|word| self.evaluation.undisturbed(word, about));
        shown.note = Some(said.note().to_owned());
        shown.why = match said {
            Said::Nothing if self.evaluation.confirmations.is_empty() => {
                "no recorded confirmation with who, role and day".to_owned()
            }
            Said::Nothing | Said::Doubted => {
                "no recorded word settles it; a later one by somebody who is asked would".to_owned()
            }
            Said::NotYet => {
                self.become_of(&heard.last, about, &mut shown);
                "recorded, but perhaps for a day still to come: write the day itself".to_owned()
            }
            Said::Unclear | Said::Lapsed => self.become_of(&heard.last, about, &mut shown),
            Said::Yes | Said::No => String::new(),
        };
        shown
    }

    /// Adds what became of each word, and says why none of them counts.
    fn become_of(&self, last: &[&Word], about: Option<AboutId>, shown: &mut Shown) -> String {
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
                        through: part.and_then(|part| judge.logbook.how(by, part)),
                    });
                    continue;
                }
                Standing::Unclear(other) => {
                    let (event, subject, on) = (other.event.words(), &other.subject, other.on);
                    let other = format!("{event} {subject}, {on} ({})", self.sources.place(other.place));
                    let state = format!("not clear whether before or after: {other}");
                    unclear = unclear.or(Some(format!("to be confirmed again; {state}")));
                    state
                }
                Standing::NotYet => "not clear whether before the audit date".to_owned(),
                Standing::Counts | Standing::Weak => if word.holds { "it is so" } else { "it is not so" }.to_owned(),
            };
            shown.values.push(Seen {
                name: format!("{} {} by {}, {}", line.event, line.subject, line.who, line.role),
                value: format!("{}; {state}", line.on),
                place: Some(line.place),
            });
        }
        if last.windows(2).any(|two| matches!(two, [one, other] if one.holds != other.holds)) {
            "to be confirmed again: nobody knows which of the words that contradict each other came last".to_owned()
        } else {
            unclear.unwrap_or_else(|| "to be confirmed again: what had been confirmed has lapsed".to_owned())
        }
    }

    /// A person's word as a line of the log is told.
    fn told_word(&self, word: &Confirmation) -> Told {
        let of = word.subject.as_ref().map_or_else(String::new, |subject| format!(" of {subject}"));
        Told {
            on: word.on.to_string(),
            event: if word.holds { CONFIRMED } else { CONFIRMED_NOT }.to_owned(),
            subject: format!("{}{of}", word.item),
            who: word.who.clone(),
            role: word.role.clone(),
            note: word.note.clone(),
            place: self.sources.place(word.place),
        }
    }
}
