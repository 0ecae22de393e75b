//! One quantity in several units: `5 ft 3 in`, `2 h 30 min`, `1:30`.

use super::{Asked, Role, number, unit};
use crate::quantity::{Dimension, Exact, Unit};

/// The units that follow one another in one quantity, and no others.
const STEPS: [(&str, &str); 11] = [
    ("yd", "ft"),
    ("ft", "in"),
    ("km", "m"),
    ("m", "cm"),
    ("m", "mm"),
    ("cm", "mm"),
    ("lb", "oz"),
    ("week", "day"),
    ("day", "h"),
    ("h", "min"),
    ("min", "s"),
];

/// The most numbers in one quantity.
const MOST_PIECES: usize = 3;

/// The strict forms of a quantity in several units; none where it is not one.
pub(super) fn readings(text: &str, asked: &Asked, role: Role) -> Vec<String> {
    if ![Dimension::LENGTH, Dimension::MASS, Dimension::TIME].contains(&asked.dimension) {
        return Vec::new();
    }
    if text.contains(':') {
        return if asked.dimension == Dimension::TIME { with_colons(text) } else { Vec::new() };
    }
    pieces(text, asked, role).and_then(|pieces| sum(&pieces)).into_iter().collect()
}

/// Numbers with their units, in the order written.
fn pieces(text: &str, asked: &Asked, role: Role) -> Option<Vec<(Exact, Unit)>> {
    let (sign, mut rest) = text.strip_prefix('-').map_or((1, text), |rest| (-1, rest));
    let mut pieces: Vec<(Exact, Unit)> = Vec::new();
    while !rest.is_empty() {
        (pieces.len() < MOST_PIECES).then_some(())?;
        let (numbers, after) = number::split(rest.trim_start())?;
        let [number] = numbers.as_slice() else { return None };
        let after = after.trim_start();
        let end = after.find(|letter: char| letter.is_ascii_digit()).unwrap_or(after.len());
        let (name, next) = after.split_at_checked(end)?;
        let symbol = match name.trim() {
            "" => minutes_after_hours(&pieces, number)?,
            name => match unit::units(between(name), asked, role).as_slice() {
                [only] => only.clone(),
                _ => return None,
            },
        };
        let number = Exact::parse(number).filter(|number| number.signum() >= 0)?;
        pieces.push((number.mul(&Exact::from_int(sign)), Unit::parse(&symbol).ok()?));
        rest = next;
    }
    Some(pieces)
}

/// A unit without what joins it to the next number: `ft,`, `'-`, `hours and`.
fn between(name: &str) -> &str {
    let name = name.trim();
    let name = name.strip_suffix(" and").unwrap_or(name);
    name.trim_end_matches([',', '-', ' ', '.'])
}

/// `2h30`: two digits alone behind hours.
fn minutes_after_hours(pieces: &[(Exact, Unit)], number: &str) -> Option<String> {
    let [(_, hours)] = pieces else { return None };
    let two_digits = number.len() == 2 && number.bytes().all(|byte| byte.is_ascii_digit());
    (hours.symbol() == "h" && two_digits).then(|| "min".to_owned())
}

/// The whole in the last of the units. Each but the last is a whole number,
/// and each but the first is less than one of the unit before it.
fn sum(pieces: &[(Exact, Unit)]) -> Option<String> {
    for pair in pieces.windows(2) {
        let [(whole, large), (number, small)] = pair else { return None };
        // Each unit of the table has several symbols, and the steps have one.
        let is = |unit: &Unit, symbol: &str| Unit::parse(symbol).is_ok_and(|known| known.factor() == unit.factor());
        let step = STEPS.iter().any(|(one, other)| is(large, one) && is(small, other));
        if !step || !whole.is_whole() || number.abs().mul(small.factor()) >= *large.factor() {
            return None;
        }
    }
    let (_, last) = pieces.last().filter(|_| pieces.len() > 1)?;
    let total = pieces.iter().fold(Exact::zero(), |total, (number, unit)| total.add(&number.mul(unit.factor())));
    Some(format!("{} {last}", plain(&total.div(last.factor())?)))
}

/// An exact number as a text that says no less.
fn plain(number: &Exact) -> String {
    number.terminating(12).unwrap_or_else(|| number.to_fraction())
}

/// `1:30` is an hour and a half or a minute and a half; `1:30:00` and `1:30 h` are one.
fn with_colons(text: &str) -> Vec<String> {
    let end = text.find(|letter: char| !letter.is_ascii_digit() && letter != ':').unwrap_or(text.len());
    let Some((clock, unit)) = text.split_at_checked(end) else { return Vec::new() };
    let numbers: Option<Vec<i64>> = clock
        .split(':')
        .enumerate()
        .map(|(at, part)| {
            let number = part.parse::<i64>().ok().filter(|_| part.len() <= 3)?;
            (at == 0 || (part.len() == 2 && number < 60)).then_some(number)
        })
        .collect();
    let hours = || unit::units(unit.trim(), &Asked::of(Dimension::TIME), Role::Value) == ["h"];
    let whole = |large: i64, small: i64| large.saturating_mul(60).saturating_add(small);
    match numbers.as_deref() {
        Some([large, small]) if unit.trim().is_empty() => {
            vec![format!("{} min", whole(*large, *small)), format!("{} s", whole(*large, *small))]
        }
        Some([large, small]) if hours() => vec![format!("{} min", whole(*large, *small))],
        Some([hours, minutes, seconds]) if unit.trim().is_empty() => {
            vec![format!("{} s", whole(whole(*hours, *minutes), *seconds))]
        }
        _ => Vec::new(),
    }
}
