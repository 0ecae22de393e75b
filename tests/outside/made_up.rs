//! Random conditions and numbers of the language, always well typed.

use super::phrases::{Aggregate, Calendar, Condition, Loop, Number, Place};
use super::world::{Dim, FACTS, FIELDS, Kind, LISTS};
use crate::fixtures::dice::Dice;

/// The loops open where something is made up: their lists.
type Open = Vec<usize>;

fn place(dice: &mut Dice, open: &Open, wanted: impl Fn(&Kind) -> bool) -> Option<Place> {
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
    let only = (depth > 0 && dice.once_in(2)).then(|| Box::new(of_records(dice, open, depth - 1)));
    Loop { list, at: open.len() - 1, only }
}

fn number(dice: &mut Dice, open: &mut Open, dim: Dim, depth: u32) -> Number {
    if depth == 0 || dice.once_in(3) {
        return simple(dice, open, dim);
    }
    let deeper = depth - 1;
    let two = |dice: &mut Dice, open: &mut Open| {
        (Box::new(number(dice, open, dim, deeper)), Box::new(number(dice, open, dim, deeper)))
    };
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
            Number::Table(dice.pick::<&str>(&["line", "down", "up"]), key)
        }
        10 if dim == Dim::Mass => {
            place(dice, open, |kind| kind.words == 3).map_or_else(|| constant(dice, dim), Number::Tone)
        }
        11 if dim != Dim::Moment => {
            let over = over(dice, open, deeper);
            let value = Box::new(number(dice, open, dim, deeper));
            // Mostly a weight that is above zero, as weights are.
            let mass = |kind: &Kind| kind.dim == Some(Dim::Mass) && kind.positive;
            let weight = match place(dice, open, mass) {
                Some(place) if !dice.once_in(3) => Number::Read(place),
                _ => number(dice, open, Dim::Mass, deeper),
            };
            open.pop();
            Number::Mean(over, value, Box::new(weight))
        }
        _ => {
            let how = *dice.pick(&[Aggregate::Sum, Aggregate::Sum, Aggregate::Least, Aggregate::Greatest]);
            let over = over(dice, open, deeper);
            let value = Box::new(number(dice, open, dim, deeper));
            open.pop();
            let empty = dice.once_in(3).then(|| (dim, dice.between(0, 4)));
            Number::Aggregate(how, over, value, empty)
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
    if dice.once_in(2) {
        Number::Multiply(Box::new(a), Box::new(b))
    } else {
        Number::Multiply(Box::new(b), Box::new(a))
    }
}

/// Divided by a fact that is above zero.
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

/// A condition each part of which mentions the record of a loop around it.
fn of_records(dice: &mut Dice, open: &mut Open, depth: u32) -> Condition {
    let made = condition(dice, open, depth);
    settled(dice, open, made)
}

fn settled(dice: &mut Dice, open: &mut Open, condition: Condition) -> Condition {
    let all = |dice: &mut Dice, open: &mut Open, parts: Vec<Condition>| {
        parts.into_iter().map(|part| settled(dice, open, part)).collect()
    };
    match condition {
        Condition::And(parts) => Condition::And(all(dice, open, parts)),
        Condition::Or(parts) => Condition::Or(all(dice, open, parts)),
        Condition::Not(part) => Condition::Not(Box::new(settled(dice, open, *part))),
        other if other.records() != 0 => other,
        _ => {
            let fields: Vec<usize> = (0..FIELDS.len()).filter(|at| FIELDS[*at].dim.is_some()).collect();
            let field = *dice.pick(&fields);
            let dim = FIELDS[field].dim.expect("a number");
            let own = Number::Read(Place::Field(open.len() - 1, field));
            Condition::Compare(dice.pick::<&str>(&ORDERS), own, simple(dice, open, dim))
        }
    }
}

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
                let body = Box::new(of_records(dice, open, deeper));
                open.pop();
                return if dice.once_in(2) { Condition::Every(over, body) } else { Condition::Some(over, body) };
            }
            _ => {}
        }
    }
    let dim = *dice.pick(&[Dim::Number, Dim::Length, Dim::Length, Dim::Mass, Dim::Mass, Dim::Moment, Dim::Date]);
    match dice.below(12) {
        0 => Condition::Between(number(dice, open, dim, depth), simple(dice, open, dim), simple(dice, open, dim)),
        1 if dim != Dim::Date => {
            Condition::Within(number(dice, open, dim, depth), simple(dice, open, dim), number(dice, open, dim, depth))
        }
        7 if dim != Dim::Date => {
            let percent = *dice.pick(&[-50, 0, 3, 10, 50, 100, 150, 200]);
            Condition::WithinShare(number(dice, open, dim, depth), percent, number(dice, open, dim, depth))
        }
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
        _ => Condition::Compare(
            dice.pick::<&str>(&ORDERS),
            number(dice, open, dim, depth),
            number(dice, open, dim, depth),
        ),
    }
}
