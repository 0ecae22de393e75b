//! Numbers as people write them.

use crate::quantity::Exact;

/// Fractions that are one character.
const FRACTIONS: [(char, &str); 9] = [
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
];

/// The text with plain blanks, marks and fractions: `5′ 3½″` is `5' 3 1/2"`.
/// In a quantity a curly quote is a mark of feet or inches.
pub(super) fn plain_characters(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        let fraction = FRACTIONS.iter().find(|(known, _)| *known == letter).map(|(_, fraction)| *fraction);
        let after_digit = plain.ends_with(|last: char| last.is_ascii_digit());
        match (letter, fraction) {
            // What follows a fraction is never a digit of it.
            (_, Some(fraction)) => {
                plain.push_str(if after_digit { " " } else { "" });
                plain.push_str(fraction);
                plain.push(' ');
            }
            ('\u{2032}' | '\u{2018}' | '\u{2019}' | '\u{b4}', _) => plain.push('\''),
            ('\u{2033}' | '\u{201c}' | '\u{201d}', _) => plain.push('"'),
            ('\u{2212}', _) => plain.push('-'),
            (letter, _) if letter.is_whitespace() => plain.push(' '),
            (letter, _) => plain.push(letter),
        }
    }
    plain.replace("''", "\"")
}

/// The strict forms of the number that a text begins with, and what follows
/// it. Nothing where it begins with none.
pub(super) fn split(text: &str) -> Option<(Vec<String>, &str)> {
    let unsigned = text.strip_prefix(['-', '+']).unwrap_or(text);
    let sign = if text.starts_with('-') { "-" } else { "" };
    let digit = |letter: char| letter.is_ascii_digit();
    let after = unsigned.trim_start_matches(|letter: char| digit(letter) || matches!(letter, '.' | ',' | '_'));
    let digits = unsigned.strip_suffix(after)?;
    if !digits.contains(digit) || digits.ends_with(['.', ',', '_']) {
        return None;
    }
    let whole = digits.chars().all(digit);
    let (numbers, rest) = match fraction(digits, after).filter(|_| whole) {
        Some((number, rest)) => (vec![number], rest),
        None => match exponent(after) {
            Some((power, rest)) if !digits.contains(',') => (vec![format!("{digits}{power}")], rest),
            _ => (commas(digits), after),
        },
    };
    let numbers: Vec<String> = numbers.into_iter().map(|number| format!("{sign}{number}")).collect();
    let readable = !numbers.is_empty() && numbers.iter().all(|number| Exact::parse(number).is_some());
    readable.then_some((numbers, rest))
}

/// `1/16`, `1 1/2` and, with a fraction below one, `1-1/2`.
fn fraction<'t>(digits: &str, after: &'t str) -> Option<(String, &'t str)> {
    let run = |text: &'t str| {
        let rest = text.trim_start_matches(|letter: char| letter.is_ascii_digit());
        text.strip_suffix(rest).filter(|run| !run.is_empty()).map(|run| (run, rest))
    };
    if let Some(under) = after.strip_prefix('/') {
        let (under, rest) = run(under)?;
        return Some((format!("{digits}/{under}"), rest));
    }
    let hyphen = after.starts_with('-');
    let (over, rest) = run(after.strip_prefix([' ', '-'])?.trim_start())?;
    let (under, rest) = run(rest.strip_prefix('/')?)?;
    let small = over.parse::<u32>().ok().zip(under.parse::<u32>().ok()).is_some_and(|(over, under)| over < under);
    // `0-1/2` is from one to the other, and not a half.
    let mixed = !hyphen || !digits.starts_with('0');
    (small && mixed).then(|| (format!("{digits} {over}/{under}"), rest))
}

/// What stands behind a number with its `e3`, `e-3`.
fn exponent(after: &str) -> Option<(&str, &str)> {
    let power = after.strip_prefix(['e', 'E'])?;
    let unsigned = power.strip_prefix(['-', '+']).unwrap_or(power);
    let rest = unsigned.trim_start_matches(|letter: char| letter.is_ascii_digit());
    let found = after.strip_suffix(rest).filter(|_| rest.len() < unsigned.len())?;
    Some((found, rest))
}

/// What digits with commas may be. A comma stands before decimals or between
/// thousands, and what is between thousands may be a slip.
fn commas(digits: &str) -> Vec<String> {
    let without = |letter: char| digits.chars().filter(|other| *other != letter).collect::<String>();
    let Some((before, after)) = digits.rsplit_once(',') else { return vec![digits.to_owned()] };
    if digits.contains('_') {
        return Vec::new();
    }
    if let Some((thousands, _)) = after.split_once('.') {
        let whole = format!("{before},{thousands}");
        return if in_thousands(&whole, ',') { vec![without(',')] } else { Vec::new() };
    }
    if before.contains('.') {
        let decimal = format!("{}.{after}", before.replace('.', ""));
        return if in_thousands(before, '.') { vec![decimal] } else { Vec::new() };
    }
    if before.contains(',') {
        return if in_thousands(digits, ',') { vec![without(',')] } else { Vec::new() };
    }
    let decimal = format!("{before}.{after}");
    match before {
        "" => Vec::new(),
        "0" => vec![decimal],
        _ => vec![decimal, without(',')],
    }
}

/// `1,234,567`: groups of three, after a first one of up to three.
fn in_thousands(digits: &str, between: char) -> bool {
    let mut groups = digits.split(between);
    let first = groups.next().unwrap_or("");
    let mut others = groups.peekable();
    (1..=3).contains(&first.len())
        && !first.starts_with('0')
        && others.peek().is_some()
        && others.all(|group| group.len() == 3)
        && digits.chars().all(|letter| letter.is_ascii_digit() || letter == between)
}
