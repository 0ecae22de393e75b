//! Units that mean more than one thing where the builder lives.

use super::unit::is_system;
use super::unit_words::units_of;
use std::ops::Range;

/// The text once for each thing that a unit in it may mean; nothing where the
/// text has no such unit.
///
/// ```
/// use cotterpin_engine::project::freehand::told_apart;
/// let readings = told_apart("12 gal/h", "gal", ["usgal", "impgal"]);
/// assert_eq!(readings, ["12 usgal/h", "12 impgal/h"]);
/// assert!(told_apart("12 US gal/h", "gal", ["usgal", "impgal"]).is_empty());
/// ```
#[must_use]
pub fn told_apart<'m>(text: &str, symbol: &str, meanings: impl IntoIterator<Item = &'m str>) -> Vec<String> {
    let mut found: Vec<(Range<usize>, String)> = Vec::new();
    let mut before: Vec<&str> = Vec::new();
    for place in words(text) {
        let word = text.get(place.clone()).unwrap_or("");
        if let Some(unit) = unit_with(symbol, word).filter(|_| !is_system(&before)) {
            found.push((place, unit));
        }
        before.push(word);
    }
    if found.is_empty() {
        return Vec::new();
    }
    let worded = |meaning: &str| {
        let mut out = text.to_owned();
        for (word, unit) in found.iter().rev() {
            out.replace_range(word.clone(), &replaced(unit, symbol, meaning));
        }
        out
    };
    meanings.into_iter().map(worded).collect()
}

/// Runs of letters.
fn words(text: &str) -> Vec<Range<usize>> {
    let mut words: Vec<Range<usize>> = Vec::new();
    for (at, letter) in text.char_indices().filter(|(_, letter)| letter.is_alphabetic()) {
        let end = at.saturating_add(letter.len_utf8());
        match words.last_mut() {
            Some(word) if word.end == at => word.end = end,
            _ => words.push(at..end),
        }
    }
    words
}

/// The unit with that symbol in it which a word may be: `gal/h` for `gph`.
fn unit_with(symbol: &str, word: &str) -> Option<String> {
    let has = |unit: &&str| words(unit).into_iter().any(|part| unit.get(part) == Some(symbol));
    units_of(word).into_iter().find(has).map(str::to_owned)
}

fn replaced(unit: &str, symbol: &str, meaning: &str) -> String {
    let mut out = unit.to_owned();
    for part in words(unit).into_iter().rev().filter(|part| unit.get(part.clone()) == Some(symbol)) {
        out.replace_range(part, meaning);
    }
    out
}
