//! Random projects for the properties of the language: facts as sets of
//! possible values, single values out of them, and sets inside them.
//!
//! Lengths lie on a grid of a quarter inch and masses on one of a quarter
//! pound, whatever the unit they are written in, so that both sides of a
//! comparison are often exactly equal.

use super::boundaries::rational;
use super::setup::{fact, list};
use crate::fixtures::dice::Dice;
use crate::fixtures::values::{quantity, recorded, rows};
use cotterpin_engine::ir::{ChoiceSet, Rules};
use cotterpin_engine::project::{Record, Recorded, Value, Whole};
use cotterpin_engine::quantity::{Date, Exact, ExactInterval};
use num_rational::BigRational;

/// What a number measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Dim {
    Number,
    Length,
    Mass,
    Moment,
    Date,
}

/// The SI value of a grid step: NIST SP 811 for inch and pound. A date's is a day.
pub(super) fn step(dim: Dim) -> BigRational {
    match dim {
        Dim::Number => rational("1/4"),
        Dim::Length => rational("0.0254/4"),
        Dim::Mass => rational("0.45359237/4"),
        Dim::Moment => rational("0.45359237*0.0254/4"),
        Dim::Date => rational("1"),
    }
}

/// So many steps, as somebody would write them in one of the units.
pub(super) fn in_words(dim: Dim, steps: i64, unit: u8) -> String {
    let sign = if steps < 0 { "-" } else { "" };
    let n = steps.abs();
    let quarters = format!("{sign}{}.{:02}", n / 4, n % 4 * 25);
    match (dim, unit % 3) {
        (Dim::Number, 0) => quarters,
        (Dim::Number, _) => format!("{}{} %", sign, n * 25),
        (Dim::Length, 0) => format!("{quarters} in"),
        (Dim::Length, 1) => format!("{sign}{}.{:02} mm", n * 635 / 100, n * 635 % 100),
        (Dim::Length, _) => format!("{sign}{n}/48 ft"),
        (Dim::Mass, 0) => format!("{quarters} lb"),
        (Dim::Mass, 1) => format!("{sign}{} oz", n * 4),
        // A quarter pound is 0.1133980925 kg exactly.
        (Dim::Mass, _) => {
            let tens = n * 1_133_980_925;
            format!("{sign}{}.{:010} kg", tens / 10_000_000_000, tens % 10_000_000_000)
        }
        (Dim::Moment, _) => format!("{quarters} lb-in"),
        (Dim::Date, _) => Date::from_days(DAY_ZERO + i32::try_from(steps).expect("days")).to_string(),
    }
}

/// 1 January 2026, in the engine's count of days.
pub(super) const DAY_ZERO: i32 = 20_454;

/// What is known of a fact.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Set {
    /// Steps from and to; none is unbounded. Both none: not recorded.
    Steps(Dim, Option<i64>, Option<i64>, u8),
    /// Words of a choice, as bits, of how many.
    Words(u64, u32),
    Absent,
}

/// One value of a fact; `None` is known to be absent.
pub(super) type Single = Option<i64>;

/// A fact of the test's pack: name, kind, whether it is above zero, optional.
pub(super) struct Kind {
    pub(super) name: &'static str,
    pub(super) dim: Option<Dim>,
    pub(super) positive: bool,
    pub(super) optional: bool,
    pub(super) words: u32,
}

const fn number(name: &'static str, dim: Dim, positive: bool) -> Kind {
    Kind { name, dim: Some(dim), positive, optional: false, words: 0 }
}

const fn words(name: &'static str, words: u32) -> Kind {
    Kind { name, dim: None, positive: false, optional: false, words }
}

const fn optional(name: &'static str, dim: Dim) -> Kind {
    Kind { name, dim: Some(dim), positive: false, optional: true, words: 0 }
}

pub(super) const FACTS: [Kind; 17] = [
    number("x0", Dim::Length, false),
    number("x1", Dim::Length, false),
    number("x2", Dim::Length, true),
    number("m0", Dim::Mass, false),
    number("m1", Dim::Mass, false),
    number("m2", Dim::Mass, true),
    number("k0", Dim::Number, false),
    number("k1", Dim::Number, false),
    number("k2", Dim::Number, true),
    number("d0", Dim::Date, false),
    number("d1", Dim::Date, false),
    words("c0", 3),
    words("c1", 3),
    words("y0", 2),
    words("y1", 2),
    optional("o0", Dim::Length),
    optional("o1", Dim::Length),
];

