//! Random conditions of the language, each with its text and with a second,
//! straightforward evaluator over single values in exact rational arithmetic
//! (crate `num-rational`) and an independent calendar (crate `chrono`).

use super::setup::Dice;
use super::world::{COLOURS, DAY_NOUGHT, Dim, FACTS, FIELDS, KNOTS, LISTS, Single, TONES, World, in_words, step};
use chrono::{Datelike, Days, Months, NaiveDate};
use num_rational::BigRational;
use num_traits::{Signed, Zero};

type Rational = BigRational;

/// What is named: a fact, or a field of the record a loop stands at.
#[derive(Clone, Copy, Debug)]
pub(super) enum Place {
    Fact(usize),
    Field(usize, usize),
}

#[derive(Clone, Debug)]
pub(super) struct Loop {
    list: usize,
    at: usize,
    only: Option<Box<Condition>>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Gather {
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
    Gather(Gather, Loop, Box<Number>, Option<(Dim, i64)>),
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
    WithinLast(Number, Calendar),
    Word(Place, u64, bool),
    SameWord(Place, Place),
    Yes(Place),
    Absent(Place, bool),
    Every(Loop, Box<Condition>),
    Some(Loop, Box<Condition>),
}

// ------------------------------------------------------------------- made up

/// The loops open where something is made up: their lists.
type Open = Vec<usize>;

fn place(dice: &mut Dice, open: &Open, wanted: impl Fn(&super::world::Kind) -> bool) -> Option<Place> {
    let mut places: Vec<Place> = (0..FACTS.len()).filter(|at| wanted(&FACTS[*at])).map(Place::Fact).collect();
    for frame in 0..open.len() {
        // Twice over, so that a loop's body is mostly about its record.
        for _ in 0..2 {
            places.extend((0..FIELDS.len()).filter(|at| wanted(&FIELDS[*at])).map(|at| Place::Field(frame, at)));
        }
    }
    if places.is_empty() { None } else { Some(*dice.pick(&places)) }
}

fn constant(dice: &mut Dice, dim: Dim) -> Number {
    let steps = if dim == Dim::Date { dice.between(0, 400) } else { dice.between(-12, 12) };
    Number::Constant(dim, steps, dice.below(3) as u8)
}

fn over(dice: &mut Dice, open: &mut Open, depth: u32) -> Loop {
    let list = dice.below(LISTS.len());
    open.push(list);
    let only = (depth > 0 && dice.once_in(2)).then(|| Box::new(condition(dice, open, depth - 1)));
    Loop { list, at: open.len() - 1, only }
}

fn number(dice: &mut Dice, open: &mut Open, dim: Dim, depth: u32) -> Number {
    if depth == 0 || dice.once_in(3) {
        return simple(dice, open, dim);
    }
    let deeper = depth - 1;
    let two = |dice: &mut Dice, open: &mut Open| (Box::new(number(dice, open, dim, deeper)), Box::new(number(dice, open, dim, deeper)));
    if dim == Dim::Date {
        let by = calendar(dice);
        return Number::Shift(Box::new(number(dice, open, dim, deeper)), dice.once_in(2), by);
    }
    match dice.below(14) {
        0 | 1 => {
            let (a, b) = two(dice, open);
            Number::Add(a, b)
        }
        2 | 3 => {
            let (a, b) = two(dice, open);
            Number::Subtract(a, b)
        }
        4 => {
            let (a, b) = two(dice, open);
            if dice.once_in(2) { Number::Larger(a, b) } else { Number::Smaller(a, b) }
        }
        5 => Number::Absolute(Box::new(number(dice, open, dim, deeper))),
        6 => Number::Percent(dice.between(-2, 6) * 50, Box::new(number(dice, open, dim, deeper))),
        7 => product(dice, open, dim, deeper),
        8 => quotient(dice, open, dim, deeper),
        9 if dim == Dim::Number => {
            let over = over(dice, open, deeper);
            open.pop();
            Number::Count(over)
        }
        9 if dim == Dim::Mass => {
            let key = Box::new(number(dice, open, Dim::Length, deeper));
            Number::Table(*dice.pick::<&str>(&["line", "down", "up"]), key)
        }
        10 if dim == Dim::Mass => place(dice, open, |kind| kind.words == 3).map_or_else(|| constant(dice, dim), Number::Tone),
        11 if dim != Dim::Moment => {
            let over = over(dice, open, deeper);
            let value = Box::new(number(dice, open, dim, deeper));
            // Mostly a weight that is above nought, as weights are.
            let mass = |kind: &super::world::Kind| kind.dim == Some(Dim::Mass) && kind.positive;
            let weight = match place(dice, open, mass) {
                Some(place) if !dice.once_in(3) => Number::Read(place),
                _ => number(dice, open, Dim::Mass, deeper),
            };
            open.pop();
            Number::Mean(over, value, Box::new(weight))
        }
        _ => {
            let how = *dice.pick(&[Gather::Sum, Gather::Sum, Gather::Least, Gather::Greatest]);
            let over = over(dice, open, deeper);
            let value = Box::new(number(dice, open, dim, deeper));
            open.pop();
            let empty = dice.once_in(3).then(|| (dim, dice.between(0, 4)));
            Number::Gather(how, over, value, empty)
        }
    }
}

fn simple(dice: &mut Dice, open: &Open, dim: Dim) -> Number {
    if dim == Dim::Date && dice.once_in(3) {
        return Number::Today;
    }
    if dice.once_in(4) {
        return constant(dice, dim);
    }
    place(dice, open, |kind| kind.dim == Some(dim)).map_or_else(|| constant(dice, dim), Number::Read)
}

fn product(dice: &mut Dice, open: &mut Open, dim: Dim, deeper: u32) -> Number {
    let other = if dim == Dim::Moment { Dim::Length } else { Dim::Number };
    let first = if dim == Dim::Moment { Dim::Mass } else { dim };
    let (a, b) = (number(dice, open, first, deeper), number(dice, open, other, deeper));
    if dice.once_in(2) { Number::Multiply(Box::new(a), Box::new(b)) } else { Number::Multiply(Box::new(b), Box::new(a)) }
}

/// Divided by a fact that is above nought.
fn quotient(dice: &mut Dice, open: &mut Open, dim: Dim, deeper: u32) -> Number {
    let (above, below) = match dim {
        Dim::Number if dice.once_in(2) => (Dim::Length, "x2"),
        Dim::Number => (Dim::Mass, "m2"),
        Dim::Length if dice.once_in(2) => (Dim::Moment, "m2"),
        Dim::Mass if dice.once_in(2) => (Dim::Moment, "x2"),
        _ => (dim, "k2"),
    };
    let by = FACTS.iter().position(|kind| kind.name == below).expect("a fact");
    Number::Divide(Box::new(number(dice, open, above, deeper)), Box::new(Number::Read(Place::Fact(by))))
}

fn calendar(dice: &mut Dice) -> Calendar {
    match dice.below(3) {
        0 => Calendar::Ends(dice.below(14) as u32),
        1 => Calendar::Months(dice.below(14) as u32),
        _ => Calendar::Days(dice.below(100) as u32),
    }
}

const ORDERS: [&str; 6] = ["<", "<=", ">", ">=", "is", "is not"];

pub(super) fn condition(dice: &mut Dice, open: &mut Open, depth: u32) -> Condition {
    if depth > 0 {
        let deeper = depth - 1;
        match dice.below(10) {
            0 | 1 => {
                let parts = (0..2 + dice.below(2)).map(|_| condition(dice, open, deeper)).collect();
                return if dice.once_in(2) { Condition::And(parts) } else { Condition::Or(parts) };
            }
            2 => return Condition::Not(Box::new(condition(dice, open, deeper))),
            3 | 4 => {
                let over = over(dice, open, deeper);
                let body = Box::new(condition(dice, open, deeper));
                open.pop();
                return if dice.once_in(2) { Condition::Every(over, body) } else { Condition::Some(over, body) };
            }
            _ => {}
        }
    }
    let dim = *dice.pick(&[Dim::Number, Dim::Length, Dim::Length, Dim::Mass, Dim::Mass, Dim::Moment, Dim::Date]);
    match dice.below(12) {
        0 => Condition::Between(number(dice, open, dim, depth), simple(dice, open, dim), simple(dice, open, dim)),
        1 if dim != Dim::Date => Condition::Within(number(dice, open, dim, depth), simple(dice, open, dim), number(dice, open, dim, depth)),
        2 => {
            let date = number(dice, open, Dim::Date, depth);
            Condition::WithinLast(date, calendar(dice))
        }
        3 => {
            let at = place(dice, open, |kind| kind.words == 3).expect("a choice");
            Condition::Word(at, dice.between(1, 6) as u64, dice.once_in(2))
        }
        4 => {
            let (a, b) = (place(dice, open, |kind| kind.words == 3), place(dice, open, |kind| kind.words == 3));
            Condition::SameWord(a.expect("a choice"), b.expect("a choice"))
        }
        5 => Condition::Yes(place(dice, open, |kind| kind.words == 2).expect("yes or no")),
        6 => Condition::Absent(place(dice, open, |kind| kind.optional).expect("an optional fact"), dice.once_in(2)),
        _ => Condition::Compare(*dice.pick::<&str>(&ORDERS), number(dice, open, dim, depth), number(dice, open, dim, depth)),
    }
}

// ------------------------------------------------------------------- written

impl Place {
    fn text(self) -> String {
        match self {
            Place::Fact(at) => format!("a.{}", FACTS[at].name),
            Place::Field(frame, at) => format!("r{frame}.{}", FIELDS[at].name),
        }
    }
}

impl Loop {
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
            Number::Gather(how, over, value, empty) => {
                let how = match how {
                    Gather::Sum => "sum",
                    Gather::Least => "least",
                    Gather::Greatest => "greatest",
                };
                let empty = empty.map_or_else(String::new, |(dim, steps)| format!(" or {} if empty", in_words(dim, steps, 0)));
                format!("({how} of {} for {}{empty})", value.text(), over.text())
            }
            Number::Mean(over, value, weight) => format!("(mean of {} weighted by {} for {})", value.text(), weight.text(), over.text()),
            Number::Count(over) => format!("(count {})", over.text()),
            Number::Table(name, key) => format!("{name}[{}]", key.text()),
            Number::Tone(of) => format!("tone[{}]", of.text()),
            Number::Shift(date, back, by) => format!("({} {} {})", date.text(), if *back { "-" } else { "+" }, by.text()),
        }
    }
}

