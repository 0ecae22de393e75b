//! The list for closing up for programs, as `schemas/close-up.json` says.

use super::document::document;
use super::message::Message;
use super::says::FindingOut;
use super::schemas::CLOSE_UP;
use crate::audit::Titles;
use crate::ir::Pack;
use crate::plan::{CloseUp, Opening};
use crate::quantity::Date;
use serde::Serialize;

#[derive(Serialize)]
struct CloseUpOut<'a> {
    project: &'a str,
    on: Date,
    packs: &'a [Pack],
    openings: &'a [Opening],
    again: Vec<FindingOut<'a>>,
    titles: &'a Titles,
    reminder: &'static str,
}

/// The list as pretty JSON with a line end.
#[must_use]
pub fn close_up_json(list: &CloseUp, messages: &[Message]) -> String {
    let CloseUp { project, on, packs, openings, again, titles, reminder } = list;
    let again = again.iter().map(FindingOut::of).collect();
    document(&CLOSE_UP, &CloseUpOut { project, on: *on, packs, openings, again, titles, reminder }, messages)
}