pub(super) const FIELDS: [Kind; 6] = [
    number("arm", Dim::Length, false),
    number("mass", Dim::Mass, true),
    number("share", Dim::Number, false),
    words("colour", 3),
    words("on", 2),
    optional("extra", Dim::Length),
];

pub(super) const LISTS: [&str; 2] = ["loads", "runs"];

/// A whole project of `T`s: sets, or single values.
#[derive(Clone, Debug)]
pub(super) struct World<T> {
    pub(super) facts: Vec<T>,
    /// `None`: the list is not recorded.
    pub(super) lists: Vec<Option<Vec<Vec<T>>>>,
    /// Whether a list that is recorded may have further records.
    pub(super) open: Vec<bool>,
    /// First and last possible day of the audit.
    pub(super) today: (i64, i64),
}

impl Kind {
    fn unknown(&self) -> Set {
        match self.dim {
            Some(dim) => Set::Steps(dim, None, None, 0),
            None => Set::Words((1 << self.words) - 1, self.words),
        }
    }

    fn low(&self) -> i64 {
        if self.positive { 1 } else { -12 }
    }

    /// Any set: a value, an interval, open to one side, nothing known.
    fn any(&self, dice: &mut Dice, sharp: bool) -> Set {
        let known = sharp || !dice.once_in(5);
        let Some(dim) = self.dim else {
            let all = (1 << self.words) - 1;
            let one = 1 << dice.below(self.words as usize);
            return Set::Words(
                if known {
                    one
                } else if dice.once_in(2) {
                    all
                } else {
                    one | 1 << dice.below(self.words as usize)
                },
                self.words,
            );
        };
        if !known {
            return self.unknown();
        }
        if self.optional && dice.once_in(4) {
            return Set::Absent;
        }
        let unit = dice.below(3) as u8;
        let (low, high) = if dim == Dim::Date { (0, 400) } else { (self.low(), 12) };
        let from = dice.between(low, high);
        let wide = if sharp || dice.once_in(2) { 0 } else { *dice.pick(&[1, 2, 5, 12]) };
        match dice.below(if sharp || dim == Dim::Date || self.positive { 10 } else { 12 }) {
            10 => Set::Steps(dim, Some(from), None, unit),
            11 => Set::Steps(dim, None, Some(from), unit),
            _ => Set::Steps(dim, Some(from), Some(from + dice.between(0, wide)), unit),
        }
    }

    /// A set inside another.
    fn inside(&self, dice: &mut Dice, set: &Set) -> Set {
        match set {
            Set::Absent => Set::Absent,
            Set::Words(bits, of) => {
                let kept = bits & dice.next();
                Set::Words(if kept == 0 || dice.once_in(2) { *bits } else { kept }, *of)
            }
            Set::Steps(_, None, None, _) if dice.once_in(2) => self.any(dice, false),
            Set::Steps(dim, low, high, unit) => {
                if dice.once_in(3) {
                    return set.clone();
                }
                let (a, b) = (self.inner(dice, *low, *high), self.inner(dice, *low, *high));
                Set::Steps(*dim, Some(a.min(b)), Some(a.max(b)), *unit)
            }
        }
    }

    /// A step between two ends; the ends themselves more often than not.
    fn inner(&self, dice: &mut Dice, low: Option<i64>, high: Option<i64>) -> i64 {
        let least = if self.positive { 1 } else { i64::MIN };
        let from = low.unwrap_or_else(|| high.map_or(-15, |high| high - 15)).max(least);
        let to = high.unwrap_or_else(|| low.map_or(15, |low| low.max(from) + 15));
        match dice.below(4) {
            0 => from,
            1 => to,
            _ => dice.between(from, to),
        }
    }

