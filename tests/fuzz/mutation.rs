//! Bytes changed a little: single ones, whole lines, words of the languages,
//! brackets and numbers.

use crate::fixtures::dice::Dice;

/// Words that mean something somewhere, and texts on which readers stumble.
const WORDS: [&str; 60] = [
    "item ",
    "fact ",
    "list ",
    "need ",
    "when ",
    "every ",
    "some ",
    " or ",
    " and ",
    "not ",
    "where ",
    "try ",
    "=> met",
    "amend ",
    "set aside ",
    "because ",
    "table ",
    "row ",
    "formula ",
    "choice ",
    "let ",
    "by visit ",
    "sum of ",
    "inspected ",
    "confirmed by ",
    "is none",
    "within ",
    " % of ",
    "today",
    " if empty",
    "[[log]]\n",
    "[people]\n",
    "[[confirmed]]\n",
    "[[job]]\n",
    "#file project.toml\n",
    "evidence = ",
    "on = ",
    "2026-02-30",
    "2026-11",
    "9999-12-31",
    "-1",
    "0",
    "1e308",
    "99999999999999999999",
    "0.1",
    "± 1 in",
    "to 3 in",
    "at most ",
    " gal/h",
    "\"",
    "'''",
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    "\u{feff}",
    "\u{202e}",
    "é",
];

/// The bytes with one to four changes; `others` are what parts may come from.
pub(super) fn mutated(dice: &mut Dice, bytes: &[u8], others: &[Vec<u8>]) -> Vec<u8> {
    let mut bytes = bytes.to_vec();
    for _ in 0..=dice.below(4) {
        match dice.below(4) {
            0 => single(dice, &mut bytes),
            1 => lines(dice, &mut bytes),
            2 => words(dice, &mut bytes),
            _ => parts(dice, &mut bytes, others),
        }
    }
    bytes
}

/// A place between two bytes.
fn place(dice: &mut Dice, bytes: &[u8]) -> usize {
    dice.below(bytes.len() + 1)
}

/// One byte out, in, or of another value.
fn single(dice: &mut Dice, bytes: &mut Vec<u8>) {
    let at = place(dice, bytes);
    let any = (dice.next() & 0xff) as u8;
    match dice.below(4) {
        0 => bytes.insert(at, any),
        _ if at == bytes.len() => {}
        1 => bytes[at] = any,
        2 => bytes[at] ^= 1 << dice.below(8),
        _ => {
            bytes.remove(at);
        }
    }
}

/// Lines out, twice, or in another order.
fn lines(dice: &mut Dice, bytes: &mut Vec<u8>) {
    let mut lines: Vec<&[u8]> = bytes.split_inclusive(|byte| *byte == b'\n').collect();
    if lines.is_empty() {
        return;
    }
    let (at, to) = (dice.below(lines.len()), dice.below(lines.len()));
    match dice.below(4) {
        0 => {
            lines.remove(at);
        }
        1 => lines.insert(to, lines[at]),
        2 => lines.swap(at, to),
        _ => lines.truncate(at),
    }
    *bytes = lines.concat();
}

/// A word in, in the place of some bytes, or many times over.
fn words(dice: &mut Dice, bytes: &mut Vec<u8>) {
    let word = dice.pick(&WORDS).as_bytes();
    let at = place(dice, bytes);
    match dice.below(6) {
        0 => {
            let times = 1 << dice.below(12);
            bytes.splice(at..at, word.repeat(times));
        }
        1 | 2 => {
            let end = (at + dice.below(12)).min(bytes.len());
            bytes.splice(at..end, word.iter().copied());
        }
        _ => {
            bytes.splice(at..at, word.iter().copied());
        }
    }
}

/// A part out, twice, or from another text.
fn parts(dice: &mut Dice, bytes: &mut Vec<u8>, others: &[Vec<u8>]) {
    let at = place(dice, bytes);
    let end = (at + dice.below(60)).min(bytes.len());
    match dice.below(3) {
        0 => {
            bytes.drain(at..end);
        }
        1 => {
            let part = bytes[at..end].to_vec();
            let to = place(dice, bytes);
            bytes.splice(to..to, part);
        }
        _ => {
            let other = dice.pick(others);
            let from = place(dice, other);
            let part = other[from..(from + dice.below(400)).min(other.len())].to_vec();
            bytes.splice(at..end, part);
        }
    }
}
