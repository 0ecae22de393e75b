//! Rationals of any size, of two machine words where they fit: nearly all do,
//! and then no arithmetic on them allocates.
#![expect(
    clippy::arithmetic_side_effects,
    reason = "terms below 2^63 are multiplied and added in 128 bits; divisors are never zero"
)]

use std::cmp::Ordering;

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{Float, Signed, ToPrimitive, Zero};

/// A rational in lowest terms with a divisor above zero. There is one form
/// for each number: `Small` wherever both terms fit.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) enum Rational {
    /// `over / under`, neither beyond `i64::MAX` in magnitude.
    Small(i64, i64),
    /// Anything larger.
    Big(Box<BigRational>),
}

use Rational::{Big, Small};

/// Two terms that are lowest already, if they fit.
fn small(over: i128, under: i128) -> Option<Rational> {
    let over = i64::try_from(over).ok().filter(|over| *over != i64::MIN)?;
    Some(Small(over, i64::try_from(under).ok()?))
}

/// The greatest common divisor; of zero and a number, the number.
fn gcd(mut a: u64, mut b: u64) -> u64 {
    if a == 0 || b == 0 {
        return a | b;
    }
    let twos = (a | b).trailing_zeros();
    a >>= a.trailing_zeros();
    loop {
        b >>= b.trailing_zeros();
        (a, b) = (a.min(b), a.abs_diff(b));
        if b == 0 {
            return a << twos;
        }
    }
}

/// The greatest common divisor with a number that is above zero.
fn gcd_with(a: i128, b: i64) -> i64 {
    let b = b.unsigned_abs();
    let rest = u64::try_from(a.unsigned_abs() % u128::from(b)).unwrap_or(0);
    i64::try_from(gcd(rest, b)).unwrap_or(1)
}

impl Rational {
    pub(super) const ZERO: Rational = Small(0, 1);
    pub(super) const ONE: Rational = Small(1, 1);

    /// `over / under`, with `under` not zero.
    pub(super) fn new(over: i64, under: i64) -> Rational {
        if over == i64::MIN || under == i64::MIN {
            return BigRational::new(over.into(), under.into()).into();
        }
        let divisor = gcd_with(over.into(), under) * under.signum();
        Small(over / divisor, under / divisor)
    }

    pub(super) fn whole(value: i64) -> Rational {
        if value == i64::MIN { BigRational::from_integer(value.into()).into() } else { Small(value, 1) }
    }

    /// The same number for arithmetic of any size.
    pub(super) fn big(&self) -> BigRational {
        match self {
            Small(over, under) => BigRational::new_raw((*over).into(), (*under).into()),
            Big(big) => (**big).clone(),
        }
    }

    pub(super) fn add(&self, other: &Rational) -> Rational {
        if let (Small(a, b), Small(c, d)) = (self, other)
            && let Some(sum) = add_small((*a, *b), (*c, *d))
        {
            return sum;
        }
        (self.big() + other.big()).into()
    }

    pub(super) fn mul(&self, other: &Rational) -> Rational {
        if let (Small(a, b), Small(c, d)) = (self, other)
            && let Some(product) = mul_small((*a, *b), (*c, *d))
        {
            return product;
        }
        (self.big() * other.big()).into()
    }

    /// `self / other`, with `other` not zero.
    pub(super) fn div(&self, other: &Rational) -> Rational {
        if let (Small(a, b), Small(c, d)) = (self, other)
            && let Some(quotient) = mul_small((*a, *b), (d * c.signum(), c.abs()))
        {
            return quotient;
        }
        (self.big() / other.big()).into()
    }

    pub(super) fn neg(&self) -> Rational {
        match self {
            Small(over, under) => Small(-over, *under),
            Big(big) => (-(**big).clone()).into(),
        }
    }

    pub(super) fn signum(&self) -> i32 {
        let sign = match self {
            Small(over, _) => over.cmp(&0),
            Big(big) => big.numer().cmp(&BigInt::zero()),
        };
        sign as i32
    }

    /// The whole number this is, if it is one and fits.
    pub(super) fn to_i64(&self) -> Option<i64> {
        match self {
            Small(over, 1) => Some(*over),
            Small(..) => None,
            Big(big) => big.is_integer().then(|| big.to_i64()).flatten(),
        }
    }

