//! Numbers with units, and the limits a sensible value keeps.

use super::Value;
use super::value::{Read, Reading};
use crate::diagnostic::Diagnostic;
use crate::measure::{Dimension, Exact, Quantity, Range};
use crate::rules::Limits;
use crate::source::Span;

impl Reading<'_> {
    /// A text such as `12.1 in ± 0.1 in`.
    pub(super) fn quantity(&self, text: &str, dimension: Dimension) -> Result<Read, Box<Diagnostic>> {
        let quantity = Quantity::parse(text).map_err(|error| self.not_a_quantity(text, &error, dimension))?;
        if quantity.dimension() == dimension {
            return Ok((Value::Number(quantity.range), Some(quantity.unit)));
        }
        if quantity.dimension() == Dimension::NUMBER && !text.contains('%') {
            return Err(self.no_unit(dimension));
        }
        let message = format!("`{}` asks for a {}", self.name, dimension.describe());
        let label = format!("this is a {}; a {} is asked", quantity.dimension().describe(), dimension.describe());
        Err(self.error("unit::mismatch", message, &label))
    }

    /// A bare number where a unit belongs.
    pub(super) fn no_unit(&self, dimension: Dimension) -> Box<Diagnostic> {
        let example = self.fact.example.as_deref().and_then(|example| Quantity::parse(example).ok());
        let unit = self.fact.unit.clone().or_else(|| example.map(|quantity| quantity.unit));
        let message = format!("`{}` is a {}, and this number has no unit", self.name, dimension.describe());
        let label = match unit {
            Some(unit) => format!("write the unit and quotes, such as \"... {unit}\""),
            None => "write the unit, and quotes around both".to_owned(),
        };
        self.error("unit::missing", message, &label)
    }
}
