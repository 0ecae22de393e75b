//! Numbers with units, and the limits a sensible value keeps.

use super::Value;
use super::freehand::{self, Asked, Freehand, NotTaken};
use super::value::{Read, Reading};
use crate::diagnostic::{Diagnostic, nearest, with_article};
use crate::ir::{Fact, Rules};
use crate::quantity::{Dimension, Quantity, QuantityError, Unit, UnitError};
use crate::source::SharedText;
use std::ops::Range;

/// The most units that a message names to choose from.
const MOST_CHOICES: usize = 5;

/// Units that builders measure in, the likeliest first.
const COMMON: [&str; 32] = [
    "in", "ft", "mm", "cm", "m", "lb", "kg", "g", "oz", "h", "min", "s", "lbf-in", "lbf-ft", "Nm", "kt", "mph", "km/h",
    "ft/min", "gal", "L", "gal/h", "L/h", "gal/min", "lb/h", "in2", "ft2", "cm2", "m2", "lb-in", "kg-m", "lbf",
];

/// Why a text is no value of a fact: a code, a message, what to write, and the
/// bytes that are wrong.
///
/// ```
/// use cotterpin_engine::project::NotRead;
/// let why = NotRead { code: "unit::missing", message: "no unit".into(), label: "write it".into(), at: None };
/// assert_eq!(why.to_string(), "no unit; write it");
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotRead {
    /// As a diagnostic has it.
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// What it is, and what to write instead.
    pub label: String,
    /// The bytes of the text that are wrong, where not all of it is.
    pub at: Option<Range<usize>>,
}

impl std::fmt::Display for NotRead {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}; {}", self.message, self.label)
    }
}

/// Reads a text such as `12.1 in ± 0.1 in`, or what people write for it, as a
/// quantity of the kind that a fact asks for; `name` is the fact's, as the
/// builder has it.
///
/// # Errors
/// Why it is none, with what to write.
pub fn read_quantity(
    rules: &Rules,
    (fact, name): (&Fact, &str),
    text: &str,
    dimension: Dimension,
) -> Result<Freehand<Quantity>, NotRead> {
    let not_read = |why| not_read((fact, name), text, &why, dimension);
    if let Some(read) = asked_back(rules, fact, text, dimension) {
        return read.map_err(not_read);
    }
    // As nearly always: written as the language has it.
    if let Ok(value) = Quantity::parse(text)
        && value.dimension() == dimension
    {
        return Ok(Freehand { value, strict: None });
    }
    let asked = Asked { dimension, unit: example_unit(fact) };
    freehand::quantity(text, &asked).map_err(not_read)
}

/// A text with a unit that means more than one thing where a pack holds: each of its readings, or the one that they
/// all come to. Nothing of any other text.
fn asked_back(
    rules: &Rules,
    fact: &Fact,
    text: &str,
    dimension: Dimension,
) -> Option<Result<Freehand<Quantity>, NotTaken>> {
    let units = rules.packs.iter().flat_map(|pack| &pack.asked_back);
    let texts = units
        .flat_map(|(symbol, meanings)| freehand::told_apart(text, symbol, meanings.iter().map(SharedText::as_str)));
    let asked = Asked { dimension, unit: example_unit(fact) };
    let mut readings: Vec<(String, Quantity)> = Vec::new();
    for text in texts {
        let Ok(Freehand { value, strict }) = freehand::quantity(&text, &asked) else { continue };
        if !readings.iter().any(|(_, known)| known.range == value.range) {
            readings.push((strict.unwrap_or(text), value));
        }
    }
    match readings.len() {
        0 => None,
        1 => readings.pop().map(|(strict, value)| Ok(Freehand { value, strict: Some(strict) })),
        _ => Some(Err(NotTaken::Several(readings.into_iter().map(|(strict, _)| strict).collect()))),
    }
}