    pub(super) fn is_whole(&self) -> bool {
        match self {
            Small(_, under) => *under == 1,
            Big(big) => big.is_integer(),
        }
    }

    /// A floating-point number close by; NaN where there is none.
    pub(super) fn near(&self) -> f64 {
        match self {
            #[expect(clippy::cast_precision_loss, reason = "a guess, which is compared back exactly")]
            Small(over, under) => *over as f64 / *under as f64,
            Big(big) => big.to_f64().unwrap_or(f64::NAN),
        }
    }

    /// The same number in floating point, where it is a whole one that
    /// floating point holds without rounding.
    pub(super) fn plain_float(&self) -> Option<f64> {
        match self {
            #[expect(clippy::cast_precision_loss, reason = "whole numbers up to 2^53 are exact")]
            Small(over, 1) if over.unsigned_abs() <= 1 << 53 => Some(*over as f64),
            _ => None,
        }
    }

    /// Compared with a finite floating-point number, multiplied out in whole
    /// numbers, which is several times faster than by two rationals.
    pub(super) fn against(&self, float: f64) -> Option<Ordering> {
        if !float.is_finite() {
            return None;
        }
        let (mantissa, exponent, sign) = float.integer_decode();
        let shift = exponent.unsigned_abs();
        if let Small(over, under) = self {
            // Below 2^53 by below 2^63.
            let whole = i128::from(mantissa) * i128::from(sign) * i128::from(*under);
            let over = i128::from(*over);
            let fits = |value: i128| value.unsigned_abs().leading_zeros() > u32::from(shift).saturating_add(1);
            if exponent < 0 && fits(over) {
                return Some((over << shift).cmp(&whole));
            }
            if exponent >= 0 && fits(whole) {
                return Some(over.cmp(&(whole << shift)));
            }
        }
        let big = self.big();
        let whole = BigInt::from(mantissa) * sign * big.denom();
        Some(if exponent < 0 { (big.numer() << shift).cmp(&whole) } else { big.numer().cmp(&(whole << shift)) })
    }
}

/// `a/b + c/d`, taken to lowest terms by the divisors' common part alone.
fn add_small((a, b): (i64, i64), (c, d): (i64, i64)) -> Option<Rational> {
    let common = gcd_with(b.into(), d);
    let over = i128::from(a) * i128::from(d / common) + i128::from(c) * i128::from(b / common);
    let again = if common == 1 { 1 } else { gcd_with(over, common) };
    small(over / i128::from(again), i128::from(b / common) * i128::from(d / again))
}

/// `a/b * c/d`, crosswise to lowest terms before it is multiplied out.
fn mul_small((a, b): (i64, i64), (c, d): (i64, i64)) -> Option<Rational> {
    let (left, right) = (gcd_with(a.into(), d), gcd_with(c.into(), b));
    small(i128::from(a / left) * i128::from(c / right), i128::from(b / right) * i128::from(d / left))
}

impl From<BigRational> for Rational {
    fn from(value: BigRational) -> Self {
        match (value.numer().to_i64(), value.denom().to_i64()) {
            (Some(over), Some(under)) if over != i64::MIN => Small(over, under),
            _ => Big(Box::new(value)),
        }
    }
}

impl Ord for Rational {
    fn cmp(&self, other: &Self) -> Ordering {
        match (self, other) {
            (Small(a, b), Small(c, d)) => (i128::from(*a) * i128::from(*d)).cmp(&(i128::from(*c) * i128::from(*b))),
            (Big(a), Big(b)) => a.cmp(b),
            _ => self.big().cmp(&other.big()),
        }
    }
}

