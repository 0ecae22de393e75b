//! Names of files by pattern: `evidence/fuel/*.jpg`.
//!
//! A star stays within its folder, `**` is any folders, and hidden files are
//! taken only by a point that is written. One pass goes along the name with all
//! the places of the pattern at which one may be, so that it takes no longer
//! than the two lengths say. The crate `glob` tries one way after another, for
//! minutes with eight stars in a name; the tests hold this against it.

use std::iter::successors;

/// A pattern of files' paths.
#[derive(Debug)]
pub(super) struct FilePattern {
    parts: Vec<Part>,
}

#[derive(Debug, PartialEq)]
enum Part {
    Sign(char),
    /// `?`
    AnySign,
    /// `[0-9]` or `[!0-9]`: the first and last of each range, and whether it is one of them.
    OneOf(Vec<(char, char)>, bool),
    /// `*`
    Star,
    /// `**/`, or `**` at the end
    Folders,
}

use Part::{AnySign, Folders, OneOf, Sign, Star};

impl FilePattern {
    /// Reads a pattern, or says what is wrong with it.
    pub(super) fn new(text: &str) -> Result<FilePattern, &'static str> {
        let (mut parts, mut before) = (Vec::new(), None);
        let mut signs: &[char] = &text.chars().collect::<Vec<_>>();
        while let [sign, after @ ..] = signs {
            let (part, rest) = match sign {
                '*' => stars(signs, before)?,
                '?' => (AnySign, after),
                '[' => one_of(after).ok_or("a `[` is not closed, or holds nothing")?,
                _ => (Sign(*sign), after),
            };
            before = signs.get(signs.len().saturating_sub(rest.len()).saturating_sub(1)).copied();
            signs = rest;
            parts.push(part);
        }
        Ok(FilePattern { parts })
    }

    /// What the paths of the pattern begin with, as far as it has neither a star nor a choice.
    pub(super) fn begins(&self) -> String {
        let signs = self.parts.iter().map_while(|part| if let Sign(sign) = part { Some(*sign) } else { None });
        signs.collect()
    }

    /// Whether a path, with slashes, is one of the pattern's. Adds the steps it takes: the parts of the pattern for each
    /// sign that is looked at.
    pub(super) fn is_of(&self, path: &str, steps: &mut u64) -> bool {
        let mut at = vec![false; self.parts.len().saturating_add(1)];
        self.come_to(0, &mut at);
        let mut begins = true;
        let mut next = at.clone();
        for sign in path.chars() {
            *steps = steps.saturating_add(self.parts.len() as u64);
            next.fill(false);
            let hidden = begins && sign == '.';
            for (index, part) in self.parts.iter().enumerate().filter(|(index, _)| at.get(*index) == Some(&true)) {
                let on = index.saturating_add(1);
                match part {
                    Sign(own) if *own == sign => self.come_to(on, &mut next),
                    Sign(_) => {}
                    _ if hidden => {}
                    Folders if sign == '/' => self.come_to(index, &mut next),
                    // Within the name of a folder: what comes after waits for its end.
                    Folders => set(index, &mut next),
                    _ if sign == '/' => {}
                    Star => self.come_to(index, &mut next),
                    AnySign => self.come_to(on, &mut next),
                    OneOf(ranges, wanted) => {
                        if ranges.iter().any(|(first, last)| (first..=last).contains(&&sign)) == *wanted {
                            self.come_to(on, &mut next);
                        }
                    }
                }
            }
            std::mem::swap(&mut at, &mut next);
            begins = sign == '/';
            if !at.contains(&true) {
                return false;
            }
        }
        // Where the path ends, stars may stand for nothing more.
        let nothing = self.parts.iter().rev().take_while(|part| matches!(part, Star | Folders)).count();
        at.iter().rev().take(nothing.saturating_add(1)).any(|here| *here)
    }

    /// Comes to a place, and to those after it if what stands there may be nothing.
    fn come_to(&self, place: usize, at: &mut [bool]) {
        let on = |from: &usize| matches!(self.parts.get(*from), Some(Star | Folders)).then(|| from.saturating_add(1));
        successors(Some(place), on).for_each(|place| set(place, at));
    }
}

