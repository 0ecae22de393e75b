//! A second, straightforward evaluator over single values: exact rational
//! arithmetic of the crate `num-rational`, an independent calendar of the
//! crate `jiff`, and Kleene's strong logic for what has no value.

use super::phrases::{Aggregate, Calendar, Condition, Loop, Number, Place};
use super::world::{DAY_ZERO, Dim, FACTS, FIELDS, KNOTS, Single, TONES, World, step};
use crate::fixtures::dice::Dice;
use jiff::{Span, ToSpan, Unit, civil};
use num_rational::BigRational;
use num_traits::{Signed, Zero};

type Rational = BigRational;

const EPOCH: civil::Date = civil::date(1970, 1, 1);

/// A number worked out for single values.
#[derive(Clone, Debug)]
enum Worked {
    Value(Rational),
    /// It reads something known to be none.
    Absent,
    /// It has no value: outside a table, of no record, divided by zero.
    Nothing,
}

/// Single values, what stands in for a number that has no value, and a whim
/// that settles of which records a loop speaks where its `where` does not.
pub(super) struct Oracle<'w> {
    pub(super) world: &'w World<Single>,
    pub(super) stand_in: Option<Rational>,
    pub(super) whim: Option<u64>,
}

/// Whims that take every doubtful record, none, and some.
pub(super) const WHIMS: std::ops::Range<u64> = 0..8;

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

fn day(value: &Rational) -> Option<civil::Date> {
    let days = i64::try_from(value.to_integer()).ok()?;
    EPOCH.checked_add(Span::new().try_days(days).ok()?).ok()
}

fn days(date: civil::Date) -> Rational {
    let days = date.since((Unit::Day, EPOCH)).expect("in range").get_days();
    Rational::from_integer(days.into())
}

