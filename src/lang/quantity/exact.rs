//! Exact numbers: what decides where floating point cannot.
#![expect(clippy::arithmetic_side_effects, reason = "big rationals do not overflow, and no divisor here can be zero")]

use std::cmp::Ordering;
use std::fmt;

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive, Zero};

use super::rational::{Rational, rounded, small_magnitude};

/// The most digits a number may be written with.
const MOST_DIGITS: usize = 40;
/// The largest power of ten that may be written after `e`.
const MOST_EXPONENT: u32 = 40;
/// The most binary digits above and below the line that a number worked out may have: seven written with 40 digits and
/// multiplied have fewer.
pub(super) const MOST_BITS: u64 = 1024;
/// So many are kept of one that has more.
const KEPT_BITS: i64 = 128;
/// The most decimals `Display` writes before it rounds.
const MOST_DECIMALS: u32 = 12;
/// Beyond this many places before or after the point `to_decimal` writes `e`.
const MOST_PLACES: i64 = 21;

/// A rational number of any size, without rounding.
///
/// ```
/// use cotterpin_lang::quantity::Exact;
/// let sixteenth = Exact::parse("1/16");
/// assert_eq!(sixteenth, Exact::parse("0.0625"));
/// assert_eq!(sixteenth.map(|e| e.to_string()), Some("0.0625".to_owned()));
/// ```
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Exact(pub(super) Rational);

/// `10^exponent`.
fn ten(exponent: u32) -> BigInt {
    BigInt::from(10_u8).pow(exponent)
}

/// `10^exponent`, whose exponent may be below zero.
fn ten_ratio(exponent: i64) -> BigRational {
    let magnitude = u32::try_from(exponent.unsigned_abs()).unwrap_or(u32::MAX);
    let power = BigRational::from_integer(ten(magnitude));
    if exponent < 0 { power.recip() } else { power }
}

/// Digits with single underscores between them, as one whole number.
fn whole(text: &str) -> Option<BigInt> {
    let tidy = !text.is_empty() && text.split('_').all(|part| !part.is_empty());
    let bare: String = text.chars().filter(|c| *c != '_').collect();
    if tidy && bare.bytes().all(|b| b.is_ascii_digit()) { BigInt::parse_bytes(bare.as_bytes(), 10) } else { None }
}

/// `3/16`.
fn fraction(text: &str) -> Option<BigRational> {
    let (over, under) = text.split_once('/')?;
    let (over, under) = (whole(over)?, whole(under)?);
    (!under.is_zero()).then(|| BigRational::new(over, under))
}

/// `18.4` of at most 18 digits, without the cost of big numbers. `None` sends
/// the text on to [`decimal`], whether it is a number or not.
fn short_decimal(text: &str) -> Option<Rational> {
    let (mut digits, mut under, mut point) = (0_i64, 1_i64, false);
    let tidy = text.len() <= 18 && text.starts_with(|c: char| c.is_ascii_digit()) && !text.ends_with('.');
    for byte in tidy.then_some(text)?.bytes() {
        match byte {
            b'0'..=b'9' => {
                digits = digits * 10 + i64::from(byte - b'0');
                under = if point { under * 10 } else { under };
            }
            b'.' if !point => point = true,
            _ => return None,
        }
    }
    Some(Rational::new(digits, under))
}

/// `18.4`, `1e3`, `1_000`, `.5`.
fn decimal(text: &str) -> Option<BigRational> {
    let (mantissa, exponent) = match text.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, power_of_ten(exponent)?),
        None => (text, 0),
    };
    let (before, after) = mantissa.split_once('.').unwrap_or((mantissa, "0"));
    let before = if before.is_empty() && mantissa.starts_with('.') { BigInt::zero() } else { whole(before)? };
    let places = u32::try_from(after.bytes().filter(|b| *b != b'_').count()).ok()?;
    let digits = before * ten(places) + whole(after)?;
    Some(BigRational::new(digits, ten(places)) * ten_ratio(exponent))
}

/// What stands after the `e`: `3`, `+3`, `-3`.
fn power_of_ten(text: &str) -> Option<i64> {
    let (sign, digits) = match text.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, text.strip_prefix('+').unwrap_or(text)),
    };
    let size = whole(digits)?.to_u32().filter(|n| *n <= MOST_EXPONENT)?;
    Some(sign * i64::from(size))
}