/// The unit of the answer that the pack gives as an example.
fn example_unit(fact: &Fact) -> Option<Unit> {
    let example = fact.example.as_deref().and_then(|example| Quantity::parse(example).ok());
    example.map(|quantity| quantity.unit).or_else(|| fact.unit.clone())
}

fn not_read((fact, name): (&Fact, &str), text: &str, why: &NotTaken, dimension: Dimension) -> NotRead {
    let asked = || with_article(&dimension.describe());
    match why {
        NotTaken::NoQuantity(error) => not_a_quantity(text, error, dimension),
        NotTaken::OtherKind(quantity) if quantity.unit == Unit::number() => no_unit((fact, name), dimension),
        NotTaken::OtherKind(quantity) => {
            let found = with_article(&quantity.dimension().describe());
            NotRead {
                code: "unit::mismatch",
                message: format!("`{name}` is {}, and `{text}` is not", asked()),
                label: format!("this is {found}; {} is asked", asked()),
                at: None,
            }
        }
        NotTaken::Several(readings) => NotRead {
            code: "value::several",
            message: format!("`{text}` can be read in more than one way"),
            label: format!("write {}", readings.join(" or ")),
            at: None,
        },
        day => {
            NotRead { code: "value::date", message: format!("`{text}` is no date"), label: day.to_string(), at: None }
        }
    }
}

/// A bare number where a unit belongs.
fn no_unit((fact, name): (&Fact, &str), dimension: Dimension) -> NotRead {
    let units = choices(fact, dimension);
    let label = match units.as_slice() {
        [] => "write its unit".to_owned(),
        [only] => format!("write its unit, such as {only}"),
        [some @ .., last] => format!("write its unit: {} or {last}", some.join(", ")),
    };
    let message = format!("`{name}` is {}, and this number has no unit", with_article(&dimension.describe()));
    NotRead { code: "unit::missing", message, label, at: None }
}

/// Units of a kind to choose from, the likeliest first and each size once.
fn choices(fact: &Fact, dimension: Dimension) -> Vec<String> {
    let known = COMMON.into_iter().chain(Unit::symbols()).filter_map(|symbol| Unit::parse(symbol).ok());
    let mut choices: Vec<Unit> = Vec::new();
    for unit in example_unit(fact).into_iter().chain(Unit::usual(&dimension)).chain(known) {
        let is_new = !choices.iter().any(|choice| choice.factor() == unit.factor() && choice.offset() == unit.offset());
        if unit.dimension() == dimension && is_new && choices.len() < MOST_CHOICES {
            choices.push(unit);
        }
    }
    choices.iter().map(|unit| unit.symbol().to_owned()).collect()
}

fn not_a_quantity(text: &str, error: &QuantityError, dimension: Dimension) -> NotRead {
    let wrong = text.get(error.at.clone()).unwrap_or(text);
    // The unit's own error says what was expected; a quantity's does not.
    let unit_error = Unit::parse(wrong).err().filter(|why| why.to_string() == error.message);
    let (code, label) = match unit_error {
        _ if error.impossible => ("value::impossible", error.to_string()),
        _ if wrong.starts_with(',') => {
            ("value::kind", "a comma is no part of a number; write a decimal point, such as 12.5".to_owned())
        }
        Some(UnitError::Unknown { text, .. }) => {
            let label = misleading(wrong, dimension).map(str::to_owned);
            ("unit::unknown", label.unwrap_or_else(|| no_such_unit(wrong, &text, dimension)))
        }
        Some(why) => ("unit::unknown", why.to_string()),
        None if dimension == Dimension::NUMBER && error.expected.contains("its unit") => {
            ("value::kind", format!("{}; expected a number alone, such as 12 or 3.5", error.message))
        }
        None => ("value::kind", error.to_string()),
    };
    let message = if error.impossible {
        format!("nothing can be `{text}`")
    } else if dimension == Dimension::NUMBER {
        format!("`{text}` is not a number")
    } else {
        format!("`{text}` is not {} with its unit", with_article(&dimension.describe()))
    };
    NotRead { code, message, label, at: Some(error.at.clone()) }
}

