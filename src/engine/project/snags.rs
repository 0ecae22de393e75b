//! The snags of one file of the log by themselves: without packs, and whatever
//! else is wrong with the file.

use super::FileText;
use super::keys::log::{LOG, SNAG, SUBJECT, WHAT};
use super::log::event_named;
use super::text::open;
use super::value::snag_number;
use crate::source::Sources;
use crate::vocabulary::Event;
use toml::de::DeTable;

/// What an entry says of a snag.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Snag {
    /// Its number.
    pub number: u32,
    /// Whether it was found, cleared or, against the rules, something else.
    pub event: Option<Event>,
    /// The part.
    pub subject: String,
}

/// What the entries of a file say of snags.
pub fn snags(file: &FileText) -> Vec<Snag> {
    let (page, said) = open(file, &mut Sources::default());
    let table = page.filter(|_| said.is_empty()).map(|page| page.table);
    let entries = table.as_ref().and_then(|table| table.get(LOG)?.get_ref().as_array());
    entries
        .into_iter()
        .flat_map(|entries| entries.iter())
        .filter_map(|entry| snag(entry.get_ref().as_table()?))
        .collect()
}

fn snag(entry: &DeTable<'_>) -> Option<Snag> {
    let number = snag_number(entry.get(SNAG)?.get_ref())?;
    let text = |key: &str| entry.get(key).and_then(|written| written.get_ref().as_str()).unwrap_or("").trim();
    Some(Snag { number, event: event_named(text(WHAT)), subject: text(SUBJECT).to_owned() })
}

/// Every number of a snag that stands in a text on a line of its own, as
/// `snag = 14`: a month that cannot be read still keeps its numbers.
pub fn snag_numbers(text: &str) -> impl Iterator<Item = u32> {
    text.lines().filter_map(|line| {
        let value = line.trim_start().strip_prefix(SNAG)?.trim_start().strip_prefix('=')?.trim();
        value.split(|letter: char| !letter.is_ascii_digit()).next()?.parse().ok()
    })
}
