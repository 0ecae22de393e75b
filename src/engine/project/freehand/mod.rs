//! Quantities and days as people write them, and the strict form of each: the
//! text as the language has it.
//!
//! A builder's text is only ever reworded. What it means, [`Quantity::parse`]
//! and [`DateRange::parse`] say of the strict form, as they say it of a text in
//! a pack. What is asked is known here, and makes most of what people write
//! single: `lb` is a mass where a mass is asked, and a force where a force is.
//! Where two readings are left, none is taken; both are told.

mod asked_back;
mod compound;
mod date;
mod number;
mod unit;
mod unit_words;

use crate::diagnostic::with_article;
use crate::quantity::{DateError, Dimension, Quantity, QuantityError, Unit};
use std::fmt;

pub use asked_back::told_apart;
pub use date::date;

/// The longest text that is reworded, in bytes.
const LONGEST: usize = 200;

/// A value with its strict form, where that is not what was written.
///
/// ```
/// use cotterpin_engine::project::freehand::{Asked, quantity};
/// use cotterpin_engine::quantity::Dimension;
/// let torque = Dimension::named("torque").ok_or("no such kind")?;
/// let read = quantity("18 in-lb", &Asked::of(torque)).map_err(|why| why.to_string())?;
/// assert_eq!(read.strict.as_deref(), Some("18 lbf-in"));
/// # Ok::<(), String>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Freehand<T> {
    /// What it means.
    pub value: T,
    /// The strict form; nothing where it was written so.
    pub strict: Option<String>,
}

/// What a quantity is asked for.
///
/// ```
/// use cotterpin_engine::project::freehand::{Asked, quantity};
/// use cotterpin_engine::quantity::Dimension;
/// let minutes = quantity("90m", &Asked::of(Dimension::TIME)).map(|read| read.value.to_string());
/// assert_eq!(minutes, Ok("90 min".to_owned()));
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// Its kind.
    pub dimension: Dimension,
    /// A unit such as one would answer in, where the question has an example.
    pub unit: Option<Unit>,
}

impl Asked {
    /// A quantity of that kind.
    #[must_use]
    pub fn of(dimension: Dimension) -> Self {
        Self { dimension, unit: None }
    }

    /// Whether what is asked is counted in days or longer, so that `m` may be months.
    fn is_long(&self) -> bool {
        let day = Unit::parse("day").ok();
        self.unit.as_ref().zip(day).is_some_and(|(unit, day)| unit.factor() >= day.factor())
    }
}

/// Why a builder's text is not taken.
///
/// ```
/// use cotterpin_engine::project::freehand::date;
/// let why = date("10/12/2026").map_err(|why| why.to_string());
/// assert_eq!(why, Err("it can be read in more than one way; write 2026-12-10 or 2026-10-12".to_owned()));
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotTaken {
    /// It can be read in several ways; their strict forms.
    Several(Vec<String>),
    /// The year of a day has less than four digits; what it may be.
    ShortYear(Vec<String>),
    /// A day without its year.
    NoYear,
    /// It is a quantity of another kind.
    OtherKind(Box<Quantity>),
    /// It is no quantity.
    NoQuantity(QuantityError),
    /// It is no day.
    NoDate(DateError),
}

impl fmt::Display for NotTaken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NotTaken::Several(readings) => {
                write!(f, "it can be read in more than one way; write {}", readings.join(" or "))
            }
            NotTaken::ShortYear(readings) => {
                write!(f, "write the year with four digits: {}", readings.join(" or "))
            }
            NotTaken::NoYear => f.write_str("the year is missing; write it as well, such as 2026-10-04"),
            NotTaken::OtherKind(quantity) if quantity.unit == Unit::number() => f.write_str("it has no unit"),
            NotTaken::OtherKind(quantity) => {
                write!(f, "it is {}", with_article(&quantity.dimension().describe()))
            }
            // What any quantity needs is said where one kind is asked.
            NotTaken::NoQuantity(error) => f.write_str(&error.message),
            NotTaken::NoDate(error) => error.fmt(f),
        }
    }
}

/// A text without the pair of quotes around it, straight or curly.
///
/// ```
/// use cotterpin_engine::project::freehand::unquoted;
/// assert_eq!(unquoted("“18 in”"), "18 in");
/// assert_eq!(unquoted("3\""), "3\"");
/// ```
#[must_use]
pub fn unquoted(text: &str) -> &str {
    const PAIRS: [(&[char], &[char]); 4] =
        [(&['"'], &['"']), (&['\''], &['\'']), (&['“', '”', '„'], &['”', '“']), (&['‘', '’', '‚'], &['’', '‘'])];
    let trimmed = text.trim();
    let within = |(open, close): &(&[char], &[char])| trimmed.strip_prefix(*open)?.strip_suffix(*close);
    PAIRS.iter().find_map(within).map(str::trim).filter(|inner| !inner.is_empty()).unwrap_or(trimmed)
}

