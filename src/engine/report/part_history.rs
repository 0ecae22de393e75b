//! The history of one part, for a person: a line for all that happened to it, was said or was recorded, and below it what
//! undid it, or how much it undid.

use super::cause_sentences::through;
use super::wrap::Page;
use crate::audit::{PartEvent, PartEventKind, PartHistory, PartStanding};
use crate::project::{Entry, Record};

/// So many lines are told one by one, the latest.
const MOST: usize = 20;

/// What the log, the values and the words say of a part.
pub fn part_history(history: &PartHistory<'_>, record: &Record, part: &str, page: &mut Page) {
    let events = &history.events;
    if events.is_empty() {
        page.line(0, "Nothing is logged, said or recorded of it.");
        return;
    }
    page.line(0, "What was logged, said and recorded of it, in order:");
    let earlier = events.len().saturating_sub(MOST);
    if earlier > 0 {
        page.line(4, &format!("{earlier} earlier"));
    }
    for event in events.iter().skip(earlier) {
        let place = record.sources.place(event.place);
        let on = event.on.map_or_else(String::new, |on| format!("{on} "));
        page.hanging(4, 8, &format!("{on}{} ({place})", news(event, record, part)));
        for remark in remarks(event) {
            page.hanging(8, 10, &remark);
        }
    }
}

fn news(event: &PartEvent<'_>, record: &Record, part: &str) -> String {
    let person = |who: &str| record.people.get(who).map_or(who.to_owned(), |person| person.name.clone());
    match event.what {
        PartEventKind::Entry(entry) => {
            let of = if entry.subject == part { String::new() } else { format!(" {}", entry.subject) };
            let note = entry.note.as_ref().map_or_else(String::new, |note| format!(": {note}"));
            format!("{}{of}, {}{note}", entry.event.words(), person(&entry.who))
        }
        PartEventKind::Value(fact, recorded) => format!("recorded {} = {}", fact.name, recorded.told()),
        PartEventKind::Word(title, word) => {
            let so = if word.holds { "so" } else { "not so" };
            let of = word.subject.as_ref().map_or_else(String::new, |subject| format!(", {subject}"));
            format!("said to be {so}{of}, {}: {}", person(&word.who), title.trim_end_matches('.'))
        }
    }
}

fn remarks(event: &PartEvent<'_>) -> Vec<String> {
    let standing = match event.standing {
        PartStanding::Stands => None,
        PartStanding::Undone(by) => Some(format!("undone by {}", line(by))),
        PartStanding::Perhaps(by) => Some(format!("perhaps undone: nobody can tell whether {} came later", line(by))),
        PartStanding::Off(by) => Some(format!("does not count while the part is off: {}", line(by))),
        PartStanding::Weak => Some("shows nothing: the instrument is not known to have been in calibration".to_owned()),
        PartStanding::NotYet => Some("does not count yet: that day is not over on the day of this audit".to_owned()),
    };
    let through = through(&event.through).map(|how| format!("reaches it because {how}"));
    let undid = match event.undid {
        0 => None,
        1 => Some("undid one of these lines".to_owned()),
        many => Some(format!("undid {many} of these lines")),
    };
    standing.into_iter().chain(through).chain(undid).collect()
}

fn line(entry: &Entry) -> String {
    format!("{} {} on {}", entry.event.words(), entry.subject, entry.on)
}
