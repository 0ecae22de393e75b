//! Days as people write them.

use super::{Freehand, NotTaken, unquoted};
use crate::quantity::{Date, DateError, DateRange, month_name};

/// The most pieces of a date that are looked at.
const MOST_PIECES: usize = 4;

/// Reads a day, a month or a year: `2026-12-10`, `25/12/2026`, `10 Dec 2026`,
/// `December 2026`.
///
/// # Errors
/// A [`NotTaken`] that says why it is none, or which days it may be.
pub fn date(text: &str) -> Result<Freehand<DateRange>, NotTaken> {
    let text = unquoted(text);
    let plain = match DateRange::parse(text) {
        Ok(value) => return Ok(Freehand { value, strict: None }),
        Err(why) => why,
    };
    let value = loose(&pieces(text)).unwrap_or(Err(NotTaken::NoDate(plain)))?;
    Ok(Freehand { value, strict: Some(value.to_string()) })
}

/// One piece of a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Piece {
    /// A number, and how many digits it is written with.
    Number(i16, usize),
    /// Eight digits: year, month, day.
    All(i16, i16, i16),
    /// A month by its name.
    Month(i16),
}

/// The pieces in their order; none where something is no piece of a date.
fn pieces(text: &str) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let between = |letter: char| letter.is_whitespace() || matches!(letter, ',' | '/' | '.' | '-');
    for word in text.split(between).flat_map(digits_apart).filter(|word| !word.is_empty()) {
        let ordinal = ["st", "nd", "rd", "th", "of"].contains(&word.to_lowercase().as_str());
        if ordinal && matches!(pieces.last(), Some(Piece::Number(_, 1 | 2))) {
            continue;
        }
        match piece(word) {
            Some(piece) if pieces.len() < MOST_PIECES => pieces.push(piece),
            _ => return Vec::new(),
        }
    }
    pieces
}

/// `10dec2026`, where letters and digits touch.
fn digits_apart(word: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut rest = word;
    while let Some(first) = rest.chars().next() {
        let digits = first.is_ascii_digit();
        let end = rest.find(|letter: char| letter.is_ascii_digit() != digits).unwrap_or(rest.len());
        let Some((part, after)) = rest.split_at_checked(end) else { break };
        parts.push(part);
        rest = after;
    }
    parts
}

fn piece(word: &str) -> Option<Piece> {
    if !word.bytes().all(|byte| byte.is_ascii_digit()) {
        return month(word).map(Piece::Month);
    }
    let number = |text: &str| text.parse::<i16>().ok();
    match word.len() {
        1 | 2 | 4 => Some(Piece::Number(number(word)?, word.len())),
        8 => Some(Piece::All(number(word.get(..4)?)?, number(word.get(4..6)?)?, number(word.get(6..)?)?)),
        _ => None,
    }
}

/// `Dec`, `Sept` or `December`, in large or small letters.
fn month(word: &str) -> Option<i16> {
    let word = word.to_lowercase();
    let named = |number: &i16| {
        let name = month_name(*number).to_lowercase();
        word == name || name.get(..3) == Some(word.as_str()) || (word == "sept" && *number == 9)
    };
    (1..=12).find(named)
}

/// What the pieces mean; nothing where they are no date.
fn loose(pieces: &[Piece]) -> Option<Result<DateRange, NotTaken>> {
    use Piece::{All, Month, Number};
    let read = match *pieces {
        // Else the year stands last, in whatever order.
        [All(year, month, day)] if Date::written(year, 1, 1).is_ok() => written(year, month, day),
        [Month(month), Number(year, 4)] | [Number(year, 4), Month(month)] => in_month(year, month),
        [Number(day, 1 | 2), Month(month), Number(year, 4)]
        | [Month(month), Number(day, 1 | 2), Number(year, 4)]
        | [Number(year, 4), Month(month), Number(day, 1 | 2)] => written(year, month, day),
        [Number(year, 4), Number(month, 1 | 2), Number(day, 1 | 2)] => written(year, month, day),
        [Number(one, 1 | 2), Number(other, 1 | 2), Number(year, 4)] => either(year, one, other),
        [Number(month, 1 | 2), Number(year, 4)] | [Number(year, 4), Number(month, 1 | 2)] => in_month(year, month),
        [Number(a, 1 | 2), Number(b, 1 | 2), Number(c, 1 | 2)] => short_year(&[(c, b, a), (c, a, b), (a, b, c)]),
        [Number(a, 1 | 2), Month(month), Number(b, 1 | 2)] => short_year(&[(b, month, a), (a, month, b)]),
        [Month(month), Number(a, 1 | 2), Number(b, 1 | 2)] => short_year(&[(b, month, a)]),
        [Number(_, 1 | 2), Month(_) | Number(_, 1 | 2)] | [Month(_), Number(_, 1 | 2)] => Err(NotTaken::NoYear),
        _ => return None,
    };
    Some(read)
}

fn written(year: i16, month: i16, day: i16) -> Result<DateRange, NotTaken> {
    Date::written(year, month, day).map(DateRange::day).map_err(NotTaken::NoDate)
}

/// Some day of that month.
fn in_month(year: i16, month: i16) -> Result<DateRange, NotTaken> {
    let wrong = || NotTaken::NoDate(DateError::Month { month });
    if !(1..=12).contains(&month) {
        return Err(wrong());
    }
    DateRange::parse(&format!("{year:04}-{month:02}")).map_err(NotTaken::NoDate)
}

/// A day and a month in one order or the other.
fn either(year: i16, one: i16, other: i16) -> Result<DateRange, NotTaken> {
    match (written(year, other, one), written(year, one, other)) {
        (Ok(day_first), Ok(month_first)) if day_first != month_first => {
            Err(NotTaken::Several(vec![day_first.to_string(), month_first.to_string()]))
        }
        (Ok(only), _) | (Err(_), Ok(only)) => Ok(only),
        (Err(why), Err(_)) => Err(why),
    }
}

/// The days that it may be, in this century.
fn short_year(readings: &[(i16, i16, i16)]) -> Result<DateRange, NotTaken> {
    let mut days: Vec<String> = Vec::new();
    for (year, month, day) in readings {
        let day = Date::written(year.saturating_add(2000), *month, *day).map(|day| day.to_string());
        days.extend(day.ok().filter(|day| !days.contains(day)));
    }
    let example = || vec!["2026-10-04".to_owned()];
    Err(NotTaken::ShortYear(if days.is_empty() { example() } else { days }))
}
