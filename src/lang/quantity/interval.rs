//! Closed floating-point intervals, rounded outward: the fast way to decide.

use super::truth::Truth;

/// A closed set of possible values, certain to contain the true one.
///
/// Every operation moves its ends outward by one step where it rounds, so the
/// exact result for any values inside the operands lies inside the result. An
/// infinite end means "unbounded on that side"; the values themselves are
/// finite, so zero times anything is zero.
///
/// Units are the caller's: both operands of a comparison must be in SI base
/// readings (see [`Unit`](super::Unit)).
///
/// As with any NaN, `ABSENT == ABSENT` is false: ask [`Interval::is_absent`].
#[derive(Copy, Clone, Debug, PartialEq)]
pub struct Interval {
    /// The least possible value; `-inf` where there is none.
    pub lo: f64,
    /// The greatest possible value; `inf` where there is none.
    pub hi: f64,
}

/// A product in which zero wins over an infinite end.
#[inline]
fn times(a: f64, b: f64) -> f64 {
    let product = a * b;
    if product.is_nan() { 0.0 } else { product }
}

/// A quotient in which an infinite divisor gives zero.
#[inline]
fn over(a: f64, b: f64) -> f64 {
    let quotient = a / b;
    if quotient.is_nan() { 0.0 } else { quotient }
}

/// The least and greatest of four corners, moved outward.
#[inline]
fn around(a: f64, b: f64, c: f64, d: f64) -> Interval {
    Interval { lo: a.min(b).min(c.min(d)).next_down(), hi: a.max(b).max(c.max(d)).next_up() }
}

/// One step below a number that is zero or more, but not below zero.
#[inline]
fn below(value: f64) -> f64 {
    // Above zero the bits count the numbers upward.
    if value > 0.0 { f64::from_bits(value.to_bits().wrapping_sub(1)) } else { 0.0 }
}

/// One step above a number that is zero or more.
#[inline]
fn above(value: f64) -> f64 {
    // Adding zero makes a negative zero a positive one.
    if value < f64::INFINITY { f64::from_bits((value + 0.0).to_bits().wrapping_add(1)) } else { value }
}

/// A sum's lower end. A floating-point sum that comes to zero is exact.
#[inline]
fn down(sum: f64) -> f64 {
    if sum == 0.0 { 0.0 } else { sum.next_down() }
}

/// A sum's upper end.
#[inline]
fn up(sum: f64) -> f64 {
    if sum == 0.0 { 0.0 } else { sum.next_up() }
}

#[expect(
    clippy::should_implement_trait,
    reason = "the names are the same on Interval and on ExactInterval, which takes references"
)]
impl Interval {
    /// The first and last whole day of a set of dates; `None` if it is open to one side.
    #[must_use]
    pub fn days(self) -> Option<(i32, i32)> {
        let fits = |x: f64| (-1e6..1e6).contains(&x);
        #[expect(clippy::cast_possible_truncation, reason = "checked to be small")]
        (fits(self.lo) && fits(self.hi)).then(|| (self.lo.floor() as i32, self.hi.floor() as i32))
    }

    /// Nothing is known: every value is possible.
    pub const EVERYTHING: Interval = Interval { lo: f64::NEG_INFINITY, hi: f64::INFINITY };

    /// Known to be none. Every operation on it gives `ABSENT`, every
    /// comparison with it is undecided.
    pub const ABSENT: Interval = Interval { lo: f64::NAN, hi: f64::NAN };

    /// One value, taken to be exact. NaN gives everything; an infinity, the
    /// values beyond the largest finite one.
    #[inline]
    #[must_use]
    pub fn point(value: f64) -> Interval {
        Interval::new(value, value)
    }

    /// The values from `lo` to `hi`, both included. Ends in the wrong order
    /// or NaN give everything: a set that is too wide decides nothing.
    #[inline]
    #[must_use]
    pub fn new(lo: f64, hi: f64) -> Interval {
        if lo <= hi { Interval { lo: lo.min(f64::MAX), hi: hi.max(f64::MIN) } } else { Interval::EVERYTHING }
    }

    /// Whether this is known to be none.
    #[inline]
    #[must_use]
    pub fn is_absent(self) -> bool {
        self.lo.is_nan() || self.hi.is_nan()
    }

    /// Whether every value is possible.
    #[inline]
    #[must_use]
    pub fn is_everything(self) -> bool {
        self.lo == f64::NEG_INFINITY && self.hi == f64::INFINITY
    }

    /// Whether either end is infinite.
    #[inline]
    #[must_use]
    pub fn is_unbounded(self) -> bool {
        self.lo.is_infinite() || self.hi.is_infinite()
    }

    /// Whether the value is a possible one.
    #[inline]
    #[must_use]
    pub fn contains(self, value: f64) -> bool {
        self.lo <= value && value <= self.hi
    }

    /// `self + other`.
    #[inline]
    #[must_use]
    pub fn add(self, other: Interval) -> Interval {
        Interval { lo: down(self.lo + other.lo), hi: up(self.hi + other.hi) }
    }

    /// `self - other`.
    #[inline]
    #[must_use]
    pub fn sub(self, other: Interval) -> Interval {
        Interval { lo: down(self.lo - other.hi), hi: up(self.hi - other.lo) }
    }

