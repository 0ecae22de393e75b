//! Ranges in a reader's units.

use super::exact::Exact;
use super::exact_interval::ExactInterval;
use super::unit::Unit;

/// The digits a number that ends is written with before it is rounded.
const FULL_DIGITS: usize = 6;
/// The digits a rounded number has.
const ROUNDED_DIGITS: usize = 4;

/// A reading: in full where it ends within six significant digits or is a
/// whole number below a thousand million, else rounded to four.
fn number(reading: &Exact, digits: usize) -> String {
    let short = reading.to_decimal(FULL_DIGITS.max(digits));
    let exact = Exact::parse(&short).as_ref() == Some(reading);
    if exact {
        short
    } else if reading.to_i64().is_some_and(|n| n.unsigned_abs() < 1_000_000_000) {
        reading.to_string()
    } else {
        reading.to_decimal(digits)
    }
}

fn with_symbol(number: &str, unit: &Unit) -> String {
    if unit.symbol().is_empty() { number.to_owned() } else { format!("{number} {}", unit.symbol()) }
}

/// Both ends, with as many digits as it takes to tell them apart.
fn pair(lo: &Exact, hi: &Exact) -> (String, String) {
    let written = |digits| (number(lo, digits), number(hi, digits));
    (ROUNDED_DIGITS..=12).map(written).find(|(lo, hi)| lo != hi).unwrap_or_else(|| written(ROUNDED_DIGITS))
}

/// A range of SI values written in a unit of the same dimension: `18 gal/h`,
/// `17 gal/h to 19 gal/h`, `at least 3 in`, `not recorded` where everything is
/// possible, `none` where it is known to be absent.
///
/// Numbers are written in full where they are short and rounded to four
/// significant digits where they are not; the two ends of a range are always
/// told apart where twelve digits can.
#[must_use]
pub fn show(range: &ExactInterval, unit: &Unit) -> String {
    if range.is_absent() {
        return "none".to_owned();
    }
    let lo = range.lo().map(|value| unit.from_si(value));
    let hi = range.hi().map(|value| unit.from_si(value));
    match (lo, hi) {
        (None, None) => "not recorded".to_owned(),
        (Some(lo), None) => format!("at least {}", with_symbol(&number(&lo, ROUNDED_DIGITS), unit)),
        (None, Some(hi)) => format!("at most {}", with_symbol(&number(&hi, ROUNDED_DIGITS), unit)),
        (Some(lo), Some(hi)) if lo == hi => with_symbol(&number(&lo, ROUNDED_DIGITS), unit),
        (Some(lo), Some(hi)) => {
            let (lo, hi) = pair(&lo, &hi);
            if lo == hi {
                format!("about {}", with_symbol(&lo, unit))
            } else {
                format!("{} to {}", with_symbol(&lo, unit), with_symbol(&hi, unit))
            }
        }
    }
}
