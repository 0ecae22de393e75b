//! The log as nearly all of it is written: `[[log]]`, and keys with one plain
//! value each, a line for each. It is read without a tree, which would cost
//! several times as much as all else that is done with an entry.
//!
//! What it takes, TOML takes, and says the same of it. At the first letter that
//! may mean anything else it gives up, and the text is parsed as any other.

use super::keys::log::ALL;
use std::borrow::Cow;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeArray, DeValue};
use toml::value::Datetime;

/// A key of an entry with what stands behind it.
pub(super) type Written<'t> = (&'t str, Spanned<DeValue<'t>>);

/// One entry: the place of its heading, and what is written in it.
#[derive(Debug, Default)]
pub(super) struct PlainEntry<'t> {
    pub(super) heading: Range<usize>,
    pub(super) written: Vec<Written<'t>>,
}

/// The heading of an entry.
const HEADING: &str = "[[log]]";

/// The most digits of a number, so that it is one whatever it is counted in.
const MOST_DIGITS: usize = 9;

/// Hands on each entry. Whether the whole text was taken; if not, what was handed on means nothing.
#[must_use]
pub(super) fn entries<'t>(text: &'t str, mut each: impl FnMut(&PlainEntry<'t>)) -> bool {
    if !is_of_plain_letters(text) {
        return false;
    }
    let mut entry: Option<PlainEntry<'t>> = None;
    let mut rest = Rest { text, at: 0 };
    while let Some(first) = rest.next() {
        let taken = match first {
            b'[' => rest.heading().map(|heading| {
                let next = entry.get_or_insert_default();
                if !next.heading.is_empty() {
                    each(next);
                    next.written.clear();
                }
                next.heading = heading;
            }),
            b'a'..=b'z' => entry.as_mut().and_then(|entry| {
                let written = rest.key_and_value()?;
                let is_new = !entry.written.iter().any(|(key, _)| *key == written.0);
                is_new.then(|| entry.written.push(written))
            }),
            _ => rest.end_of_line(),
        };
        if taken.is_none() {
            return false;
        }
    }
    entry.iter().for_each(each);
    entry.is_some()
}

/// Whether a text is one that [`entries`] takes.
#[must_use]
pub fn is_plain_log(text: &str) -> bool {
    entries(text, |_| {})
}

/// Whether no letter is one that TOML has nowhere. Every byte is looked at, which costs less than to stop.
fn is_of_plain_letters(text: &str) -> bool {
    let odd = |byte: u8| (byte < b' ') & (byte != b'\t') & (byte != b'\n') & (byte != b'\r') | (byte == 0x7f);
    let (any_odd, any_return) = text
        .as_bytes()
        .iter()
        .fold((false, false), |(any_odd, any), byte| (any_odd | odd(*byte), any | (*byte == b'\r')));
    // One that ends no line is left to the parser.
    !any_odd && (!any_return || text.matches('\r').count() == text.matches("\r\n").count())
}

/// What is left of a text.
struct Rest<'t> {
    text: &'t str,
    /// How much of it has been read.
    at: usize,
}

