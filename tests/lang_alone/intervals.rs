//! Intervals against exact rational arithmetic: what the language promises of
//! its sets of values (points inside decide alike, narrowing never
//! contradicts), on random expressions.

use std::cell::Cell;

use crate::fixtures::seed::fresh_cases;
use cotterpin_lang::quantity::{Exact, ExactInterval, Interval, Truth};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;

const CASES: u32 = 3000;

/// One number with how far the truth may lie below and above it.
#[derive(Clone, Debug)]
struct Leaf {
    centre: (i32, i32),
    below: Option<u16>,
    above: Option<u16>,
    narrowed: u16,
    inside: u16,
}

#[derive(Clone, Debug)]
enum Expression {
    Leaf(Leaf),
    One(u8, Box<Expression>),
    Two(u8, Box<Expression>, Box<Expression>),
}

/// The same expression, worked out in every way at once.
#[derive(Clone, Debug)]
struct Worked {
    /// For one value out of each set; `None` where it would divide by zero.
    point: Option<Exact>,
    range: ExactInterval,
    interval: Interval,
    /// With every leaf narrowed, the value still inside.
    narrow_range: ExactInterval,
    narrow_interval: Interval,
}

fn scaled(number: i64, exponent: i32) -> Exact {
    Exact::parse(&format!("{number}e{exponent}")).expect("a number")
}

impl Leaf {
    fn worked(&self) -> Worked {
        let (digits, exponent) = self.centre;
        let away = |by: i64| scaled(i64::from(digits) + by, exponent);
        // The value picked: on the way from the lower to the upper end.
        let width = |side: Option<u16>| i64::from(side.unwrap_or(9));
        let (low, high) = (-width(self.below), width(self.above));
        let pick = low + (high - low) * i64::from(self.inside) / i64::from(u16::MAX);
        let keep = |end: i64| pick + (end - pick) * i64::from(self.narrowed) / i64::from(u16::MAX);
        let range = ExactInterval::new(self.below.map(|_| away(low)), self.above.map(|_| away(high)));
        let narrow_range = ExactInterval::new(Some(away(keep(low))), Some(away(keep(high))));
        Worked {
            point: Some(away(pick)),
            interval: range.to_interval(),
            narrow_interval: narrow_range.to_interval(),
            range,
            narrow_range,
        }
    }
}

fn two(op: u8, a: &Worked, b: &Worked) -> Worked {
    type OnRange = fn(&ExactInterval, &ExactInterval) -> ExactInterval;
    type OnInterval = fn(Interval, Interval) -> Interval;
    type OnPoint = fn(&Exact, &Exact) -> Option<Exact>;
    let (point, range, interval): (OnPoint, OnRange, OnInterval) = match op {
        0 => (|a, b| Some(a.add(b)), ExactInterval::add, Interval::add),
        1 => (|a, b| Some(a.sub(b)), ExactInterval::sub, Interval::sub),
        2 => (|a, b| Some(a.mul(b)), ExactInterval::mul, Interval::mul),
        3 => (Exact::div, ExactInterval::div, Interval::div),
        4 => (|a, b| Some(a.max(b).clone()), ExactInterval::larger, Interval::larger),
        _ => (|a, b| Some(a.min(b).clone()), ExactInterval::smaller, Interval::smaller),
    };
    Worked {
        point: a.point.as_ref().zip(b.point.as_ref()).and_then(|(a, b)| point(a, b)),
        range: range(&a.range, &b.range),
        interval: interval(a.interval, b.interval),
        narrow_range: range(&a.narrow_range, &b.narrow_range),
        narrow_interval: interval(a.narrow_interval, b.narrow_interval),
    }
}

impl Expression {
    fn worked(&self) -> Worked {
        match self {
            Expression::Leaf(leaf) => leaf.worked(),
            Expression::One(op, inner) => {
                let inner = inner.worked();
                let negate = *op == 0;
                let range = |r: &ExactInterval| if negate { r.neg() } else { r.abs() };
                let interval = |i: Interval| if negate { i.neg() } else { i.abs() };
                Worked {
                    point: inner.point.map(|p| if negate { p.neg() } else { p.abs() }),
                    range: range(&inner.range),
                    interval: interval(inner.interval),
                    narrow_range: range(&inner.narrow_range),
                    narrow_interval: interval(inner.narrow_interval),
                }
            }
            Expression::Two(op, a, b) => two(*op, &a.worked(), &b.worked()),
        }
    }
}