impl Exact {
    /// Reads `18.4`, `-49`, `1/16`, `1 1/2`, `1e3`, `+1.5` or `1_000`.
    ///
    /// `None` for anything else, for more than 40 digits, for a power of ten
    /// beyond 40 and for a divisor of zero. There is no infinity and no NaN.
    #[must_use]
    pub fn parse(text: &str) -> Option<Exact> {
        let text = text.trim();
        if text.bytes().filter(u8::is_ascii_digit).count() > MOST_DIGITS {
            return None;
        }
        let minus = text.strip_prefix(['-', '\u{2212}']);
        let unsigned = minus.or(text.strip_prefix('+')).unwrap_or(text);
        let value = match (short_decimal(unsigned), unsigned.split_once([' ', '\u{a0}'])) {
            (Some(short), _) => short,
            (None, Some((before, part))) => (BigRational::from_integer(whole(before)?) + fraction(part)?).into(),
            (None, None) if unsigned.contains('/') => fraction(unsigned)?.into(),
            (None, None) => decimal(unsigned)?.into(),
        };
        Some(Exact(if minus.is_some() { value.neg() } else { value }))
    }

    /// A whole number.
    #[must_use]
    pub fn from_int(value: i64) -> Exact {
        Exact(Rational::whole(value))
    }

    /// `over / under`; `None` where `under` is zero.
    #[must_use]
    pub fn ratio(over: i64, under: i64) -> Option<Exact> {
        (under != 0).then(|| Exact(Rational::new(over, under)))
    }

    /// Zero.
    #[must_use]
    pub fn zero() -> Exact {
        Exact(Rational::ZERO)
    }

    /// One.
    #[must_use]
    pub fn one() -> Exact {
        Exact(Rational::ONE)
    }

    /// The exact value of a floating-point number; `None` for NaN and infinity.
    #[must_use]
    pub fn from_f64(value: f64) -> Option<Exact> {
        BigRational::from_float(value).map(|value| Exact(value.into()))
    }

    /// `self + other`.
    #[must_use]
    pub fn add(&self, other: &Exact) -> Exact {
        Exact(self.0.add(&other.0))
    }

    /// `self - other`.
    #[must_use]
    pub fn sub(&self, other: &Exact) -> Exact {
        Exact(self.0.add(&other.0.neg()))
    }

    /// `self * other`.
    #[must_use]
    pub fn mul(&self, other: &Exact) -> Exact {
        Exact(self.0.mul(&other.0))
    }

    /// `self / other`; `None` where `other` is zero.
    #[must_use]
    pub fn div(&self, other: &Exact) -> Option<Exact> {
        (!other.is_zero()).then(|| Exact(self.0.div(&other.0)))
    }

    /// `-self`.
    #[must_use]
    pub fn neg(&self) -> Exact {
        Exact(self.0.neg())
    }

    /// The magnitude.
    #[must_use]
    pub fn abs(&self) -> Exact {
        if self.signum() < 0 { self.neg() } else { self.clone() }
    }

    /// Whether it has more binary digits above or below the line than this; a number of 64 is never longer.
    pub(super) fn is_longer_than(&self, most_bits: u64) -> bool {
        matches!(&self.0, Rational::Big(_)) && self.bits() > most_bits
    }

