//! One value of the builder's against the kind of its fact.

use super::freehand::Freehand;
use super::full_names::{is_to_come, says_nothing};
use super::text::Page;
use super::words::{asked, in_words, listed, normal_word, question};
use super::{Recorded, Taken, Value, dates};
use crate::diagnostic::{Diagnostic, did_you_mean};
use crate::ir::{ChoiceSet, Fact, Kind, Rules};
use crate::quantity::{Dimension, Exact, ExactInterval, Unit};
use crate::source::Span;
use toml::Spanned;
use toml::de::{DeInteger, DeValue};

/// What was read.
pub(super) struct Read {
    pub(super) value: Value,
    /// The unit it was written in.
    pub(super) unit: Option<Unit>,
    /// The strict form, where that is not what was written.
    pub(super) read_as: Option<String>,
}

/// A value without a unit, written as it is read.
impl From<Value> for Read {
    fn from(value: Value) -> Self {
        Self { value, unit: None, read_as: None }
    }
}

/// A value, a fact to read it for, and where it stands.
pub(super) struct Reading<'a> {
    pub(super) rules: &'a Rules,
    pub(super) fact: &'a Fact,
    /// The fact's name as the builder writes it.
    pub(super) name: &'a str,
    place: Span,
    /// As it stands in the file, quotes and all.
    raw: &'a str,
}

/// Reads a single value of `fact`. `source_text` is how it stands in the file.
pub(super) fn value(
    rules: &Rules,
    (name, fact): (&str, &Fact),
    page: &Page<'_>,
    written: &Spanned<DeValue<'_>>,
    source_text: &str,
    taken: Option<&Taken>,
) -> Result<Recorded, Box<Diagnostic>> {
    let reading = Reading { rules, fact, name, place: page.span(written), raw: source_text };
    let text = written.get_ref().as_str().unwrap_or(source_text).to_owned();
    let Read { value, unit, read_as } = reading.value(written.get_ref())?;
    let value = reading.within_limits(value, &text)?;
    let taken = taken.cloned().map(Box::new);
    Ok(Recorded { value, text, read_as, unit, taken, place: reading.place })
}

