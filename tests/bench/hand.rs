//! What somebody would write by hand for the same rules, three-valued: the
//! baseline that every ratio of the table is taken to.

use super::make::Observed;
use cotterpin_engine::quantity::Truth;

/// Facts by hand: NaN and 255 stand for "not recorded".
#[derive(Default)]
pub(crate) struct Facts {
    pub(crate) numbers: Vec<f64>,
    pub(crate) words: Vec<u8>,
}

/// One rule.
pub(crate) type Rule = Box<dyn Fn(&Facts) -> Truth>;

/// The facts of W1.
pub(crate) fn facts(values: &[Observed]) -> Facts {
    let mut facts = Facts::default();
    for seen in values {
        let number = |n: Option<u64>| n.map_or(f64::NAN, |n| n as f64 / 10.0);
        facts.numbers.extend([number(seen.a), number(seen.b), number(seen.c)]);
        facts.words.extend([seen.mode.unwrap_or(255), seen.flag.map_or(255, u8::from)]);
    }
    facts
}

/// The rules of W1 as closures.
pub(crate) fn rules(count: usize) -> Vec<Rule> {
    (0..count)
        .map(|n| {
            let rule = move |facts: &Facts| {
                let number = |k: usize| facts.numbers[3 * n + k];
                let word = |k: usize, wanted: u8| match facts.words[2 * n + k] {
                    255 => Truth::Undecided,
                    word => Truth::from(word == wanted),
                };
                let first = compare(number(0), 1.5 * number(1), |a, b| a >= b);
                if first == Truth::False {
                    return first;
                }
                let mut either = word(0, 0);
                if either != Truth::True {
                    either = either.or(compare(number(2), 20.0, |a, b| a < b));
                }
                first.and(either).and(word(1, 1))
            };
            Box::new(rule) as Rule
        })
        .collect()
}

fn compare(a: f64, b: f64, holds: impl Fn(f64, f64) -> bool) -> Truth {
    if a.is_nan() || b.is_nan() { Truth::Undecided } else { Truth::from(holds(a, b)) }
}

/// W2 with arithmetic by hand, over rows.
pub(crate) fn every_scaled(rows: &[[f64; 3]]) -> Truth {
    let mut all = Truth::True;
    for [a, b, q] in rows {
        all = all.and(compare(*a, 1.25 * b, |a, b| a >= b)).and(compare(*q, 90.5, |q, most| q < most));
        if all == Truth::False {
            break;
        }
    }
    all
}

/// W2 by hand, over rows.
pub(crate) fn every(rows: &[(f64, u8)]) -> Truth {
    let mut all = Truth::True;
    for (load, fixed) in rows {
        let fixed = if *fixed == 255 { Truth::Undecided } else { Truth::from(*fixed == 1) };
        all = all.and(compare(*load, 12.0, |a, b| a <= b)).and(fixed);
        if all == Truth::False {
            break;
        }
    }
    all
}
