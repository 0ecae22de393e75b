//! Conditions of the language as plain data, and their text. They are made up
//! in `made_up.rs` and worked out a second time in `oracle.rs`.

use super::world::{COLOURS, Dim, FACTS, FIELDS, LISTS, in_words};

/// What is named: a fact, or a field of the record a loop stands at.
#[derive(Clone, Copy, Debug)]
pub(super) enum Place {
    Fact(usize),
    Field(usize, usize),
}

#[derive(Clone, Debug)]
pub(super) struct Loop {
    pub(super) list: usize,
    pub(super) at: usize,
    pub(super) only: Option<Box<Condition>>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Aggregate {
    Sum,
    Least,
    Greatest,
}

#[derive(Clone, Copy, Debug)]
pub(super) enum Calendar {
    Ends(u32),
    Months(u32),
    Days(u32),
}

#[derive(Clone, Debug)]
pub(super) enum Number {
    Constant(Dim, i64, u8),
    Read(Place),
    Today,
    Add(Box<Number>, Box<Number>),
    Subtract(Box<Number>, Box<Number>),
    Multiply(Box<Number>, Box<Number>),
    Divide(Box<Number>, Box<Number>),
    Percent(i64, Box<Number>),
    Larger(Box<Number>, Box<Number>),
    Smaller(Box<Number>, Box<Number>),
    Absolute(Box<Number>),
    Aggregate(Aggregate, Loop, Box<Number>, Option<(Dim, i64)>),
    Mean(Loop, Box<Number>, Box<Number>),
    Count(Loop),
    Table(&'static str, Box<Number>),
    Tone(Place),
    Shift(Box<Number>, bool, Calendar),
}

#[derive(Clone, Debug)]
pub(super) enum Condition {
    And(Vec<Condition>),
    Or(Vec<Condition>),
    Not(Box<Condition>),
    Compare(&'static str, Number, Number),
    Between(Number, Number, Number),
    Within(Number, Number, Number),
    WithinShare(Number, i64, Number),
    WithinLast(Number, Calendar),
    Word(Place, u64, bool),
    SameWord(Place, Place),
    Yes(Place),
    Absent(Place, bool),
    Every(Loop, Box<Condition>),
    Some(Loop, Box<Condition>),
}

/// The loops whose record something mentions, a bit for each.
type Records = u32;

impl Place {
    fn records(self) -> Records {
        match self {
            Place::Fact(_) => 0,
            Place::Field(frame, _) => 1 << frame,
        }
    }

    fn text(self) -> String {
        match self {
            Place::Fact(at) => format!("a.{}", FACTS[at].name),
            Place::Field(frame, at) => format!("r{frame}.{}", FIELDS[at].name),
        }
    }
}

impl Loop {
    /// Those that the loop mentions, with `inside` it, but for its own.
    fn records(&self, inside: Records) -> Records {
        (inside | self.only.as_ref().map_or(0, |only| only.records())) & !(1 << self.at)
    }

    fn text(&self) -> String {
        let only = self.only.as_ref().map_or_else(String::new, |only| format!(" where ({})", only.text()));
        format!("r{} in a.{}{only}", self.at, LISTS[self.list])
    }
}

impl Calendar {
    fn text(self) -> String {
        match self {
            Calendar::Ends(n) => format!("{n} calendar months"),
            Calendar::Months(n) => format!("{n} months"),
            Calendar::Days(n) => format!("{n} days"),
        }
    }
}

impl Number {
    fn records(&self) -> Records {
        match self {
            Number::Constant(..) | Number::Today => 0,
            Number::Read(place) | Number::Tone(place) => place.records(),
            Number::Add(a, b)
            | Number::Subtract(a, b)
            | Number::Multiply(a, b)
            | Number::Divide(a, b)
            | Number::Larger(a, b)
            | Number::Smaller(a, b) => a.records() | b.records(),
            Number::Percent(_, a) | Number::Absolute(a) | Number::Table(_, a) | Number::Shift(a, ..) => a.records(),
            Number::Aggregate(_, over, value, _) => over.records(value.records()),
            Number::Mean(over, value, weight) => over.records(value.records() | weight.records()),
            Number::Count(over) => over.records(0),
        }
    }

