//! Units as people write them: `in. lbs`, `sq ft`, `gal per hour`.

use super::unit_words::units_of;
use super::{Asked, Role};
use crate::quantity::{Dimension, Unit};

/// The longest text that is looked at as a unit, in bytes.
const LONGEST: usize = 40;
/// The most words in one.
const MOST_WORDS: usize = 4;

/// The strict forms of a unit that fit what is asked, each of another size.
pub(super) fn units(text: &str, asked: &Asked, role: Role) -> Vec<String> {
    let mut fitting: Vec<Unit> = Vec::new();
    for symbol in spelt(text, asked.dimension) {
        let unit = if symbol.is_empty() { Some(Unit::number()) } else { Unit::parse(&symbol).ok() };
        let Some(unit) = unit.filter(|unit| role.fits(unit, asked)) else { continue };
        // Of an uncertainty only the size of a degree counts.
        let same = |known: &&Unit| known.factor() == unit.factor() && known.offset() == unit.offset();
        let same_size = |known: &&Unit| role == Role::Uncertainty && known.factor() == unit.factor();
        if !fitting.iter().any(|known| same(&known) || same_size(&known)) {
            fitting.push(unit);
        }
    }
    let months = |unit: &Unit| asked.is_long() && unit.symbol() == "min" && text == "m";
    fitting.iter().filter(|unit| !months(unit)).map(|unit| unit.symbol().to_owned()).collect()
}

/// Every way to spell it with symbols of the table, whatever kind it is then.
fn spelt(text: &str, asked: Dimension) -> Vec<String> {
    if text.is_empty() {
        return only_unit(asked).into_iter().chain([String::new()]).collect();
    }
    if text.len() > LONGEST {
        return Vec::new();
    }
    let joined: String = text.chars().filter(|letter| !matches!(letter, ' ' | '.')).collect();
    let as_one = |units: Vec<&str>| units.into_iter().map(str::to_owned).collect::<Vec<String>>();
    // A hyphen or a stop between letters multiplies, and what it joins is no word.
    if !text.trim_end_matches('.').contains(['.', '-']) || text.contains(". ") {
        let known = as_one(units_of(&joined));
        // A metre beside an inch is no minute.
        if !known.is_empty() && (joined != "min" || !text.contains(' ')) {
            return known;
        }
    }
    let slashed = text.to_lowercase().replace(" per ", "/").len() != text.len();
    let text = if slashed { per_as_slash(text) } else { text.to_owned() };
    let mut parts = text.split('/');
    let over = over(parts.next().unwrap_or(""), asked);
    parts.fold(over, |over, part| {
        let under = under(part.trim());
        over.iter().flat_map(|over| under.iter().map(move |under| format!("{over}/{under}"))).collect()
    })
}

/// The unit of a kind of which there is one alone, so that it need not be said.
fn only_unit(dimension: Dimension) -> Option<String> {
    let mut known = Unit::symbols().filter_map(|symbol| Unit::parse(symbol).ok());
    let usual = known.find(|unit| unit.dimension() == dimension)?;
    // Of what is made of several, others can be made.
    let base = dimension.base_symbol() == usual.symbol();
    let same = |unit: Unit| unit.dimension() != dimension || unit.factor() == usual.factor();
    (base && !dimension.is_point_temperature() && known.all(same)).then(|| usual.symbol().to_owned())
}

fn per_as_slash(text: &str) -> String {
    let words: Vec<&str> = text.split(' ').filter(|word| !word.is_empty()).collect();
    let mut out = String::new();
    for word in words {
        if word.eq_ignore_ascii_case("per") {
            out.push('/');
            continue;
        }
        out.push_str(if out.is_empty() || out.ends_with('/') { "" } else { " " });
        out.push_str(word);
    }
    out
}

/// What stands before the first slash: units that are multiplied.
fn over(text: &str, asked: Dimension) -> Vec<String> {
    let between = |letter: char| matches!(letter, ' ' | '-' | '.' | '*' | '·' | '⋅' | '×');
    let words: Vec<&str> = text.split(between).filter(|word| !word.is_empty()).collect();
    if words.len() > MOST_WORDS {
        return Vec::new();
    }
    // `US gal`: the first word says of which system the second is.
    if is_system(words.split_last().map_or(&[], |(_, before)| before)) {
        return units_of(&words.concat()).into_iter().map(str::to_owned).collect();
    }
    let factors = match words.as_slice() {
        [word] if power(word).is_empty() && is_torque_or_moment(asked) => return run_together(word),
        words => with_powers(words),
    };
    product(&factors)
}

