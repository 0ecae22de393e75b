//! What a full name tells: whether two are one person's, whether one may be a builder's, whether it is anybody's.

use crate::diagnostic::nearest;
use crate::ir::Rules;
use std::sync::LazyLock;
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
            letter if letter.is_whitespace() || matches!(letter, '-' | ',' | '.' | '\u{2010}' | '\u{2011}') => {
                Some(' ')
            }
            _ => None,
        })
        .collect();
    let mut words: Vec<&str> = spaced.split_whitespace().collect();
    words.sort_unstable();
    words.join(" ")
}

/// What people write for themselves.
const MYSELF: [&str; 7] = ["me", "my", "myself", "I", "self", "builder", "owner"];
/// What stands before a name and is no part of it.
const TITLES: [&str; 8] = ["Mr", "Mrs", "Ms", "Miss", "Dr", "Sir", "Herr", "Frau"];

/// Whether a name may be that of a builder: it holds all of it, with an initial perhaps and among
/// other words, or it is a part of it, or all of it run together.
pub(super) fn may_be(name: &str, builder: &str) -> bool {
    let is_title = |word: &&str| TITLES.iter().any(|title| one_name(title) == **word);
    let words: Vec<&str> = name.split(' ').filter(|word| !is_title(word)).collect();
    let of: Vec<&str> = builder.split(' ').collect();
    let same = |word: &str, of: &str| word == of || is_initial(word) && of.starts_with(word);
    let all = of.iter().all(|of| words.iter().any(|word| same(word, of)));
    let some = of.iter().any(|of| words.contains(of));
    let part = !words.is_empty() && words.iter().all(|word| of.iter().any(|of| same(word, of)));
    let (onwards, backwards) = (of.concat(), of.iter().rev().copied().collect::<String>());
    let together = of.len() > 1 && words.iter().any(|word| word.contains(&onwards) || word.contains(&backwards));
    all && some || part || together
}

/// Whether two names, as they are compared, may be one person's: nobody is told apart by a word left out.
pub(super) fn may_be_one(one: &str, other: &str) -> bool {
    one == other || may_be(one, other) || may_be(other, one) || differ_by_letters(one, other)
}

/// Whether two names are the same word by word but for a letter or two, as somebody mistypes them.
fn differ_by_letters(one: &str, other: &str) -> bool {
    let (one, other): (Vec<&str>, Vec<&str>) = (one.split(' ').collect(), other.split(' ').collect());
    let alike = |(one, other): (&&str, &&str)| {
        one == other || one.chars().count() >= LONG_ENOUGH && nearest(one, [*other]).is_some()
    };
    one.len() == other.len() && one.iter().zip(&other).all(alike)
}

/// Shorter words are names of their own with one letter changed.
const LONG_ENOUGH: usize = 4;

/// One letter, as names are compared: `m` looks like `rn` there, and `w` like `vv`.
fn is_initial(word: &str) -> bool {
    word.chars().count() == 1 || ["rn", "vv"].contains(&word)
}

/// Whether a word, as names are compared, stands for whoever writes it.
pub(crate) fn is_myself(word: &str) -> bool {
    static COMPARED: LazyLock<[String; 7]> = LazyLock::new(|| MYSELF.map(one_name));
    COMPARED.iter().any(|myself| myself == word)
}

/// Whether what is written is nobody's name.
pub(crate) fn is_nobody(who: &str) -> bool {
    stands_for_nobody(who)
        || who.chars().filter(|letter| letter.is_alphabetic()).take(2).count() < 2 && !is_one_sign(who)
}

/// Whether what is written is nobody's name, though it stands for somebody: whoever writes it, or a role, with an article
/// perhaps.
pub(super) fn is_no_name(roles: &[String], who: &str) -> bool {
    let name = one_name(without_article(who));
    is_nobody(who) || name.is_empty() || name.split(' ').all(is_myself) || roles.contains(&name)
}