fn expressions() -> impl Strategy<Value = Expression> {
    let side = || prop_oneof![3 => Just(Some(0)), 5 => (0..50_u16).prop_map(Some), 1 => Just(None)];
    let digits = prop_oneof![1 => -3..4_i32, 3 => -100_000..100_000_i32];
    let share = || prop_oneof![Just(0), Just(u16::MAX), any::<u16>()];
    let leaf =
        ((digits, -6..7_i32), side(), side(), share(), share()).prop_map(|(centre, below, above, narrowed, inside)| {
            Expression::Leaf(Leaf { centre, below, above, narrowed, inside })
        });
    leaf.prop_recursive(5, 24, 2, |inner| {
        prop_oneof![
            1 => (0..2_u8, inner.clone()).prop_map(|(op, a)| Expression::One(op, a.into())),
            5 => (0..6_u8, inner.clone(), inner)
                .prop_map(|(op, a, b)| Expression::Two(op, a.into(), b.into())),
        ]
    })
}

/// Whether the interval holds the exact number, compared exactly.
fn holds(interval: Interval, value: &Exact) -> bool {
    let above_low = match Exact::from_f64(interval.lo) {
        Some(lo) => lo <= *value,
        None => interval.lo == f64::NEG_INFINITY,
    };
    let below_high = match Exact::from_f64(interval.hi) {
        Some(hi) => *value <= hi,
        None => interval.hi == f64::INFINITY,
    };
    above_low && below_high
}

fn range_within(inner: &ExactInterval, outer: &ExactInterval) -> bool {
    let low = outer.lo().is_none_or(|lo| inner.lo().is_some_and(|l| l >= lo));
    let high = outer.hi().is_none_or(|hi| inner.hi().is_some_and(|h| h <= hi));
    low && high
}

fn interval_within(inner: Interval, outer: Interval) -> bool {
    outer.lo <= inner.lo && inner.hi <= outer.hi
}

#[test]
fn results_hold_every_exact_result_and_narrowing_never_widens() {
    let (points, open) = (Cell::new(0), Cell::new(0));
    TestRunner::new(fresh_cases(CASES))
        .run(&expressions(), |expression| {
            let w = expression.worked();
            prop_assert!(!w.interval.is_absent() && !w.narrow_interval.is_absent());
            if let Some(point) = &w.point {
                for range in [&w.range, &w.narrow_range] {
                    prop_assert!(range.contains(point), "{:?} lacks {}", range, point);
                }
                for interval in [w.interval, w.narrow_interval] {
                    prop_assert!(holds(interval, point), "{:?} lacks {}", interval, point);
                }
                points.set(points.get() + 1);
            }
            prop_assert!(range_within(&w.narrow_range, &w.range));
            prop_assert!(interval_within(w.narrow_interval, w.interval));
            prop_assert!(interval_within(w.range.to_interval(), w.interval));
            open.set(open.get() + u32::from(w.interval.is_everything()));
            Ok(())
        })
        .expect("holds");
    assert!(points.get() > CASES / 2, "{}", points.get());
    assert!(open.get() < CASES / 2, "{}", open.get());
    println!(
        "worked out {CASES} expressions, {} with a point inside, {} that came to everything",
        points.get(),
        open.get()
    );
}

/// The comparison of two exact numbers, of two ranges, and of two intervals.
type Comparison = (
    &'static str,
    fn(&Exact, &Exact) -> bool,
    fn(&ExactInterval, &ExactInterval) -> Truth,
    fn(Interval, Interval) -> Truth,
);

const COMPARISONS: [Comparison; 5] = [
    ("at most", |a, b| a <= b, ExactInterval::at_most, Interval::at_most),
    ("less", |a, b| a < b, ExactInterval::less, Interval::less),
    ("at least", |a, b| a >= b, ExactInterval::at_least, Interval::at_least),
    ("more", |a, b| a > b, ExactInterval::more, Interval::more),
    ("equal", |a, b| a == b, ExactInterval::equal, Interval::equal),
];