/// `date` and so much later, or earlier: the earliest and the latest day that can be meant.
fn shifted(date: civil::Date, size: Calendar, back: bool) -> Option<[civil::Date; 2]> {
    let by = |span: Span| date.checked_add(if back { span.negate() } else { span }).ok();
    let day = match size {
        Calendar::Days(n) => by(i64::from(n).days())?,
        Calendar::Months(n) => {
            let moved = by(i64::from(n).months())?;
            return Some([moved, if moved.day() == date.day() { moved } else { moved.tomorrow().ok()? }]);
        }
        Calendar::Ends(n) => by(i64::from(n).months())?.last_of_month(),
    };
    Some([day, day])
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

    /// `date` and so much later, or earlier; a whim says which day is meant where there is none such.
    fn shift(&self, date: &Rational, size: Calendar, back: bool) -> Worked {
        let Some([first, last]) = day(date).and_then(|date| shifted(date, size, back)) else { return self.nothing() };
        match self.whim {
            _ if first == last => Worked::Value(days(first)),
            Some(whim) => Worked::Value(days(if whim % 2 == 0 { first } else { last })),
            None => Worked::Nothing,
        }
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

    /// The records that a number is of; `None` where nobody can say which they are.
    fn counting(&self, over: &Loop, rows: &[usize], lists: &[usize]) -> Option<Vec<Vec<usize>>> {
        let mut counting = Vec::new();
        for (rows, meant) in self.meant(over, rows, lists) {
            let whim = || match self.whim? {
                0 => Some(false),
                1 => Some(true),
                other => {
                    let place = rows.iter().fold(over.list as u64, |all, at| all * 7 + *at as u64);
                    Some(Dice::new(other * 1000 + place).once_in(2))
                }
            };
            if meant.or_else(whim)? {
                counting.push(rows);
            }
        }
        Some(counting)
    }

    fn number(&self, number: &Number, rows: &[usize], lists: &[usize]) -> Worked {
        let of = |number: &Number| self.number(number, rows, lists);
        match number {
            Number::Constant(dim, steps, _) => self.steps(*dim, *steps),
            Number::Read(place) => {
                self.read(*place, rows, lists).map_or(Worked::Absent, |steps| self.steps(Self::dim(*place), steps))
            }
            Number::Today => self.steps(Dim::Date, self.world.today.0),
            Number::Add(a, b) => self.both(of(a), of(b), |a, b| Some(a + b)),
            Number::Subtract(a, b) => self.both(of(a), of(b), |a, b| Some(a - b)),
            Number::Multiply(a, b) => self.both(of(a), of(b), |a, b| Some(a * b)),
            Number::Divide(a, b) => self.both(of(a), of(b), |a, b| (!b.is_zero()).then(|| a / b)),
            Number::Percent(percent, of_it) => {
                self.both(Worked::Value(Rational::new((*percent).into(), 100.into())), of(of_it), |a, b| Some(a * b))
            }
            Number::Larger(a, b) => self.both(of(a), of(b), |a, b| Some(a.max(b))),
            Number::Smaller(a, b) => self.both(of(a), of(b), |a, b| Some(a.min(b))),
            Number::Absolute(a) => match of(a) {
                Worked::Value(a) => Worked::Value(a.abs()),
                other => other,
            },
            Number::Aggregate(how, over, value, empty) => self.gathered(*how, over, value, *empty, rows, lists),
            Number::Mean(over, value, weight) => self.mean(over, value, weight, rows, lists),
            Number::Count(over) => self.counted(over, rows, lists),
            Number::Table(name, key) => match of(key) {
                Worked::Value(key) => looked_up(name, &key).map_or_else(|| self.nothing(), Worked::Value),
                // A key of none has no row.
                Worked::Absent | Worked::Nothing => self.nothing(),
            },
            Number::Tone(place) => {
                self.steps(Dim::Mass, TONES[self.read(*place, rows, lists).expect("a word") as usize])
            }
            Number::Shift(date, back, by) => match of(date) {
                Worked::Value(date) => self.shift(&date, *by, *back),
                other => other,
            },
        }
    }

    fn steps(&self, dim: Dim, steps: i64) -> Worked {
        let zero = if dim == Dim::Date { i64::from(DAY_ZERO) } else { 0 };
        Worked::Value(Rational::from_integer((steps + zero).into()) * step(dim))
    }

    fn gathered(
        &self,
        how: Aggregate,
        over: &Loop,
        value: &Number,
        empty: Option<(Dim, i64)>,
        rows: &[usize],
        lists: &[usize],
    ) -> Worked {
        if self.meant(over, rows, lists).is_empty() {
            return empty.map_or_else(|| self.nothing(), |(dim, steps)| self.steps(dim, steps));
        }
        let inner = [lists, &[over.list]].concat();
        let mut so_far: Option<Worked> = (how == Aggregate::Sum).then(|| Worked::Value(Rational::zero()));
        let Some(counting) = self.counting(over, rows, lists) else { return Worked::Nothing };
        for rows in &counting {
            let next = self.number(value, rows, &inner);
            so_far = Some(match so_far {
                None => next,
                Some(so_far) => self.both(so_far, next, |a, b| {
                    Some(match how {
                        Aggregate::Sum => a + b,
                        Aggregate::Least => a.min(b),
                        Aggregate::Greatest => a.max(b),
                    })
                }),
            });
        }
        so_far.unwrap_or_else(|| self.nothing())
    }

    fn mean(&self, over: &Loop, value: &Number, weight: &Number, rows: &[usize], lists: &[usize]) -> Worked {
        let inner = [lists, &[over.list]].concat();
        let (mut moment, mut total) = (Worked::Value(Rational::zero()), Worked::Value(Rational::zero()));
        let Some(counting) = self.counting(over, rows, lists) else { return Worked::Nothing };
        let any = !counting.is_empty();
        for rows in counting {
            let (value, weight) = (self.number(value, &rows, &inner), self.number(weight, &rows, &inner));
            moment = self.both(moment, self.both(value, weight.clone(), |a, b| Some(a * b)), |a, b| Some(a + b));
            total = self.both(total, weight, |a, b| Some(a + b));
        }
        if any { self.both(moment, total, |a, b| (!b.is_zero()).then(|| a / b)) } else { self.nothing() }
    }

    fn counted(&self, over: &Loop, rows: &[usize], lists: &[usize]) -> Worked {
        match self.counting(over, rows, lists) {
            Some(counting) => Worked::Value(Rational::from_integer(counting.len().into())),
            None => Worked::Nothing,
        }
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
            Condition::Between(x, low, high) => and(
                Self::compared(of(x), of(low), |x, low| x >= low),
                Self::compared(of(x), of(high), |x, high| x <= high),
            ),
            Condition::Within(x, by, centre) => {
                let apart = self.both(of(x), of(centre), |x, centre| Some((x - centre).abs()));
                Self::compared(apart, of(by), |apart, by| apart <= by)
            }
            Condition::WithinShare(x, percent, centre) => {
                let share = Rational::new((*percent).into(), 100.into());
                Self::compared(of(x), of(centre), |x, centre| (x - centre).abs() <= (&share * centre).abs())
            }
            Condition::WithinLast(date, by) => {
                let today = self.steps(Dim::Date, self.world.today.0);
                let date = of(date);
                let end = match &date {
                    Worked::Value(at) => self.shift(at, *by, false),
                    _ => return None,
                };
                and(
                    Self::compared(date, today.clone(), |date, today| date <= today),
                    Self::compared(today, end, |today, end| today <= end),
                )
            }
            Condition::Word(at, bits, negated) => {
                self.read(*at, rows, lists).map(|word| (bits & (1 << word) != 0) != *negated)
            }
            Condition::SameWord(a, b) => {
                self.read(*a, rows, lists).zip(self.read(*b, rows, lists)).map(|(a, b)| a == b)
            }
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
