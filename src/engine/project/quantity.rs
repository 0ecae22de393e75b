//! Numbers with units, and the limits a sensible value keeps.

use super::Value;
use super::value::{Read, Reading};
use crate::diagnostic::{Diagnostic, nearest, with_article};
use crate::quantity::{Dimension, Quantity, QuantityError, Unit, UnitError};

impl Reading<'_> {
    /// A text such as `12.1 in ± 0.1 in`.
    pub(super) fn quantity(&self, text: &str, dimension: Dimension) -> Result<Read, Box<Diagnostic>> {
        let quantity = Quantity::parse(text).map_err(|error| self.not_a_quantity(text, &error, dimension))?;
        let found = quantity.dimension();
        if found == dimension {
            return Ok((Value::Number(quantity.range), Some(quantity.unit)));
        }
        if quantity.unit == Unit::number() {
            return Err(self.no_unit(dimension));
        }
        let (found, asked) = (with_article(&found.describe()), with_article(&dimension.describe()));
        let message = format!("`{}` is {asked}, and `{text}` is not", self.name);
        Err(self.error("unit::mismatch", message, &format!("this is {found}; {asked} is asked")))
    }

    /// A bare number where a unit belongs.
    pub(super) fn no_unit(&self, dimension: Dimension) -> Box<Diagnostic> {
        let example = self.fact.example.as_deref().and_then(|example| Quantity::parse(example).ok());
        let unit = example.map(|quantity| quantity.unit).or_else(|| self.fact.unit.clone());
        let message =
            format!("`{}` is {}, and this number has no unit", self.name, with_article(&dimension.describe()));
        let label = match unit.or_else(|| Unit::usual(&dimension)) {
            Some(unit) => format!("write its unit, for example {unit}, and quotes around both"),
            None => "write its unit, and quotes around both".to_owned(),
        };
        self.error("unit::missing", message, &label)
    }

    fn not_a_quantity(&self, text: &str, error: &QuantityError, dimension: Dimension) -> Box<Diagnostic> {
        let wrong = text.get(error.at.clone()).unwrap_or(text);
        let before = text.get(..error.at.start).unwrap_or("");
        // The unit's own error says what was expected; a quantity's does not.
        let unit_error = Unit::parse(wrong).err().filter(|why| why.to_string() == error.message);
        let (code, label) = match unit_error {
            _ if error.impossible => ("value::impossible", error.to_string()),
            _ if wrong.starts_with(',') => ("value::kind", decimal_comma(before, wrong)),
            Some(UnitError::Unknown { text, .. }) => ("unit::unknown", no_such_unit(wrong, &text, dimension)),
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
        let mut diagnostic = self.error(code, message, &label);
        if let Some(label) = diagnostic.labels.first_mut() {
            label.span = self.inside(&error.at);
        }
        diagnostic
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

/// What to write in place of `12,5 in`. Before three digits a comma may as well
/// stand between thousands.
fn decimal_comma(before: &str, wrong: &str) -> String {
    let whole = before.get(before.trim_end_matches(|c: char| c.is_ascii_digit()).len()..).unwrap_or("");
    let rest = wrong.get(1..).unwrap_or("");
    let after = rest.split(|c: char| !c.is_ascii_digit()).next().unwrap_or("");
    match after.len() {
        0 => "a comma is no part of a number; write a decimal point, such as 12.5".to_owned(),
        3 => format!("write a decimal point, {whole}.{after}, or nothing between thousands, {whole}{after}"),
        _ => format!("write a decimal point: {whole}.{after}"),
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