/// Whether what is written is somebody's name, where these are the roles: not a word for oneself, not that of a role.
///
/// ```
/// use cotterpin_engine::project::is_name;
/// assert!(is_name(["builder"], "Rosa Example"));
/// assert!(!is_name(["builder"], "Me") && !is_name(["builder"], "the builder"));
/// ```
#[must_use]
pub fn is_name<'a>(roles: impl IntoIterator<Item = &'a str>, who: &str) -> bool {
    let roles: Vec<String> = roles.into_iter().map(|role| one_name(without_article(role))).collect();
    !is_no_name(&roles, who)
}

/// The names and titles of all roles, as names are compared.
pub(super) fn names_of_roles(rules: &Rules) -> Vec<String> {
    let texts = rules.roles.iter().flat_map(|role| [&role.name, &role.title]);
    texts.map(|text| one_name(without_article(text))).collect()
}

/// `A. Builder` and `A Builder` are names, `a builder` and `the Builder` are none.
fn without_article(text: &str) -> &str {
    let text = text.trim();
    let first = text.split_whitespace().next().unwrap_or("");
    let is_article = first == "a" || ARTICLES.contains(&first.to_lowercase().as_str());
    if is_article { text.strip_prefix(first).unwrap_or(text).trim_start() } else { text }
}

/// Whether a reason says nothing: no letter and no digit, or that there is none.
pub(super) fn says_nothing(text: &str) -> bool {
    !text.chars().any(char::is_alphanumeric) || stands_for_nobody(text)
}

/// Whether a text says that what it would name is still to come: no answer to any question, and nothing that is recorded.
///
/// ```
/// use cotterpin_engine::project::is_to_come;
/// assert!(is_to_come("Not yet.") && is_to_come("on order"));
/// assert!(!is_to_come("yes") && !is_to_come("Order of merit"));
/// ```
#[must_use]
pub fn is_to_come(text: &str) -> bool {
    let text: String = letters(text.trim_end_matches(['.', '!'])).take(MOST_LETTERS).collect();
    TO_COME.iter().any(|word| letters(word).eq(text.chars()))
}

/// Whether it is one of the words that are written until something is known, with or without its blanks.
fn stands_for_nobody(text: &str) -> bool {
    // Most texts say more than any of them.
    if letters(text).nth(MOST_LETTERS).is_some() {
        return false;
    }
    let text: String = letters(text).collect();
    NOBODY.iter().any(|word| letters(word).eq(text.chars()))
}

/// Small letters without blanks.
fn letters(text: &str) -> impl Iterator<Item = char> + '_ {
    text.chars().filter(|letter| !letter.is_whitespace()).flat_map(char::to_lowercase)
}

/// What stands before the name of a role.
const ARTICLES: [&str; 4] = ["the", "an", "our", "my"];

/// Some names are one sign, in scripts whose signs are words.
fn is_one_sign(who: &str) -> bool {
    let mut letters = who.chars().filter(|letter| letter.is_alphabetic());
    letters.next().is_some_and(|letter| letter >= '\u{2E80}')
}

/// The most letters that one of the words has which stand for nobody.
const MOST_LETTERS: usize = 16;

/// What people write where nobody is meant yet.
const NOBODY: [&str; 20] = [
    "n/a",
    "na",
    "none",
    "nobody",
    "unknown",
    "tbd",
    "tba",
    "tbc",
    "ditto",
    "to be asked",
    "to be confirmed",
    "to be done",
    "somebody",
    "anybody",
    "not known",
    "don't know",
    "dont know",
    "no idea",
    "to do",
    "later",
];

/// What people write of a thing that is not there yet.
const TO_COME: [&str; 12] = [
    "later",
    "not yet",
    "none yet",
    "not there yet",
    "soon",
    "ordered",
    "on order",
    "pending",
    "in the post",
    "to come",
    "to follow",
    "dunno",
];