    /// `self * other`.
    #[inline]
    #[must_use]
    pub fn mul(self, other: Interval) -> Interval {
        // By far the most frequent case; a product of such is never below zero.
        if self.lo >= 0.0 && other.lo >= 0.0 {
            return Interval { lo: below(times(self.lo, other.lo)), hi: above(times(self.hi, other.hi)) };
        }
        self.mul_signed(other)
    }

    /// A product of which a side may be below zero, or absent.
    #[inline(never)]
    fn mul_signed(self, other: Interval) -> Interval {
        if self.is_absent() || other.is_absent() {
            return Interval::ABSENT;
        }
        around(times(self.lo, other.lo), times(self.lo, other.hi), times(self.hi, other.lo), times(self.hi, other.hi))
    }

    /// `self / other`; everything where the divisor can be zero.
    #[inline]
    #[must_use]
    pub fn div(self, other: Interval) -> Interval {
        if other.contains(0.0) && !self.is_absent() { Interval::EVERYTHING } else { self.div_by_nonzero(other) }
    }

    /// `self / other`, of which is known that it is not zero: an end at zero is
    /// one that it comes near and never reaches. Everything where it can be of
    /// either sign.
    #[inline]
    #[must_use]
    pub fn div_by_nonzero(self, other: Interval) -> Interval {
        if self.lo >= 0.0 && other.lo >= 0.0 && other.hi > 0.0 {
            return Interval {
                lo: over(self.lo, other.hi).next_down().max(0.0),
                // Adding zero makes a negative zero a positive one.
                hi: over(self.hi, other.lo + 0.0).next_up(),
            };
        }
        if self.is_absent() || other.is_absent() {
            return Interval::ABSENT;
        }
        if other.lo < 0.0 && other.hi > 0.0 || other.lo == 0.0 && other.hi == 0.0 {
            return Interval::EVERYTHING;
        }
        // A zero with the sign of the side it is come to from.
        let (low, high) = (other.lo + 0.0, if other.hi == 0.0 { -0.0 } else { other.hi });
        around(over(self.lo, low), over(self.lo, high), over(self.hi, low), over(self.hi, high))
    }

    /// `-self`.
    #[inline]
    #[must_use]
    pub fn neg(self) -> Interval {
        Interval { lo: -self.hi, hi: -self.lo }
    }

    /// The square root; everything where the set reaches below zero.
    #[inline]
    #[must_use]
    pub fn root(self) -> Interval {
        if self.is_absent() {
            Interval::ABSENT
        } else if self.lo < 0.0 {
            Interval::EVERYTHING
        } else {
            Interval { lo: self.lo.sqrt().next_down().max(0.0), hi: self.hi.sqrt().next_up() }
        }
    }

    /// The magnitude.
    #[inline]
    #[must_use]
    pub fn abs(self) -> Interval {
        if self.lo >= 0.0 {
            self
        } else if self.hi <= 0.0 {
            self.neg()
        } else if self.is_absent() {
            Interval::ABSENT
        } else {
            Interval { lo: 0.0, hi: self.hi.max(-self.lo) }
        }
    }

    /// The larger of the two values.
    #[inline]
    #[must_use]
    pub fn larger(self, other: Interval) -> Interval {
        if self.is_absent() || other.is_absent() {
            return Interval::ABSENT;
        }
        Interval { lo: self.lo.max(other.lo), hi: self.hi.max(other.hi) }
    }

    /// The smaller of the two values.
    #[inline]
    #[must_use]
    pub fn smaller(self, other: Interval) -> Interval {
        if self.is_absent() || other.is_absent() {
            return Interval::ABSENT;
        }
        Interval { lo: self.lo.min(other.lo), hi: self.hi.min(other.hi) }
    }

    /// Everything that either set holds, and what lies between.
    #[inline]
    #[must_use]
    pub fn hull(self, other: Interval) -> Interval {
        if self.is_absent() || other.is_absent() {
            return Interval::ABSENT;
        }
        Interval { lo: self.lo.min(other.lo), hi: self.hi.max(other.hi) }
    }

    /// `self <= other` for every pair of possible values, for none, or undecided.
    #[inline]
    #[must_use]
    pub fn at_most(self, other: Interval) -> Truth {
        Truth::decide(self.hi <= other.lo, self.lo > other.hi)
    }

    /// `self < other`.
    #[inline]
    #[must_use]
    pub fn less(self, other: Interval) -> Truth {
        Truth::decide(self.hi < other.lo, self.lo >= other.hi)
    }

    /// `self >= other`.
    #[inline]
    #[must_use]
    pub fn at_least(self, other: Interval) -> Truth {
        other.at_most(self)
    }

    /// `self > other`.
    #[inline]
    #[must_use]
    pub fn more(self, other: Interval) -> Truth {
        other.less(self)
    }

    /// The same value: true only where both are the same single point, false
    /// where the sets are apart.
    #[inline]
    #[must_use]
    pub fn equal(self, other: Interval) -> Truth {
        Truth::decide(self.lo >= other.hi && self.hi <= other.lo, self.hi < other.lo || self.lo > other.hi)
    }
}