impl<'t> Rest<'t> {
    fn bytes(&self) -> &'t [u8] {
        self.text.as_bytes().get(self.at..).unwrap_or(&[])
    }

    fn next(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    /// The next bytes, so many of them, with their place.
    fn take(&mut self, length: usize) -> Option<(&'t str, Range<usize>)> {
        let place = self.at..self.at.saturating_add(length);
        let taken = self.text.get(place.clone())?;
        self.at = place.end;
        Some((taken, place))
    }

    /// The next bytes as long as they are of a kind.
    fn take_while(&mut self, is_one: impl Fn(u8) -> bool) -> Option<(&'t str, Range<usize>)> {
        let length = self.bytes().iter().position(|byte| !is_one(*byte)).unwrap_or(self.bytes().len());
        self.take(length)
    }

    fn skip_blanks(&mut self) {
        while matches!(self.next(), Some(b' ' | b'\t')) {
            self.at = self.at.saturating_add(1);
        }
    }

    fn skip(&mut self, sign: u8) -> Option<()> {
        (self.next() == Some(sign)).then(|| self.at = self.at.saturating_add(1))
    }

    /// That nothing more comes in the line but a remark; it is then read.
    fn end_of_line(&mut self) -> Option<()> {
        self.skip_blanks();
        match self.next() {
            None => return Some(()),
            Some(b'#') => {
                self.at = self
                    .bytes()
                    .iter()
                    .position(|byte| *byte == b'\n')
                    .map_or(self.text.len(), |length| self.at.saturating_add(length));
            }
            // It is followed by the end of the line, as every one of the text.
            Some(b'\r') => self.at = self.at.saturating_add(1),
            _ => {}
        }
        if self.next().is_none() { Some(()) } else { self.skip(b'\n') }
    }

    fn heading(&mut self) -> Option<Range<usize>> {
        let (heading, place) = self.take(HEADING.len())?;
        self.end_of_line()?;
        (heading == HEADING).then_some(place)
    }

    fn key_and_value(&mut self) -> Option<Written<'t>> {
        let (key, _) = self.take_while(|byte| byte.is_ascii_lowercase())?;
        ALL.contains(&key).then_some(())?;
        self.skip_blanks();
        self.skip(b'=')?;
        self.skip_blanks();
        let value = self.value()?;
        self.end_of_line()?;
        Some((key, value))
    }

    fn value(&mut self) -> Option<Spanned<DeValue<'t>>> {
        match self.next()? {
            b'"' => self.string(),
            b'0'..=b'9' => self.number_or_day(),
            b'[' => self.strings(),
            b't' | b'f' => {
                let (word, place) = self.take_while(|byte| byte.is_ascii_lowercase())?;
                word.parse().ok().map(|word| Spanned::new(place, DeValue::Boolean(word)))
            }
            _ => None,
        }
    }

    /// A text in double quotes, in which a backslash may stand before a quote or a backslash.
    fn string(&mut self) -> Option<Spanned<DeValue<'t>>> {
        let inner = self.at.saturating_add(1);
        let written = self.text.as_bytes().get(inner..)?;
        let mut length = written.iter().position(|byte| matches!(byte, b'"' | b'\\' | b'\n'))?;
        let text = match written.get(length)? {
            b'"' => Cow::Borrowed(self.text.get(inner..inner.saturating_add(length))?),
            b'\\' => {
                let (text, read) = unescaped(self.text.get(inner..)?)?;
                length = read;
                Cow::Owned(text)
            }
            _ => return None,
        };
        let (_, place) = self.take(length.saturating_add(2))?;
        // Three quotes begin another kind of text.
        (self.next() != Some(b'"')).then(|| Spanned::new(place, DeValue::String(text)))
    }

    /// Texts in brackets, on one line.
    fn strings(&mut self) -> Option<Spanned<DeValue<'t>>> {
        let begin = self.at;
        self.skip(b'[')?;
        let mut array = DeArray::new();
        self.skip_blanks();
        while self.next() == Some(b'"') {
            array.push(self.string()?);
            self.skip_blanks();
            if self.skip(b',').is_none() {
                break;
            }
            self.skip_blanks();
        }
        self.skip(b']')?;
        Some(Spanned::new(begin..self.at, DeValue::Array(array)))
    }

    /// A whole number, a day, or a day with a time.
    fn number_or_day(&mut self) -> Option<Spanned<DeValue<'t>>> {
        let (written, place) = self.take_while(|byte| matches!(byte, b'0'..=b'9' | b'-' | b':' | b'T'))?;
        let value = if written.bytes().all(|byte| byte.is_ascii_digit()) {
            (written.len() <= MOST_DIGITS).then_some(())?;
            DeValue::parse(written).ok()?.into_inner()
        } else {
            matches!(written.len(), 10 | 19).then_some(())?;
            DeValue::Datetime(written.parse::<Datetime>().ok().filter(|stamp| stamp.date.is_some())?)
        };
        Some(Spanned::new(place, value))
    }
}

