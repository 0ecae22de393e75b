//! The very boundary of a limit, in every pair of units, and how often the
//! exact way is taken.
//!
//! Factors are those of NIST Special Publication 811 (2008), appendix B, typed
//! here a second time as products and quotients; the rational arithmetic is
//! the crate `num-rational`'s.

use super::setup::{HEAD, fact, item};
use crate::fixtures::dice::Dice;
use crate::fixtures::packs::rules;
use crate::fixtures::seed::with_dice;
use crate::fixtures::values::{quantity, recorded};
use cotterpin_engine::eval::{Evaluation, Facts};
use cotterpin_engine::ir::{ConditionId, ItemId, Rules};
use cotterpin_engine::project::{Record, Recorded, Value};
use cotterpin_engine::quantity::{Date, DateRange, Exact, ExactInterval, Truth, Unit};
use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{One, Pow, Signed, Zero};
use std::collections::BTreeMap;

/// Kind of quantity; units with factor to the SI, and what is then added.
type Kind = (&'static str, &'static [(&'static str, &'static str, &'static str)]);

const LB: &str = "0.45359237";
const KINDS: &[Kind] = &[
    ("number", &[("", "1", "0"), ("%", "0.01", "0")]),
    (
        "length",
        &[
            ("m", "1", "0"),
            ("mm", "0.001", "0"),
            ("cm", "0.01", "0"),
            ("km", "1000", "0"),
            ("in", "0.0254", "0"),
            ("inch", "0.0254", "0"),
            ("inches", "0.0254", "0"),
            ("ft", "0.3048", "0"),
            ("foot", "0.3048", "0"),
            ("feet", "0.3048", "0"),
            ("yd", "0.9144", "0"),
            ("mi", "1609.344", "0"),
            ("nmi", "1852", "0"),
            ("NM", "1852", "0"),
        ],
    ),
    (
        "mass",
        &[
            ("kg", "1", "0"),
            ("g", "0.001", "0"),
            ("mg", "0.000001", "0"),
            ("t", "1000", "0"),
            ("lb", LB, "0"),
            ("oz", "0.45359237/16", "0"),
        ],
    ),
    (
        "time",
        &[
            ("s", "1", "0"),
            ("min", "60", "0"),
            ("h", "3600", "0"),
            ("day", "86400", "0"),
            ("days", "86400", "0"),
            ("week", "604800", "0"),
            ("weeks", "604800", "0"),
        ],
    ),
    (
        "speed",
        &[
            ("kt", "1852/3600", "0"),
            ("kts", "1852/3600", "0"),
            ("knots", "1852/3600", "0"),
            ("mph", "1609.344/3600", "0"),
            ("m/s", "1", "0"),
            ("km/h", "1000/3600", "0"),
            ("ft/min", "0.3048/60", "0"),
            ("ft/s", "0.3048", "0"),
            ("nmi/h", "1852/3600", "0"),
        ],
    ),
    ("acceleration", &[("gn", "9.80665", "0"), ("m/s2", "1", "0"), ("ft/s2", "0.3048", "0")]),
    ("force", &[("N", "1", "0"), ("kN", "1000", "0"), ("lbf", "0.45359237*9.80665", "0"), ("kgf", "9.80665", "0")]),
    (
        "torque",
        &[
            ("Nm", "1", "0"),
            ("lbf-in", "0.45359237*9.80665*0.0254", "0"),
            ("lbf-ft", "0.45359237*9.80665*0.3048", "0"),
            ("kgf-cm", "9.80665*0.01", "0"),
        ],
    ),
    ("moment", &[("lb-in", "0.45359237*0.0254", "0"), ("lb-ft", "0.45359237*0.3048", "0"), ("kg-m", "1", "0")]),
    (
        "pressure",
        &[
            ("Pa", "1", "0"),
            ("hPa", "100", "0"),
            ("kPa", "1000", "0"),
            ("MPa", "1000000", "0"),
            ("bar", "100000", "0"),
            ("mbar", "100", "0"),
            ("psi", "0.45359237*9.80665/0.0254/0.0254", "0"),
            ("lbf/in2", "0.45359237*9.80665/0.0254/0.0254", "0"),
            ("inHg", "3386.389", "0"),
            ("mmHg", "133.3224", "0"),
        ],
    ),
    (
        "temperature",
        &[
            ("K", "1", "0"),
            ("degC", "1", "273.15"),
            ("°C", "1", "273.15"),
            ("degF", "5/9", "459.67*5/9"),
            ("°F", "5/9", "459.67*5/9"),
        ],
    ),
    ("temperature-difference", &[("deltaK", "1", "0"), ("deltaC", "1", "0"), ("deltaF", "5/9", "0")]),
    ("angle", &[("deg", "1", "0"), ("°", "1", "0")]),
    ("voltage", &[("V", "1", "0"), ("volts", "1", "0"), ("mV", "0.001", "0"), ("kV", "1000", "0")]),
    ("current", &[("A", "1", "0"), ("amps", "1", "0"), ("mA", "0.001", "0")]),
    ("charge", &[("Ah", "3600", "0"), ("A-h", "3600", "0")]),
    (
        "resistance",
        &[
            ("ohm", "1", "0"),
            ("Ω", "1", "0"),
            ("\u{2126}", "1", "0"),
            ("milliohm", "0.001", "0"),
            ("mohm", "0.001", "0"),
            ("kohm", "1000", "0"),
        ],
    ),
    (
        "resistance per length",
        &[("ohm/1000ft", "1/304.8", "0"), ("milliohm/ft", "0.001/0.3048", "0"), ("ohm/km", "0.001", "0")],
    ),
    ("power", &[("W", "1", "0"), ("kW", "1000", "0"), ("hp", "550*0.3048*0.45359237*9.80665", "0")]),
    ("frequency", &[("Hz", "1", "0"), ("kHz", "1000", "0"), ("MHz", "1000000", "0"), ("rpm", "1/60", "0")]),
    (
        "volume",
        &[
            ("L", "0.001", "0"),
            ("l", "0.001", "0"),
            ("litre", "0.001", "0"),
            ("litres", "0.001", "0"),
            ("mL", "0.000001", "0"),
            ("ml", "0.000001", "0"),
            ("gal", "231*0.0254*0.0254*0.0254", "0"),
            ("usgal", "231*0.0254*0.0254*0.0254", "0"),
            ("impgal", "0.00454609", "0"),
            ("qt", "231*0.0254*0.0254*0.0254/4", "0"),
            ("pt", "231*0.0254*0.0254*0.0254/8", "0"),
            ("floz", "231*0.0254*0.0254*0.0254/128", "0"),
            ("in3", "0.0254*0.0254*0.0254", "0"),
            ("m³", "1", "0"),
        ],
    ),
    (
        "volume per time",
        &[
            ("gal/h", "231*0.0254*0.0254*0.0254/3600", "0"),
            ("impgal/h", "0.00454609/3600", "0"),
            ("L/h", "0.001/3600", "0"),
            ("L/min", "0.001/60", "0"),
            ("qt/min", "231*0.0254*0.0254*0.0254/4/60", "0"),
        ],
    ),
    ("area", &[("in2", "0.0254*0.0254", "0"), ("ft2", "0.3048*0.3048", "0"), ("m2", "1", "0"), ("cm²", "0.0001", "0")]),
    (
        "mass per volume",
        &[("lb/gal", "0.45359237/231/0.0254/0.0254/0.0254", "0"), ("kg/m3", "1", "0"), ("kg/L", "1000", "0")],
    ),
];

/// Limits as a pack would write them.
const LIMITS: [&str; 5] = ["3", "0.1", "7/16", "180", "2.54"];

/// `1852/3600`, `0.0254*0.0254`: numbers multiplied and divided from the left.
pub(super) fn rational(text: &str) -> BigRational {
    let mut value = BigRational::one();
    for part in text.split('*') {
        let mut over = part.split('/').map(decimal);
        value *= over.next().expect("a number");
        for under in over {
            value /= under;
        }
    }
    value
}

fn decimal(text: &str) -> BigRational {
    let (minus, text) = text.strip_prefix('-').map_or((false, text), |rest| (true, rest));
    let (before, after) = text.split_once('.').unwrap_or((text, ""));
    let digits: BigInt = format!("{before}{after}").parse().expect("digits");
    let value = BigRational::new(digits, BigInt::from(10).pow(after.len() as u32));
    if minus { -value } else { value }
}

/// As a builder would write it: a decimal where it ends, else a fraction.
fn written(value: &BigRational) -> (String, bool) {
    let mut under = value.denom().clone();
    let mut places = 0_u32;
    for prime in [2_u32, 5].map(BigInt::from) {
        let mut times = 0;
        while BigInt::is_zero(&(&under % &prime)) {
            under /= &prime;
            times += 1;
        }
        places = places.max(times);
    }
    if !under.is_one() {
        return (value.to_string(), false);
    }
    let digits = (value.abs() * BigRational::from_integer(BigInt::from(10).pow(places))).to_integer().to_string();
    let size = places as usize;
    let padded = format!("{digits:0>width$}", width = size + 1);
    let (before, after) = padded.split_at(padded.len() - size);
    let sign = if value.is_negative() { "-" } else { "" };
    (if after.is_empty() { format!("{sign}{before}") } else { format!("{sign}{before}.{after}") }, true)
}

fn fact_name(kind: usize) -> String {
    format!("a.f{kind}")
}

const ORDERS: [&str; 6] = [">=", ">", "<=", "<", "is", "is not"];

/// Whether each of [`ORDERS`] holds of a value below, at and above the limit.
const HOLDS: [[bool; 6]; 3] = [
    [false, false, true, true, false, true],
    [true, false, true, false, true, false],
    [true, true, false, false, false, true],
];

/// One item for each unit, limit and order of each kind.
fn pack() -> Rules {
    let mut text = String::from(HEAD);
    for (k, (kind, units)) in KINDS.iter().enumerate() {
        text.push_str(&format!("fact {} : {kind} ask \"?\"\n", fact_name(k)));
        for (u, (unit, ..)) in units.iter().enumerate() {
            for (l, limit) in LIMITS.iter().enumerate() {
                for (o, order) in ORDERS.iter().enumerate() {
                    text.push_str(&item(
                        &format!("a.i{k}-{u}-{l}-{o}"),
                        &format!("{} {order} {limit} {unit}", fact_name(k)),
                    ));
                }
            }
        }
    }
    rules(&text)
}

fn today() -> DateRange {
    DateRange::day(Date::new(2026, 11, 25).expect("a date"))
}

/// Every simple symbol the language knows stands in the table above.
#[test]
fn the_table_of_boundaries_holds_every_unit() {
    let mut count = 0;
    for symbol in Unit::symbols() {
        assert!(
            KINDS.iter().any(|(_, units)| units.iter().any(|(known, ..)| *known == symbol)),
            "{symbol} is not in the table"
        );
        count += 1;
    }
    println!("{count} symbols, all of them in pairs below");
}

#[test]
fn a_limit_in_one_unit_is_met_by_the_equal_value_in_every_other() {
    let rules = pack();
    let needs: BTreeMap<&str, ConditionId> = rules.items.iter().map(|item| (item.name.as_str(), item.need)).collect();
    let (mut pairs, mut decimals, mut fractions, mut compared, mut exactly) = (0, 0, 0, 0, 0);
    for (k, (_, units)) in KINDS.iter().enumerate() {
        for (u, (_, factor, offset)) in units.iter().enumerate() {
            for (other, other_factor, other_offset) in *units {
                pairs += 1;
                for (l, limit) in LIMITS.iter().enumerate() {
                    // The reading in the other unit that is the same SI value.
                    let si = decimal_or_fraction(limit) * rational(factor) + rational(offset);
                    let reading = (si - rational(other_offset)) / rational(other_factor);
                    let (digits, ends) = written(&reading);
                    if ends {
                        decimals += 1;
                    } else {
                        fractions += 1;
                    }
                    let at = quantity(&format!("{digits} {other}"));
                    for (holds, value) in HOLDS.iter().zip([nudged(&at, -1), at.clone(), nudged(&at, 1)]) {
                        let mut record = Record::default();
                        record.facts.insert(fact(&rules, &fact_name(k)), value);
                        let facts = Facts::bind(&rules, &record);
                        let evaluation = Evaluation::new(&rules.program, &facts, today());
                        for (o, holds) in holds.iter().enumerate() {
                            let need = needs[format!("a.i{k}-{u}-{l}-{o}").as_str()];
                            assert_eq!(
                                evaluation.decide(need),
                                Truth::from(*holds),
                                "{digits} {other} {} {limit} of unit {u} of {k}",
                                ORDERS[o]
                            );
                            compared += 1;
                        }
                        exactly += evaluation.exact_comparisons();
                    }
                }
            }
        }
    }
    println!(
        "{pairs} pairs of units, {decimals} boundaries written as decimals and {fractions} as fractions; {compared} comparisons at, and 1e-30 either side of, the boundary; {exactly} of them taken exactly"
    );
    assert!(pairs > 700 && exactly > 0);
}

fn decimal_or_fraction(text: &str) -> BigRational {
    text.split_once('/').map_or_else(|| decimal(text), |(over, under)| decimal(over) / decimal(under))
}

/// The same value moved by 1e-30 in the SI.
fn nudged(recorded_at: &Recorded, sign: i64) -> Recorded {
    let step = Exact::parse("1e-30").expect("a number").mul(&Exact::from_int(sign));
    let Value::Number(range) = &recorded_at.value else { panic!("a number") };
    let at = range.as_point().expect("a point").add(&step);
    recorded(Value::Number(ExactInterval::point(at)), recorded_at.unit.clone())
}

/// Numbers a person would write, and numbers nobody would: near each other,
/// so that floating point cannot tell, and far apart.
#[test]
fn the_quick_way_decides_as_the_exact_one() {
    with_dice(&[], |dice| {
        const CASES: usize = 20_000;
        let mut text = String::from(HEAD);
        for name in ["x", "y", "z"] {
            text.push_str(&format!("fact a.{name} : number ask \"?\"\n"));
        }
        let forms =
            ["a.x ORDER a.y", "a.x + a.y ORDER a.z", "a.x * a.y ORDER a.z", "a.x ORDER 150 % of a.y", "a.x ORDER 0.3"];
        for (f, form) in forms.iter().enumerate() {
            for (o, order) in ORDERS.iter().enumerate() {
                text.push_str(&item(&format!("a.i{f}-{o}"), &form.replace("ORDER", order)));
            }
        }
        let rules = rules(&text);
        let (mut compared, mut exactly, mut close) = (0_usize, 0, 0);
        for _ in 0..CASES {
            let (x, y) = (any_number(dice), any_number(dice));
            let y = if dice.once_in(3) { near(dice, &x) } else { y };
            let sum = [&x + &y, &x * &y, &x * rational("1.5")][dice.below(3)].clone();
            let z = if dice.once_in(2) { near(dice, &sum) } else { any_number(dice) };
            let mut record = Record::default();
            for (name, value) in [("a.x", &x), ("a.y", &y), ("a.z", &z)] {
                record.facts.insert(fact(&rules, name), quantity(&written(value).0));
            }
            let sides = [
                (x.clone(), y.clone()),
                (&x + &y, z.clone()),
                (&x * &y, z.clone()),
                (x.clone(), &y * rational("1.5")),
                (x.clone(), rational("0.3")),
            ];
            let facts = Facts::bind(&rules, &record);
            let evaluation = Evaluation::new(&rules.program, &facts, today());
            for (f, (left, right)) in sides.iter().enumerate() {
                let holds = HOLDS[(left.cmp(right) as i8 + 1) as usize];
                close += usize::from((left - right).abs() < rational("0.000000000000000001"));
                for (o, holds) in holds.iter().enumerate() {
                    let got = evaluation.decide(rules.items.get(ItemId::new(f * ORDERS.len() + o)).unwrap().need);
                    assert_eq!(
                        got,
                        Truth::from(*holds),
                        "{} with x = {x}, y = {y}, z = {z}",
                        forms[f].replace("ORDER", ORDERS[o])
                    );
                    compared += 1;
                }
            }
            exactly += evaluation.exact_comparisons();
        }
        println!(
            "{compared} comparisons agree with num-rational, {close} pairs closer than 1e-18; {exactly} comparisons ({} in 1000) were taken exactly",
            exactly * 1000 / compared as u64
        );
        assert!(exactly > 0 && exactly < compared as u64 && close > 1000);
    });
}

/// Up to nine digits with up to nine decimals.
fn any_number(dice: &mut Dice) -> BigRational {
    let digits = dice.between(-999, 999) * 10_i64.pow(dice.below(7) as u32);
    BigRational::new(digits.into(), BigInt::from(10).pow(dice.below(9) as u32))
}

/// The same, or off in a place far behind what a float can hold.
fn near(dice: &mut Dice, value: &BigRational) -> BigRational {
    let off = BigRational::new(dice.between(-1, 1).into(), BigInt::from(10).pow(dice.between(14, 22) as u32));
    value + off
}