    /// The number of few binary digits at or below one of many: less by at most one part in 2^127, or by next to nothing.
    /// `None` where it is less than any that is kept. Its digits begin with the first of the number, so a smaller number
    /// never comes to more.
    pub(super) fn few_digits_below(&self) -> Option<Exact> {
        let value = self.0.big();
        let (over, under) = (value.numer(), value.denom());
        let bits = |n: &BigInt| i64::try_from(n.bits()).unwrap_or(i64::MAX);
        // 2^size <= |value| < 2^(size + 1); what lies beyond the largest is told before it is worked out.
        let guess = bits(over) - bits(under);
        let most = i64::try_from(MOST_BITS).unwrap_or(i64::MAX) - KEPT_BITS;
        let whole_of_two = |n: i64| Exact(BigRational::from_integer(BigInt::from(1_u8) << n.unsigned_abs()).into());
        if guess > most {
            return value.is_positive().then(|| whole_of_two(most - 1));
        }
        if guess < -most {
            let least = || whole_of_two(most - 1).neg();
            return if value.is_positive() { Some(Exact::zero()) } else { Exact::one().div(&least()) };
        }
        let (over_two, under_two) = (over.abs() << (-guess).max(0), under << guess.max(0));
        let size = if over_two < under_two { guess - 1 } else { guess };
        // In steps of 2^-places: the whole ones at or below it.
        let places = KEPT_BITS - size;
        let (over, under) = (over << places.max(0), under << (-places).max(0));
        let towards_zero = &over / &under;
        let steps = if over < &towards_zero * &under { towards_zero - 1 } else { towards_zero };
        // A power of two has no other divisors than the zeros that the steps end with.
        let zeros = i64::try_from(steps.trailing_zeros().unwrap_or(0)).unwrap_or(0).min(places.max(0));
        let lowest = BigRational::new_raw(steps >> zeros, BigInt::from(1_u8) << (places.max(0) - zeros));
        Some(Exact((lowest * BigRational::from_integer(BigInt::from(1_u8) << (-places).max(0))).into()))
    }

    /// How many binary digits it has above or below the line.
    #[must_use]
    pub fn bits(&self) -> u64 {
        let big = self.0.big();
        big.numer().bits().max(big.denom().bits())
    }

    /// Whether this is zero.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.signum() == 0
    }

    /// Whether this is a whole number.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.0.is_whole()
    }

    /// The whole number this is, if it is one and fits.
    #[must_use]
    pub fn to_i64(&self) -> Option<i64> {
        self.0.to_i64()
    }

    /// -1, 0 or 1.
    #[must_use]
    pub fn signum(&self) -> i32 {
        self.0.signum()
    }

    /// The largest floating-point number that is not above this one;
    /// `-inf` where there is none.
    #[must_use]
    pub fn to_f64_below(&self) -> f64 {
        self.neighbours().0
    }

    /// The smallest floating-point number that is not below this one; `inf`
    /// where there is none.
    #[must_use]
    pub fn to_f64_above(&self) -> f64 {
        self.neighbours().1
    }

    /// The nearest floating-point numbers on both sides, the same where this
    /// number is one. The guess is compared back exactly, so nothing rests on
    /// how the conversion rounds.
    #[must_use]
    pub fn neighbours(&self) -> (f64, f64) {
        if let Some(whole) = self.0.plain_float() {
            return (whole, whole);
        }
        let guess = self.0.near();
        if guess.is_nan() {
            return (f64::NEG_INFINITY, f64::INFINITY);
        }
        let mut below = guess.clamp(f64::MIN, f64::MAX);
        while below.is_finite() && self.is_below(below) {
            below = below.next_down();
        }
        if self.is_exactly(below) {
            return (below, below);
        }
        while !self.is_below(below.next_up()) && below.next_up().is_finite() {
            below = below.next_up();
            if self.is_exactly(below) {
                return (below, below);
            }
        }
        (below, below.next_up())
    }

    /// Whether this is less than a finite floating-point number.
    fn is_below(&self, float: f64) -> bool {
        self.0.against(float) == Some(Ordering::Less)
    }

    /// Whether this is the same as a finite floating-point number.
    fn is_exactly(&self, float: f64) -> bool {
        self.0.against(float) == Some(Ordering::Equal)
    }

    /// The number with at most so many significant digits (at least one),
    /// rounded half away from zero, without trailing zeros. A number that
    /// would need more than 21 places is written with a power of ten, `1.5e-30`.
    #[must_use]
    pub fn to_decimal(&self, significant: usize) -> String {
        if self.is_zero() {
            return "0".to_owned();
        }
        let significant = i64::try_from(significant.clamp(1, 1000)).unwrap_or(1);
        let magnitude = small_magnitude(&self.0).unwrap_or_else(|| decimal_magnitude(&self.0.big().abs()));
        // The last place kept is 10^-places.
        let places = significant - 1 - magnitude;
        let digits = match rounded(&self.0, places) {
            Some((digits, _)) => digits.to_string(),
            None => (self.0.big().abs() * ten_ratio(places)).round().to_integer().to_string(),
        };
        let text = if magnitude.abs() > MOST_PLACES {
            let mantissa = place_point(&digits, significant - 1);
            format!("{mantissa}e{magnitude}")
        } else {
            place_point(&digits, places)
        };
        self.with_sign(text)
    }

    /// The whole decimal expansion where it ends within so many places.
    #[must_use]
    pub fn terminating(&self, places: u32) -> Option<String> {
        let digits = match rounded(&self.0, i64::from(places)) {
            Some((digits, whole)) => whole.then(|| digits.to_string())?,
            None => {
                let scaled = self.0.big().abs() * BigRational::from_integer(ten(places));
                scaled.is_integer().then(|| scaled.to_integer().to_string())?
            }
        };
        Some(self.with_sign(place_point(&digits, i64::from(places))))
    }

    /// The fraction in lowest terms, `-1/3`; a whole number alone.
    ///
    /// ```
    /// use cotterpin_lang::quantity::Exact;
    /// let written = |text| Exact::parse(text).map(|number| number.to_fraction());
    /// assert_eq!(written("2/6").as_deref(), Some("1/3"));
    /// assert_eq!(written("-4/2").as_deref(), Some("-2"));
    /// ```
    #[must_use]
    pub fn to_fraction(&self) -> String {
        self.0.big().to_string()
    }

    /// The text of the magnitude with this number's sign before it.
    fn with_sign(&self, text: String) -> String {
        if self.signum() < 0 { format!("-{text}") } else { text }
    }

    /// The square root of a number that is not negative, enclosed: `(below,
    /// above)`, equal where the root is a decimal of at most 20 digits.
    /// `None` below zero.
    ///
    /// The ends lie on a grid of 20 significant decimal digits that depends on
    /// nothing but the magnitude, so a smaller number never has a larger end.
    #[must_use]
    pub fn root(&self) -> Option<(Exact, Exact)> {
        if self.signum() < 0 {
            return None;
        }
        if self.is_zero() {
            return Some((Exact::zero(), Exact::zero()));
        }
        let value = self.0.big();
        let places = 20 - decimal_magnitude(&value).div_euclid(2);
        let scaled = value * ten_ratio(2 * places);
        let floor = scaled.floor().to_integer().sqrt();
        let exact = BigRational::from_integer(&floor * &floor) == scaled;
        let ceiling = if exact { floor.clone() } else { &floor + 1 };
        let step = ten_ratio(-places);
        let end = |grid: BigInt| Exact((BigRational::from_integer(grid) * &step).into());
        Some((end(floor), end(ceiling)))
    }
}

