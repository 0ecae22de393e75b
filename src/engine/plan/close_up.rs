//! After the visit: what was opened or taken off for it must be put back,
//! and what was disturbed by it must be inspected again.

use super::open_jobs::OPENINGS;
use crate::audit::{Audit, Finding, LogLine, REMINDER, Titles, reminder};
use crate::ir::{Pack, Rules};
use crate::lapse::zone_of_entry;
use crate::project::{Entry, Record};
use crate::quantity::Date;
use crate::source::{Place, SharedText};
use crate::vocabulary::{Event, Verdict};
use serde::{Deserialize, Serialize};

const REMEDY: &str = "Look for tools and rags, have what was disturbed inspected, close it, and log that it is closed.";
const REFIT: &str = "Refit it, have what was disturbed inspected, and log that it is refitted.";
/// Common practice.
const CAUTION: &str = "Count the tools before you close.";

/// What was opened or taken off, and is still so.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Opening {
    /// The zone, panel or part.
    pub what: String,
    /// `opened` or `removed`.
    pub event: Event,
    /// When, as written.
    pub on: String,
    /// By whom.
    pub who: String,
    /// For the inspector's visit.
    pub for_visit: bool,
    /// The zone.
    pub zone: Option<String>,
    /// The remark.
    pub note: Option<String>,
    /// What to do.
    pub remedy: SharedText,
    /// What can hurt.
    pub caution: SharedText,
    /// Where it is written.
    pub place: Place,
}

/// The list for closing up.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CloseUp {
    /// The project's name.
    pub project: String,
    /// The day.
    pub on: Date,
    /// The packs the audit was against.
    pub packs: Vec<Pack>,
    /// What is open or off.
    pub openings: Vec<Opening>,
    /// What must be inspected again.
    pub again: Vec<Finding>,
    /// Titles of zones and hold points by name.
    pub titles: Titles,
    /// The last word.
    #[serde(skip_deserializing, default = "reminder")]
    pub reminder: &'static str,
}

/// What must be closed, and what must be inspected again: whatever an opening
/// for the visit undid, or one that is still open; and what else has lapsed
/// where something stands open.
#[must_use]
pub fn close_up(rules: &Rules, record: &Record, audit: &Audit, on: Date) -> CloseUp {
    let entries: Vec<&Entry> = record.log.iter().filter(|entry| entry.on.first <= on).collect();
    let open: Vec<&Entry> = entries.iter().copied().filter(|entry| is_open(entry, &entries)).collect();
    let latest = |entry: &&&Entry| {
        let same = |other: &&&Entry| other.subject == entry.subject && other.event == entry.event;
        // One line for each thing: of several openings that for the visit, else the last written.
        let last = open.iter().filter(same).max_by_key(|other| (other.for_visit, other.on.last, other.place));
        last.is_some_and(|last| std::ptr::eq(*last, **entry))
    };
    let mut openings: Vec<Opening> =
        open.iter().filter(latest).map(|entry| opening(rules, record, audit, entry)).collect();
    let rank = |zone: Option<&str>| {
        let at = zone.and_then(|zone| rules.zones.position(|known| known.name == zone));
        (at.is_none(), at)
    };
    openings.sort_by_key(|one| (rank(one.zone.as_deref()), !one.for_visit, one.what.clone()));
    let undoing: Vec<(Place, &Entry)> = entries
        .iter()
        .filter(|entry| entry.for_visit || open.iter().any(|one| std::ptr::eq(*one, **entry)))
        .map(|entry| (record.sources.place(entry.place), *entry))
        .collect();
    let by_those = |told: &LogLine| undoing.iter().any(|(place, _)| *place == told.place);
    let stands_open = |zone: Option<&str>| {
        zone.is_some_and(|zone| {
            openings.iter().any(|one| one.zone.as_deref() == Some(zone))
                || undoing.iter().any(|(_, entry)| zone_of_entry(rules, record, entry) == Some(zone))
        })
    };
    let is_open = |finding: &&Finding| matches!(finding.verdict, Verdict::Unmet | Verdict::NotShown);
    let undone = |finding: &&Finding| {
        let mut lapses = finding.lapses().peekable();
        let lapsed = lapses.peek().is_some();
        lapsed && (lapses.any(|lapse| by_those(&lapse.undone_by)) || stands_open(finding.zone.as_deref()))
    };
    let mut again: Vec<Finding> = audit.findings.iter().filter(is_open).filter(undone).cloned().collect();
    again.sort_by_key(|finding| (rank(finding.zone.as_deref()), finding.item.clone(), finding.subject.clone()));
    CloseUp {
        project: audit.project.clone(),
        on,
        packs: audit.packs.clone(),
        openings,
        again,
        titles: audit.titles.clone(),
        reminder: REMINDER,
    }
}

/// Whether it is open, or off and to come back: nothing of the same name was
/// certainly closed or refitted after it.
fn is_open(entry: &Entry, entries: &[&Entry]) -> bool {
    let undone = match entry.event {
        Event::Opened => Event::Closed,
        Event::Removed if !entry.for_good => Event::Refitted,
        _ => return false,
    };
    let back = |other: &Entry| other.event == undone || entry.event == Event::Removed && other.fit.is_some();
    !entries.iter().any(|other| back(other) && other.subject == entry.subject && entry.before(other))
}

fn opening(rules: &Rules, record: &Record, audit: &Audit, entry: &Entry) -> Opening {
    let list = rules.list_by_name.get(OPENINGS);
    let about = |finding: &&Finding| {
        let of_list = rules.find_items(&finding.item).first().and_then(|id| rules.item(*id)?.each);
        of_list.is_some() && of_list.as_ref() == list
    };
    let mine = audit.findings.iter().filter(|finding| finding.subject.as_ref() == Some(&entry.subject)).find(about);
    let who = record.people.get(&entry.who).map_or(entry.who.clone(), |person| person.name.clone());
    Opening {
        what: entry.subject.clone(),
        event: entry.event,
        on: entry.on.to_string(),
        who,
        for_visit: entry.for_visit,
        zone: zone_of_entry(rules, record, entry).map(str::to_owned),
        note: entry.note.clone(),
        remedy: mine
            .and_then(|finding| finding.remedy.clone())
            .unwrap_or_else(|| if entry.event == Event::Removed { REFIT.into() } else { REMEDY.into() }),
        caution: mine.and_then(|finding| finding.caution.clone()).unwrap_or_else(|| CAUTION.into()),
        place: record.sources.place(entry.place),
    }
}