    pub(super) fn text(&self) -> String {
        match self {
            // In parentheses, lest `is within 50 % of x` be read as 50 % of x.
            Number::Constant(Dim::Date, steps, unit) => in_words(Dim::Date, *steps, *unit),
            Number::Constant(dim, steps, unit) => format!("({})", in_words(*dim, *steps, *unit)),
            Number::Read(place) => place.text(),
            Number::Today => "today".into(),
            Number::Add(a, b) => format!("({} + {})", a.text(), b.text()),
            Number::Subtract(a, b) => format!("({} - {})", a.text(), b.text()),
            Number::Multiply(a, b) => format!("({} * {})", a.text(), b.text()),
            Number::Divide(a, b) => format!("({} / {})", a.text(), b.text()),
            Number::Percent(percent, of) => format!("({percent} % of ({}))", of.text()),
            Number::Larger(a, b) => format!("larger({}, {})", a.text(), b.text()),
            Number::Smaller(a, b) => format!("smaller({}, {})", a.text(), b.text()),
            Number::Absolute(a) => format!("absolute({})", a.text()),
            Number::Aggregate(how, over, value, empty) => {
                let how = match how {
                    Aggregate::Sum => "sum",
                    Aggregate::Least => "least",
                    Aggregate::Greatest => "greatest",
                };
                let empty =
                    empty.map_or_else(String::new, |(dim, steps)| format!(" or {} if empty", in_words(dim, steps, 0)));
                format!("({how} of {} for {}{empty})", value.text(), over.text())
            }
            Number::Mean(over, value, weight) => {
                format!("(mean of {} weighted by {} for {})", value.text(), weight.text(), over.text())
            }
            Number::Count(over) => format!("(count {})", over.text()),
            Number::Table(name, key) => format!("{name}[{}]", key.text()),
            Number::Tone(of) => format!("tone[{}]", of.text()),
            Number::Shift(date, back, by) => {
                format!("({} {} {})", date.text(), if *back { "-" } else { "+" }, by.text())
            }
        }
    }
}

impl Condition {
    pub(super) fn records(&self) -> Records {
        match self {
            Condition::And(parts) | Condition::Or(parts) => parts.iter().fold(0, |all, part| all | part.records()),
            Condition::Not(part) => part.records(),
            Condition::Compare(_, a, b) | Condition::WithinShare(a, _, b) => a.records() | b.records(),
            Condition::Between(a, b, c) | Condition::Within(a, b, c) => a.records() | b.records() | c.records(),
            Condition::WithinLast(date, _) => date.records(),
            Condition::Word(at, ..) | Condition::Yes(at) | Condition::Absent(at, _) => at.records(),
            Condition::SameWord(a, b) => a.records() | b.records(),
            Condition::Every(over, body) | Condition::Some(over, body) => over.records(body.records()),
        }
    }

    pub(super) fn text(&self) -> String {
        let joined = |parts: &[Condition], word: &str| {
            parts.iter().map(|part| format!("({})", part.text())).collect::<Vec<_>>().join(word)
        };
        match self {
            Condition::And(parts) => joined(parts, " and "),
            Condition::Or(parts) => joined(parts, " or "),
            Condition::Not(part) => format!("not ({})", part.text()),
            Condition::Compare(order, a, b) => format!("{} {order} {}", a.text(), b.text()),
            Condition::Between(x, low, high) => format!("{} is between {} and {}", x.text(), low.text(), high.text()),
            Condition::Within(x, by, of) => format!("{} is within {} of {}", x.text(), by.text(), of.text()),
            Condition::WithinShare(x, percent, of) => format!("{} is within {percent} % of {}", x.text(), of.text()),
            Condition::WithinLast(date, by) => format!("{} is within the last {}", date.text(), by.text()),
            Condition::Word(at, bits, negated) => {
                let words: Vec<&str> = COLOURS
                    .iter()
                    .enumerate()
                    .filter(|(bit, _)| bits & (1 << bit) != 0)
                    .map(|(_, word)| *word)
                    .collect();
                let not = if *negated { "not " } else { "" };
                match words.as_slice() {
                    [one] => format!("{} is {not}{one}", at.text()),
                    _ => format!("{} is {not}one of {}", at.text(), words.join(", ")),
                }
            }
            Condition::SameWord(a, b) => format!("{} is {}", a.text(), b.text()),
            Condition::Yes(at) => at.text(),
            Condition::Absent(at, negated) => format!("{} is {}none", at.text(), if *negated { "not " } else { "" }),
            Condition::Every(over, body) => format!("every {} has ({})", over.text(), body.text()),
            Condition::Some(over, body) => format!("some {} has ({})", over.text(), body.text()),
        }
    }
}
