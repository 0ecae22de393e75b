//! One entry at the top of a file, such as `[[confirmed]]` or `[[log]]`: its
//! keys read one by one, and everything that is wrong with it.

use super::dates;
use super::full_names::says_nothing;
use super::known_names::nearest_or_all;
use super::plain_log::Written;
use super::text::Page;
use super::value::whole_number;
use super::words::{in_words, normal_word};
use crate::diagnostic::{Diagnostic, did_you_mean};
use crate::ir::Rules;
use crate::quantity::DateRange;
use crate::source::Span;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// One entry and what has been found wrong in it. An entry with anything wrong
/// does not count.
pub(super) struct Form<'a> {
    key: &'static str,
    keys: &'static [&'static str],
    pub(super) rules: &'a Rules,
    pub(super) page: &'a Page<'a>,
    /// What stands behind its keys. They are few: to look through them costs less than to look one up.
    written: Vec<(&'a str, &'a Spanned<DeValue<'a>>)>,
    /// The letters that they begin with. Most of what is looked for is not there, and is not even looked for then.
    letters: u32,
    pub(super) place: Span,
    pub(super) messages: Vec<Diagnostic>,
}

/// What is said where an entry was expected.
pub(super) fn not_a_list(key: &str, place: Span, written: &DeValue<'_>) -> Diagnostic {
    Diagnostic::error("record::form", format!("`{key}` is a list of entries, not {}", in_words(written)))
        .at(place, "")
        .help(format!("begin each entry with [[{key}]]"))
}

/// A bit for the letter that a key begins with; others may share it.
fn letter(key: &str) -> u32 {
    1_u32.rotate_left(key.bytes().next().map_or(0, u32::from))
}

fn letters<T>(written: &[(&str, T)]) -> u32 {
    written.iter().fold(0, |all, (key, _)| all | letter(key))
}

