//! Closed intervals with exact ends: what decides at the very boundary.

use super::exact::{Exact, MOST_BITS};
use super::interval::Interval;
use super::truth::Truth;

/// One end of a range. The order is that of the number line.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum End {
    /// Below every number.
    Below,
    /// A number.
    At(Exact),
    /// Above every number.
    Above,
}

impl End {
    /// -1, 0 or 1.
    fn signum(&self) -> i32 {
        match self {
            End::Below => -1,
            End::At(value) => value.signum(),
            End::Above => 1,
        }
    }

    /// The infinite end of the sign, or zero.
    fn of_sign(sign: i32) -> End {
        match sign {
            0 => End::At(Exact::zero()),
            1.. => End::Above,
            _ => End::Below,
        }
    }

    fn neg(&self) -> End {
        match self {
            End::Below => End::Above,
            End::At(value) => End::At(value.neg()),
            End::Above => End::Below,
        }
    }

    /// A sum; ends of one kind only are ever added, so infinities agree.
    fn add(&self, other: &End) -> End {
        match (self, other) {
            (End::At(a), End::At(b)) => End::At(a.add(b)),
            (End::At(_), end) | (end, _) => end.clone(),
        }
    }

    /// A product in which zero wins over an infinite end.
    fn mul(&self, other: &End) -> End {
        match (self, other) {
            (End::At(a), End::At(b)) => End::At(a.mul(b)),
            _ => End::of_sign(self.signum().saturating_mul(other.signum())),
        }
    }

    /// A quotient. An infinite divisor gives zero; one of zero is come near to
    /// from the side of that sign, and gives an infinite end.
    fn div(&self, other: &End, side: i32) -> End {
        match (self, other) {
            (_, End::Below | End::Above) => End::At(Exact::zero()),
            (End::At(a), End::At(b)) => match a.div(b) {
                Some(quotient) => End::At(quotient),
                None => End::of_sign(self.signum().saturating_mul(side)),
            },
            _ => End::of_sign(self.signum().saturating_mul(side)),
        }
    }
}

/// A closed set of possible values with exact ends, the counterpart of
/// [`Interval`]: same operations, same comparisons, no rounding but in
/// [`ExactInterval::root`] and of ends with more than 1024 binary digits above or
/// below the line: those are moved outward to 128 of them, so that no arithmetic
/// on what people write takes longer and longer.
///
/// Values are SI base readings (see [`Unit`](super::Unit)).
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ExactInterval {
    pub(super) lo: End,
    pub(super) hi: End,
    pub(super) absent: bool,
}

impl ExactInterval {
    /// The first and last whole day of a set of dates; `None` if it is open to one side.
    #[must_use]
    pub fn days(&self) -> Option<(i32, i32)> {
        let exact = |bound: Option<&Exact>| bound.map(Exact::to_f64_below);
        exact(self.lo())
            .zip(exact(self.hi()))
            .and_then(|(lo, hi)| Interval { lo, hi }.days())
            .filter(|_| !self.to_interval().is_absent())
    }

    /// Nothing is known: every value is possible.
    #[must_use]
    pub fn everything() -> ExactInterval {
        ExactInterval::between(End::Below, End::Above)
    }

    /// Known to be none. Every operation on it gives absent, every comparison
    /// with it is undecided.
    #[must_use]
    pub fn absent() -> ExactInterval {
        ExactInterval { absent: true, ..ExactInterval::everything() }
    }

    /// One value.
    #[must_use]
    pub fn point(value: Exact) -> ExactInterval {
        ExactInterval::between(End::At(value.clone()), End::At(value))
    }

    /// The values from `lo` to `hi`, both included; `None` is unbounded. Ends
    /// in the wrong order give everything: a set too wide decides nothing.
    #[must_use]
    pub fn new(lo: Option<Exact>, hi: Option<Exact>) -> ExactInterval {
        let lo = lo.map_or(End::Below, End::At);
        let hi = hi.map_or(End::Above, End::At);
        if lo <= hi { ExactInterval::between(lo, hi) } else { ExactInterval::everything() }
    }

    fn between(lo: End, hi: End) -> ExactInterval {
        ExactInterval { lo, hi, absent: false }
    }

    /// The same, with an end of more digits than are kept moved outward to one of fewer: what came of it is among the
    /// possible values still.
    fn kept(lo: End, hi: End) -> ExactInterval {
        ExactInterval::between(lo, hi).shortened(MOST_BITS)
    }