/// Reads a quantity of the kind that is asked. A text that is strict already
/// is read as it stands.
///
/// # Errors
/// A [`NotTaken`] that says why it is none, or what it may be.
pub fn quantity(text: &str, asked: &Asked) -> Result<Freehand<Quantity>, NotTaken> {
    let plain = Quantity::parse(text);
    match &plain {
        Ok(quantity) if quantity.dimension() == asked.dimension => {
            return Ok(Freehand { value: quantity.clone(), strict: None });
        }
        Err(error) if error.impossible => return Err(NotTaken::NoQuantity(error.clone())),
        _ => {}
    }
    let readings = readings(unquoted(text), asked);
    match readings.as_slice() {
        [] => Err(match plain {
            Ok(quantity) => NotTaken::OtherKind(Box::new(quantity)),
            Err(error) => NotTaken::NoQuantity(error),
        }),
        [strict] => match Quantity::parse(strict) {
            Ok(value) => Ok(Freehand { value, strict: Some(strict.clone()) }),
            // The place is that of a text which nobody wrote.
            Err(error) => Err(NotTaken::NoQuantity(QuantityError { at: 0..text.len(), ..error })),
        },
        _ => Err(NotTaken::Several(readings)),
    }
}

/// The strict forms that a text may have, each of another value.
fn readings(text: &str, asked: &Asked) -> Vec<String> {
    if text.len() > LONGEST {
        return Vec::new();
    }
    let text = number::plain_characters(text);
    let mut readings = Vec::new();
    let mut values = Vec::new();
    for strict in whole(&text, asked) {
        // One that nothing can be is still what was meant, and is told as that.
        let value = Quantity::parse(&strict).map(|quantity| quantity.range).map_err(|error| error.message);
        if !values.contains(&value) {
            values.push(value);
            readings.push(strict);
        }
    }
    readings
}

/// Ends and uncertainties apart, each reworded, and together again.
fn whole(text: &str, asked: &Asked) -> Vec<String> {
    let value = |text: &str| single(text, asked, Role::Value);
    for (words, strict) in [("at least ", "at least"), ("at most ", "at most"), (">=", "at least"), ("≥", "at least")]
        .into_iter()
        .chain([("<=", "at most"), ("≤", "at most")])
    {
        if let Some(rest) = after_word(text, words) {
            return value(rest).into_iter().map(|reading| format!("{strict} {reading}")).collect();
        }
    }
    let range = after_word(text, "from ").unwrap_or(text);
    if let Some((from, to)) = split_at_word(range, " to ") {
        let (from, to) = with_each_others_units(from, to, asked);
        return pairs(&value(&from), "to", &value(&to));
    }
    let signs = ["±", "+/-", "+-", " plus or minus "];
    if let Some((middle, by)) = signs.iter().find_map(|sign| split_at_word(text, sign)) {
        let (middle, by) = with_each_others_units(middle, by, asked);
        return pairs(&value(&middle), "±", &single(&by, asked, Role::Uncertainty));
    }
    value(text)
}

/// What stands after words with which the text begins, in large or small letters.
fn after_word<'t>(text: &'t str, words: &str) -> Option<&'t str> {
    let (begin, rest) = text.split_at_checked(words.len())?;
    begin.eq_ignore_ascii_case(words).then(|| rest.trim_start())
}

/// What stands before and after words, in large or small letters.
fn split_at_word<'t>(text: &'t str, words: &str) -> Option<(&'t str, &'t str)> {
    let at = text.to_ascii_lowercase().find(words)?;
    let (before, rest) = text.split_at_checked(at)?;
    Some((before.trim(), rest.get(words.len()..)?.trim()))
}

/// `16 to 18 in` and `18 in ± 1`: a number alone has the unit of the other. In
/// `5 to 8 ft 3 in` there are two units, and nobody says which.
fn with_each_others_units(one: &str, other: &str, asked: &Asked) -> (String, String) {
    let unit = |text: &str| number::split(text).map(|(_, unit)| unit.trim().to_owned());
    let alone = |text: &str| unit(text).is_some_and(|unit| unit.is_empty());
    let lent = |from: &str, to: &str| match unit(from) {
        Some(unit) if alone(to) && unit != "%" && !unit::units(&unit, asked, Role::Value).is_empty() => {
            format!("{to} {unit}")
        }
        _ => to.to_owned(),
    };
    (lent(other, one), lent(one, other))
}

/// Readings of two parts of one text. Where both have several for the same
/// cause, the first of one goes with the first of the other.
fn pairs(some: &[String], between: &str, others: &[String]) -> Vec<String> {
    if some.len() == others.len() {
        return some.iter().zip(others).map(|(one, other)| format!("{one} {between} {other}")).collect();
    }
    some.iter().flat_map(|one| others.iter().map(move |other| format!("{one} {between} {other}"))).collect()
}

/// What a number with its unit is part of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Role {
    Value,
    /// What stands behind `±`.
    Uncertainty,
}

impl Role {
    fn fits(self, unit: &Unit, asked: &Asked) -> bool {
        let (found, asked) = (unit.dimension(), asked.dimension);
        match self {
            Role::Value => found == asked,
            Role::Uncertainty => found.difference() == asked.difference() || unit.symbol() == "%",
        }
    }
}

/// One number with its unit, or several that are one length, mass or time.
fn single(text: &str, asked: &Asked, role: Role) -> Vec<String> {
    let Some((numbers, rest)) = number::split(text) else { return Vec::new() };
    let units = unit::units(rest.trim(), asked, role);
    let readings: Vec<String> = numbers
        .iter()
        .flat_map(|number| units.iter().map(move |unit| format!("{number} {unit}").trim_end().to_owned()))
        .collect();
    if readings.is_empty() { compound::readings(text, asked, role) } else { readings }
}
