//! Whether the records known of a list are all there are: because somebody
//! said so, on a day, of just these records. What comes or goes afterwards
//! makes the list open again.

use super::logbook::{EntryStanding, Logbook};
use super::states::of_whole;
use crate::ir::{ListId, Rules};
use crate::project::{Entry, Moment, Record, Rows, SaidRecord, Whole, WholeLog, folded_record, said_records};
use crate::quantity::Date;
use std::collections::{BTreeMap, BTreeSet};

/// How a list stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Wholeness<'r> {
    /// These are all its records.
    Whole,
    /// Nobody says so.
    Unsaid,
    /// Somebody may say so, on a day that may be after the audit.
    NotYet,
    /// Somebody said so of other records.
    Differs {
        /// Recorded, and not in the word; or for another number of things.
        came: Vec<String>,
        /// In the word, and not recorded.
        went: Vec<String>,
    },
    /// The log has other entries than when somebody said so.
    OtherEntries {
        /// How many there were.
        said: usize,
        /// How many there are up to that day.
        now: usize,
    },
    /// The log has an entry that may be of a later day than somebody said.
    LaterEntry(&'r Entry),
    /// The part that the list is of is another since, or may be.
    Undone(&'r Entry),
}

/// How a list stands on a day, where the log stands as told.
pub(crate) fn wholeness<'r>(
    (rules, logbook, log): (&Rules, &Logbook<'r>, &Wholeness<'r>),
    record: &'r Record,
    id: ListId,
    rows: Option<&Rows>,
    today: Date,
) -> Wholeness<'r> {
    if rules.list(id).is_some_and(|list| list.derived()) && !record.lists.contains_key(&id) {
        return log.clone();
    }
    let (said, word) = match record.whole.get(&id) {
        None => return Wholeness::Unsaid,
        Some(Whole::Given) => return Wholeness::Whole,
        Some(Whole::Said { records, word }) => (records, word),
    };
    if word.on.last > today {
        return Wholeness::NotYet;
    }
    let records = rows.map_or_else(Vec::new, |rows| said_records(rules, id, rows));
    // Capitals and blanks make no other name, as among the records.
    let named = |records: &[SaidRecord]| -> BTreeMap<_, String> {
        records.iter().map(|one| ((folded_record(&one.name), one.how_many), one.to_string())).collect()
    };
    let (now, then) = (named(&records), named(said));
    // A name said twice may stand for something that is not recorded; of a record without a name
    // of its own nobody can say anything.
    let twice = then.len() != said.len() || now.len() != rows.map_or(0, |rows| rows.rows.len());
    if now.keys().eq(then.keys()) && !twice {
        let moment = Moment { on: word.on, at: None, place: word.place };
        let standing = rules.list(id).map(|list| logbook.standing_of_moment(Some(moment), None, of_whole(list)));
        return match standing {
            Some(EntryStanding::Lapsed(by) | EntryStanding::Unclear(by) | EntryStanding::Undated(by)) => {
                Wholeness::Undone(by)
            }
            Some(EntryStanding::NotYet) => Wholeness::NotYet,
            Some(EntryStanding::Counts | EntryStanding::Weak | EntryStanding::Off(_)) | None => Wholeness::Whole,
        };
    }
    let but = |these: &BTreeMap<_, String>, those: &BTreeMap<_, String>| {
        let missing = these.iter().filter(|(name, _)| !those.contains_key(*name));
        missing.map(|(_, shown)| shown.clone()).collect::<BTreeSet<_>>().into_iter().collect()
    };
    Wholeness::Differs { came: but(&now, &then), went: but(&then, &now) }
}

/// How the log stands on a day; the lists derived from it are as whole as it is.
pub(crate) fn of_log(record: &Record, today: Date) -> Wholeness<'_> {
    // Of a month that is not over nobody knows whether the entry is there yet.
    let unsure = record.log.iter().find(|entry| entry.on.first <= today && entry.on.last > today);
    let (said, up_to, word) = match (&record.whole_log, unsure) {
        (None, _) => return Wholeness::Unsaid,
        (Some(_), Some(unsure)) => return Wholeness::LaterEntry(unsure),
        (Some(WholeLog::Given), None) => return Wholeness::Whole,
        (Some(WholeLog::Said { entries, up_to, word }), None) => (*entries, *up_to, word),
    };
    // A word about days to come tells nothing of them.
    if word.on.last > today || up_to.last > word.on.last {
        return Wholeness::NotYet;
    }
    let later = record.log.iter().find(|entry| entry.on.first <= today && entry.on.last > up_to.first);
    let now = record.log.iter().filter(|entry| entry.on.last <= up_to.first).count();
    match later {
        Some(later) => Wholeness::LaterEntry(later),
        None if now != said => Wholeness::OtherEntries { said, now },
        None => Wholeness::Whole,
    }
}
