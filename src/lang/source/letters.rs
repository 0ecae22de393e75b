//! Which characters must not reach a terminal, a page or a reader as they are:
//! those that move the cursor, command it, turn text round, or show nothing.
//!
//! From the Unicode Character Database, version 17: `Bidi_Control`,
//! `Default_Ignorable_Code_Point` but for the selectors that only choose how the
//! letter before them looks (U+FE00 to U+FE0F), the line and paragraph
//! separators, the marks of annotations, and the letters and signs that are
//! drawn as a blank and are none for a program.

use std::borrow::Cow;

/// Whether a character shows nothing at all, begins a line, or turns text
/// round. Two serial numbers that differ by one of these must not look alike.
///
/// ```
/// use cotterpin_lang::source::is_invisible;
/// assert!(is_invisible('\u{200b}') && is_invisible('\u{2028}') && is_invisible('\u{e0041}'));
/// assert!(!is_invisible('é') && !is_invisible('\u{1f6e9}') && !is_invisible(' '));
/// ```
#[must_use]
pub fn is_invisible(letter: char) -> bool {
    matches!(letter,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}'
        | '\u{180b}'..='\u{180f}'
        | '\u{200b}'..='\u{200f}'
        | '\u{2028}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}'
        | '\u{2800}' | '\u{3164}' | '\u{feff}' | '\u{ffa0}'
        | '\u{fff0}'..='\u{fffb}'
        | '\u{16fe4}' | '\u{1d159}'
        | '\u{1bca0}'..='\u{1bca3}'
        | '\u{1d173}'..='\u{1d17a}'
        | '\u{e0000}'..='\u{e0fff}')
}

/// Whether a character must be written out where people read: it is
/// [invisible](is_invisible), or a control character.
///
/// ```
/// use cotterpin_lang::source::is_unshowable;
/// assert!(is_unshowable('\u{1b}') && is_unshowable('\u{9b}') && is_unshowable('\n') && !is_unshowable('n'));
/// ```
#[must_use]
pub fn is_unshowable(letter: char) -> bool {
    letter.is_control() || is_invisible(letter)
}

/// A text on one line, with what must not be shown written out: `\u{202e}`. A line
/// break and a tab become a blank.
///
/// ```
/// use cotterpin_lang::source::visible;
/// assert_eq!(visible("fuel\n\u{1b}[2J"), "fuel \\u{1b}[2J");
/// ```
#[must_use]
pub fn visible(text: &str) -> Cow<'_, str> {
    visible_but(text, |letter, out| {
        if matches!(letter, '\n' | '\r' | '\t') {
            out.push(' ');
        }
        matches!(letter, '\n' | '\r' | '\t')
    })
}

/// The same, where a form keeps some of these characters, or writes them in its own way: `own` does it, and says
/// whether it has.
pub fn visible_but(text: &str, mut own: impl FnMut(char, &mut String) -> bool) -> Cow<'_, str> {
    if is_plain(text.as_bytes()) {
        return Cow::Borrowed(text);
    }
    let (mut out, mut rest) = (String::with_capacity(text.len()), text);
    while let Some((before, letter, after)) = cut_at_unshowable(rest) {
        out.push_str(before);
        if !own(letter, &mut out) {
            out.extend(letter.escape_unicode());
        }
        rest = after;
    }
    out.push_str(rest);
    Cow::Owned(out)
}

/// The first character that must be written out, with what stands before and after it.
#[must_use]
pub fn cut_at_unshowable(text: &str) -> Option<(&str, char, &str)> {
    let (at, letter) = text.char_indices().find(|(_, letter)| is_unshowable(*letter))?;
    let after = text.get(at.checked_add(letter.len_utf8())?..)?;
    Some((text.get(..at)?, letter, after))
}

/// As nearly always: nothing in it needs writing out. Looking at every byte costs less than to stop at one.
#[must_use]
pub fn is_plain(bytes: &[u8]) -> bool {
    bytes.iter().fold(true, |plain, byte| plain & (0x20..0x7f).contains(byte))
}
