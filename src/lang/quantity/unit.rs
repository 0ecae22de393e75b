//! Units: how a reading becomes an SI value and back, exactly.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::{LazyLock, OnceLock};

use super::dimension::Dimension;
use super::exact::Exact;
use super::simple_units::{SIMPLE, Simple};
use super::unit_error::UnitError;

/// The longest text that is looked at as a unit, in bytes.
const LONGEST: usize = 60;

/// A unit of measure. The SI value of a reading is `reading * factor + offset`;
/// the offset is zero but for temperatures on a scale.
///
/// ```
/// use cotterpin_lang::quantity::Unit;
/// let torque = Unit::parse("lbf-in").map(|unit| unit.dimension().describe());
/// assert_eq!(torque, Ok("torque".to_owned()));
/// assert!(Unit::parse("gallon").is_err());
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Unit {
    symbol: String,
    dimension: Dimension,
    factor: Exact,
    offset: Exact,
}

/// What is gathered while the parts of a unit are read.
#[derive(Clone)]
struct Product {
    dimension: Dimension,
    factor: Exact,
}

impl Unit {
    /// The unit of a plain number, written with nothing.
    #[must_use]
    pub fn number() -> Unit {
        Unit { symbol: String::new(), dimension: Dimension::NUMBER, factor: Exact::one(), offset: Exact::zero() }
    }

    /// Reads a unit: a simple one (`in`, `degC`, `%`) or one made of several
    /// (`gal/h`, `lbf-in`, `kg/m3`, `ft/min`, `ohm/1000ft`). Capital and small
    /// letters differ. A hyphen multiplies, and only before the first slash.
    ///
    /// # Errors
    /// A [`UnitError`] that says what was expected.
    pub fn parse(text: &str) -> Result<Unit, UnitError> {
        let text = text.trim();
        if let Some(simple) = simple(text) {
            return Ok(simple.clone());
        }
        refuse_known_traps(text)?;
        let malformed = |why| UnitError::Malformed { text: text.to_owned(), why };
        if text.is_empty() || text.len() > LONGEST {
            return Err(malformed("it is empty or too long"));
        }
        let mut parts = text.split('/');
        let over = parts.next().unwrap_or_default();
        if over == "1" && !text.contains('/') {
            return Err(malformed("a unit has a letter"));
        }
        let too_large = || malformed("its powers are too large");
        let mut product = product(over, text)?.ok_or_else(too_large)?;
        for part in parts {
            if part.contains(['-', '·']) {
                return Err(malformed("after a slash write one unit, then another slash"));
            }
            let bare = part.trim_start_matches(|c: char| c.is_ascii_digit());
            let digits = part.strip_suffix(bare).unwrap_or_default();
            let mut part = power(bare, text)?;
            if !digits.is_empty() {
                let many = Exact::parse(digits).filter(|n| !n.is_zero());
                part.factor = part.factor.mul(&many.ok_or_else(|| malformed("it divides by zero"))?);
            }
            product = product.per(&part).ok_or_else(too_large)?;
        }
        Ok(Unit {
            symbol: text.to_owned(),
            dimension: product.dimension,
            factor: product.factor,
            offset: Exact::zero(),
        })
    }

    fn of(simple: &Simple, symbol: &str) -> Option<Unit> {
        Some(Unit {
            symbol: symbol.to_owned(),
            dimension: Dimension::named(simple.dimension)?,
            factor: simple.factor()?,
            offset: simple.offset()?,
        })
    }

    /// The unit in which a result is shown when nobody wrote one: `in`, `lb`,
    /// `gal/h`, ...; SI base units for what has no usual one. `None` for powers
    /// that no unit is written with.
    #[must_use]
    pub fn usual(dimension: &Dimension) -> Option<Unit> {
        const USUAL: [&str; 27] = [
            "in",
            "lb",
            "s",
            "A",
            "degC",
            "deltaC",
            "deg",
            "in2",
            "gal",
            "kt",
            "m/s2",
            "lbf",
            "lbf-in",
            "lb-in",
            "psi",
            "V",
            "ohm",
            "W",
            "Hz",
            "Ah",
            "gal/h",
            "ohm/1000ft",
            "lb/gal",
            "lb/h",
            "lb/ft",
            "lb/ft2",
            "lbf/in",
        ];
        if *dimension == Dimension::NUMBER {
            return Some(Unit::number());
        }
        // Read once, and the same ever after.
        static READ: LazyLock<Vec<Unit>> =
            LazyLock::new(|| USUAL.iter().filter_map(|symbol| Unit::parse(symbol).ok()).collect());
        READ.iter()
            .find(|unit| unit.dimension == *dimension)
            .cloned()
            .or_else(|| Unit::parse(&dimension.base_symbol()).ok())
            .filter(|unit| unit.dimension == *dimension)
    }

