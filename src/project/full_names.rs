//! When two full names are one person's.

use unicode_normalization::{UnicodeNormalization, char::is_combining_mark};
use unicode_security::skeleton;

/// A full name as it is compared: letter case, accents typed apart, points,
/// hyphens and the order of its words do not make another person of it, nor do
/// `ss` for `ß`, or letters of another script that look the same (UTS 39).
pub(crate) fn one_name(name: &str) -> String {
    // Capitals first: they tell no `ß` from `ss`.
    let one_case: String = name.nfkc().flat_map(char::to_uppercase).flat_map(char::to_lowercase).collect();
    let letters = skeleton(&one_case).nfkd();
    let spaced: String = letters
        .filter_map(|letter| match letter {
            letter if letter.is_alphanumeric() && !is_combining_mark(letter) => Some(letter),
            letter if letter.is_whitespace() || matches!(letter, '-' | ',' | '\u{2010}' | '\u{2011}') => Some(' '),
            _ => None,
        })
        .collect();
    let mut words: Vec<&str> = spaced.split_whitespace().collect();
    words.sort_unstable();
    words.join(" ")
}