impl PartialOrd for Rational {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// The digits of the magnitude with so many decimals, rounded half away from
/// zero, where 128 bits hold it all; and whether nothing was rounded.
pub(super) fn rounded(value: &Rational, places: i64) -> Option<(u128, bool)> {
    let Small(over, under) = value else { return None };
    let power = 10_u128.pow(u32::try_from(places.unsigned_abs()).ok().filter(|places| *places <= 19)?);
    let (mut over, mut under) = (u128::from(over.unsigned_abs()), u128::from(under.unsigned_abs()));
    if places < 0 {
        under *= power;
    } else {
        over *= power;
    }
    Some(((2 * over + under) / (2 * under), over % under == 0))
}

/// The power of ten of the first significant digit of a small number that is not zero.
pub(super) fn small_magnitude(value: &Rational) -> Option<i64> {
    let Small(over, under) = value else { return None };
    let (mut over, under) = (u128::from(over.unsigned_abs()), u128::from(under.unsigned_abs()));
    if over >= under {
        return (over / under).checked_ilog10().map(i64::from);
    }
    for places in 1..=19 {
        over *= 10;
        if over >= under {
            return Some(-places);
        }
    }
    None
}

/// Against rationals of any size, the terms being ordinary or next to the
/// limits of 64 bits.
#[cfg(test)]
mod tests {
    use super::{Rational, rounded, small_magnitude};
    use num_bigint::BigInt;
    use num_rational::BigRational;
    use num_traits::{FromPrimitive, Signed, ToPrimitive, Zero};
    use proptest::prelude::*;

    fn term() -> impl Strategy<Value = i64> {
        prop_oneof![
            -1000..1000_i64,
            any::<i64>(),
            Just(i64::MIN),
            Just(i64::MIN + 1),
            Just(i64::MAX),
            (0..63_u32, -2..3_i64).prop_map(|(bits, by)| (1_i64 << bits).wrapping_add(by)),
        ]
    }

    fn pair() -> impl Strategy<Value = (Rational, BigRational)> {
        (term(), term().prop_filter("a divisor", |under| *under != 0))
            .prop_map(|(over, under)| (Rational::new(over, under), BigRational::new(over.into(), under.into())))
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4000))]

        #[test]
        fn operations_are_those_of_rationals_of_any_size((a, big_a) in pair(), (b, big_b) in pair()) {
            prop_assert_eq!(a.big(), big_a.clone());
            prop_assert_eq!(&a, &Rational::from(big_a.clone()));
            prop_assert_eq!(a.add(&b), Rational::from(&big_a + &big_b));
            prop_assert_eq!(a.mul(&b), Rational::from(&big_a * &big_b));
            prop_assert_eq!(a.neg(), Rational::from(-big_a.clone()));
            prop_assert_eq!(a.cmp(&b), big_a.cmp(&big_b));
            prop_assert_eq!(a.is_whole(), big_a.is_integer());
            prop_assert_eq!(a.signum(), big_a.signum().to_i32().unwrap());
            prop_assert_eq!(a.to_i64(), big_a.is_integer().then(|| big_a.to_i64()).flatten());
            if !big_b.is_zero() {
                prop_assert_eq!(a.div(&b), Rational::from(&big_a / &big_b));
            }
            // And once more, now that the terms are beyond 64 bits.
            let (square, big_square) = (a.mul(&a).add(&b), &big_a * &big_a + &big_b);
            prop_assert_eq!(square.big(), big_square.clone());
            prop_assert_eq!(square.cmp(&a), big_square.cmp(&big_a));
        }

        #[test]
        fn comparison_with_floating_point_is_exact((a, big_a) in pair(), float in any::<f64>(), ulps in -2..3_i32) {
            let near = (0..ulps.abs()).fold(a.near(), |near, _| if ulps < 0 { near.next_down() } else { near.next_up() });
            for float in [float, near] {
                let expected = BigRational::from_float(float).map(|float| big_a.cmp(&float));
                prop_assert_eq!(a.against(float), expected);
            }
            if let Some(plain) = a.plain_float() {
                prop_assert_eq!(BigRational::from_f64(plain), Some(big_a));
            }
        }

        #[test]
        fn rounding_is_half_away_from_zero((a, big_a) in pair(), places in -22..22_i64) {
            let ten = |n: i64| BigRational::from_integer(BigInt::from(10).pow(n.unsigned_abs() as u32));
            let power = if places < 0 { ten(places).recip() } else { ten(places) };
            if let Some((digits, whole)) = rounded(&a, places) {
                let scaled = big_a.abs() * power;
                prop_assert_eq!(BigInt::from(digits), scaled.round().to_integer());
                prop_assert_eq!(whole, scaled.is_integer());
            }
            if let Some(magnitude) = small_magnitude(&a).filter(|_| !big_a.is_zero()) {
                let power = |n: i64| if n < 0 { ten(n).recip() } else { ten(n) };
                prop_assert!(power(magnitude) <= big_a.abs() && big_a.abs() < power(magnitude + 1));
            }
        }
    }
}