impl<'a> Form<'a> {
    /// An entry of that key; keys it does not have are told at once.
    pub(super) fn new(
        key: &'static str,
        keys: &'static [&'static str],
        rules: &'a Rules,
        page: &'a Page<'a>,
        (table, place): (&'a DeTable<'a>, Span),
    ) -> Self {
        let written: Vec<_> = table.iter().map(|(key, value)| (key.get_ref().as_ref(), value)).collect();
        let letters = letters(&written);
        let mut form = Self { key, keys, rules, page, written, letters, place, messages: Vec::new() };
        form.unknown_keys(table);
        form
    }

    /// The same of one whose keys are all known.
    pub(super) fn of_known(
        (key, keys): (&'static str, &'static [&'static str]),
        rules: &'a Rules,
        page: &'a Page<'a>,
        (written, place): (&'a [Written<'a>], Span),
    ) -> Self {
        let written: Vec<_> = written.iter().map(|(key, value)| (*key, value)).collect();
        let letters = letters(&written);
        Self { key, keys, rules, page, written, letters, place, messages: Vec::new() }
    }

    /// A hold point that must be there.
    pub(super) fn hold_point(&mut self, key: &str, what: &str) -> Option<String> {
        let by = normal_word(&self.text(key, what)?);
        let known: Vec<&str> = self.rules.hold_points.iter().map(|point| point.name.as_str()).collect();
        if known.contains(&by.as_str()) {
            return Some(by);
        }
        // The nearest alone may be another one than is meant: `engine-run` is not `engine-hung`.
        let near = did_you_mean(&by, known.iter().copied()).map_or_else(String::new, |near| format!("{near} "));
        let all = known.join(", ");
        self.wrong(key, "record::hold-point", format!("{near}the hold points are {all}"));
        None
    }

    fn unknown_keys(&mut self, table: &DeTable<'_>) {
        let page = self.page;
        for key in table.keys().filter(|key| !self.keys.contains(&key.get_ref().as_ref())) {
            let help = did_you_mean(key.get_ref(), self.keys.iter().copied())
                .unwrap_or_else(|| format!("its keys are {}", self.keys.join(", ")));
            let message = format!("`{}` has no `{}`", self.key, key.get_ref());
            self.messages.push(Diagnostic::error("record::unknown", message).at(page.span(key), "").help(help));
        }
    }

    /// What stands behind a key.
    pub(super) fn find(&self, key: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        let may_be_there = self.letters & letter(key) != 0;
        self.written.iter().filter(|_| may_be_there).find(|(own, _)| *own == key).map(|(_, value)| *value)
    }

    /// Says that a key is missing.
    pub(super) fn missing(&mut self, key: &str, what: &str) {
        let message = format!("this `{}` does not count: its `{key}` is missing", self.key);
        let help = format!("add `{key}`, {what}");
        self.messages.push(Diagnostic::error("record::missing", message).at(self.place, "").help(help));
    }

    /// Says that what stands behind a key is not right.
    pub(super) fn wrong(&mut self, key: &str, code: &'static str, label: String) {
        let place = self.find(key).map_or(self.place, |value| self.page.span(value));
        let message = format!("this `{}` does not count: its `{key}` is not right", self.key);
        self.messages.push(Diagnostic::error(code, message).at(place, label).help(format!("mend `{key}`")));
    }

    /// A text that must be there.
    pub(super) fn text(&mut self, key: &str, what: &str) -> Option<String> {
        let Some(written) = self.find(key) else {
            self.missing(key, what);
            return None;
        };
        self.text_of(key, written.get_ref())
    }

    /// A text that must be there and say something.
    pub(super) fn telling(&mut self, key: &str, what: &str) -> Option<String> {
        let text = self.text(key, what)?;
        if says_nothing(&text) {
            self.wrong(key, "record::form", format!("this says nothing: write {what}"));
            return None;
        }
        Some(text)
    }

    /// A text that may be there.
    pub(super) fn optional_text(&mut self, key: &str) -> Option<String> {
        let written = self.find(key)?.get_ref();
        self.text_of(key, written)
    }

    fn text_of(&mut self, key: &str, written: &DeValue<'_>) -> Option<String> {
        let text = written.as_str().map(str::trim).filter(|text| !text.is_empty()).map(str::to_owned);
        if text.is_none() {
            let label = match written {
                DeValue::String(_) => "this is empty".to_owned(),
                other => format!("expected a text in quotes, this is {}", in_words(other)),
            };
            self.wrong(key, "record::form", label);
        }
        text
    }

    /// A whole number, zero or more, that must be there.
    pub(super) fn count(&mut self, key: &str, what: &str) -> Option<usize> {
        let Some(written) = self.find(key) else {
            self.missing(key, what);
            return None;
        };
        let count = match written.get_ref() {
            DeValue::Integer(number) => whole_number(number).and_then(|number| usize::try_from(number).ok()),
            _ => None,
        };
        if count.is_none() {
            self.wrong(key, "record::form", "expected a whole number, zero or more".to_owned());
        }
        count
    }

    /// The record it is about: its name, or its number.
    pub(super) fn subject(&mut self) -> Option<String> {
        match self.find("of")?.get_ref() {
            DeValue::Integer(number) => {
                let counted = whole_number(number).filter(|number| *number > 0);
                if counted.is_none() {
                    self.wrong("of", "record::form", "records are counted from 1".to_owned());
                }
                counted.map(|number| number.to_string())
            }
            _ => self.optional_text("of"),
        }
    }

    /// Whether it is so; yes where nothing is said.
    pub(super) fn holds(&mut self) -> Option<bool> {
        let Some(written) = self.find("holds") else {
            return Some(true);
        };
        let holds = match written.get_ref() {
            DeValue::Boolean(holds) => Some(*holds),
            DeValue::String(text) if text == "yes" => Some(true),
            DeValue::String(text) if text == "no" => Some(false),
            _ => None,
        };
        if holds.is_none() {
            self.wrong("holds", "record::form", "expected true or false".to_owned());
        }
        holds
    }

    /// A role the packs know.
    pub(super) fn role(&mut self) -> Option<String> {
        let written = self.text("role", "the role in which the person speaks")?;
        let is_known = |role: &str| self.rules.roles.iter().any(|known| known.name == role);
        // As nearly always: in the pack's own letters.
        if is_known(&written) {
            return Some(written);
        }
        let role = normal_word(&written);
        if is_known(&role) {
            return Some(role);
        }
        let known: Vec<&str> = self.rules.roles.iter().map(|role| role.name.as_str()).collect();
        self.wrong("role", "record::role", nearest_or_all(&role, &known, "the packs know"));
        None
    }

    /// A day, month or year that must be there.
    pub(super) fn date(&mut self, key: &str, what: &str) -> Option<DateRange> {
        self.when(key, what, dates::read)
    }

    /// The same with a time, if it is a day and one was written.
    pub(super) fn moment(&mut self, key: &str, what: &str) -> Option<(DateRange, Option<u32>)> {
        self.when(key, what, dates::read_with_time)
    }

    fn when<T>(&mut self, key: &str, what: &str, read: impl Fn(&DeValue<'_>) -> Result<T, String>) -> Option<T> {
        let Some(written) = self.find(key) else {
            self.missing(key, what);
            return None;
        };
        match read(written.get_ref()) {
            Ok(when) => Some(when),
            Err(why) => {
                self.wrong(key, "value::date", why);
                None
            }
        }
    }
}
