//! Values as data, beside the text in which somebody wrote them.

use crate::ir::{Kind, Rules, Value};
use crate::project::Recorded;
use crate::quantity::{Date, Exact, ExactInterval, Unit};
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

/// The decimal digits that every reader of JSON keeps of a number.
const KEPT_DIGITS: usize = 15;
/// A decimal with more places is written as a fraction.
const MOST_PLACES: u32 = 30;

/// A value as data.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum TypedValue {
    /// A number, or whatever lies between two ends.
    Number {
        /// The unit it was written in; nothing of a plain number.
        unit: Option<String>,
        /// It is at least this; nothing where there is no such end.
        lower: Option<ExactNumber>,
        /// It is at most this.
        upper: Option<ExactNumber>,
    },
    /// A day, or whichever lies between two.
    Date {
        /// The first day it can be, ISO 8601.
        first: Option<String>,
        /// The last.
        last: Option<String>,
    },
    /// The words it can be, one where it is known; `yes` and `no` are words.
    Words {
        /// In the order of their choice.
        words: Vec<String>,
    },
    /// A text, or a name.
    Text {
        /// Without the quotes around it.
        text: String,
    },
    /// Known to be none.
    None,
}

/// An exact number as text: a decimal, or a fraction such as `1/3` where no
/// decimal ends. As JSON it is a number if that has at most 15 digits, which
/// every reader gives back as they are; else a string.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct ExactNumber(String);

impl ExactNumber {
    fn of(exact: &Exact) -> Self {
        Self(exact.terminating(MOST_PLACES).unwrap_or_else(|| exact.to_fraction()))
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Whether JSON has it as a number.
    fn is_short(&self) -> bool {
        let digits = self.0.strip_prefix('-').unwrap_or(&self.0);
        digits.len() <= KEPT_DIGITS && digits.chars().all(|one| one.is_ascii_digit() || one == '.')
    }
}

impl fmt::Display for ExactNumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Serialize for ExactNumber {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match (self.is_short(), self.0.parse::<i64>(), self.0.parse::<f64>()) {
            (true, Ok(whole), _) => to.serialize_i64(whole),
            (true, _, Ok(number)) => to.serialize_f64(number),
            _ => to.serialize_str(&self.0),
        }
    }
}

impl<'de> Deserialize<'de> for ExactNumber {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(NumberOrText)
    }
}

struct NumberOrText;

impl Visitor<'_> for NumberOrText {
    type Value = ExactNumber;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number, or one in a string")
    }

    fn visit_i64<E: Error>(self, whole: i64) -> Result<ExactNumber, E> {
        Ok(ExactNumber(whole.to_string()))
    }

    fn visit_u64<E: Error>(self, whole: u64) -> Result<ExactNumber, E> {
        Ok(ExactNumber(whole.to_string()))
    }

    fn visit_f64<E: Error>(self, number: f64) -> Result<ExactNumber, E> {
        Ok(ExactNumber(number.to_string()))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<ExactNumber, E> {
        match Exact::parse(text).or_else(|| text.split('/').next().and_then(Exact::parse)) {
            Some(_) => Ok(ExactNumber(text.to_owned())),
            None => Err(E::custom(format_args!("`{text}` is no number"))),
        }
    }
}

impl TypedValue {
    /// A recorded value of a kind, in the unit it was written in, or else in `usual`.
    pub(super) fn of(rules: &Rules, kind: Kind, recorded: &Recorded, usual: Option<&Unit>) -> Self {
        match &recorded.value {
            Value::Absent => Self::None,
            Value::Text(text) => Self::Text { text: text.clone() },
            Value::Words(set) => {
                let words = rules.words(kind).into_iter().enumerate();
                let possible = words.filter(|(at, _)| set.and(crate::ir::ChoiceSet::word(*at)) != Default::default());
                Self::Words { words: possible.map(|(_, word)| word.to_owned()).collect() }
            }
            Value::Number(range) if kind == Kind::Date => Self::date(range),
            Value::Number(range) => Self::number(range, recorded.unit.as_ref().or(usual)),
        }
    }

    /// A number in a unit of its dimension.
    pub(super) fn number(range: &ExactInterval, unit: Option<&Unit>) -> Self {
        if range.is_absent() {
            return Self::None;
        }
        let end = |end: Option<&Exact>| {
            let end = end?;
            Some(unit.map_or_else(|| ExactNumber::of(end), |unit| ExactNumber::of(&unit.from_si(end))))
        };
        Self::Number {
            unit: unit.map(Unit::symbol).filter(|symbol| !symbol.is_empty()).map(str::to_owned),
            lower: end(range.lo()),
            upper: end(range.hi()),
        }
    }

    /// A date in days.
    pub(super) fn date(range: &ExactInterval) -> Self {
        if range.is_absent() {
            return Self::None;
        }
        Self::Date { first: range.lo().and_then(day_text), last: range.hi().and_then(day_text) }
    }
}

/// A number of days as a day of the calendar.
pub(super) fn day_text(days: &Exact) -> Option<String> {
    let days = Some(days.to_f64_below()).filter(|days| days.abs() < 1e6)?;
    #[expect(clippy::cast_possible_truncation, reason = "checked to be small")]
    Some(Date::from_days(days.floor() as i32).to_string())
}
