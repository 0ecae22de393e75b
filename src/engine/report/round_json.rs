//! Many projects for programs, as `schemas/round.json` says.

use super::document::document;
use super::message::Message;
use super::phrases::title_of;
use super::schemas::ROUND;
use crate::audit::Summary;
use crate::round::{Line, OpenItem, Round, UsedPack};
use serde::Serialize;

/// A round, key for key, with a sentence beside each item.
#[derive(Serialize)]
struct RoundOut<'a> {
    on: &'a str,
    by: Option<&'a str>,
    projects: &'a [Line],
    items: Vec<ItemOut<'a>>,
    packs: &'a [UsedPack],
    summary: Summary,
    reminder: &'static str,
}

#[derive(Serialize)]
struct ItemOut<'a> {
    #[serde(flatten)]
    item: &'a OpenItem,
    says: ItemSays,
}

#[derive(Serialize)]
struct ItemSays {
    title: String,
}

/// The round as pretty JSON with a line end.
#[must_use]
pub fn round_json(round: &Round, messages: &[Message]) -> String {
    let Round { on, by, projects, items, packs, summary, reminder } = round;
    let items = items.iter().map(|item| ItemOut { item, says: ItemSays { title: title_of(&item.item, &item.title) } });
    let out = RoundOut { on, by: by.as_deref(), projects, items: items.collect(), packs, summary: *summary, reminder };
    document(&ROUND, &out, messages)
}