impl Condition {
    pub(super) fn text(&self) -> String {
        let joined = |parts: &[Condition], word: &str| parts.iter().map(|part| format!("({})", part.text())).collect::<Vec<_>>().join(word);
        match self {
            Condition::And(parts) => joined(parts, " and "),
            Condition::Or(parts) => joined(parts, " or "),
            Condition::Not(part) => format!("not ({})", part.text()),
            Condition::Compare(order, a, b) => format!("{} {order} {}", a.text(), b.text()),
            Condition::Between(x, low, high) => format!("{} is between {} and {}", x.text(), low.text(), high.text()),
            Condition::Within(x, by, of) => format!("{} is within {} of {}", x.text(), by.text(), of.text()),
            Condition::WithinLast(date, by) => format!("{} is within the last {}", date.text(), by.text()),
            Condition::Word(at, bits, negated) => {
                let words: Vec<&str> = COLOURS.iter().enumerate().filter(|(bit, _)| bits & (1 << bit) != 0).map(|(_, word)| *word).collect();
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

// ------------------------------------------------------------ worked out anew

/// A number worked out for single values.
#[derive(Clone, Debug)]
enum Worked {
    Value(Rational),
    /// It reads something known to be none.
    Absent,
    /// It has no value: outside a table, of no record, divided by nought.
    Nothing,
}

/// Single values, the rows the open loops stand at, and what stands in for a
/// number that has no value.
pub(super) struct Oracle<'w> {
    pub(super) world: &'w World<Single>,
    pub(super) stand_in: Option<Rational>,
}

/// Strong Kleene logic on an optional truth.
fn and(a: Option<bool>, b: Option<bool>) -> Option<bool> {
    match (a, b) {
        (Some(false), _) | (_, Some(false)) => Some(false),
        (Some(true), Some(true)) => Some(true),
        _ => None,
    }
}

fn not(a: Option<bool>) -> Option<bool> {
    a.map(|a| !a)
}

fn or(a: Option<bool>, b: Option<bool>) -> Option<bool> {
    not(and(not(a), not(b)))
}

fn day(value: &Rational) -> Option<NaiveDate> {
    let days = i64::try_from(value.to_integer()).ok()?;
    NaiveDate::from_ymd_opt(1970, 1, 1)?.checked_add_signed(chrono::TimeDelta::days(days))
}

fn days(date: NaiveDate) -> Rational {
    let epoch = NaiveDate::from_ymd_opt(1970, 1, 1).expect("a date");
    Rational::from_integer(date.signed_duration_since(epoch).num_days().into())
}

/// `date` and so much later, or earlier.
fn shifted(date: NaiveDate, by: Calendar, back: bool) -> Option<NaiveDate> {
    let months = |n: u32| if back { date.checked_sub_months(Months::new(n)) } else { date.checked_add_months(Months::new(n)) };
    match by {
        Calendar::Days(n) if back => date.checked_sub_days(Days::new(n.into())),
        Calendar::Days(n) => date.checked_add_days(Days::new(n.into())),
        Calendar::Months(n) => months(n),
        Calendar::Ends(n) => months(n)?.with_day(1)?.checked_add_months(Months::new(1))?.pred_opt(),
    }
}

impl Oracle<'_> {
    fn read(&self, place: Place, rows: &[usize], lists: &[usize]) -> Option<i64> {
        match place {
            Place::Fact(at) => self.world.facts[at],
            Place::Field(frame, at) => self.world.lists[lists[frame]].as_ref().expect("a list")[rows[frame]][at],
        }
    }

    fn dim(place: Place) -> Dim {
        let kind = match place {
            Place::Fact(at) => &FACTS[at],
            Place::Field(_, at) => &FIELDS[at],
        };
        kind.dim.expect("a number")
    }

    fn nothing(&self) -> Worked {
        self.stand_in.clone().map_or(Worked::Nothing, Worked::Value)
    }

    fn both(&self, a: Worked, b: Worked, op: impl Fn(Rational, Rational) -> Option<Rational>) -> Worked {
        match (a, b) {
            (Worked::Absent, _) | (_, Worked::Absent) => Worked::Absent,
            (Worked::Value(a), Worked::Value(b)) => op(a, b).map_or_else(|| self.nothing(), Worked::Value),
            _ => Worked::Nothing,
        }
    }

    /// The records a loop means; `None` where that cannot be told of one.
    fn meant(&self, over: &Loop, rows: &[usize], lists: &[usize]) -> Vec<(Vec<usize>, Option<bool>)> {
        let count = self.world.lists[over.list].as_ref().map_or(0, Vec::len);
        let stand = |at: usize| [rows, &[at]].concat();
        let lists = [lists, &[over.list]].concat();
        let meant = |rows: &[usize]| over.only.as_ref().map_or(Some(true), |only| self.holds(only, rows, &lists));
        (0..count).map(|at| (stand(at), meant(&stand(at)))).collect()
    }

    fn number(&self, number: &Number, rows: &[usize], lists: &[usize]) -> Worked {
        let of = |number: &Number| self.number(number, rows, lists);
        match number {
            Number::Constant(dim, steps, _) => self.steps(*dim, *steps),
            Number::Read(place) => self.read(*place, rows, lists).map_or(Worked::Absent, |steps| self.steps(Self::dim(*place), steps)),
            Number::Today => self.steps(Dim::Date, self.world.today.0),
            Number::Add(a, b) => self.both(of(a), of(b), |a, b| Some(a + b)),
            Number::Subtract(a, b) => self.both(of(a), of(b), |a, b| Some(a - b)),
            Number::Multiply(a, b) => self.both(of(a), of(b), |a, b| Some(a * b)),
            Number::Divide(a, b) => self.both(of(a), of(b), |a, b| (!b.is_zero()).then(|| a / b)),
            Number::Percent(percent, of_it) => self.both(Worked::Value(Rational::new((*percent).into(), 100.into())), of(of_it), |a, b| Some(a * b)),
            Number::Larger(a, b) => self.both(of(a), of(b), |a, b| Some(a.max(b))),
            Number::Smaller(a, b) => self.both(of(a), of(b), |a, b| Some(a.min(b))),
            Number::Absolute(a) => match of(a) {
                Worked::Value(a) => Worked::Value(a.abs()),
                other => other,
            },
            Number::Gather(how, over, value, empty) => self.gathered(*how, over, value, *empty, rows, lists),
            Number::Mean(over, value, weight) => self.mean(over, value, weight, rows, lists),
            Number::Count(over) => self.counted(over, rows, lists),
            Number::Table(name, key) => match of(key) {
                Worked::Value(key) => looked_up(name, &key).map_or_else(|| self.nothing(), Worked::Value),
                // A key of none has no row.
                Worked::Absent | Worked::Nothing => self.nothing(),
            },
            Number::Tone(place) => self.steps(Dim::Mass, TONES[self.read(*place, rows, lists).expect("a word") as usize]),
            Number::Shift(date, back, by) => match of(date) {
                Worked::Value(date) => day(&date).and_then(|date| shifted(date, *by, *back)).map_or_else(|| self.nothing(), |date| Worked::Value(days(date))),
                other => other,
            },
        }
    }

    fn steps(&self, dim: Dim, steps: i64) -> Worked {
        let nought = if dim == Dim::Date { i64::from(DAY_NOUGHT) } else { 0 };
        Worked::Value(Rational::from_integer((steps + nought).into()) * step(dim))
    }

    fn gathered(&self, how: Gather, over: &Loop, value: &Number, empty: Option<(Dim, i64)>, rows: &[usize], lists: &[usize]) -> Worked {
        let all = self.meant(over, rows, lists);
        if all.is_empty() {
            return empty.map_or_else(|| self.nothing(), |(dim, steps)| self.steps(dim, steps));
        }
        let inner = [lists, &[over.list]].concat();
        let mut so_far: Option<Worked> = (how == Gather::Sum).then(|| Worked::Value(Rational::zero()));
        for (rows, meant) in &all {
            match meant {
                Some(false) => continue,
                None => return Worked::Nothing,
                Some(true) => {}
            }
            let next = self.number(value, rows, &inner);
            so_far = Some(match so_far {
                None => next,
                Some(so_far) => self.both(so_far, next, |a, b| {
                    Some(match how {
                        Gather::Sum => a + b,
                        Gather::Least => a.min(b),
                        Gather::Greatest => a.max(b),
                    })
                }),
            });
        }
        so_far.unwrap_or_else(|| self.nothing())
    }

    fn mean(&self, over: &Loop, value: &Number, weight: &Number, rows: &[usize], lists: &[usize]) -> Worked {
        let inner = [lists, &[over.list]].concat();
        let (mut moment, mut total) = (Worked::Value(Rational::zero()), Worked::Value(Rational::zero()));
        let mut any = false;
        for (rows, meant) in self.meant(over, rows, lists) {
            match meant {
                Some(false) => continue,
                None => return Worked::Nothing,
                Some(true) => any = true,
            }
            let (value, weight) = (self.number(value, &rows, &inner), self.number(weight, &rows, &inner));
            moment = self.both(moment, self.both(value, weight.clone(), |a, b| Some(a * b)), |a, b| Some(a + b));
            total = self.both(total, weight, |a, b| Some(a + b));
        }
        if any { self.both(moment, total, |a, b| (!b.is_zero()).then(|| a / b)) } else { self.nothing() }
    }

    fn counted(&self, over: &Loop, rows: &[usize], lists: &[usize]) -> Worked {
        let all = self.meant(over, rows, lists);
        if all.iter().any(|(_, meant)| meant.is_none()) {
            return Worked::Nothing;
        }
        Worked::Value(Rational::from_integer(all.iter().filter(|(_, meant)| *meant == Some(true)).count().into()))
    }

    fn compared(a: Worked, b: Worked, holds: impl Fn(&Rational, &Rational) -> bool) -> Option<bool> {
        match (a, b) {
            (Worked::Value(a), Worked::Value(b)) => Some(holds(&a, &b)),
            _ => None,
        }
    }

    pub(super) fn holds(&self, condition: &Condition, rows: &[usize], lists: &[usize]) -> Option<bool> {
        let of = |number: &Number| self.number(number, rows, lists);
        match condition {
            Condition::And(parts) => parts.iter().fold(Some(true), |all, part| and(all, self.holds(part, rows, lists))),
            Condition::Or(parts) => parts.iter().fold(Some(false), |any, part| or(any, self.holds(part, rows, lists))),
            Condition::Not(part) => not(self.holds(part, rows, lists)),
            Condition::Compare(order, a, b) => Self::compared(of(a), of(b), |a, b| match *order {
                "<" => a < b,
                "<=" => a <= b,
                ">" => a > b,
                ">=" => a >= b,
                "is" => a == b,
                _ => a != b,
            }),
            Condition::Between(x, low, high) => and(Self::compared(of(x), of(low), |x, low| x >= low), Self::compared(of(x), of(high), |x, high| x <= high)),
            Condition::Within(x, by, centre) => {
                let apart = self.both(of(x), of(centre), |x, centre| Some((x - centre).abs()));
                Self::compared(apart, of(by), |apart, by| apart <= by)
            }
            Condition::WithinLast(date, by) => {
                let today = self.steps(Dim::Date, self.world.today.0);
                let date = of(date);
                let end = match &date {
                    Worked::Value(at) => day(at).and_then(|at| shifted(at, *by, false)).map_or(Worked::Nothing, |at| Worked::Value(days(at))),
                    _ => return None,
                };
                and(Self::compared(date, today.clone(), |date, today| date <= today), Self::compared(today, end, |today, end| today <= end))
            }
            Condition::Word(at, bits, negated) => self.read(*at, rows, lists).map(|word| (bits & (1 << word) != 0) != *negated),
            Condition::SameWord(a, b) => self.read(*a, rows, lists).zip(self.read(*b, rows, lists)).map(|(a, b)| a == b),
            Condition::Yes(at) => self.read(*at, rows, lists).map(|word| word == 1),
            Condition::Absent(at, negated) => Some(self.read(*at, rows, lists).is_none() != *negated),
            Condition::Every(over, body) => self.quantified(true, over, body, rows, lists),
            Condition::Some(over, body) => self.quantified(false, over, body, rows, lists),
        }
    }

    /// An empty list proves nothing of every record, and shows there is none.
    fn quantified(&self, every: bool, over: &Loop, body: &Condition, rows: &[usize], lists: &[usize]) -> Option<bool> {
        let all = self.meant(over, rows, lists);
        let inner = [lists, &[over.list]].concat();
        if all.is_empty() {
            return if every { None } else { Some(false) };
        }
        all.iter().fold(Some(every), |so_far, (rows, meant)| {
            let holds = self.holds(body, rows, &inner);
            if every { and(so_far, or(not(*meant), holds)) } else { or(so_far, and(*meant, holds)) }
        })
    }
}

/// A value of one of the numeric tables; none outside its rows.
fn looked_up(name: &str, key: &Rational) -> Option<Rational> {
    let at = |n: usize| Rational::from_integer(KNOTS[n].0.into()) * step(Dim::Length);
    let value = |n: usize| Rational::from_integer(KNOTS[n].1.into()) * step(Dim::Mass);
    let last = KNOTS.len() - 1;
    if *key < at(0) || *key > at(last) {
        return None;
    }
    let below = (0..=last).rev().find(|n| at(*n) <= *key)?;
    let above = (0..=last).find(|n| at(*n) >= *key)?;
    Some(match name {
        "down" => value(below),
        "up" => value(above),
        _ if below == above => value(below),
        _ => value(below) + (value(above) - value(below)) * (key - at(below)) / (at(above) - at(below)),
    })
}