impl Reading<'_> {
    /// A text such as `12.1 in ± 0.1 in`.
    pub(super) fn quantity(&self, text: &str, dimension: Dimension) -> Result<Read, Box<Diagnostic>> {
        match read_quantity(self.rules, (self.fact, self.name), text, dimension) {
            Ok(Freehand { value, strict }) => {
                Ok(Read { value: Value::Number(value.range), unit: Some(value.unit), read_as: strict })
            }
            Err(why) => {
                let mut diagnostic = self.error(why.code, why.message, &why.label);
                if let Some((label, at)) = diagnostic.labels.first_mut().zip(why.at) {
                    label.span = self.inside(&at);
                }
                Err(diagnostic)
            }
        }
    }

    /// A number that stands in the file without quotes, where a unit belongs.
    pub(super) fn bare(&self, number: &str, dimension: Dimension) -> Result<Read, Box<Diagnostic>> {
        match read_quantity(self.rules, (self.fact, self.name), number, dimension) {
            Ok(Freehand { value, strict }) => {
                Ok(Read { value: Value::Number(value.range), unit: Some(value.unit), read_as: strict })
            }
            Err(_) => {
                let why = no_unit((self.fact, self.name), dimension);
                Err(self.error(why.code, why.message, &format!("{}, and quotes around both", why.label)))
            }
        }
    }

    /// The value within the fact's limits, or an error.
    pub(super) fn within_limits(&self, value: Value, text: &str) -> Result<Value, Box<Diagnostic>> {
        let Value::Number(range) = &value else { return Ok(value) };
        self.fact.within_limits(range).map(Value::Number).ok_or_else(|| {
            let limits = self.fact.limits.as_ref().map_or("", |limits| limits.text.as_str());
            let message = format!("`{text}` is no sensible value of `{}`", self.name);
            self.error("fact::limits", message, &format!("expected a value {limits}"))
        })
    }
}

/// What to write for a unit to which the nearest known one is far off.
fn misleading(wrong: &str, dimension: Dimension) -> Option<&'static str> {
    let marked = wrong.contains(['\'', '’', '′', '"', '”', '″']);
    match dimension.name()? {
        "angle" if marked => Some("minutes and seconds of arc are not read; write degrees, such as 5.5 deg"),
        "length" => None,
        "resistance" if wrong.starts_with('M') => {
            Some("megohms are not read; 1 megohm is 1000 kohm, and mohm a thousandth of an ohm")
        }
        _ if marked => Some("these marks are feet and inches alone; write the unit in letters"),
        _ => None,
    }
}

/// The nearest unit of the kind that is asked, with which `wrong` would be
/// right; `piece` is the part of it that no unit is.
fn no_such_unit(wrong: &str, piece: &str, asked: Dimension) -> String {
    let fits = |symbol: &&str| {
        let mended = Unit::parse(&wrong.replacen(piece, symbol, 1));
        mended.is_ok_and(|unit| unit.dimension() == asked)
    };
    let known: Vec<&str> = Unit::symbols().filter(fits).collect();
    let alike = known.iter().copied().find(|symbol| symbol.to_lowercase() == piece.to_lowercase());
    let near = alike.or_else(|| nearest(piece, known)).map(|symbol| wrong.replacen(piece, symbol, 1));
    let usual = Unit::usual(&asked).filter(|unit| !unit.symbol().is_empty());
    match (near, usual) {
        (Some(near), _) => format!("no unit is written `{wrong}`; did you mean `{near}`?"),
        (None, Some(unit)) => format!("no unit is written `{wrong}`; expected one such as {unit}"),
        (None, None) => format!("no unit is written `{wrong}`; expected a number alone"),
    }
}
