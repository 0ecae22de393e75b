//! The weighted mean of uncertain values with uncertain weights, as tight as
//! it can be: the centre of gravity of loads on scales that are not perfect.

use crate::quantity::{Exact, ExactInterval};

/// Every mean the values and weights can have; everything, if all weights can
/// be zero, or something is not known. Wider than need be where a weight can
/// be negative.
///
/// For weights between bounds the mean is greatest (least) when every value
/// above some line has its greatest (least) weight and every value below it
/// its least (greatest), so it is enough to try each line between values.
pub(crate) fn weighted_mean(rows: &[(ExactInterval, ExactInterval)]) -> ExactInterval {
    let mut bounds = Vec::new();
    for (value, weight) in rows {
        match (value.lo(), value.hi(), weight.lo(), weight.hi()) {
            (Some(low), Some(high), Some(light), Some(heavy)) if light.signum() >= 0 => {
                bounds.push([low.clone(), high.clone(), light.clone(), heavy.clone()]);
            }
            // Something taken off again, such as the fuel aboard.
            _ => return plain_mean(rows),
        }
    }
    let total = bounds.iter().fold(Exact::zero(), |sum, [_, _, light, _]| sum.add(light));
    if total.signum() <= 0 {
        return ExactInterval::everything();
    }
    let least = extreme(&bounds, |[low, _, light, heavy]| (low, heavy, light), true);
    let greatest = extreme(&bounds, |[_, high, light, heavy]| (high, light, heavy), false);
    match (least, greatest) {
        (Some(least), Some(greatest)) => ExactInterval::new(Some(least), Some(greatest)),
        _ => ExactInterval::everything(),
    }
}

/// One sum over the other.
fn plain_mean(rows: &[(ExactInterval, ExactInterval)]) -> ExactInterval {
    let zero = || ExactInterval::point(Exact::zero());
    let (moment, weight) = rows
        .iter()
        .fold((zero(), zero()), |(moment, total), (value, weight)| (moment.add(&value.mul(weight)), total.add(weight)));
    moment.div(&weight)
}

/// The least or greatest mean. `of` gives a row's value and its weights below
/// and above the line.
fn extreme(rows: &[[Exact; 4]], of: fn(&[Exact; 4]) -> (&Exact, &Exact, &Exact), least: bool) -> Option<Exact> {
    let mut sorted: Vec<_> = rows.iter().map(of).collect();
    sorted.sort();
    // Begin with the line below every value, and move it up one row at a time.
    let (mut moment, mut weight) =
        sorted.iter().fold((Exact::zero(), Exact::zero()), |(moment, weight), (value, _, above)| {
            (moment.add(&value.mul(above)), weight.add(above))
        });
    let mut best = moment.div(&weight);
    for (value, below, above) in sorted {
        moment = moment.add(&value.mul(&below.sub(above)));
        weight = weight.add(&below.sub(above));
        let next = moment.div(&weight);
        best = match (best, next) {
            (Some(a), Some(b)) => Some(if least { a.min(b) } else { a.max(b) }),
            (a, b) => a.or(b),
        };
    }
    best
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
}