impl Reading<'_> {
    fn value(&self, written: &DeValue<'_>) -> Result<Read, Box<Diagnostic>> {
        if let DeValue::String(text) = written
            && let Some(absent) = self.absent(text)
        {
            return absent;
        }
        match self.fact.kind {
            Kind::YesNo => self.yes_no(written),
            Kind::Choice(_) => self.choice(written),
            Kind::Text | Kind::Named(_) => self.text(written),
            Kind::Count => self.count(written),
            Kind::Number(dimension) => self.number(written, dimension),
            Kind::Date => self.date(written),
        }
    }

    pub(super) fn error(&self, code: &'static str, message: String, label: &str) -> Box<Diagnostic> {
        let help = question(&self.fact.ask, self.fact.example.as_deref());
        Box::new(Diagnostic::error(code, message).at(self.place, label).help(help))
    }

    fn wrong_kind(&self, written: &DeValue<'_>) -> Box<Diagnostic> {
        let message = format!("`{}` asks for {}", self.name, asked(self.rules, self.fact.kind));
        self.error("value::kind", message, &format!("this is {}", in_words(written)))
    }

    /// The place of some bytes of a text; all of it where the file does not
    /// show the text byte for byte.
    pub(super) fn inside(&self, at: &std::ops::Range<usize>) -> Span {
        let quoted = self.raw.get(1..self.raw.len().saturating_sub(1)).unwrap_or("");
        if self.raw.starts_with("\"\"\"")
            || self.raw.starts_with("'''")
            || quoted.contains('\\')
            || at.end > quoted.len()
        {
            return self.place;
        }
        let first = self.place.range().start.saturating_add(1);
        Span::new(self.place.source, first.saturating_add(at.start), first.saturating_add(at.end))
    }

    /// `"none"`, and what looks like it; nothing for all other texts.
    fn absent(&self, text: &str) -> Option<Result<Read, Box<Diagnostic>>> {
        if text.trim().is_empty() {
            let message = format!("`{}` is recorded as an empty text", self.name);
            let error = self.error("value::empty", message, "delete the line until the value is known");
            return Some(Err(error));
        }
        let a_word = || !self.fact.optional && self.rules.words(self.fact.kind).contains(&"none");
        if !text.trim().eq_ignore_ascii_case("none") || a_word() {
            return None;
        }
        if !self.fact.optional {
            let message = format!("`{}` cannot be none: it asks for {}", self.name, asked(self.rules, self.fact.kind));
            let label = "not optional: delete the line until the value is known";
            return Some(Err(self.error("value::none", message, label)));
        }
        if text != "none" {
            let message = format!("`{}` is none, or it is a text that only looks like it", self.name);
            return Some(Err(self.error("value::none", message, "write \"none\", in small letters")));
        }
        Some(Ok(Value::Absent.into()))
    }

    fn yes_no(&self, written: &DeValue<'_>) -> Result<Read, Box<Diagnostic>> {
        let yes = match written {
            DeValue::Boolean(yes) => Some(*yes),
            DeValue::String(text) => {
                let known = ["yes", "no"];
                word_among(&known, text).map(|place| place == 0)
            }
            _ => None,
        };
        let yes = yes.ok_or_else(|| self.wrong_kind(written))?;
        Ok(Value::Words(ChoiceSet::yes_or_no(yes)).into())
    }

    fn choice(&self, written: &DeValue<'_>) -> Result<Read, Box<Diagnostic>> {
        let DeValue::String(text) = written else {
            return Err(self.wrong_kind(written));
        };
        let words = self.rules.words(self.fact.kind);
        if let Some(place) = word_among(&words, text) {
            return Ok(Value::Words(ChoiceSet::word(place)).into());
        }
        let word = normal_word(text);
        let label =
            did_you_mean(&word, words.iter().copied()).unwrap_or_else(|| format!("expected one of {}", listed(&words)));
        Err(self.error("value::word", format!("`{text}` is not a word of `{}`", self.name), &label))
    }

    fn text(&self, written: &DeValue<'_>) -> Result<Read, Box<Diagnostic>> {
        match written {
            DeValue::String(text)
                if self.fact.kind == Kind::Text && (says_nothing(text) || is_to_come(text) || is_yes_or_no(text)) =>
            {
                let message = format!("`{}` asks for a text, and `{}` says nothing", self.name, text.trim());
                Err(self.error("value::kind", message, "leave it out until it is known"))
            }
            DeValue::String(text) => Ok(Value::Text(text.clone().into_owned()).into()),
            DeValue::Integer(_) | DeValue::Float(_) => {
                let message = format!("`{}` asks for a text, and this is a number", self.name);
                let label = "write it in quotes: \"0107\" and \"107\" are two texts and one number";
                Err(self.error("value::kind", message, label))
            }
            _ => Err(self.wrong_kind(written)),
        }
    }

    fn count(&self, written: &DeValue<'_>) -> Result<Read, Box<Diagnostic>> {
        let DeValue::Integer(whole) = written else {
            return Err(self.wrong_kind(written));
        };
        let count = whole_number(whole).filter(|n| *n >= 0).ok_or_else(|| {
            self.error("value::kind", format!("`{}` asks for a count", self.name), "expected 0 or more")
        })?;
        Ok(Value::Number(ExactInterval::point(Exact::from_int(count))).into())
    }

    fn number(&self, written: &DeValue<'_>, dimension: Dimension) -> Result<Read, Box<Diagnostic>> {
        let plain = match written {
            DeValue::String(text) => return self.quantity(text, dimension),
            DeValue::Integer(whole) if whole.radix() == 10 => Exact::parse(whole.as_str().trim_start_matches('+')),
            DeValue::Integer(whole) => whole_number(whole).map(Exact::from_int),
            DeValue::Float(number) => Exact::parse(number.as_str().trim_start_matches('+')),
            _ => return Err(self.wrong_kind(written)),
        };
        if dimension != Dimension::NUMBER {
            return self.bare(&plain.map(|number| number.to_string()).unwrap_or_default(), dimension);
        }
        let plain = plain.ok_or_else(|| {
            self.error(
                "value::kind",
                format!("`{}` asks for a number", self.name),
                "not a number one can calculate with",
            )
        })?;
        Ok(Value::Number(ExactInterval::point(plain)).into())
    }

    fn date(&self, written: &DeValue<'_>) -> Result<Read, Box<Diagnostic>> {
        let Freehand { value: range, strict } = dates::read_freehand(written)
            .map_err(|why| self.error("value::date", format!("`{}` asks for a date", self.name), &why))?;
        let day = |date: crate::quantity::Date| Exact::from_int(i64::from(date.days()));
        let value = Value::Number(ExactInterval::new(Some(day(range.first)), Some(day(range.last))));
        Ok(Read { read_as: strict, ..value.into() })
    }
}

/// An answer to another question.
fn is_yes_or_no(text: &str) -> bool {
    ["yes", "no"].iter().any(|word| text.trim().eq_ignore_ascii_case(word))
}

/// The place of a word among those that are known.
fn word_among(words: &[&str], written: &str) -> Option<usize> {
    let place = |word: &str| words.iter().position(|known| *known == word);
    // As nearly always: written as the packs write it.
    place(written).or_else(|| place(&normal_word(written)))
}

/// A whole number in any of TOML's notations.
pub(super) fn whole_number(whole: &DeInteger<'_>) -> Option<i64> {
    i64::from_str_radix(whole.as_str(), whole.radix()).ok()
}

/// The number of a snag, in any of TOML's notations.
pub(super) fn snag_number(written: &DeValue<'_>) -> Option<u32> {
    match written {
        DeValue::Integer(number) => whole_number(number).and_then(|number| u32::try_from(number).ok()),
        _ => None,
    }
}
