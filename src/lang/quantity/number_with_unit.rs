//! Quantities as a builder writes them.

use std::error::Error;
use std::fmt;
use std::ops;

use super::dimension::Dimension;
use super::exact::Exact;
use super::exact_interval::ExactInterval;
use super::show::show;
use super::unit::{Unit, simple};

/// A measured value: the set of possible SI values, and the unit it was
/// written in.
///
/// ```
/// use cotterpin_lang::quantity::Quantity;
/// let flow = Quantity::parse("18.4 gal/h ± 0.2 gal/h").map(|q| q.to_string());
/// assert_eq!(flow, Ok("18.2 gal/h to 18.6 gal/h".to_owned()));
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Quantity {
    /// The possible values, in SI base units (angles in degrees).
    pub range: ExactInterval,
    /// The unit of the reading.
    pub unit: Unit,
}

/// Why a text is no quantity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QuantityError {
    /// The bytes of the text that are wrong.
    pub at: ops::Range<usize>,
    /// What is wrong with them.
    pub message: String,
    /// What would have been right.
    pub expected: String,
    /// Whether it is built as it should be, and only nothing can be so.
    pub impossible: bool,
}

impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}; expected {}", self.message, self.expected)
    }
}

impl Error for QuantityError {}

/// Part of the text, with where it begins.
#[derive(Clone, Copy)]
struct Piece<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Piece<'t> {
    /// Without the blanks around it.
    fn trim(self) -> Piece<'t> {
        let front = self.text.trim_start();
        Piece { text: front.trim_end(), at: self.at.saturating_add(self.text.len().saturating_sub(front.len())) }
    }

    /// What stands before and after a separator, trimmed.
    fn split(self, separator: &str) -> Option<(Piece<'t>, Piece<'t>)> {
        let (before, after) = self.text.split_once(separator)?;
        Some((Piece { text: before, at: self.at }.trim(), self.tail(after).trim()))
    }

    /// A piece that this one ends with.
    fn tail(self, text: &'t str) -> Piece<'t> {
        Piece { text, at: self.at.saturating_add(self.text.len().saturating_sub(text.len())) }
    }

    fn wrong(self, message: impl Into<String>, expected: impl Into<String>) -> QuantityError {
        QuantityError {
            at: self.at..self.at.saturating_add(self.text.len()),
            message: message.into(),
            expected: expected.into(),
            impossible: false,
        }
    }
}

/// A number with its unit.
struct Reading {
    number: Exact,
    unit: Unit,
}

impl Reading {
    fn si(&self) -> Exact {
        self.unit.to_si(&self.number)
    }
}

impl Quantity {
    /// One reading, taken to be exact.
    #[must_use]
    pub fn point(reading: &Exact, unit: Unit) -> Quantity {
        Quantity { range: ExactInterval::point(unit.to_si(reading)), unit }
    }

    /// Reads what a builder writes: `18.4 gal/h`, `18.4 gal/h ± 0.2 gal/h`
    /// (also `+-`), `352 lb ± 0.5 %` (of the reading), `12 in to 12.5 in`,
    /// `at least 3 in`, `at most 3 in`, `1/16 in`, `1 1/2 in`, `-49 in`, `12`.
    ///
    /// On a reading that is itself in `%`, `± 2 %` is taken as it stands. On a
    /// temperature the uncertainty is a difference, whichever way it is
    /// written, and neither end lies below absolute zero.
    ///
    /// # Errors
    /// A [`QuantityError`] with the place of the wrong part.
    pub fn parse(text: &str) -> Result<Quantity, QuantityError> {
        let all = Piece { text, at: 0 }.trim();
        let quantity = Quantity::as_written(all)?;
        let cold = |end: Option<&Exact>| end.is_some_and(|kelvin| kelvin.signum() < 0);
        let point = quantity.dimension().is_point_temperature();
        if point && (cold(quantity.range.lo()) || cold(quantity.range.hi())) {
            let how = if cold(quantity.range.hi()) { "is" } else { "reaches" };
            let wrong = all.wrong(
                format!("`{}` {how} below absolute zero", all.text),
                "a temperature of at least -273.15 degC, which is -459.67 degF",
            );
            return Err(QuantityError { impossible: true, ..wrong });
        }
        Ok(quantity)
    }

    /// As it is written, whether or not anything can be so.
    fn as_written(all: Piece<'_>) -> Result<Quantity, QuantityError> {
        if all.text.is_empty() {
            return Err(all.wrong("nothing is written", "a number with its unit, such as `12.1 in`"));
        }
        if let Some(reading) = plain_reading(all.text) {
            return Ok(reading.spread(ExactInterval::point));
        }
        if let Some(rest) = all.text.strip_prefix("at least ") {
            let reading = reading(all.tail(rest).trim())?;
            return Ok(reading.spread(|si| ExactInterval::new(Some(si), None)));
        }
        if let Some(rest) = all.text.strip_prefix("at most ") {
            let reading = reading(all.tail(rest).trim())?;
            return Ok(reading.spread(|si| ExactInterval::new(None, Some(si))));
        }
        if let Some((from, to)) = all.split(" to ") {
            return from_to(from, to);
        }
        let signs = ["±", "+/-", "+-"];
        match signs.iter().find_map(|sign| all.split(sign)) {
            Some((value, uncertainty)) => give_or_take(value, uncertainty),
            None => Ok(reading(all)?.spread(ExactInterval::point)),
        }
    }

    /// What kind of quantity it is.
    #[must_use]
    pub fn dimension(&self) -> Dimension {
        self.unit.dimension()
    }
}

/// The quantity in its own unit, as [`show`](super::show) writes it.
impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&show(&self.range, &self.unit))
    }
}

