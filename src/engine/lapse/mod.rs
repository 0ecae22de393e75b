//! What the log shows, and what undoes it: one notion of lapse for inspections,
//! tests, measurements, values, files and people's words; the lists derived
//! from the log; and whether a list is whole.

mod by_part;
mod derived_lists;
mod disturbance;
mod instruments;
mod logbook;
mod removals;
mod states;
mod whole;
mod words;

pub(crate) use derived_lists::{DerivedLists, lists as derived_lists};
pub use disturbance::Through;
pub(crate) use disturbance::{is_below as part_is_below, zone_of_entry};
pub(crate) use logbook::{EntryStanding, Logbook, moment_of, taken_as_entry};
pub(crate) use removals::Removal;
pub use removals::removal_of;
pub(crate) use states::{StateOf, ValueState, of_evidence, of_evidence_named, of_fact, of_field};
pub(crate) use whole::{Wholeness, of_log as wholeness_of_log, wholeness};