/// What is decided stays decided.
fn follows(first: Truth, then: Truth) -> bool {
    !first.is_decided() || first == then
}

#[test]
fn what_an_interval_decides_the_range_and_the_points_confirm() {
    let (fast, exact, none) = (Cell::new(0), Cell::new(0), Cell::new(0));
    TestRunner::new(fresh_cases(CASES))
        .run(&(expressions(), expressions(), any::<bool>()), |(one, other, same)| {
            let a = one.worked();
            // Half of the time the two sides are one expression: the very boundary.
            let b = if same { a.clone() } else { other.worked() };
            for (name, points, ranges, intervals) in COMPARISONS {
                let by_interval = intervals(a.interval, b.interval);
                let by_range = ranges(&a.range, &b.range);
                prop_assert!(follows(by_interval, by_range), "{}", name);
                prop_assert!(follows(by_interval, intervals(a.narrow_interval, b.narrow_interval)), "{}", name);
                let narrow = ranges(&a.narrow_range, &b.narrow_range);
                prop_assert!(follows(by_range, narrow), "{}", name);
                if let (Some(a), Some(b)) = (&a.point, &b.point) {
                    let truth = Truth::from(points(a, b));
                    prop_assert!(follows(by_range, truth), "{} {} {}", a, name, b);
                    prop_assert!(follows(narrow, truth), "{} {} {}", a, name, b);
                }
                let count = match (by_interval.is_decided(), by_range.is_decided()) {
                    (true, _) => &fast,
                    (false, true) => &exact,
                    (false, false) => &none,
                };
                count.set(count.get() + 1);
            }
            Ok(())
        })
        .expect("agrees");
    // Each of the three ways must have been taken, or nothing was shown.
    assert!(fast.get() > 1000 && exact.get() > 10 && none.get() > 1000);
    println!(
        "compared {} pairs: {} decided by the interval, {} by the range alone, {} undecided",
        CASES * 5,
        fast.get(),
        exact.get(),
        none.get()
    );
}

#[test]
fn floating_point_neighbours_enclose_and_touch() {
    let input = (any::<i64>(), 1..i64::MAX, -30..31_i32);
    TestRunner::new(fresh_cases(CASES))
        .run(&input, |(over, under, exponent)| {
            let number = Exact::ratio(over, under).expect("a ratio").mul(&scaled(1, exponent));
            let (below, above) = (number.to_f64_below(), number.to_f64_above());
            prop_assert!(holds(Interval::new(below, above), &number));
            prop_assert!(below == above || below.next_up() == above);
            Ok(())
        })
        .expect("encloses");
    let huge = (0..10).fold(scaled(1, 40), |n, _| n.mul(&scaled(1, 40)));
    assert_eq!((huge.to_f64_below(), huge.to_f64_above()), (f64::MAX, f64::INFINITY));
    assert_eq!(huge.neg().to_f64_below(), f64::NEG_INFINITY);
    let tiny = Exact::one().div(&huge).expect("not zero");
    assert_eq!((tiny.to_f64_below(), tiny.to_f64_above()), (0.0, f64::from_bits(1)));
    let subnormal = (0..8).fold(Exact::one(), |n, _| n.mul(&scaled(1, -40)));
    assert!(holds(ExactInterval::point(subnormal.clone()).to_interval(), &subnormal));
    println!("enclosed {CASES} ratios and 4 extremes");
}