    /// The same, with an end of more binary digits above or below the line than this moved outward to one of 128: what
    /// many numbers are added up to.
    ///
    /// ```
    /// use cotterpin_lang::quantity::{Exact, ExactInterval};
    /// let third = Exact::ratio(1, 3).map(ExactInterval::point).expect("a number");
    /// assert_eq!(third.clone().shortened(256), third);
    /// let odd = Exact::parse("1/1000000000000000000000000031340").map(ExactInterval::point).expect("a number");
    /// let near = odd.clone().shortened(64);
    /// assert!(near != odd && near.lo() < odd.lo() && near.hi() > odd.hi());
    /// ```
    #[must_use]
    pub fn shortened(self, most_bits: u64) -> ExactInterval {
        let lo = match self.lo {
            End::At(value) if value.is_longer_than(most_bits) => value.few_digits_below().map_or(End::Below, End::At),
            end => end,
        };
        let hi = match self.hi {
            End::At(value) if value.is_longer_than(most_bits) => {
                value.neg().few_digits_below().map_or(End::Above, |below| End::At(below.neg()))
            }
            end => end,
        };
        ExactInterval { lo, hi, absent: self.absent }
    }

    /// The least and greatest of some ends.
    fn around(corners: [End; 4]) -> ExactInterval {
        let [a, b, c, d] = corners;
        let lo = (&a).min(&b).min((&c).min(&d)).clone();
        let hi = a.max(b).max(c.max(d));
        ExactInterval::kept(lo, hi)
    }

    /// The least possible value, `None` where unbounded.
    #[must_use]
    pub fn lo(&self) -> Option<&Exact> {
        match &self.lo {
            End::At(value) => Some(value),
            _ => None,
        }
    }

    /// The greatest possible value, `None` where unbounded.
    #[must_use]
    pub fn hi(&self) -> Option<&Exact> {
        match &self.hi {
            End::At(value) => Some(value),
            _ => None,
        }
    }

    /// An order for sorting and looking up, not one of sizes: by the lower end, then by the upper.
    pub(crate) fn in_a_row(&self, other: &ExactInterval) -> std::cmp::Ordering {
        (&self.lo, &self.hi, self.absent).cmp(&(&other.lo, &other.hi, other.absent))
    }

    /// The single value this is, if it is one.
    #[must_use]
    pub fn as_point(&self) -> Option<&Exact> {
        (!self.absent && self.lo == self.hi).then(|| self.lo())?
    }

    /// Whether this is known to be none.
    #[must_use]
    pub fn is_absent(&self) -> bool {
        self.absent
    }

    /// Whether every value is possible.
    #[must_use]
    pub fn is_everything(&self) -> bool {
        !self.absent && self.lo == End::Below && self.hi == End::Above
    }

    /// Whether either side is unbounded.
    #[must_use]
    pub fn is_unbounded(&self) -> bool {
        !self.absent && (self.lo == End::Below || self.hi == End::Above)
    }

    /// Whether the value is a possible one.
    #[must_use]
    pub fn contains(&self, value: &Exact) -> bool {
        !self.absent && self.lo().is_none_or(|lo| lo <= value) && self.hi().is_none_or(|hi| value <= hi)
    }

    /// The same set in floating point, rounded outward.
    #[must_use]
    pub fn to_interval(&self) -> Interval {
        if self.absent {
            return Interval::ABSENT;
        }
        if let Some(value) = self.as_point() {
            let (lo, hi) = value.neighbours();
            return Interval { lo, hi };
        }
        Interval {
            lo: self.lo().map_or(f64::NEG_INFINITY, Exact::to_f64_below),
            hi: self.hi().map_or(f64::INFINITY, Exact::to_f64_above),
        }
    }

    /// The result, unless one of the operands is absent.
    fn unless_absent(&self, other: &ExactInterval, result: impl FnOnce() -> ExactInterval) -> ExactInterval {
        if self.absent || other.absent { ExactInterval::absent() } else { result() }
    }

    /// `self + other`.
    #[must_use]
    pub fn add(&self, other: &ExactInterval) -> ExactInterval {
        self.unless_absent(other, || ExactInterval::kept(self.lo.add(&other.lo), self.hi.add(&other.hi)))
    }

    /// `self - other`.
    #[must_use]
    pub fn sub(&self, other: &ExactInterval) -> ExactInterval {
        self.add(&other.neg())
    }

    /// `self * other`.
    #[must_use]
    pub fn mul(&self, other: &ExactInterval) -> ExactInterval {
        self.unless_absent(other, || {
            if self.lo.signum() >= 0 && other.lo.signum() >= 0 {
                return ExactInterval::kept(self.lo.mul(&other.lo), self.hi.mul(&other.hi));
            }
            ExactInterval::around([
                self.lo.mul(&other.lo),
                self.lo.mul(&other.hi),
                self.hi.mul(&other.lo),
                self.hi.mul(&other.hi),
            ])
        })
    }

