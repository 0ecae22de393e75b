//! The names of keys in a project's files, said once for whoever reads them and
//! for whoever writes them.

/// Keys of `project.toml`.
pub(crate) mod header {
    /// The form in which the project is written.
    pub(crate) const FORMAT: &str = "format";
    /// The project's name.
    pub(crate) const NAME: &str = "name";
    /// Whose authority visits.
    pub(crate) const COUNTRY: &str = "country";
    /// Packs by name or folder.
    pub(crate) const PACKS: &str = "packs";
    /// The planned visit: a key of its own, and a hold point.
    pub(crate) const VISIT: &str = "visit";
    /// Planned days of hold points.
    pub(crate) const HOLD_POINTS: &str = "hold-points";
    /// Planned days on which zones are closed.
    pub(crate) const CLOSING: &str = "closing";
    /// Who works on it.
    pub(crate) const PEOPLE: &str = "people";
    /// The builder's own parts.
    pub(crate) const PARTS: &str = "parts";
    /// What is said of the shed.
    pub(crate) const SHED: &str = "shed";

    /// All of them, as messages list them.
    pub(crate) const ALL: [&str; 10] = [FORMAT, NAME, COUNTRY, PACKS, VISIT, HOLD_POINTS, CLOSING, PEOPLE, PARTS, SHED];
}

/// Keys of one person under `[people]`.
pub(crate) mod person {
    /// The full name.
    pub(crate) const NAME: &str = "name";
    /// The role, of one who has one.
    pub(crate) const ROLE: &str = "role";
    /// The roles, of one who has several.
    pub(crate) const ROLES: &str = "roles";

    /// All of them.
    pub(crate) const ALL: [&str; 3] = [NAME, ROLE, ROLES];
}

/// Keys of one part under `[parts]`.
pub(crate) mod part {
    /// What it is.
    pub(crate) const TITLE: &str = "title";
    /// Where it is.
    pub(crate) const ZONE: &str = "zone";
    /// Whether the aircraft can be without it.
    pub(crate) const CAN_BE_LEFT_OFF: &str = "can_be_left_off";

    /// All of them.
    pub(crate) const ALL: [&str; 3] = [TITLE, ZONE, CAN_BE_LEFT_OFF];
}

/// `[whole]`, and the keys of one word in it; the log's own word stands under the log's key.
pub(crate) mod whole {
    /// The key of the words.
    pub(crate) const WHOLE: &str = "whole";

    /// The records of a list, by name.
    pub(crate) const RECORDS: &str = "records";
    /// How many entries the log had.
    pub(crate) const ENTRIES: &str = "entries";
    /// The last day of which the log tells all.
    pub(crate) const UP_TO: &str = "up_to";
    /// By whom.
    pub(crate) const WHO: &str = "who";
    /// When.
    pub(crate) const ON: &str = "on";

    /// Those of a word about a list.
    pub(crate) const OF_A_LIST: [&str; 3] = [RECORDS, WHO, ON];
    /// Those of the word about the log.
    pub(crate) const OF_THE_LOG: [&str; 4] = [ENTRIES, UP_TO, WHO, ON];
}

/// `[[log]]` and the keys of one entry.
pub(crate) mod log {
    use crate::vocabulary::Event;

    /// The key of the entries.
    pub(crate) const LOG: &str = "log";

    /// When.
    pub(crate) const ON: &str = "on";
    /// What happened.
    pub(crate) const WHAT: &str = "what";
    /// To which part, or zone.
    pub(crate) const SUBJECT: &str = "subject";
    /// By whom.
    pub(crate) const WHO: &str = "who";
    /// In what role.
    pub(crate) const ROLE: &str = "role";
    /// What was looked at.
    pub(crate) const POINTS: &str = "points";
    /// How it was fitted.
    pub(crate) const FIT: &str = "fit";
    /// What it was done with.
    pub(crate) const INSTRUMENT: &str = "instrument";
    /// What it was opened or removed for.
    pub(crate) const FOR: &str = "for";
    /// Whether another one was fitted in its place.
    pub(crate) const ANOTHER: &str = "another";
    /// The number of a snag.
    pub(crate) const SNAG: &str = "snag";
    /// How long a snag takes.
    pub(crate) const TAKES: &str = "takes";
    /// The hold point by which a snag must be cleared.
    pub(crate) const BY: &str = "by";
    /// Where on the aircraft.
    pub(crate) const ZONE: &str = "zone";
    /// Files that show it.
    pub(crate) const EVIDENCE: &str = "evidence";
    /// A remark.
    pub(crate) const NOTE: &str = "note";

    /// All of them, in the order in which an entry is written.
    pub(crate) const ALL: [&str; 16] =
        [ON, WHAT, SUBJECT, WHO, ROLE, POINTS, FIT, INSTRUMENT, FOR, ANOTHER, SNAG, TAKES, BY, ZONE, EVIDENCE, NOTE];

    /// For the inspector to see.
    pub(crate) const FOR_VISIT: &str = "visit";
    /// Not to come back; of what is removed only.
    pub(crate) const FOR_GOOD: &str = "good";

    /// The events that have a key; nothing where all have it.
    pub(crate) fn events_with(key: &str) -> Option<&'static [Event]> {
        match key {
            SNAG => Some(&[Event::SnagFound, Event::SnagCleared]),
            TAKES | BY => Some(&[Event::SnagFound]),
            FOR => Some(&[Event::Opened, Event::Removed]),
            ANOTHER => Some(&[Event::Refitted]),
            _ => None,
        }
    }

    /// Whether an event may be of a zone; all else is done to a part.
    pub(crate) fn is_of_zones(event: Event) -> bool {
        matches!(event, Event::Opened | Event::Closed)
    }
}