    /// One value of a set.
    fn single(&self, dice: &mut Dice, set: &Set) -> Single {
        match set {
            Set::Absent => None,
            Set::Steps(_, None, None, _) if self.optional && dice.once_in(3) => None,
            Set::Steps(Dim::Date, None, None, _) => Some(dice.between(-30, 430)),
            Set::Steps(_, low, high, _) => Some(self.inner(dice, *low, *high)),
            Set::Words(bits, of) => loop {
                let bit = dice.below(*of as usize);
                if bits & (1 << bit) != 0 {
                    break Some(bit as i64);
                }
            },
        }
    }

    fn recorded(&self, set: &Set) -> Option<Recorded> {
        match set {
            Set::Absent => Some(recorded(Value::Absent, None)),
            Set::Words(bits, of) if *bits == (1 << of) - 1 => None,
            Set::Words(bits, _) => Some(recorded(Value::Words(ChoiceSet::of_bits(*bits)), None)),
            Set::Steps(_, None, None, _) => None,
            Set::Steps(Dim::Date, low, high, _) => {
                let day = |steps: Option<i64>| steps.map(|n| Exact::from_int(n + i64::from(DAY_ZERO)));
                Some(recorded(Value::Number(ExactInterval::new(day(*low), day(*high))), None))
            }
            Set::Steps(dim, low, high, unit) => Some(quantity(&written(*dim, *low, *high, *unit))),
        }
    }
}

/// A set of numbers as a builder writes it.
pub(super) fn written(dim: Dim, low: Option<i64>, high: Option<i64>, unit: u8) -> String {
    let say = |steps: i64| in_words(dim, steps, unit);
    match (low, high) {
        (Some(low), Some(high)) if low == high => say(low),
        (Some(low), Some(high)) => format!("{} to {}", say(low), say(high)),
        (Some(low), None) => format!("at least {}", say(low)),
        (None, Some(high)) => format!("at most {}", say(high)),
        (None, None) => panic!("nothing to write"),
    }
}

/// Up to two records that nobody has recorded yet.
fn further(dice: &mut Dice, sharp: bool) -> Vec<Vec<Set>> {
    (0..dice.below(3)).map(|_| FIELDS.iter().map(|kind| kind.any(dice, sharp)).collect()).collect()
}

impl World<Set> {
    /// Any project; a sharp one knows every value.
    pub(super) fn any(dice: &mut Dice, sharp: bool) -> Self {
        let row = |dice: &mut Dice| FIELDS.iter().map(|kind| kind.any(dice, sharp)).collect();
        let lists = LISTS.map(|_| {
            if !sharp && dice.once_in(6) {
                return None;
            }
            Some((0..dice.below(4)).map(|_| row(dice)).collect())
        });
        let open = LISTS.map(|_| !sharp && dice.once_in(3));
        let from = dice.between(0, 400);
        Self {
            facts: FACTS.iter().map(|kind| kind.any(dice, sharp)).collect(),
            lists: lists.into(),
            open: open.into(),
            today: (from, if sharp || dice.once_in(2) { from } else { from + dice.between(0, 40) }),
        }
    }

    /// The same project with more known.
    pub(super) fn narrowed(&self, dice: &mut Dice) -> Self {
        let (mut lists, mut still_open) = (Vec::new(), Vec::new());
        for (rows, open) in self.lists.iter().zip(&self.open) {
            lists.push(match rows {
                None if dice.once_in(2) => None,
                None => World::any(dice, false).lists.swap_remove(0),
                Some(rows) => {
                    let more = if *open { further(dice, false) } else { Vec::new() };
                    let inside = rows
                        .iter()
                        .map(|row| FIELDS.iter().zip(row).map(|(kind, set)| kind.inside(dice, set)).collect());
                    Some(inside.chain(more).collect())
                }
            });
            still_open.push(if rows.is_some() { *open && dice.once_in(2) } else { dice.once_in(2) });
        }
        let a = dice.between(self.today.0, self.today.1);
        Self {
            facts: FACTS.iter().zip(&self.facts).map(|(kind, set)| kind.inside(dice, set)).collect(),
            lists,
            open: still_open,
            today: (a, dice.between(a, self.today.1)),
        }
    }

