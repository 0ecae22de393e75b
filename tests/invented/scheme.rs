//! Which marks a registry gives, and which mark an address stands for, as published.
//!
//! - United States: 14 CFR 47.15(b); the first 99 numbers are the authority's own, and NC, NL, NR and NX stand on old
//!   aircraft (the registry's page). Addresses in the order of the marks.
//! - Canada: TP 11957, chapter 4: F, G or I and three letters; CF and three letters on old aircraft. Addresses of
//!   the F marks, then of the G marks, in alphabetical order.
//! - Australia: three letters, or letters with the digits 2 to 9, as CASA's announcement is quoted. Addresses in
//!   base 36, letters before digits.
//! - New Zealand: three letters, of which the first is not Q (the registry's page). Addresses from a list.
//! - United Kingdom: four letters, none of them Q; PAN, SOS, TTT and XXX are not issued (the registry's page).
//!   Addresses from a list.
//!
//! The groups kept for distress and urgency are ICAO Annex 7's. Its Q code leaves no mark out by itself: Australia
//! gives marks that begin with Q. Where addresses come from a list, any in the block may be somebody's but its ends.

/// The address of the first mark, where addresses are arithmetic.
const UNITED_STATES: u32 = 0xA0_0001;
const CANADA: u32 = 0xC0_0001;
const AUSTRALIA: u32 = 0x7C_0000;

const GROUPS: [&str; 4] = ["PAN", "SOS", "TTT", "XXX"];

/// The letters of a mark in the United States: neither I nor O.
const LETTERS: &[u8] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";

const DIGITS: &[u8] = b"0123456789";

/// The mark in capitals, without hyphen and blanks.
pub(super) fn plain(mark: &str) -> String {
    let kept = mark.chars().filter(|letter| !letter.is_whitespace() && *letter != '-');
    kept.map(|letter| letter.to_ascii_uppercase()).collect()
}

/// The registry that gives, or gave, such a mark; none if nobody does.
pub(super) fn registry(mark: &str) -> Option<&'static str> {
    let mark = plain(mark);
    let after = |beginning: &str| mark.strip_prefix(beginning);
    if after("N").is_some_and(united_states) {
        return Some("United States");
    }
    if ["CF", "CG", "CI"].into_iter().filter_map(after).any(|rest| letters(rest, 3) && !GROUPS.contains(&rest)) {
        return Some("Canada");
    }
    if after("VH").is_some_and(australia) {
        return Some("Australia");
    }
    if after("ZK").is_some_and(|rest| letters(rest, 3) && !rest.starts_with('Q')) {
        return Some("New Zealand");
    }
    let united_kingdom =
        |rest: &str| letters(rest, 4) && !rest.contains('Q') && !GROUPS.into_iter().any(|group| rest.contains(group));
    after("G").is_some_and(united_kingdom).then_some("United Kingdom")
}

fn letters(text: &str, count: usize) -> bool {
    text.len() == count && text.bytes().all(|letter| letter.is_ascii_uppercase())
}

/// One to five digits, or four and a letter, or three and two letters; or the same after the letter
/// that stood for the category on old aircraft.
fn united_states(rest: &str) -> bool {
    let rest = rest.strip_prefix(['C', 'L', 'R', 'X']).unwrap_or(rest);
    let end = rest.trim_start_matches(|letter: char| letter.is_ascii_digit());
    let digits = rest.len() - end.len();
    let most = [5, 4, 3].get(end.len()).is_some_and(|most| (1..=*most).contains(&digits));
    most && !rest.starts_with('0') && end.bytes().all(|letter| LETTERS.contains(&letter))
}

fn australia(rest: &str) -> bool {
    let known = |letter: u8| letter.is_ascii_uppercase() || (b'2'..=b'9').contains(&letter);
    let spoken = rest.bytes().any(|letter| letter.is_ascii_uppercase());
    rest.len() == 3 && rest.bytes().all(known) && spoken && !GROUPS.contains(&rest)
}

/// The mark that an address stands for where that is arithmetic.
pub(super) fn decoded(address: u32) -> Option<String> {
    let united_states = address.checked_sub(UNITED_STATES).and_then(n_mark);
    let canada = || address.checked_sub(CANADA).and_then(c_mark);
    let australia = || address.checked_sub(AUSTRALIA).and_then(vh_mark);
    united_states.or_else(canada).or_else(australia)
}

/// Each digit is followed by what ends there: nothing, a letter, or two; then by the marks with a
/// further digit. After three digits fewer fit, because no mark has more than five characters.
fn n_mark(place: u32) -> Option<String> {
    let ends = 1 + 24 * 25;
    let four = 1 + 24 + 10;
    let three = ends + 10 * four;
    let two = ends + 10 * three;
    let one = ends + 10 * two;
    let mut mark = String::from("N");
    let digit = |place: u32, size: u32| DIGITS.get((place / size) as usize).map(|digit| char::from(*digit));
    mark.push(digit(place.checked_add(one)?, one)?);
    let mut place = place % one;
    for size in [two, three, four] {
        if place < ends {
            mark.push_str(&two_letters(place));
            return Some(mark);
        }
        place -= ends;
        mark.push(digit(place, size)?);
        place %= size;
    }
    // Four digits stand: nothing, a letter, or a fifth one.
    match place {
        0 => {}
        1..=24 => mark.push(char::from(*LETTERS.get(place as usize - 1)?)),
        _ => mark.push(digit(place - 25, 1)?),
    }
    Some(mark)
}

