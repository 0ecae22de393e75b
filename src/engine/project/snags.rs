//! The snags of one file of the log by themselves: without packs, and whatever
//! else is wrong with the file.

use super::FileText;
use super::keys::log::{LOG, SNAG, SUBJECT, WHAT};
use super::log::event_named;
use super::plain_log::entries;
use super::text::open;
use super::value::snag_number;
use crate::source::Sources;
use crate::vocabulary::Event;
use toml::Spanned;
use toml::de::DeValue;

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
    let mut found = Vec::new();
    let plain = std::str::from_utf8(&file.bytes).is_ok_and(|text| {
        entries(text, |entry| {
            let find = |key: &str| entry.written.iter().find(|(own, _)| *own == key).map(|(_, value)| value.get_ref());
            found.extend(snag(find));
        })
    });
    if plain {
        return found;
    }
    let (page, said) = open(file, &mut Sources::default());
    let table = page.filter(|_| said.is_empty()).map(|page| page.table);
    let entries = table.as_ref().and_then(|table| table.get(LOG)?.get_ref().as_array());
    entries
        .into_iter()
        .flat_map(|entries| entries.iter())
        .filter_map(|entry| {
            let table = entry.get_ref().as_table()?;
            snag(|key| table.get(key).map(Spanned::get_ref))
        })
        .collect()
}

/// What an entry says, by what it has under a key.
fn snag<'e>(find: impl Fn(&str) -> Option<&'e DeValue<'e>>) -> Option<Snag> {
    let number = snag_number(find(SNAG)?)?;
    let text = |key: &str| find(key).and_then(DeValue::as_str).unwrap_or("").trim();
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
