//! What the first form of a saved audit says in sentences, as the types of
//! now. The sentences are those of the version that wrote them, and stay.

use super::saved::{Aside, Leave, SavedLapse, SavedLine};
use crate::audit::{MissingCause, ObservedValue};

const NOT_RECORDED: &str = "not recorded";

/// A recorded value, or one worked out.
pub(super) fn value(text: String, worked_out: bool) -> ObservedValue {
    let records = text.strip_suffix(" records").and_then(|count| count.parse().ok());
    match text.as_str() {
        NOT_RECORDED => ObservedValue::NotRecorded,
        "cannot be worked out yet" => ObservedValue::NotYet,
        _ if worked_out => ObservedValue::WorkedOut(text),
        _ => records.map_or(ObservedValue::Recorded(text), ObservedValue::Records),
    }
}

/// Why something was missing. A reason that names lines of files keeps its words.
pub(super) fn missing_cause(text: String) -> MissingCause {
    let coarse = || text.strip_prefix("recorded as ")?.strip_suffix(", which is too coarse to decide");
    match text.as_str() {
        NOT_RECORDED | "" => MissingCause::NotRecorded,
        "no records" => MissingCause::NoRecords,
        "no log entry" => MissingCause::NoEntry,
        "what the log had shown has lapsed" => MissingCause::EntryLapsed,
        "to be confirmed again: what had been confirmed has lapsed" => MissingCause::ConfirmationLapsed,
        "no recorded confirmation with who, role and day" => MissingCause::NoConfirmation,
        "no such evidence is named" => MissingCause::NoEvidence,
        "no recorded word settles it; a later one by somebody who is asked would" => MissingCause::NoneSettles,
        "recorded, but perhaps for a day still to come: write the day itself" => MissingCause::PerhapsToCome,
        "to be confirmed again: nobody knows which of the words that contradict each other came last" => {
            MissingCause::Contradicting
        }
        "the log leaves it open: write the day and time of the entries, or log what is missing" => {
            MissingCause::LogLeavesOpen
        }
        _ => coarse().map(|value| MissingCause::TooCoarse(value.to_owned())).unwrap_or(MissingCause::Worded(text)),
    }
}

/// `adjusted a.b on 2026-09-20 by Rosa Example, undone by opened c on 2026-10-01 by Rosa Example`.
pub(super) fn lapse(text: &str) -> Option<SavedLapse> {
    let (shown, undone_by) = text.split_once(", undone by ")?;
    Some(SavedLapse { shown: line(shown)?, undone_by: line(undone_by)? })
}

fn line(text: &str) -> Option<SavedLine> {
    let (what, rest) = text.split_once(" on ")?;
    let (on, who) = rest.split_once(" by ")?;
    Some(SavedLine { what: what.to_owned(), on: on.to_owned(), who: who.to_owned() })
}

/// `Rosa Example (builder) gave leave from 2026-09-01 until 2026-12-01: the reason`.
pub(super) fn leave(text: &str) -> Option<Leave> {
    let (by, rest) = text.split_once(" gave leave from ")?;
    let (granted_by, role) = by.strip_suffix(')')?.rsplit_once(" (")?;
    let (on, rest) = rest.split_once(" until ")?;
    let (until, reason) = rest.split_once(": ")?;
    let text = str::to_owned;
    Some(Leave {
        granted_by: text(granted_by),
        role: text(role),
        on: text(on),
        until: text(until),
        reason: text(reason),
    })
}

/// `pack kit set it aside: the reason; pack own set it aside: another`.
pub(super) fn asides(text: &str) -> Vec<Aside> {
    let parts = text.strip_prefix("pack ").unwrap_or(text).split("; pack ");
    let aside = |part: &str| {
        let (pack, because) = part.split_once(" set it aside: ")?;
        Some(Aside { pack: pack.to_owned(), because: because.to_owned() })
    };
    parts.filter_map(aside).collect()
}