    /// `self / other`; everything where the divisor can be zero.
    #[must_use]
    pub fn div(&self, other: &ExactInterval) -> ExactInterval {
        if other.contains(&Exact::zero()) {
            return self.unless_absent(other, ExactInterval::everything);
        }
        self.div_by_nonzero(other)
    }

    /// `self / other`, of which is known that it is not zero: an end at zero is
    /// one that it comes near and never reaches. Everything where it can be of
    /// either sign.
    #[must_use]
    pub fn div_by_nonzero(&self, other: &ExactInterval) -> ExactInterval {
        self.unless_absent(other, || {
            let side = match (other.lo.signum(), other.hi.signum()) {
                (0.., 1..) => 1,
                (..=-1, ..=0) => -1,
                _ => return ExactInterval::everything(),
            };
            if self.lo.signum() >= 0 && side > 0 {
                return ExactInterval::kept(self.lo.div(&other.hi, side), self.hi.div(&other.lo, side));
            }
            ExactInterval::around([
                self.lo.div(&other.lo, side),
                self.lo.div(&other.hi, side),
                self.hi.div(&other.lo, side),
                self.hi.div(&other.hi, side),
            ])
        })
    }

    /// `-self`.
    #[must_use]
    pub fn neg(&self) -> ExactInterval {
        ExactInterval { lo: self.hi.neg(), hi: self.lo.neg(), absent: self.absent }.tidy()
    }

    /// Absent has one form only, so that it equals itself.
    fn tidy(self) -> ExactInterval {
        if self.absent { ExactInterval::absent() } else { self }
    }

    /// The square root, enclosed to 20 significant digits (see
    /// [`Exact::root`]); everything where the set reaches below zero.
    #[must_use]
    pub fn root(&self) -> ExactInterval {
        if self.absent {
            return ExactInterval::absent();
        }
        match (self.lo().map(Exact::root), self.hi().map(Exact::root)) {
            (Some(Some((lo, _))), Some(Some((_, hi)))) => ExactInterval::new(Some(lo), Some(hi)),
            (Some(Some((lo, _))), None) => ExactInterval::new(Some(lo), None),
            _ => ExactInterval::everything(),
        }
    }

    /// The magnitude.
    #[must_use]
    pub fn abs(&self) -> ExactInterval {
        if self.absent || self.lo.signum() >= 0 {
            self.clone()
        } else if self.hi.signum() <= 0 {
            self.neg()
        } else {
            let far = self.lo.neg().max(self.hi.clone());
            ExactInterval::between(End::At(Exact::zero()), far)
        }
    }

    /// The larger of the two values.
    #[must_use]
    pub fn larger(&self, other: &ExactInterval) -> ExactInterval {
        self.unless_absent(other, || {
            let lo = (&self.lo).max(&other.lo).clone();
            ExactInterval::between(lo, (&self.hi).max(&other.hi).clone())
        })
    }

    /// The smaller of the two values.
    #[must_use]
    pub fn smaller(&self, other: &ExactInterval) -> ExactInterval {
        self.unless_absent(other, || {
            let lo = (&self.lo).min(&other.lo).clone();
            ExactInterval::between(lo, (&self.hi).min(&other.hi).clone())
        })
    }

    /// Everything that either set holds, and what lies between.
    #[must_use]
    pub fn hull(&self, other: &ExactInterval) -> ExactInterval {
        self.unless_absent(other, || {
            let lo = (&self.lo).min(&other.lo).clone();
            ExactInterval::between(lo, (&self.hi).max(&other.hi).clone())
        })
    }

    /// The comparison, undecided where either side is absent.
    fn compare(&self, other: &ExactInterval, holds: bool, fails: bool) -> Truth {
        let known = !self.absent && !other.absent;
        Truth::decide(known && holds, known && fails)
    }

    /// `self <= other` for every pair of possible values, for none, or undecided.
    #[must_use]
    pub fn at_most(&self, other: &ExactInterval) -> Truth {
        self.compare(other, self.hi <= other.lo, self.lo > other.hi)
    }

    /// `self < other`.
    #[must_use]
    pub fn less(&self, other: &ExactInterval) -> Truth {
        self.compare(other, self.hi < other.lo, self.lo >= other.hi)
    }

    /// `self >= other`.
    #[must_use]
    pub fn at_least(&self, other: &ExactInterval) -> Truth {
        other.at_most(self)
    }

    /// `self > other`.
    #[must_use]
    pub fn more(&self, other: &ExactInterval) -> Truth {
        other.less(self)
    }

    /// The same value: true only where both are the same single point, false
    /// where the sets are apart.
    #[must_use]
    pub fn equal(&self, other: &ExactInterval) -> Truth {
        let same = self.as_point().is_some() && self == other;
        self.compare(other, same, self.hi < other.lo || self.lo > other.hi)
    }
}
