//! The packs that projects of a country begin with, checked beforehand, so that
//! no start checks them.
//!
//! `prepared.bin` holds their manifests and what the checker has come to after them, under one
//! fingerprint of all packs in the binary and of all code that decides what they
//! come to. Under any other it is not looked at, and the packs are checked as
//! any others: a stale file costs time and is never wrong.

use super::check::Checker;
use super::pack::{PackText, built_in, read_headers};
use super::{Pack, built_in_names, load};
use crate::diagnostic::Diagnostic;
use crate::source::{SharedText, SourceId, Written};
use crate::stored::{PACKS_REST_ON, Reader, Stored, Writer};
use std::borrow::Cow;
use std::sync::LazyLock;

/// Made by [`prepared_packs`], renewed by `cargo test renew_stored -- --ignored`.
static PREPARED: &[u8] = include_bytes!("prepared.bin");

/// What stands behind the fingerprint, where that is right.
fn standing() -> Option<Reader<'static>> {
    let mut all = Reader::new(PREPARED, SourceId(0), &[], true);
    let mut fits = |word: u64| all.raw(8).is_some_and(|bytes| bytes == word.to_le_bytes());
    PACKS_REST_ON.into_iter().all(&mut fits).then_some(all)
}

/// What the manifests of the packs in the binary say, in their order; nothing where that was not made beforehand.
pub(super) fn headers() -> &'static [Pack] {
    static HEADERS: LazyLock<Vec<Pack>> =
        LazyLock::new(|| standing().and_then(|mut all| all.apart()).unwrap_or_default());
    &HEADERS
}

/// What the checker has come to after these packs of the binary, if that was made beforehand.
pub(super) fn find(packs: &[(Pack, &PackText)]) -> Option<Checker> {
    let mut all = standing()?;
    let headers = all.number()?;
    all.raw(headers)?;
    while !all.is_at_end() {
        let names: Vec<Written> = Stored::read(&mut all)?;
        let len = all.number()?;
        let bytes = all.raw(len)?;
        if names.iter().eq(packs.iter().map(|(pack, _)| pack.name.as_str())) {
            return read(bytes, packs);
        }
    }
    None
}

/// The checker as it was, with the texts of its packs.
fn read(bytes: &'static [u8], packs: &[(Pack, &PackText)]) -> Option<Checker> {
    let files = files(packs);
    let texts: Vec<&'static str> = files.iter().map(|(_, text)| *text).collect();
    let mut reader = Reader::new(bytes, SourceId(0), &texts, false);
    let mut checker = Checker::read(&mut reader)?;
    for (name, text) in files {
        checker.rules.sources.add(name, SharedText::Static(text));
    }
    reader.is_at_end().then_some(checker)
}

/// Names and texts of all files of packs in the binary, in the order of their sources.
fn files(packs: &[(Pack, &PackText)]) -> Vec<(String, &'static str)> {
    let files = packs.iter().flat_map(|(_, text)| text.sorted_files());
    files
        .filter_map(|(name, text)| match text {
            Cow::Borrowed(text) => Some((name.clone(), *text)),
            Cow::Owned(_) => None,
        })
        .collect()
}

/// What `src/rules/prepared.bin` is to hold: the choices of packs that a new
/// project has, with a country and without. A choice with anything to be said
/// of it is left out, and so is one that does not come back as it was.
///
/// # Errors
/// If the packs in the binary do not belong together.
pub fn prepared_packs() -> Result<Vec<u8>, Vec<Diagnostic>> {
    let mut all = Writer::new(&[]);
    PACKS_REST_ON.iter().for_each(|word| all.raw(&word.to_le_bytes()));
    all.apart(&read_headers().map_err(|problem| vec![problem])?);
    // A country's pack is named by its two letters of ISO 3166-1.
    let countries = built_in_names().into_iter().filter(|name| name.len() == 2);
    for country in countries.map(Some).chain([None]) {
        let names: Vec<&str> = country.into_iter().chain(["workmanship"]).collect();
        let packs = built_in(&names).map_err(|problem| vec![problem])?;
        let packs = load::ordered(&packs)?;
        let mut messages = Vec::new();
        let checker = load::built_in(&packs, false, &mut messages);
        let texts: Vec<&'static str> = files(&packs).iter().map(|(_, text)| *text).collect();
        let mut writer = Writer::new(&texts);
        checker.write(&mut writer);
        // Only what lasts as long as the program can be read. This runs to renew or to compare the file, at no
        // start, so what it never gives back is the size of that file, once.
        let bytes: &'static [u8] = writer.finish().leak();
        let same = read(bytes, &packs).is_some_and(|again| format!("{again:?}") == format!("{checker:?}"));
        if same && messages.is_empty() && checker.messages.is_empty() {
            let names: Vec<_> = packs.iter().map(|(pack, _)| pack.name.clone()).collect();
            names.write(&mut all);
            all.number(bytes.len() as u64);
            all.raw(bytes);
        }
    }
    Ok(all.finish())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The file of the packs as they stand serves every country.
    #[test]
    fn each_choice_of_a_new_project_is_found() {
        for country in ["au", "ca", "nz", "uk", "us", "workmanship"] {
            let packs = built_in(&[country, "workmanship"]).unwrap_or_default();
            let packs = load::ordered(&packs).unwrap_or_default();
            let found = find(&packs).map(|checker| checker.rules.items.len());
            assert!(found.is_some_and(|items| items > 100), "{country}: {found:?}");
            assert!(find(packs.get(1..).unwrap_or(&[])).is_none());
        }
    }
}