#[test]
fn roots_are_enclosed_and_never_cross() {
    let input = (0..i64::MAX, 1..i64::MAX, 0..1000_i64, -30..31_i32);
    TestRunner::new(fresh_cases(CASES))
        .run(&input, |(over, under, more, exponent)| {
            let number = Exact::ratio(over, under).expect("a ratio").mul(&scaled(1, exponent));
            let larger = number.mul(&Exact::one().add(&scaled(more, -24)));
            let range = ExactInterval::point(number.clone()).root();
            let (lo, hi) = range.lo().zip(range.hi()).expect("two ends");
            prop_assert!(lo.mul(lo) <= number && number <= hi.mul(hi));
            prop_assert!(hi.sub(lo) <= lo.mul(&scaled(1, -19)), "relative width");
            let interval = ExactInterval::point(number.clone()).to_interval().root();
            let ends = Exact::from_f64(interval.lo).zip(Exact::from_f64(interval.hi));
            let (low, high) = ends.expect("finite");
            prop_assert!(low.mul(&low) <= number && number <= high.mul(&high));
            let wide = ExactInterval::point(larger).root();
            prop_assert!(wide.lo() >= Some(lo) && wide.hi() >= Some(hi));
            Ok(())
        })
        .expect("encloses");
    let root = |text: &str| ExactInterval::point(Exact::parse(text).expect(text)).root();
    for (square, side) in [("4", "2"), ("0.01", "0.1"), ("0.00064516", "0.0254"), ("0", "0"), ("1e40", "1e20")] {
        assert_eq!(root(square).as_point(), Exact::parse(side).as_ref(), "{square}");
    }
    assert!(root("-1").is_everything());
    assert!(ExactInterval::new(None, Exact::parse("4")).root().is_everything());
    println!("enclosed {CASES} roots, 5 of them known squares");
}

/// An end of many digits is moved outward by less than the 127th binary digit, and never past that of a larger number.
#[test]
fn shortened_ends_hold_the_number_and_never_cross() {
    let input = (any::<i64>(), 1..i64::MAX, any::<i64>(), 1..i64::MAX, 0..1000_i64, -230..231_i32);
    TestRunner::new(fresh_cases(CASES))
        .run(&input, |(over, under, other, below_it, more, exponent)| {
            let ten = (0..exponent.abs() / 30).fold(Exact::one(), |n, _| n.mul(&scaled(1, exponent.signum() * 30)));
            let part = Exact::ratio(over, under).zip(Exact::ratio(other, below_it)).expect("ratios");
            let number = part.0.add(&part.1.mul(&scaled(1, -19))).mul(&ten);
            let larger = number.add(&number.abs().mul(&scaled(more, -30)));
            let short = |number: &Exact| ExactInterval::point(number.clone()).shortened(64);
            let (near, far) = (short(&number), short(&larger));
            let (lo, hi) = near.lo().zip(near.hi()).expect("two ends");
            prop_assert!(near.contains(&number) && *lo <= number && number <= *hi);
            prop_assert!(hi.sub(lo).mul(&scaled(1, 38)) <= number.abs(), "as near as 128 digits are");
            prop_assert!(number.bits() <= 64 || lo.bits().max(hi.bits()) <= 128 + 1024);
            prop_assert!(far.lo() >= Some(lo) && far.hi() >= Some(hi));
            Ok(())
        })
        .expect("encloses");
    let short = |text: &str| ExactInterval::point(Exact::parse(text).expect(text)).shortened(64);
    // 2^72 + 1 has 73 digits, fewer than are kept.
    assert_eq!(short("4722366482869645213697").as_point(), Exact::parse("4722366482869645213697").as_ref());
    println!("shortened {CASES} numbers");
}

