//! What in a text is a mark or an address, in each of the ways in which they are written here.

use super::files::spelt_out;
use super::scheme::{Beacon, beacon, decoded, holder, plain, registry};
use regex_lite::Regex;

/// One mark or address that somebody has or can have: how it is written, and whose it is.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Pointing {
    pub(super) line: usize,
    pub(super) written: String,
    pub(super) whose: String,
}

/// Finds them. The expressions are made once.
pub(super) struct Finder {
    marks: Vec<Regex>,
    letters: Regex,
    addresses: Vec<Regex>,
    decimals: [Regex; 2],
    octal: Regex,
    beacons: Regex,
    seen: std::cell::Cell<usize>,
}

fn expression(text: &str) -> Regex {
    Regex::new(text).expect("an expression")
}

impl Finder {
    pub(super) fn new() -> Self {
        let marks = [
            // Anywhere in a text, in capitals.
            r"\b(N[CLRX]?[0-9][0-9A-Z]*)\b",
            r"\b(VH[- ]?[0-9A-Z]{3}|ZK[- ]?[A-Z]{3}|C-[FGI][A-Z]{3}|CF-[A-Z]{3}|G-[A-Z]{4})\b",
            // A whole text, with or without hyphen.
            r#"["'`]([0-9A-Z]+-?[0-9A-Z]+)\\?["'`]"#,
            // Said to be a mark, however written.
            r#"(?:mark|registration|call_sign|marks\.text|plate\.text|\btext)\s*=\s*\\?["']([^"'\\]+)\\?["']"#,
        ];
        let addresses = [r"\b([0-9A-F]{6})\b", r"\b0x([0-9A-Fa-f_]{6,8})\b", r#"["'`]([0-9A-Fa-f]{6})\\?["'`]"#];
        // By a fact's question and its example, or by its value.
        let letter = |which: &str| format!(r#"mark_{which}\b[^"]*(?:"[^"]{{2,}}"[^"]*)?"([0-9A-Za-z])\\?""#);
        let letters = [letter("first"), letter("second"), letter("third")].join("[^\"]{0,60}");
        Self {
            marks: marks.into_iter().map(expression).collect(),
            letters: expression(&letters),
            addresses: addresses.into_iter().map(expression).collect(),
            decimals: [r"address_decimal\s*=\s*([0-9]+)", r#"such as\s+\\?"([0-9]{7,8})\\?""#].map(expression),
            octal: expression(r#"["'`]([0-7]{8})\\?["'`]"#),
            beacons: expression(r"\b([0-9A-Fa-f]{15})\b"),
            seen: std::cell::Cell::new(0),
        }
    }

    /// How many marks and addresses were looked at, whoever's they are.
    pub(super) fn seen(&self) -> usize {
        self.seen.get()
    }

    /// All that point at somebody.
    pub(super) fn pointing(&self, text: &str) -> Vec<Pointing> {
        let text = &*spelt_out(text);
        let mut found = Vec::new();
        let mut keep = |at: usize, written: &str, whose: Option<String>| {
            self.seen.set(self.seen.get() + 1);
            let line = text[..at].matches('\n').count() + 1;
            let whose = whose.map(|whose| Pointing { line, written: written.to_owned(), whose });
            found.extend(whose.filter(|new| !found.contains(new)));
        };
        for written in self.marks.iter().flat_map(|marks| marks.captures_iter(text)).filter_map(|found| found.get(1)) {
            keep(written.start(), written.as_str(), registry(written.as_str()).map(str::to_owned));
        }
        for letters in self.letters.captures_iter(text) {
            let mark: String = letters.iter().skip(1).flatten().map(|letter| letter.as_str()).collect();
            let mark = plain(&format!("VH-{mark}"));
            keep(letters.get(0).map_or(0, |all| all.start()), &mark, registry(&mark).map(str::to_owned));
        }
        for written in self.addresses.iter().flat_map(|all| all.captures_iter(text)).filter_map(|found| found.get(1)) {
            if let Some(address) = self.address(text, written.start(), written.as_str()) {
                keep(written.start(), written.as_str(), holder(address));
            }
        }
        let decimals = self.decimals.iter().map(|decimals| (decimals, 10));
        for (numbers, base) in decimals.chain([(&self.octal, 8)]) {
            for written in numbers.captures_iter(text).filter_map(|found| found.get(1)) {
                let address = u32::from_str_radix(written.as_str(), base).ok();
                keep(written.start(), written.as_str(), address.and_then(holder));
            }
        }
        for written in self.beacons.captures_iter(text).filter_map(|found| found.get(1)) {
            let whose = match beacon(written.as_str()) {
                Beacon::NoAircraft => None,
                Beacon::Address(address) => holder(address),
                Beacon::Other => Some("in marks or with an operator, which is not decoded here".into()),
            };
            keep(written.start(), written.as_str(), whose);
        }
        found
    }

    /// Six hexadecimal digits are an address if they have both letters and figures, or stand as a text beside the word.
    fn address(&self, text: &str, at: usize, written: &str) -> Option<u32> {
        let digits = written.replace('_', "");
        let line = text[..at].rsplit('\n').next().unwrap_or_default();
        let both = digits.bytes().any(|digit| digit.is_ascii_digit())
            && digits.bytes().any(|digit| digit.is_ascii_alphabetic());
        let named = line.contains("address") && line.ends_with(['"', '\'', '`']);
        let number = u32::from_str_radix(&digits, 16).ok().filter(|_| digits.len() == 6)?;
        (both || named || decoded(number).is_some() && line.ends_with("0x")).then_some(number)
    }
}
