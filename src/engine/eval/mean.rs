//! The weighted mean of uncertain values with uncertain weights, as tight as
//! it can be: the centre of gravity of loads on scales that are not perfect.

use crate::quantity::{Exact, ExactInterval};

/// The most binary digits above and below the line that a sum of moments or of weights is kept with: readings in pounds,
/// ounces and sixteenths of an inch have fewer. Beyond it, each addition would take longer than all of theirs.
const MOST_BITS_OF_A_SUM: u64 = 256;
/// The same of one value and one weight.
const MOST_BITS_OF_A_READING: u64 = 128;

/// Every mean the values and weights can have; everything, if all weights can
/// be zero, or something is not known. Wider than need be where a weight can
/// be negative.
///
/// For weights between bounds the mean is greatest (least) when every value
/// above some line has its greatest (least) weight and every value below it
/// its least (greatest), so it is enough to try each line between values.
pub(crate) fn weighted_mean(rows: &[(ExactInterval, ExactInterval)]) -> ExactInterval {
    let short = |range: &ExactInterval| range.clone().shortened(MOST_BITS_OF_A_READING);
    let rows: Vec<_> = rows.iter().map(|(value, weight)| (short(value), short(weight))).collect();
    let mut bounds = Vec::new();
    for (value, weight) in &rows {
        match (value.lo(), value.hi(), weight.lo(), weight.hi()) {
            (Some(low), Some(high), Some(light), Some(heavy)) if light.signum() >= 0 => {
                bounds.push([low.clone(), high.clone(), light.clone(), heavy.clone()]);
            }
            // Something taken off again, such as the fuel aboard.
            _ => return plain_mean(&rows),
        }
    }
    // None is below zero.
    if bounds.iter().all(|[_, _, light, _]| light.is_zero()) {
        return ExactInterval::everything();
    }
    let least = extreme(&bounds, |[low, _, light, heavy]| (low, heavy, light), true);
    let greatest = extreme(&bounds, |[_, high, light, heavy]| (high, light, heavy), false);
    match (least, greatest) {
        (Some(least), Some(greatest)) => ExactInterval::new(Some(least), Some(greatest)),
        _ => ExactInterval::everything(),
    }
}

/// A sum so far and what is added.
fn plus(sum: &ExactInterval, more: ExactInterval) -> ExactInterval {
    sum.add(&more.shortened(MOST_BITS_OF_A_SUM)).shortened(MOST_BITS_OF_A_SUM)
}

/// One sum over the other.
fn plain_mean(rows: &[(ExactInterval, ExactInterval)]) -> ExactInterval {
    let zero = || ExactInterval::point(Exact::zero());
    let (moment, weight) = rows.iter().fold((zero(), zero()), |(moment, total), (value, weight)| {
        (plus(&moment, value.mul(weight)), plus(&total, weight.clone()))
    });
    moment.div(&weight)
}

/// The least or greatest mean, or one a little beyond it where its digits are more than are kept. `of` gives a row's
/// value and its weights below and above the line.
fn extreme(rows: &[[Exact; 4]], of: fn(&[Exact; 4]) -> (&Exact, &Exact, &Exact), least: bool) -> Option<Exact> {
    let mut sorted: Vec<_> = rows.iter().map(of).collect();
    sorted.sort();
    let point = |value: &Exact| ExactInterval::point(value.clone());
    // Begin with the line below every value, and move it up one row at a time.
    let (mut moment, mut weight) =
        sorted.iter().fold((point(&Exact::zero()), point(&Exact::zero())), |(moment, weight), (value, _, above)| {
            (plus(&moment, point(value).mul(&point(above))), plus(&weight, point(above)))
        });
    let end = |moment: &ExactInterval, weight: &ExactInterval| {
        let mean = moment.div(weight);
        if least { mean.lo().cloned() } else { mean.hi().cloned() }
    };
    let mut best = end(&moment, &weight)?;
    for (value, below, above) in sorted {
        if below == above {
            continue;
        }
        let change = point(below).sub(&point(above));
        moment = plus(&moment, point(value).mul(&change));
        weight = plus(&weight, change);
        let next = end(&moment, &weight)?;
        best = if least { best.min(next) } else { best.max(next) };
    }
    Some(best)
}

#[cfg(test)]
mod tests {
    use super::weighted_mean;
    use crate::quantity::{Exact, ExactInterval, Quantity};

    /// Invented readings; the corners are worked out one by one, by brute force.
    #[test]
    fn agrees_with_every_corner_of_the_weights() {
        let range = |text: &str| Quantity::parse(text).map(|q| q.range).unwrap_or_else(|_| ExactInterval::everything());
        let rows = [("85.2", "419 ± 1"), ("85.2", "416 ± 1"), ("27.4", "265 ± 1")].map(|(a, w)| (range(a), range(w)));
        let mean = weighted_mean(&rows);
        let mut corners = Vec::new();
        for corner in 0..8u32 {
            let (mut moment, mut weight) = (Exact::zero(), Exact::zero());
            for (n, (value, range)) in rows.iter().enumerate() {
                let end = if corner & (1 << n) == 0 { range.lo() } else { range.hi() };
                let (Some(value), Some(end)) = (value.as_point(), end) else { continue };
                moment = moment.add(&value.mul(end));
                weight = weight.add(end);
            }
            corners.extend(moment.div(&weight));
        }
        assert_eq!(corners.len(), 8);
        assert_eq!(mean.lo(), corners.iter().min());
        assert_eq!(mean.hi(), corners.iter().max());
    }

    /// Eight hundred weights whose divisors are all different primes: the sums would have thousands of digits. The mean
    /// has no more than are kept, and holds the true one, which is worked out without a bound.
    #[test]
    fn no_mean_has_more_digits_than_are_kept() {
        let is_prime = |n: &i64| (2..).take_while(|by| by * by <= *n).all(|by| n % by != 0);
        let primes: Vec<i64> = (1_000_003..).step_by(2).filter(is_prime).take(800).collect();
        let part = |under: i64| Exact::ratio(1, under).expect("a number");
        let rows: Vec<(ExactInterval, ExactInterval)> = primes
            .iter()
            .map(|under| (ExactInterval::point(part(under + 2)), ExactInterval::point(part(*under))))
            .collect();
        let mean = weighted_mean(&rows);
        let (low, high) = (mean.lo().expect("an end"), mean.hi().expect("an end"));
        assert!(low.bits() <= 512 && high.bits() <= 512, "{} {}", low.bits(), high.bits());
        let some = rows.get(..60).expect("rows");
        let mean = weighted_mean(some);
        let (mut moment, mut weight) = (Exact::zero(), Exact::zero());
        for (value, of) in some {
            let (value, of) = (value.as_point().expect("a point"), of.as_point().expect("a point"));
            moment = moment.add(&value.mul(of));
            weight = weight.add(of);
        }
        let exact = moment.div(&weight).expect("a number");
        assert!(exact.bits() > 1024 && mean.contains(&exact));
        let apart = mean.hi().expect("an end").sub(mean.lo().expect("an end"));
        assert!(apart.mul(&Exact::from_int(1 << 60)) < exact, "{apart}");
    }
}