/// A text up to its closing quote, and how much was read of what is written.
fn unescaped(written: &str) -> Option<(String, usize)> {
    let mut text = String::new();
    let mut letters = written.char_indices();
    while let Some((at, letter)) = letters.next() {
        match letter {
            '"' => return Some((text, at)),
            '\\' => match letters.next()?.1 {
                letter @ ('"' | '\\') => text.push(letter),
                _ => return None,
            },
            '\n' => return None,
            letter => text.push(letter),
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::entries;
    use proptest::prelude::*;
    use toml::de::{DeTable, DeValue};

    type Shown = Vec<(std::ops::Range<usize>, Vec<(String, String)>)>;

    /// What the parser makes of it; nothing where it is no TOML, or anything but entries of the log.
    fn parsed(text: &str) -> Option<Shown> {
        let table = DeTable::parse(text).ok()?.into_inner();
        let only = table.len() == 1 && text.contains("[[log]]");
        let log = table.get("log").filter(|_| only)?.get_ref().as_array()?;
        let entry = |piece: &toml::Spanned<DeValue<'_>>| {
            let table = piece.get_ref().as_table()?;
            let written = table.iter().map(|(key, value)| (key.get_ref().to_string(), format!("{value:?}")));
            Some((piece.span(), written.collect()))
        };
        log.iter().map(entry).collect()
    }

    fn plain(text: &str) -> Option<Shown> {
        let mut shown = Shown::new();
        let taken = entries(text, |entry| {
            let written = entry.written.iter().map(|(key, value)| ((*key).to_owned(), format!("{value:?}")));
            let mut written: Vec<(String, String)> = written.collect();
            written.sort();
            shown.push((entry.heading.clone(), written));
        });
        taken.then_some(shown)
    }

    fn agree(text: &str) -> Result<(), TestCaseError> {
        if let Some(shown) = plain(text) {
            prop_assert_eq!(Some(shown), parsed(text), "{}", text);
        }
        Ok(())
    }

    /// A line as it may stand in a log, right or nearly so.
    fn line() -> impl Strategy<Value = String> {
        let key = prop::sample::select(vec!["on", "what", "subject", "who", "points", "note", "snag", "another", "x"]);
        let value = prop::sample::select(vec![
            "2026-08-01",
            "2026-02-30",
            "2024-02-29",
            "2026-08-01T12:30:00",
            "2026-08-01T12:30",
            "2026-08-01 12:30:00",
            "2026-08-01T24:00:00",
            "12:30:00",
            "\"work done\"",
            "\"\"",
            "\"\"\"x\"\"\"",
            "\"a \\\"b\\\" c\\\\\"",
            "\"a\\nb\"",
            "\"a\\",
            "\"é – #\" # said",
            "'x'",
            "14",
            "014",
            "0",
            "1_000",
            "1234567890",
            "+1",
            "-1",
            "1.5",
            "true",
            "false",
            "truer",
            "[]",
            "[\"a\", \"b\"]",
            "[\"a\",\"b\",]",
            "[ \"a\" , ]",
            "[1]",
            "[,]",
            "[\"a\" \"b\"]",
            "{ a = 1 }",
            "",
            "\"a\" \"b\"",
            "2026-08",
            "\"tab\there\"",
            "\"bell\u{7}\"",
            "\"\u{7f}\"",
        ]);
        let sign = prop::sample::select(vec![" = ", "=", " =\t", "  = ", " "]);
        let heading = prop::sample::select(vec![
            "[[log]]",
            "[[log]] # one",
            "[[log]]  ",
            "[[ log ]]",
            "[log]",
            "[[log.snags]]",
            "[[log]]x",
            "# said",
            "",
            "  ",
            "\t# said",
            "# \u{1}",
            "on.x = 1",
            "\"on\" = 2026-08-01",
            "[[\"log\"]]",
            " [[log]]",
        ]);
        prop_oneof![
            4 => (key, sign, value).prop_map(|(key, sign, value)| format!("{key}{sign}{value}")),
            2 => Just("[[log]]".to_owned()),
            1 => heading.prop_map(str::to_owned),
        ]
    }

    proptest! {
        #[test]
        fn what_is_taken_is_what_the_parser_reads(
            lines in prop::collection::vec(line(), 0..9),
            end in prop::sample::select(vec!["\n", "\r\n", "\r", "\n\n"]),
            cut in 0..400usize,
        ) {
            let text = lines.join(end);
            agree(&text)?;
            agree(&format!("[[log]]\n{text}"))?;
            // As far as somebody has come who saves what is not done.
            agree(text.get(..cut).unwrap_or(&text))?;
        }

        #[test]
        fn one_letter_more_or_less_is_seen(
            at in 0..200usize,
            letter in prop::sample::select(vec!["\"", "\\", "\n", "\r", "[", "]", "#", "=", " ", "\u{0}", "é", "1", ""]),
        ) {
            let text = "[[log]]\non = 2026-08-01\nwhat = \"work done\"\nsubject = \"fuel\" # tank\npoints = [\"a\", \"b\"]\n\
                        \n[[log]]\nanother = true\nsnag = 14\nnote = \"a \\\"quoted\\\" word\"\n";
            prop_assert!(plain(text).is_some_and(|shown| shown.len() == 2));
            if text.is_char_boundary(at) && at < text.len() {
                let (before, after) = text.split_at(at);
                agree(&format!("{before}{letter}{after}"))?;
                agree(&format!("{before}{letter}{}", after.get(1..).unwrap_or("")))?;
            }
        }
    }

    #[test]
    fn whatever_the_command_writes_is_taken() {
        let text = "[[log]]\non = 2026-08-01T09:05:00\nwhat = \"snag found\"\nsubject = \"wings.left\"\nwho = \"rosa\"\n\
                    snag = 3\ntakes = \"45 min\"\nby = \"visit\"\nevidence = [\"evidence/wing.jpg\"]\n";
        assert_eq!(plain(text), parsed(text));
        assert!(plain(text).is_some() && plain(&text.replace('\n', "\r\n")).is_some());
        // Without an entry there is nothing to take.
        assert!(plain("").is_none() && plain("# said\n").is_none() && plain("on = 2026-08-01\n[[log]]\n").is_none());
    }
}
