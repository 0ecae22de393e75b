//! What the builder says, as it is written into the project: a fact, a record, a
//! person's word, that a list is whole; and what writing it changed in the audit.

mod answer;
mod changed;
mod dated;
mod doubt;
mod new_record;
mod project;
mod said;
mod speaker;
mod still_open;
mod target;
mod when;

pub(super) use answer::{Answer, form, toml};
pub(super) use changed::changed;
pub(super) use dated::{Beside, after_work, beside, left_behind, moment};
pub(super) use doubt::{denies_a_fault, doubt, says_well};
pub(super) use new_record::new_record;
pub(super) use project::{Project, Put, What, Written, WrittenAt};
pub(super) use said::{Word, confirmed, entries, roles_asked, whole_list, whole_log};
pub(super) use speaker::{Speaker, answering, by_another, joined, speaker};
pub(super) use still_open::{said_before, snag_found, snags_at};
pub(super) use target::Target;
pub(super) use when::When;