/// The power of ten of the first significant digit of a number above zero.
fn decimal_magnitude(value: &BigRational) -> i64 {
    let bits = |n: &BigInt| i64::try_from(n.bits()).unwrap_or(i64::MAX);
    let binary = bits(value.numer()) - bits(value.denom());
    // log10(2) is 0.30103; the loops below make the guess exact.
    let mut magnitude = (i128::from(binary) * 30103).div_euclid(100_000) as i64;
    while ten_ratio(magnitude) > *value {
        magnitude -= 1;
    }
    while ten_ratio(magnitude + 1) <= *value {
        magnitude += 1;
    }
    magnitude
}

/// Digits with a decimal point before the last `places` of them (after further
/// zeros where `places` is negative), without trailing zeros.
fn place_point(digits: &str, places: i64) -> String {
    let size = usize::try_from(places.unsigned_abs()).unwrap_or(usize::MAX);
    if places <= 0 {
        return format!("{digits}{}", "0".repeat(size));
    }
    let padded = format!("{}{digits}", "0".repeat(size.saturating_add(1).saturating_sub(digits.len())));
    let (before, after) = padded.split_at(padded.len().saturating_sub(size));
    let after = after.trim_end_matches('0');
    if after.is_empty() { before.to_owned() } else { format!("{before}.{after}") }
}

/// The shortest decimal that is exact, where it ends within 12 places; else
/// six significant digits.
impl fmt::Display for Exact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let long = matches!(&self.0, Rational::Big(big) if big.numer().bits() > big.denom().bits().saturating_add(80));
        let text = match self.terminating(MOST_DECIMALS) {
            Some(text) if !long => text,
            _ => self.to_decimal(6),
        };
        f.write_str(&text)
    }
}