    /// One project that this may be.
    pub(super) fn single(&self, dice: &mut Dice) -> World<Single> {
        let mut lists = Vec::new();
        for (rows, open) in self.lists.iter().zip(&self.open) {
            let mut rows =
                rows.clone().unwrap_or_else(|| World::any(dice, true).lists.swap_remove(0).unwrap_or_default());
            if *open {
                rows.extend(further(dice, true));
            }
            lists.push(Some(
                rows.iter()
                    .map(|row| FIELDS.iter().zip(row).map(|(kind, set)| kind.single(dice, set)).collect())
                    .collect(),
            ));
        }
        let day = dice.between(self.today.0, self.today.1);
        World {
            facts: FACTS.iter().zip(&self.facts).map(|(kind, set)| kind.single(dice, set)).collect(),
            lists,
            open: vec![false; LISTS.len()],
            today: (day, day),
        }
    }

    /// As the engine takes it.
    pub(super) fn record(&self, rules: &Rules) -> Record {
        let mut record = Record::default();
        for (kind, set) in FACTS.iter().zip(&self.facts) {
            if let Some(value) = kind.recorded(set) {
                record.facts.insert(fact(rules, &format!("a.{}", kind.name)), value);
            }
        }
        for ((name, all), open) in LISTS.iter().zip(&self.lists).zip(&self.open) {
            if let Some(all) = all {
                let made = all
                    .iter()
                    .enumerate()
                    .map(|(at, row)| {
                        let fields = FIELDS.iter().zip(row).map(|(kind, set)| kind.recorded(set));
                        fields.chain([Some(recorded(Value::Text(at.to_string()), None))]).collect()
                    })
                    .collect();
                record.lists.insert(list(rules, &format!("a.{name}")), rows(made));
                if !open {
                    record.whole.insert(list(rules, &format!("a.{name}")), Whole::Given);
                }
            }
        }
        record
    }
}

/// The facts, lists and tables of the test's pack.
pub(super) fn vocabulary() -> String {
    let kind = |kind: &Kind| {
        let optional = if kind.optional { "optional " } else { "" };
        let (word, unit) = match (kind.dim, kind.words) {
            (Some(Dim::Number), _) => ("number", ""),
            (Some(Dim::Length), _) => ("length", " in"),
            (Some(Dim::Mass), _) => ("mass", " lb"),
            (Some(Dim::Moment), _) => ("moment", " lb-in"),
            (Some(Dim::Date), _) => ("date", ""),
            (None, 2) => ("yes or no", ""),
            (None, _) => ("colour", ""),
        };
        let limit = if kind.positive { format!(", above 0{unit}") } else { String::new() };
        format!("{optional}{word}{limit} ask \"?\"\n")
    };
    let mut text = String::from("choice colour : red or green or blue\n");
    for one in &FACTS {
        text.push_str(&format!("fact a.{} : {}", one.name, kind(one)));
    }
    for name in LISTS {
        text.push_str(&format!("list a.{name} ask \"?\"\n"));
        for one in &FIELDS {
            text.push_str(&format!("  field {} : {}", one.name, kind(one)));
        }
        text.push_str("  field name : text ask \"?\"\n  named by name\n");
    }
    for (name, how) in [("line", "linear"), ("down", "step down"), ("up", "step up")] {
        text.push_str(&format!(
            "table {name} (at : length, {how}) gives most : mass \"Invented\" cite common practice\n"
        ));
        for (at, value) in KNOTS {
            text.push_str(&format!("  row {} : {}\n", in_words(Dim::Length, at, 0), in_words(Dim::Mass, value, 1)));
        }
    }
    text.push_str("table tone (hue : colour) gives most : mass \"Invented\" cite common practice\n");
    for (word, value) in COLOURS.iter().zip(TONES) {
        text.push_str(&format!("  row {word} : {}\n", in_words(Dim::Mass, value, 0)));
    }
    text
}

/// Rows of the numeric tables, in steps, up and down.
pub(super) const KNOTS: [(i64, i64); 4] = [(-6, 2), (-1, 9), (3, -4), (8, 5)];
pub(super) const COLOURS: [&str; 3] = ["red", "green", "blue"];
pub(super) const TONES: [i64; 3] = [3, -2, 7];
