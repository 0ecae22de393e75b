//! What is looked for in a text, and what is put in its place.

use super::identities::PERSON;
use crate::source::is_invisible;
use std::collections::BTreeMap;
use std::ops::Range;
use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

/// Stand-ins by the words they stand for. A word is letters alone or digits
/// alone, in one case and without accents: `N-00xy` and `n 00 XY` are the same.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Table {
    by_words: BTreeMap<Vec<String>, Entry>,
    /// The most words that any of them has.
    longest: usize,
}

/// What stands for some words.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Entry {
    stand_in: String,
    /// They can hardly be ordinary words.
    is_telling: bool,
}

/// A word of a text, and where it stands.
struct Word {
    folded: String,
    range: Range<usize>,
    digits: bool,
}

/// So many other characters may stand between the words of a name.
const BETWEEN_NAMES: usize = 3;

impl Table {
    /// Enters words, unless they are entered already or there are none.
    pub(super) fn enter(&mut self, words: Vec<String>, stand_in: &str, is_telling: bool) {
        if words.is_empty() || self.by_words.contains_key(&words) {
            return;
        }
        self.longest = self.longest.max(words.len());
        self.by_words.insert(words, Entry { stand_in: stand_in.to_owned(), is_telling });
    }

    /// What stands for these words.
    pub(super) fn get(&self, words: &[String]) -> Option<&str> {
        self.by_words.get(words).map(|entry| entry.stand_in.as_str())
    }

    /// The text with stand-ins, the longest first; nothing where there is
    /// nothing to put in. With `only_telling` words stay that can be ordinary
    /// ones; and those of which one stands in bytes that `is_kept` holds of.
    pub(super) fn replace(
        &self,
        text: &str,
        only_telling: bool,
        is_kept: impl Fn(Range<usize>) -> bool,
    ) -> Option<String> {
        let words = words(text);
        let folded: Vec<String> = words.iter().map(|word| word.folded.clone()).collect();
        let (mut out, mut done, mut at) = (String::new(), 0, 0);
        while at < words.len() {
            let found = (1..=self.longest).rev().find_map(|len| {
                let end = at.checked_add(len)?;
                let (found, there) = (folded.get(at..end)?, words.get(at..end)?);
                let entry = self.by_words.get(found).filter(|entry| entry.is_telling || !only_telling)?;
                let range = whole(text, there)?;
                let kept = there.iter().any(|word| is_kept(word.range.clone()));
                (!kept).then_some((&entry.stand_in, range, len))
            });
            match found {
                Some((stand_in, range, len)) => {
                    out.push_str(text.get(done..range.start).unwrap_or_default());
                    match end_of_same(&out, stand_in).filter(|_| done > 0) {
                        Some(end) => out.truncate(end),
                        None => out.push_str(stand_in),
                    }
                    done = range.end;
                    at = at.saturating_add(len);
                }
                None => at = at.saturating_add(1),
            }
        }
        (done > 0).then(|| {
            out.push_str(text.get(done..).unwrap_or_default());
            out
        })
    }
}

/// Where the stand-in of a person ends, if that is the last thing told but for
/// a comma or blanks: a full name that is written in an order of its own is told once.
fn end_of_same(out: &str, stand_in: &str) -> Option<usize> {
    let before = out.trim_end_matches([' ', ',']);
    (stand_in.starts_with(PERSON) && before.len() < out.len() && before.ends_with(stand_in)).then_some(before.len())
}

/// Where the words stand, if they stand there as a whole: nothing of the same
/// kind goes on before or after them, and little stands between them.
fn whole(text: &str, words: &[Word]) -> Option<Range<usize>> {
    let (first, last) = (words.first()?, words.last()?);
    let any_digits = words.iter().any(|word| word.digits);
    let touches = |letter: Option<char>| letter.is_some_and(|letter| letter.is_alphanumeric());
    // Of letters alone the words are as long as they can be: digits may follow a name.
    if any_digits
        && (touches(text.get(..first.range.start)?.chars().next_back())
            || touches(text.get(last.range.end..)?.chars().next()))
    {
        return None;
    }
    let most = if any_digits { 1 } else { BETWEEN_NAMES };
    for pair in words.windows(2) {
        let [one, next] = pair else { continue };
        if text.get(one.range.end..next.range.start)?.chars().count() > most {
            return None;
        }
    }
    Some(first.range.start..last.range.end)
}

/// The words of a text as they are compared.
pub(super) fn folded(text: &str) -> Vec<String> {
    words(text).into_iter().map(|word| word.folded).collect()
}

fn words(text: &str) -> Vec<Word> {
    let mut words: Vec<Word> = Vec::new();
    let mut open = false;
    for (at, letter) in text.char_indices() {
        let end = at.saturating_add(letter.len_utf8());
        if is_combining_mark(letter) || is_invisible(letter) {
            if let Some(word) = words.last_mut().filter(|_| open) {
                word.range.end = end;
            }
            continue;
        }
        if !letter.is_alphanumeric() {
            open = false;
            continue;
        }
        let digits = letter.is_numeric();
        match words.last_mut().filter(|word| open && word.digits == digits) {
            Some(word) => {
                word.range.end = end;
                fold(letter, &mut word.folded);
            }
            None => {
                let mut folded = String::new();
                fold(letter, &mut folded);
                words.push(Word { folded, range: at..end, digits });
            }
        }
        open = true;
    }
    words
}

/// In one case, without accents.
fn fold(letter: char, into: &mut String) {
    let plain = std::iter::once(letter).nfkd().filter(|letter| !is_combining_mark(*letter));
    into.extend(plain.flat_map(char::to_lowercase));
}