/// Of a divisor known not to be zero the set may still end at zero: then the
/// quotient has no end on that side, and is no wider on the other.
#[test]
fn a_divisor_that_is_not_zero_may_come_near_to_it() {
    let whole = |n: i64| Exact::from_int(n);
    let range = |low: i64, high: i64| ExactInterval::new(Some(whole(low)), Some(whole(high)));
    let mut compared = 0;
    for (low, high) in (-6..=6).flat_map(|low| (low..=6).map(move |high| (low, high))) {
        for (under, over) in [(0, 1), (0, 3), (0, 7), (-1, 0), (-5, 0), (1, 4), (-4, -2)] {
            let (top, bottom) = (range(low, high), range(under, over));
            let (exact, quick) = (top.div_by_nonzero(&bottom), top.to_interval().div_by_nonzero(bottom.to_interval()));
            // Every value but zero that the divisor can have, from near zero on.
            let mut bottoms: Vec<Exact> = (under..=over).map(whole).filter(|n| n.signum() != 0).collect();
            let side = if over > 0 { 1 } else { -1 };
            bottoms.extend([10, 1_000_000].map(|n| Exact::ratio(side, n).expect("not zero")));
            bottoms.retain(|n| bottom.contains(n));
            let quotients: Vec<Exact> =
                (low..=high).flat_map(|n| bottoms.iter().map(move |by| whole(n).div(by).expect("not zero"))).collect();
            for quotient in &quotients {
                assert!(exact.contains(quotient), "{low}..{high} / {under}..{over} leaves out {quotient}");
                assert!(quick.contains(quotient.to_f64_below()) || quick.contains(quotient.to_f64_above()));
                compared += 1;
            }
            // An end that is there is reached.
            for end in [exact.lo(), exact.hi()].into_iter().flatten() {
                assert!(quotients.contains(end), "{low}..{high} / {under}..{over} ends at {end}");
            }
            let open = under == 0 || over == 0;
            assert_eq!(exact.hi().is_none(), open && (side > 0 && high > 0 || side < 0 && low < 0));
            assert_eq!(exact.lo().is_none(), open && (side > 0 && low < 0 || side < 0 && high > 0));
            let ends = exact.to_interval();
            assert!(quick.lo <= ends.lo && ends.hi <= quick.hi, "{quick:?} {ends:?}");
            assert!(quick.lo >= ends.lo.next_down().next_down() && quick.hi <= ends.hi.next_up().next_up());
        }
        for (under, over) in [(0, 0), (-1, 2)] {
            assert!(range(low, high).div_by_nonzero(&range(under, over)).is_everything());
            assert!(range(low, high).to_interval().div_by_nonzero(range(under, over).to_interval()).is_everything());
        }
    }
    let minus_zero = Interval { lo: -0.0, hi: 2.0 };
    assert_eq!(Interval::point(4.0).div_by_nonzero(minus_zero).hi, f64::INFINITY);
    assert_eq!(Interval::new(-4.0, 4.0).div_by_nonzero(minus_zero), Interval::EVERYTHING);
    assert_eq!(Interval::point(-4.0).div_by_nonzero(Interval { lo: -2.0, hi: 0.0 }).hi, f64::INFINITY);
    println!("compared {compared} quotients with the exact ones");
}

#[test]
fn zero_times_everything_is_zero_and_absent_stays_absent() {
    let (zero, all, absent) = (Interval::point(0.0), Interval::EVERYTHING, Interval::ABSENT);
    assert!(zero.mul(all).contains(0.0) && !zero.mul(all).is_absent());
    assert!(all.mul(zero).contains(0.0) && !all.mul(zero).is_absent());
    assert!(Interval::new(0.0, f64::INFINITY).mul(zero).contains(0.0));
    assert!(Interval::point(1.0).div(Interval::new(-1.0, 1.0)).is_everything());
    assert!(Interval::point(1.0).div(zero).is_everything());
    assert!(Interval::point(f64::NAN).is_everything());
    assert!(Interval::new(2.0, 1.0).is_everything());
    let most = Interval::point(f64::MAX);
    assert_eq!(most.mul(most), Interval { lo: f64::MAX, hi: f64::INFINITY });
    assert!(all.div(Interval::new(1.0, f64::INFINITY)).is_everything());
    let others = [zero, all, most, absent, Interval::point(-3.0), Interval::new(-1.0, 2.0)];
    let mut tried = 0;
    for other in others {
        for (a, b) in [(absent, other), (other, absent)] {
            for op in [
                Interval::add,
                Interval::sub,
                Interval::mul,
                Interval::div,
                Interval::div_by_nonzero,
                Interval::larger,
                Interval::smaller,
                Interval::hull,
            ] {
                assert!(op(a, b).is_absent(), "{a:?} {b:?}");
                tried += 1;
            }
            for (name, _, _, compare) in COMPARISONS {
                assert_eq!(compare(a, b), Truth::Undecided, "{name}");
                tried += 1;
            }
            assert_eq!(ExactInterval::absent().equal(&ExactInterval::absent()), Truth::Undecided);
        }
    }
    for op in [Interval::neg, Interval::abs, Interval::root] {
        assert!(op(absent).is_absent());
    }
    println!("tried {tried} operations with an absent side");
}