fn set(place: usize, at: &mut [bool]) {
    if let Some(here) = at.get_mut(place) {
        *here = true;
    }
}

/// What begins with a star, and what comes after it.
fn stars(signs: &[char], before: Option<char>) -> Result<(Part, &[char]), &'static str> {
    let [_, rest @ ..] = signs else { return Err("no star") };
    let ['*', rest @ ..] = rest else { return Ok((Star, rest)) };
    let begins = before.is_none_or(|before| before == '/');
    match rest {
        ['*', ..] => Err("no more than two stars stand together"),
        [] if begins => Ok((Folders, rest)),
        ['/', rest @ ..] if begins => Ok((Folders, rest)),
        _ => Err("`**` stands alone between slashes"),
    }
}

/// What stands in brackets, the first of which is read, and what comes after them.
fn one_of(signs: &[char]) -> Option<(Part, &[char])> {
    let (inside, wanted) = match signs {
        ['!', rest @ ..] => (rest, false),
        _ => (signs, true),
    };
    // A bracket in the first place is one of the signs.
    let end = inside.iter().skip(1).position(|sign| *sign == ']')?.saturating_add(1);
    let (mut inside, rest) = (inside.get(..end)?, inside.get(end.saturating_add(1)..)?);
    let mut ranges = Vec::new();
    while let [first, after @ ..] = inside {
        let (last, after) = match after {
            ['-', last, after @ ..] => (last, after),
            _ => (first, after),
        };
        ranges.push((*first, *last));
        inside = after;
    }
    Some((OneOf(ranges, wanted), rest))
}

#[cfg(test)]
mod tests {
    use super::FilePattern;
    use glob::{MatchOptions, Pattern};
    use proptest::prelude::*;

    const AS_HERE: MatchOptions =
        MatchOptions { case_sensitive: true, require_literal_separator: true, require_literal_leading_dot: true };

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(20_000))]

        /// Few different signs, so that much of it fits.
        #[test]
        fn patterns_are_those_of_an_outside_library(pattern in "(\\*\\*/|a|b|\\.|/|\\*|\\?|\\[[!ab.]?[]ab.-]{1,3}\\]|\\[|\\*\\*){0,7}", paths in proptest::collection::vec("[ab./]{0,8}", 20)) {
            let (ours, outside) = (FilePattern::new(&pattern), Pattern::new(&pattern));
            prop_assert_eq!(ours.is_ok(), outside.is_ok(), "{}", pattern);
            let (Ok(ours), Ok(outside)) = (ours, outside) else { return Ok(()) };
            for path in paths {
                prop_assert!(!ours.is_of(&path, &mut 0) || path.starts_with(&ours.begins()));
                prop_assert_eq!(ours.is_of(&path, &mut 0), outside.matches_with(&path, AS_HERE), "{} {}", pattern, path);
            }
        }
    }

    /// Many stars in one name: the outside library would not come back.
    #[test]
    fn many_stars_take_no_time() {
        let pattern = FilePattern::new(&format!("{}b", "*a".repeat(100))).unwrap();
        let (mut steps, path) = (0, format!("{}/b", "a".repeat(2000)));
        assert!(!pattern.is_of(&path, &mut steps));
        assert!(steps <= 201 * path.len() as u64, "{steps}");
        assert!(pattern.is_of(&format!("{}b", "a".repeat(2000)), &mut 0));
        // What cannot be of it any more is looked at no further.
        steps = 0;
        assert!(!FilePattern::new("a*").unwrap().is_of(&"b".repeat(2000), &mut steps));
        assert_eq!(steps, 2);
    }
}
