//! The names of keys in a project's files, said once for whoever reads them and
//! for whoever writes them.

/// Keys of `project.toml`.
pub mod header {
    /// The form in which the project is written.
    pub const FORMAT: &str = "format";
    /// The project's name.
    pub const NAME: &str = "name";
    /// Whose authority visits.
    pub const COUNTRY: &str = "country";
    /// Packs by name or folder.
    pub const PACKS: &str = "packs";
    /// The planned visit: a key of its own, and a hold point.
    pub const VISIT: &str = "visit";
    /// Planned days of hold points.
    pub const HOLD_POINTS: &str = "hold-points";
    /// Planned days on which zones are closed.
    pub const CLOSING: &str = "closing";
    /// Who works on it.
    pub const PEOPLE: &str = "people";
    /// The builder's own parts.
    pub const PARTS: &str = "parts";
    /// What is said of the shed.
    pub const SHED: &str = "shed";

    /// All of them, as messages list them.
    pub const ALL: [&str; 10] = [FORMAT, NAME, COUNTRY, PACKS, VISIT, HOLD_POINTS, CLOSING, PEOPLE, PARTS, SHED];
}

/// Keys of one person under `[people]`.
pub mod person {
    /// The full name.
    pub const NAME: &str = "name";
    /// The role, of one who has one.
    pub const ROLE: &str = "role";
    /// The roles, of one who has several.
    pub const ROLES: &str = "roles";

    /// All of them.
    pub const ALL: [&str; 3] = [NAME, ROLE, ROLES];
}

/// Keys of one part under `[parts]`.
pub mod part {
    /// What it is.
    pub const TITLE: &str = "title";
    /// Where it is.
    pub const ZONE: &str = "zone";
    /// Whether the aircraft can be without it.
    pub const CAN_BE_LEFT_OFF: &str = "can_be_left_off";

    /// All of them.
    pub const ALL: [&str; 3] = [TITLE, ZONE, CAN_BE_LEFT_OFF];
}

/// `[whole]`, and the keys of one word in it; the log's own word stands under the log's key.
pub mod whole {
    /// The key of the words.
    pub const WHOLE: &str = "whole";

    /// The records of a list, by name.
    pub const RECORDS: &str = "records";
    /// How many entries the log had.
    pub const ENTRIES: &str = "entries";
    /// The last day of which the log tells all.
    pub const UP_TO: &str = "up_to";
    /// By whom.
    pub const WHO: &str = "who";
    /// When.
    pub const ON: &str = "on";

    /// Those of a word about a list.
    pub const OF_A_LIST: [&str; 3] = [RECORDS, WHO, ON];
    /// Those of the word about the log.
    pub const OF_THE_LOG: [&str; 4] = [ENTRIES, UP_TO, WHO, ON];
}

/// `[[log]]` and the keys of one entry.
pub mod log {
    use crate::vocabulary::Event;

    /// The key of the entries.
    pub const LOG: &str = "log";

    /// When.
    pub const ON: &str = "on";
    /// What happened.
    pub const WHAT: &str = "what";
    /// To which part, or zone.
    pub const SUBJECT: &str = "subject";
    /// By whom.
    pub const WHO: &str = "who";
    /// In what role.
    pub const ROLE: &str = "role";
    /// What was looked at.
    pub const POINTS: &str = "points";
    /// How it was fitted.
    pub const FIT: &str = "fit";
    /// What it was done with.
    pub const INSTRUMENT: &str = "instrument";
    /// What it was opened or removed for.
    pub const FOR: &str = "for";
    /// Whether another one was fitted in its place.
    pub const ANOTHER: &str = "another";
    /// The number of a snag.
    pub const SNAG: &str = "snag";
    /// How long a snag takes.
    pub const TAKES: &str = "takes";
    /// The hold point by which a snag must be cleared.
    pub const BY: &str = "by";
    /// Where on the aircraft.
    pub const ZONE: &str = "zone";
    /// Files that show it.
    pub const EVIDENCE: &str = "evidence";
    /// A remark.
    pub const NOTE: &str = "note";

    /// All of them, in the order in which an entry is written.
    pub const ALL: [&str; 16] =
        [ON, WHAT, SUBJECT, WHO, ROLE, POINTS, FIT, INSTRUMENT, FOR, ANOTHER, SNAG, TAKES, BY, ZONE, EVIDENCE, NOTE];

    /// For the inspector to see.
    pub const FOR_VISIT: &str = "visit";
    /// Not to come back; of what is removed only.
    pub const FOR_GOOD: &str = "good";

    /// The events that have a key; nothing where all have it.
    pub fn events_with(key: &str) -> Option<&'static [Event]> {
        match key {
            SNAG => Some(&[Event::SnagFound, Event::SnagCleared]),
            TAKES | BY => Some(&[Event::SnagFound]),
            FOR => Some(&[Event::Opened, Event::Removed]),
            ANOTHER => Some(&[Event::Refitted]),
            _ => None,
        }
    }

    /// Whether an event may be of a zone; all else is done to a part.
    pub fn is_of_zones(event: Event) -> bool {
        matches!(event, Event::Opened | Event::Closed)
    }
}