/// Whether words end with one that says which system the unit behind them is of.
pub(super) fn is_system(words: &[&str]) -> bool {
    let small: Vec<String> = words.iter().map(|word| word.to_lowercase()).collect();
    let mut last = small.iter().map(String::as_str).rev();
    matches!((last.next(), last.next()), (Some("us" | "imp" | "imperial"), _) | (Some("s"), Some("u")))
}

/// `sq ft` is `ft2`: the units that each word may be, with their powers.
fn with_powers(words: &[&str]) -> Vec<Vec<String>> {
    let mut factors = Vec::new();
    let mut raise = "";
    for word in words {
        let small = word.to_lowercase();
        let (named, bare) = match small.as_str() {
            "sq" | "square" => ("2", ""),
            "cu" | "cubic" => ("3", ""),
            _ => match small.strip_prefix("sq").map(|_| "2").or_else(|| small.strip_prefix("cu").map(|_| "3")) {
                Some(named) if power(word).is_empty() => (named, word.get(2..).unwrap_or("")),
                _ => ("", *word),
            },
        };
        if bare.is_empty() {
            raise = named;
            continue;
        }
        let raised = if named.is_empty() { raise } else { named };
        factors.push(power(bare).into_iter().map(|unit| format!("{unit}{raised}")).collect());
        raise = "";
    }
    // A power of nothing.
    if raise.is_empty() { factors } else { Vec::new() }
}

/// One unit with an optional power: `in`, `in2`, `in^2`, `m³`.
fn power(word: &str) -> Vec<String> {
    let bare = word.trim_end_matches(|letter: char| letter.is_ascii_digit() || matches!(letter, '²' | '³'));
    let raised = word.strip_prefix(bare).unwrap_or("");
    let bare = bare.strip_suffix('^').unwrap_or(bare);
    // What follows a mark is the next number.
    if !raised.is_empty() && matches!(bare, "'" | "\"" | "#") {
        return Vec::new();
    }
    units_of(bare).into_iter().map(|unit| format!("{unit}{raised}")).collect()
}

/// One of each, multiplied; a force or a mass before a length, as torque is
/// written.
fn product(factors: &[Vec<String>]) -> Vec<String> {
    let kind = |symbol: &String| Unit::parse(symbol).ok().map(|unit| unit.dimension());
    match factors {
        [one] => one.clone(),
        [one, other] => {
            let pairs = one.iter().flat_map(|one| other.iter().map(move |other| (one, other)));
            let written = |(one, other): (&String, &String)| {
                let turned = kind(one) == Some(Dimension::LENGTH) && kind(other) != Some(Dimension::LENGTH);
                if turned { format!("{other}-{one}") } else { format!("{one}-{other}") }
            };
            pairs.map(written).collect()
        }
        _ => Vec::new(),
    }
}

/// One unit after a slash, with the number before it: `1000 ft`.
fn under(part: &str) -> Vec<String> {
    let bare = part.trim_start_matches(|letter: char| letter.is_ascii_digit());
    let many = part.strip_suffix(bare).unwrap_or("");
    let words: Vec<&str> = bare.split([' ', '.']).filter(|word| !word.is_empty()).collect();
    match with_powers(&words).as_slice() {
        [unit] => unit.iter().map(|unit| format!("{many}{unit}")).collect(),
        _ => Vec::new(),
    }
}

fn is_torque_or_moment(dimension: Dimension) -> bool {
    [Dimension::named("torque"), Dimension::named("moment")].contains(&Some(dimension))
}

/// `inlbs`: two units written as one word.
fn run_together(word: &str) -> Vec<String> {
    let cuts = word.char_indices().skip(1).filter_map(|(at, _)| word.split_at_checked(at));
    cuts.flat_map(|(one, other)| product(&[power(one), power(other)])).collect()
}
