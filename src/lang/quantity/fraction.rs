//! Fractions whose terms are of any size, where two machine words hold a
//! number no longer. The whole numbers are a library's; what is here is what
//! one learns of fractions at school, held against another library's by tests.
#![expect(clippy::arithmetic_side_effects, reason = "big whole numbers do not overflow, and no divisor here is zero")]

use std::cmp::Ordering;

use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{Float, One, Signed, ToPrimitive};

/// A fraction in lowest terms with a divisor above zero.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct Fraction {
    over: BigInt,
    under: BigInt,
}

impl Fraction {
    /// `over / under`, with `under` not zero.
    pub(super) fn new(over: BigInt, under: BigInt) -> Fraction {
        let common = over.gcd(&under) * under.signum();
        Fraction { over: over / &common, under: under / common }
    }

    /// Terms that are lowest already, with a divisor above zero.
    pub(super) fn of_lowest(over: BigInt, under: BigInt) -> Fraction {
        Fraction { over, under }
    }

    pub(super) fn whole(value: BigInt) -> Fraction {
        Fraction { over: value, under: BigInt::one() }
    }

    /// The exact value of a floating-point number; `None` for NaN and infinity.
    pub(super) fn of_float(value: f64) -> Option<Fraction> {
        if !value.is_finite() {
            return None;
        }
        let (mantissa, exponent, sign) = value.integer_decode();
        let (whole, power) = (BigInt::from(mantissa) * sign, BigInt::one() << exponent.unsigned_abs());
        Some(if exponent < 0 { Fraction::new(whole, power) } else { Fraction::whole(whole * power) })
    }

    pub(super) fn over(&self) -> &BigInt {
        &self.over
    }

    pub(super) fn under(&self) -> &BigInt {
        &self.under
    }

    pub(super) fn is_whole(&self) -> bool {
        self.under.is_one()
    }

    pub(super) fn add(&self, other: &Fraction) -> Fraction {
        Fraction::new(&self.over * &other.under + &other.over * &self.under, &self.under * &other.under)
    }

    pub(super) fn mul(&self, other: &Fraction) -> Fraction {
        Fraction::new(&self.over * &other.over, &self.under * &other.under)
    }

    /// `self / other`, with `other` not zero.
    pub(super) fn div(&self, other: &Fraction) -> Fraction {
        Fraction::new(&self.over * &other.under, &self.under * &other.over)
    }

    pub(super) fn neg(&self) -> Fraction {
        Fraction { over: -&self.over, under: self.under.clone() }
    }

    pub(super) fn abs(&self) -> Fraction {
        Fraction { over: self.over.abs(), under: self.under.clone() }
    }

    /// The largest whole number that is not above this one.
    pub(super) fn floor(&self) -> BigInt {
        self.over.div_floor(&self.under)
    }

    /// The nearest whole number, of two the one that is further from zero.
    pub(super) fn rounded(&self) -> BigInt {
        let twice: BigInt = self.over.abs() * 2 + &self.under;
        twice.div_floor(&(&self.under * 2)) * self.over.signum()
    }

    /// A floating-point number close by: nothing may rest on how close.
    pub(super) fn near(&self) -> f64 {
        let bits = |term: &BigInt| i32::try_from(term.bits()).unwrap_or(i32::MAX);
        // The quotient of the shifted terms has as many bits as a float can use, and some more.
        let shift = bits(&self.under).saturating_sub(bits(&self.over)).saturating_add(64);
        let by = shift.unsigned_abs();
        let (over, under) =
            if shift < 0 { (self.over.clone(), &self.under << by) } else { (&self.over << by, self.under.clone()) };
        // In two steps, as the power itself may be beyond what a float holds.
        let (half, rest) = (shift / 2, shift - shift / 2);
        (over / under).to_f64().unwrap_or(f64::NAN) * 2_f64.powi(-half) * 2_f64.powi(-rest)
    }
}

impl Ord for Fraction {
    fn cmp(&self, other: &Self) -> Ordering {
        (&self.over * &other.under).cmp(&(&other.over * &self.under))
    }
}

impl PartialOrd for Fraction {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

#[cfg(test)]
impl Fraction {
    /// The same number as the outside library has it.
    pub(super) fn outside(&self) -> num_rational::BigRational {
        num_rational::BigRational::new_raw(self.over.clone(), self.under.clone())
    }
}

/// Against the crate `num-rational`, with terms of up to some 400 bits.
#[cfg(test)]
mod tests {
    use super::Fraction;
    use num_bigint::BigInt;
    use num_rational::BigRational;
    use num_traits::{ToPrimitive, Zero};
    use proptest::prelude::*;

    fn term() -> impl Strategy<Value = BigInt> {
        let bytes =
            proptest::collection::vec(any::<u8>(), 0..50).prop_map(|bytes| BigInt::from_signed_bytes_le(&bytes));
        prop_oneof![any::<i64>().prop_map(BigInt::from), (-20..20_i64).prop_map(BigInt::from), bytes]
    }

    fn pair() -> impl Strategy<Value = (Fraction, BigRational)> {
        (term(), term().prop_filter("a divisor", |under| !under.is_zero()))
            .prop_map(|(over, under)| (Fraction::new(over.clone(), under.clone()), BigRational::new(over, under)))
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]

        #[test]
        fn fractions_are_those_of_an_outside_library((a, out_a) in pair(), (b, out_b) in pair()) {
            prop_assert_eq!(a.outside(), out_a.clone());
            prop_assert_eq!(a.add(&b).outside(), &out_a + &out_b);
            prop_assert_eq!(a.mul(&b).outside(), &out_a * &out_b);
            if !out_b.is_zero() {
                prop_assert_eq!(a.div(&b).outside(), &out_a / &out_b);
            }
            prop_assert_eq!(a.neg().outside(), -&out_a);
            prop_assert_eq!(a.abs().outside(), num_traits::Signed::abs(&out_a));
            prop_assert_eq!(a.cmp(&b), out_a.cmp(&out_b));
            prop_assert_eq!(a == b, out_a == out_b);
            prop_assert_eq!(a.is_whole(), out_a.is_integer());
            prop_assert_eq!(a.floor(), out_a.floor().to_integer());
            prop_assert_eq!(a.rounded(), out_a.round().to_integer());
        }

        #[test]
        fn a_float_is_taken_as_it_is_and_one_near_by_is_given((a, out_a) in pair(), float in any::<f64>()) {
            prop_assert_eq!(Fraction::of_float(float).map(|a| a.outside()), BigRational::from_float(float));
            let (near, expected) = (a.near(), out_a.to_f64().unwrap());
            let beside = [expected, expected.next_up(), expected.next_down()].map(f64::to_bits);
            prop_assert!(beside.contains(&near.to_bits()), "{} {}", near, expected);
        }
    }
}