impl Reading {
    fn spread(self, range: impl FnOnce(Exact) -> ExactInterval) -> Quantity {
        Quantity { range: range(self.si()), unit: self.unit }
    }
}

/// `12 in to 12.5 in`.
fn from_to(from: Piece<'_>, to: Piece<'_>) -> Result<Quantity, QuantityError> {
    let (lo, hi) = (reading(from)?, reading(to)?);
    if lo.unit.dimension() != hi.unit.dimension() {
        let (lo, hi) = (lo.unit.dimension(), hi.unit.dimension());
        return Err(to.wrong(
            format!("`{}` is {lo} and `{}` is {hi}", from.text, to.text),
            "both ends with a unit of the same kind, such as `12 in to 12.5 in`",
        ));
    }
    let (low, high) = (lo.si(), hi.si());
    if low > high {
        return Err(to.wrong(format!("`{}` is less than `{}`", to.text, from.text), "the lesser end first"));
    }
    Ok(Quantity { range: ExactInterval::new(Some(low), Some(high)), unit: lo.unit })
}

/// `18.4 gal/h ± 0.2 gal/h`.
fn give_or_take(value: Piece<'_>, uncertainty: Piece<'_>) -> Result<Quantity, QuantityError> {
    let (middle, by) = (reading(value)?, reading(uncertainty)?);
    if by.number.signum() < 0 {
        return Err(uncertainty.wrong(format!("the uncertainty `{}` is negative", uncertainty.text), "zero or more"));
    }
    let of_reading = by.unit.symbol() == "%" && middle.unit.symbol() != "%";
    let spread = if of_reading && middle.unit.dimension().is_point_temperature() {
        return Err(uncertainty
            .wrong("a percentage of a temperature on a scale means nothing", "a difference, such as `± 2 deltaC`"));
    } else if of_reading {
        middle.si().abs().mul(&by.si())
    } else if by.unit.dimension().difference() == middle.unit.dimension().difference() {
        by.number.mul(by.unit.factor())
    } else if middle.unit.symbol().is_empty() {
        let symbol = by.unit.symbol();
        return Err(value.wrong(
            format!("the reading `{}` has no unit, and its uncertainty has one", value.text),
            format!("the unit on both sides, such as `{} {symbol} ± {}`", value.text, uncertainty.text),
        ));
    } else {
        let (kind, other) = (middle.unit.dimension(), by.unit.dimension());
        return Err(uncertainty.wrong(
            format!("the uncertainty `{}` is {other} and the reading is {kind}", uncertainty.text),
            format!("an uncertainty in {} or in %", middle.unit.symbol()),
        ));
    };
    Ok(middle.spread(|si| ExactInterval::new(Some(si.sub(&spread)), Some(si.add(&spread)))))
}

/// `12.1 in`, as nearly every quantity is written: a number with a unit of the
/// table or with none. Neither has room for ` to ` or a sign of uncertainty, so
/// none is looked for. `None` leaves the text to the whole reading.
fn plain_reading(text: &str) -> Option<Reading> {
    let (digits, rest) = split_number(text);
    let symbol = rest.trim_start();
    let unit = if symbol.is_empty() { Unit::number() } else { simple(symbol)?.clone() };
    Some(Reading { number: Exact::parse(digits)?, unit })
}

/// One number with its unit.
fn reading(piece: Piece<'_>) -> Result<Reading, QuantityError> {
    let (digits, rest) = split_number(piece.text);
    if digits.is_empty() {
        return Err(piece.wrong(
            format!("`{}` does not begin with a number", piece.text),
            "a number with its unit, such as `12.1 in`",
        ));
    }
    let number = Exact::parse(digits).ok_or_else(|| {
        Piece { text: digits, at: piece.at }.wrong(
            format!("`{digits}` is not a number that can be read exactly"),
            "a number of at most 40 digits, such as 18.4, -49 or 1 1/2",
        )
    })?;
    let symbol = piece.tail(rest).trim();
    if symbol.text.is_empty() {
        let unit = Unit::number();
        return Ok(Reading { number, unit });
    }
    let unit = Unit::parse(symbol.text)
        .map_err(|error| symbol.wrong(error.to_string(), "a unit that is known, such as in, lb or gal/h"))?;
    Ok(Reading { number, unit })
}

/// The longest beginning that is built like a number, and what follows.
fn split_number(text: &str) -> (&str, &str) {
    let unsigned = text.strip_prefix(['-', '+', '\u{2212}']).unwrap_or(text);
    let digit = |c: char| c.is_ascii_digit();
    let after = unsigned.trim_start_matches(|c: char| digit(c) || c == '.' || c == '_');
    if after.len() == unsigned.len() {
        return ("", text);
    }
    let after = exponent(after)
        .or_else(|| fraction_end(after.strip_prefix('/')?))
        .or_else(|| {
            let over = after.strip_prefix([' ', '\u{a0}'])?.trim_start();
            let rest = over.trim_start_matches(digit);
            let under = rest.strip_prefix('/').filter(|_| rest.len() < over.len())?;
            fraction_end(under)
        })
        .unwrap_or(after);
    (text.strip_suffix(after).unwrap_or(text), after)
}

/// What follows `e3`, `e-3`.
fn exponent(text: &str) -> Option<&str> {
    let rest = text.strip_prefix(['e', 'E'])?;
    fraction_end(rest.strip_prefix(['-', '+']).unwrap_or(rest))
}

/// What follows a run of digits, if there is one.
fn fraction_end(text: &str) -> Option<&str> {
    let rest = text.trim_start_matches(|c: char| c.is_ascii_digit());
    (rest.len() < text.len()).then_some(rest)
}