/// Nothing, then A, AA to AZ, B, and so on.
fn two_letters(place: u32) -> String {
    let letter = |place: u32| char::from(LETTERS[place as usize]);
    let Some(place) = place.checked_sub(1) else { return String::new() };
    let second = (place % 25).checked_sub(1).map(letter);
    std::iter::once(letter(place / 25)).chain(second).collect()
}

fn c_mark(place: u32) -> Option<String> {
    let all = 26 * 26 * 26;
    let first = b"FG".get((place / all) as usize)?;
    let rest = spelt(place % all, 26);
    Some(format!("C-{}{rest}", char::from(*first)))
}

fn vh_mark(place: u32) -> Option<String> {
    (place < 36 * 36 * 36).then(|| format!("VH-{}", spelt(place, 36)))
}

/// A number as three characters, the letters first.
fn spelt(place: u32, base: u32) -> String {
    let signs = [&(b'A'..=b'Z').collect::<Vec<_>>(), DIGITS].concat();
    let sign = |place: u32| char::from(signs[(place % base) as usize]);
    [place / base / base, place / base, place].map(sign).into_iter().collect()
}

/// First and last address of each State's block, as another library's table has them.
fn blocks() -> Vec<(u32, u32, &'static str)> {
    let table = include_str!("../packs/data/address-blocks.csv");
    let row = |line: &'static str| {
        let mut cells = line.splitn(3, ',');
        let mut address = || u32::from_str_radix(cells.next().expect("a cell"), 16).expect("hexadecimal");
        (address(), address(), cells.next().expect("a State"))
    };
    table.lines().filter(|line| !line.starts_with('#')).map(row).collect()
}

/// Whose an address is or can be; none if it is nobody's.
pub(super) fn holder(address: u32) -> Option<String> {
    let block = blocks().into_iter().find(|(first, last, _)| (*first..=*last).contains(&address));
    let (first, last, state) = block?;
    match decoded(address) {
        Some(mark) => registry(&mark).map(|registry| format!("{mark}, {registry}")),
        None if address == first || address == last => None,
        None => Some(format!("in the block of {state}")),
    }
}

/// What a first-generation beacon's 15 digits hold of an aircraft: Cospas-Sarsat C/S T.001. They are
/// bits 26 to 85: a protocol flag, ten bits of country, then the protocol.
pub(super) enum Beacon {
    /// A serial number, a test, or nothing that the standard knows.
    NoAircraft,
    Address(u32),
    /// Marks or an operator, which is not read here.
    Other,
}

pub(super) fn beacon(digits: &str) -> Beacon {
    let number = u64::from_str_radix(digits, 16).expect("15 hexadecimal digits");
    let bits = |first: u32, last: u32| (number >> (85 - last)) & ((1 << (last - first + 1)) - 1);
    let address = |first: u32| Beacon::Address(u32::try_from(bits(first, first + 23)).expect("24 bits"));
    match (bits(26, 26), bits(37, 39), bits(40, 42), bits(37, 40)) {
        (1, 0b011, 0b011, _) => address(44),
        // Aviation user protocol, and an operator with a serial number.
        (1, 0b001, ..) | (1, 0b011, 0b001, _) => Beacon::Other,
        (0, _, _, 0b0011) => address(41),
        // Operators, and the newest protocol.
        (0, _, _, 0b0101 | 0b1001) => Beacon::Other,
        _ => Beacon::NoAircraft,
    }
}

/// Every address of the United States' arithmetic stands for a mark of its own, the last for the last
/// that there is; the marks are those of the rule and no others.
#[test]
fn the_arithmetic_of_the_united_states_is_the_rule() {
    let mut marks = std::collections::BTreeSet::new();
    let (mut address, mut last) = (UNITED_STATES, String::new());
    while let Some(mark) = decoded(address) {
        assert_eq!(registry(&mark), Some("United States"), "{mark}");
        last.clone_from(&mark);
        assert!(marks.insert(mark), "{address:06X}");
        address += 1;
    }
    // By the rule: 9 + 90 + ... + 90000 numbers; at most four digits before one letter, three before two.
    let numbers = |digits: u32| 10_usize.pow(digits) - 1;
    assert_eq!(marks.len(), numbers(5) + 24 * numbers(4) + 24 * 24 * numbers(3));
    assert_eq!(last, format!("N{}", numbers(5)));
    assert_eq!(address - 1, UNITED_STATES + 9 * 101_711 - 1, "as many as are published for each first digit");
}

/// Australia's and Canada's begin with the first letters and end with the last.
#[test]
fn the_arithmetic_of_letters_begins_and_ends_as_published() {
    let same = |before: &str, letter: &str| Some(format!("{before}{}", letter.repeat(3)));
    let all = 26 * 26 * 26;
    assert_eq!(decoded(AUSTRALIA), same("VH-", "A"));
    assert_eq!(decoded(AUSTRALIA + 25 * (36 * 36 + 36 + 1)), same("VH-", "Z"));
    assert_eq!(decoded(AUSTRALIA + 36 * 36 * 36), None);
    assert_eq!(decoded(CANADA), same("C-F", "A"));
    assert_eq!(decoded(CANADA + all - 1), same("C-F", "Z"));
    assert_eq!(decoded(CANADA + all), same("C-G", "A"));
    assert_eq!(decoded(CANADA + 2 * all - 1), same("C-G", "Z"));
    assert_eq!(decoded(CANADA + 2 * all), None);
    assert_eq!((decoded(UNITED_STATES - 1), decoded(CANADA - 1), decoded(AUSTRALIA - 1)), (None, None, None));
}