    /// Every simple symbol that [`Unit::parse`] knows.
    pub fn symbols() -> impl Iterator<Item = &'static str> {
        SIMPLE.iter().flat_map(|simple| simple.symbols.iter().copied())
    }

    /// The unit as it was written; empty for a plain number.
    #[must_use]
    pub fn symbol(&self) -> &str {
        &self.symbol
    }

    /// What kind of quantity it measures.
    #[must_use]
    pub fn dimension(&self) -> Dimension {
        self.dimension
    }

    /// What a reading is multiplied by to give the SI value.
    #[must_use]
    pub fn factor(&self) -> &Exact {
        &self.factor
    }

    /// What is then added.
    #[must_use]
    pub fn offset(&self) -> &Exact {
        &self.offset
    }

    /// The SI value of a reading in this unit. Angles are kept in degrees.
    #[must_use]
    pub fn to_si(&self, reading: &Exact) -> Exact {
        reading.mul(&self.factor).add(&self.offset)
    }

    /// The reading in this unit of an SI value.
    #[must_use]
    pub fn from_si(&self, value: &Exact) -> Exact {
        // A factor is never zero: the table has none, and parse refuses it.
        value.sub(&self.offset).div(&self.factor).unwrap_or_else(Exact::zero)
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.symbol)
    }
}

impl Product {
    fn times(self, other: &Product) -> Option<Product> {
        Some(Product { dimension: self.dimension.times(other.dimension)?, factor: self.factor.mul(&other.factor) })
    }

    fn per(self, other: &Product) -> Option<Product> {
        Some(Product { dimension: self.dimension.per(other.dimension)?, factor: self.factor.div(&other.factor)? })
    }
}

/// A unit of the table, worked out when it is first asked for and the same ever after.
pub(super) fn simple(symbol: &str) -> Option<&'static Unit> {
    type Known = (&'static Simple, OnceLock<Option<Unit>>);
    static UNITS: LazyLock<BTreeMap<&str, Known>> = LazyLock::new(|| {
        let all = SIMPLE.iter().flat_map(|simple| simple.symbols.iter().map(move |symbol| (*symbol, simple)));
        all.map(|(symbol, simple)| (symbol, (simple, OnceLock::new()))).collect()
    });
    let (symbol, (simple, unit)) = UNITS.get_key_value(symbol)?;
    unit.get_or_init(|| Unit::of(simple, symbol)).as_ref()
}

/// What stands before the first slash: `lbf-in`, or `1` for nothing. `None`
/// where the powers are too large.
fn product(over: &str, whole: &str) -> Result<Option<Product>, UnitError> {
    if over == "1" {
        return Ok(Some(Product { dimension: Dimension::NUMBER, factor: Exact::one() }));
    }
    let mut parts = over.split(['-', '·']);
    let first = power(parts.next().unwrap_or_default(), whole)?;
    let mut product = Some(first);
    for part in parts {
        let part = power(part, whole)?;
        product = product.and_then(|product| product.times(&part));
    }
    Ok(product)
}

/// One simple unit with an optional power: `in`, `in2`, `m³`.
fn power(part: &str, whole: &str) -> Result<Product, UnitError> {
    let malformed = |why| UnitError::Malformed { text: whole.to_owned(), why };
    let bare = part.trim_end_matches(|c: char| c.is_ascii_digit() || c == '²' || c == '³');
    let exponent: u8 = match part.strip_prefix(bare).unwrap_or_default() {
        "" => 1,
        "²" => 2,
        "³" => 3,
        digits => match digits.parse() {
            Ok(exponent @ 2..=9) if digits.len() == 1 => exponent,
            _ => return Err(malformed("a power is one digit from 2 to 9")),
        },
    };
    if bare.is_empty() {
        return Err(malformed("a unit is missing beside a hyphen or a slash"));
    }
    refuse_known_traps(bare)?;
    let unit = simple(bare).ok_or_else(|| unknown(bare))?;
    if unit.dimension.is_point_temperature() {
        return Err(UnitError::ScaleInside { text: whole.to_owned() });
    }
    let once = Product { dimension: unit.dimension, factor: unit.factor.clone() };
    let mut product = once.clone();
    for _ in 1..exponent {
        product = product.times(&once).ok_or_else(|| malformed("its powers are too large"))?;
    }
    Ok(product)
}

/// Words that look like units and are none, or are several.
fn refuse_known_traps(text: &str) -> Result<(), UnitError> {
    let say = match text {
        "gallon" | "gallons" => "say gal (US) or impgal",
        "C" => "say degC for a temperature, deltaC for a difference",
        "F" => "say degF for a temperature, deltaF for a difference",
        "ton" | "tons" => "say t (1000 kg), or lb",
        "pound" | "pounds" | "lbs" | "#" => "say lb for a mass, lbf for a force",
        "ounce" | "ounces" => "say oz for a mass, floz for a volume",
        "miles" | "mile" => "say mi (1609.344 m) or nmi (1852 m)",
        "month" | "months" | "year" | "years" => {
            return Err(UnitError::CalendarLength { text: text.to_owned() });
        }
        _ => return Ok(()),
    };
    Err(UnitError::Ambiguous { text: text.to_owned(), say })
}

/// The error for an unknown symbol, with the nearest known one.
fn unknown(text: &str) -> UnitError {
    let close = |symbol: &&str| {
        // A different case alone is the nearest there is.
        let folded = symbol.to_lowercase() == text.to_lowercase();
        if folded { 0 } else { strsim::osa_distance(symbol, text) }
    };
    let limit = text.chars().count().div_ceil(2).min(3);
    let nearest = Unit::symbols()
        .filter(|_| text.len() <= LONGEST)
        .map(|symbol| (close(&symbol), symbol))
        .min_by_key(|(distance, _)| *distance)
        .filter(|(distance, _)| *distance <= limit)
        .map(|(_, symbol)| symbol.to_owned());
    UnitError::Unknown { text: text.to_owned(), nearest }
}
