//! Puts one value into a TOML text, every other byte of which stays.
//!
//! The parser tells where things stand; the text itself is cut and joined.
//! Whatever the way of writing, the outcome is read again: it must say the same
//! as before but for the one value, or else nothing is changed.

use super::quoted::key;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// One step on the way to a value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::command) enum Step {
    /// A key of a table.
    Key(String),
    /// A record of a list, counted from 0.
    Row(usize),
}

/// The new text and the line, from 1, on which the value stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::command) struct Placed {
    pub(in crate::command) text: String,
    pub(in crate::command) line: usize,
}

/// The mark of a text in UTF-8, with which some editors begin a file; nothing goes before it.
const MARK: char = '\u{feff}';

/// Puts `value`, as TOML, at the end of the way. What stood there is kept as a
/// comment that begins with `before`. Nothing if the text leaves no room for it.
pub(in crate::command) fn placed(text: &str, way: &[Step], value: &str, before: &str) -> Option<Placed> {
    if let Some(rest) = text.strip_prefix(MARK) {
        let placed = placed(rest, way, value, before)?;
        return Some(Placed { text: format!("{MARK}{}", placed.text), ..placed });
    }
    let parsed = DeTable::parse(text).ok()?;
    let (Step::Key(leaf), groups) = way.split_last()? else { return None };
    let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let page = Page { text, end };
    let line = format!("{} = {value}", key(leaf));
    let (new, at) = match page.find(parsed.get_ref(), groups) {
        Some(found) => match found.table.get(leaf.as_str()) {
            Some(old) => page.in_place_of(old.span(), value, before)?,
            None => page.added(&found, &line)?,
        },
        None => page.at_the_end(groups, &line)?,
    };
    let same = rest(text, way)? == rest(&new, way)?;
    same.then(|| Placed {
        line: new.get(..at).map_or(1, |before| before.matches('\n').count().saturating_add(1)),
        text: new,
    })
}

/// Puts whole records, each begun by its own heading, at the end. Nothing if the
/// text then says anything else that it did not say before.
pub(in crate::command) fn appended(text: &str, way: &[Step], records: &str) -> Option<Placed> {
    let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let close = if text.is_empty() || text.ends_with('\n') { "" } else { end };
    let gap = if text.is_empty() { "" } else { end };
    let head = format!("{text}{close}{gap}");
    let new = format!("{head}{}", records.replace('\n', end));
    let same = rest(text, way)? == rest(&new, way)?;
    same.then(|| Placed { line: head.matches('\n').count().saturating_add(1), text: new })
}

/// The value at the end of the way, as it is written.
pub(in crate::command) fn value_at(text: &str, way: &[Step]) -> Option<String> {
    let parsed = DeTable::parse(text).ok()?;
    let (Step::Key(leaf), groups) = way.split_last()? else { return None };
    let found = Page { text, end: "\n" }.find(parsed.get_ref(), groups)?;
    let value = found.table.get(leaf.as_str())?;
    text.get(value.span()).map(str::to_owned)
}

/// How many steps of the way the text already has.
pub(in crate::command) fn known(text: &str, way: &[Step]) -> usize {
    let Ok(parsed) = DeTable::parse(text) else { return 0 };
    let page = Page { text, end: "\n" };
    (1..=way.len())
        .rev()
        .find(|n| way.get(..*n).is_some_and(|way| page.find(parsed.get_ref(), way).is_some()))
        .unwrap_or(0)
}

struct Page<'t> {
    text: &'t str,
    /// What ends a line.
    end: &'static str,
}

/// A table, where its name stands, and where it is written between braces.
struct Found<'d> {
    table: &'d DeTable<'d>,
    heading: Option<Range<usize>>,
    braces: Option<Range<usize>>,
    /// The names that lead to it, for its heading.
    name: Vec<&'d str>,
}

impl<'t> Page<'t> {
    fn find<'d>(&self, root: &'d DeTable<'d>, way: &'d [Step]) -> Option<Found<'d>> {
        let mut found = Found { table: root, heading: None, braces: None, name: Vec::new() };
        let mut steps = way.iter().peekable();
        while let Some(step) = steps.next() {
            let Step::Key(name) = step else { return None };
            let (written, value) = found.table.get_key_value(name.as_str())?;
            let value = match steps.peek() {
                Some(Step::Row(row)) => {
                    steps.next();
                    value.get_ref().as_array()?.get(*row)?
                }
                _ => value,
            };
            found.table = value.get_ref().as_table()?;
            found.heading = Some(written.span());
            found.name.push(name);
            if self.is_at(value, "{") {
                found.braces = Some(value.span());
            }
        }
        Some(found)
    }

    fn is_at(&self, value: &Spanned<DeValue<'_>>, sign: &str) -> bool {
        self.text.get(value.span()).is_some_and(|text| text.starts_with(sign))
    }

    /// Whether a value stands behind its key, and not below a heading.
    fn is_beside_its_key(&self, value: &Spanned<DeValue<'_>>) -> bool {
        match value.get_ref() {
            DeValue::Table(_) => self.is_at(value, "{"),
            DeValue::Array(list) => {
                let records = list.iter().filter(|piece| piece.get_ref().is_table());
                self.is_at(value, "[") && records.into_iter().all(|record| self.is_at(record, "{"))
            }
            _ => true,
        }
    }

    fn in_place_of(&self, old: Range<usize>, value: &str, before: &str) -> Option<(String, usize)> {
        let start = self.line_start(old.start);
        let line = self.text.get(start..self.line_end(old.end))?.trim();
        // A value over several lines is kept line by line.
        let kept: String = line.lines().map(|line| format!("# {before}{}{}", line.trim_end(), self.end)).collect();
        let (head, between) = (self.text.get(..start)?, self.text.get(start..old.start)?);
        let at = head.len().saturating_add(kept.len()).saturating_add(between.len());
        Some((format!("{head}{kept}{between}{value}{}", self.text.get(old.end..)?), at))
    }

    fn added(&self, found: &Found<'_>, line: &str) -> Option<(String, usize)> {
        if let Some(braces) = &found.braces {
            return self.between_braces(braces.clone(), line, found.table.is_empty());
        }
        let siblings = found.table.iter().filter(|(_, value)| self.is_beside_its_key(value));
        if let Some((sibling, value)) = siblings.max_by_key(|(_, value)| value.span().end) {
            // Spaces, and the first words of a dotted key, as the sibling has them.
            let lead = self.text.get(self.line_start(sibling.span().start)..sibling.span().start)?;
            return self.below(value.span().end, &format!("{lead}{line}"), lead.len());
        }
        match &found.heading {
            Some(heading) if self.is_heading(heading.start, &found.name) => self.below(heading.end, line, 0),
            Some(_) => self.headed(&found.name, line),
            // A file without values of its own: above its first table.
            None => Some((format!("{line}{}{}", self.end, self.text), 0)),
        }
    }

    fn between_braces(&self, braces: Range<usize>, line: &str, is_empty: bool) -> Option<(String, usize)> {
        let close = braces.end.saturating_sub(1);
        let (head, tail) = (self.text.get(..close)?, self.text.get(close..)?);
        let inner = head.trim_end();
        let space = head.get(inner.len()..)?;
        let comma = if is_empty || inner.ends_with(',') { "" } else { "," };
        let after = if space.is_empty() { "" } else { space };
        Some((format!("{inner}{comma} {line}{after}{tail}"), inner.len()))
    }

    /// A line below the one in which `at` lies.
    fn below(&self, at: usize, line: &str, lead: usize) -> Option<(String, usize)> {
        let at = self.line_end(at);
        let (head, tail) = (self.text.get(..at)?, self.text.get(at..)?);
        let close = if head.is_empty() || head.ends_with('\n') { "" } else { self.end };
        let place = head.len().saturating_add(close.len()).saturating_add(lead);
        Some((format!("{head}{close}{line}{}{tail}", self.end), place))
    }

    fn is_heading(&self, at: usize, name: &[&str]) -> bool {
        let line = self.text.get(self.line_start(at)..).unwrap_or("").trim_start();
        let inner = line.strip_prefix('[').and_then(|line| line.split_once(']')).map(|(inner, _)| inner);
        let wanted: Vec<String> = name.iter().map(|name| key(name)).collect();
        inner.is_some_and(|inner| inner.split('.').map(str::trim).eq(wanted.iter().map(String::as_str)))
    }

    fn at_the_end(&self, groups: &[Step], line: &str) -> Option<(String, usize)> {
        let name: Option<Vec<&str>> = groups
            .iter()
            .map(|step| match step {
                Step::Key(name) => Some(name.as_str()),
                Step::Row(_) => None,
            })
            .collect();
        self.headed(&name?, line)
    }

    fn headed(&self, name: &[&str], line: &str) -> Option<(String, usize)> {
        let name: Vec<String> = name.iter().map(|name| key(name)).collect();
        let end = self.end;
        let gap = match self.text {
            "" => String::new(),
            text if text.ends_with('\n') => end.to_owned(),
            _ => format!("{end}{end}"),
        };
        let head = format!("{}{gap}[{}]{end}", self.text, name.join("."));
        let at = head.len();
        Some((format!("{head}{line}{end}"), at))
    }

    fn line_start(&self, at: usize) -> usize {
        self.text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |n| n.saturating_add(1))
    }

    fn line_end(&self, at: usize) -> usize {
        let rest = self.text.get(at..).and_then(|rest| rest.find('\n'));
        rest.map_or(self.text.len(), |n| at.saturating_add(n).saturating_add(1))
    }
}

/// Everything a text says but for one value, and for groups that only held it.
fn rest(text: &str, way: &[Step]) -> Option<String> {
    let mut table: toml::Table = text.parse().ok()?;
    without(&mut table, way);
    Some(format!("{table:?}"))
}

fn without(table: &mut toml::Table, way: &[Step]) {
    let Some((Step::Key(first), rest)) = way.split_first() else { return };
    if rest.is_empty() {
        table.remove(first);
        return;
    }
    match (table.get_mut(first), rest.split_first()) {
        (Some(toml::Value::Array(list)), Some((Step::Row(row), rest))) => {
            if let Some(toml::Value::Table(record)) = list.get_mut(*row) {
                without(record, rest);
            }
        }
        (Some(toml::Value::Table(inner)), _) => {
            without(inner, rest);
            if inner.is_empty() {
                table.remove(first);
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::{Step, known, placed};

    fn way(name: &str) -> Vec<Step> {
        let step = |part: &str| part.parse().map_or_else(|_| Step::Key(part.to_owned()), Step::Row);
        name.split('.').map(step).collect()
    }

    /// Text, way, and the line that comes of it; every old line stays.
    #[test]
    fn a_value_finds_its_place() {
        for (text, name, line, expected) in [
            ("", "fuel.feed", 2, "feed = 1"),
            ("# c\n", "fuel.flow.rate", 4, "rate = 1"),
            ("[fuel]\nfeed = 'a' # c\n\n[gear]\nx = 1\n", "fuel.cap", 3, "cap = 1"),
            ("[fuel]\nfeed = 'a'", "fuel.cap", 3, "cap = 1"),
            ("[fuel]\r\nfeed = 'a'\r\n# d\r\n", "fuel.cap", 3, "cap = 1"),
            ("[fuel] # c\n\n[fuel.flow]\nx = 1\n", "fuel.cap", 2, "cap = 1"),
            ("[fuel.flow]\nx = 1\n", "fuel.cap", 5, "cap = 1"),
            (
                "[fuel]\nx = 1\n[[fuel.tanks]]\nname = 'l'\n# of l\n[[fuel.tanks]]\nname = 'r'\n",
                "fuel.tanks.0.size",
                5,
                "size = 1",
            ),
            ("[fuel]\nx = 1\n[[fuel.tanks]]\nname = 'l'\n", "fuel.cap", 3, "cap = 1"),
            ("fuel.feed = 'a'\nfuel.flow.x = 2\n", "fuel.cap", 2, "fuel.cap = 1"),
            ("fuel.feed = 'a'\nfuel.flow.x = 2\n", "fuel.flow.cap", 3, "fuel.flow.cap = 1"),
            ("[fuel]\n  feed = '''\na = 2\n'''\n", "fuel.cap", 5, "  cap = 1"),
            ("[fuel]\nlist = [\n 1,\n # c\n 2 ]\n", "fuel.cap", 6, "cap = 1"),
            ("[gear]\nx = 1\n", "fuel", 1, "fuel = 1"),
        ] {
            let placed = placed(text, &way(name), "1", "").unwrap_or_else(|| panic!("{name} in\n{text}"));
            assert_eq!(placed.text.lines().nth(placed.line - 1), Some(expected), "{}", placed.text);
            assert_eq!(placed.line, line, "{}", placed.text);
            let mut lines = placed.text.lines();
            assert!(text.lines().all(|line| lines.any(|kept| kept == line)), "{}", placed.text);
            assert_eq!(text.contains("\r\n"), placed.text.contains("\r\n"));
        }
    }

    #[test]
    fn the_mark_of_a_text_stays_at_its_begin() {
        for (text, name, new) in [
            ("\u{feff}fuel.feed = 'a'\r\n", "fuel.feed", "\u{feff}# was fuel.feed = 'a'\r\nfuel.feed = 1\r\n"),
            ("\u{feff}[gear]\nx = 1\n", "fuel", "\u{feff}fuel = 1\n[gear]\nx = 1\n"),
            ("\u{feff}", "fuel", "\u{feff}fuel = 1\n"),
        ] {
            let placed = placed(text, &way(name), "1", "was ").unwrap_or_else(|| panic!("{name} in\n{text}"));
            assert_eq!(placed.text, new);
        }
    }

    #[test]
    fn between_braces_a_value_joins_the_others() {
        for (text, name, expected) in [
            ("[fuel]\nflow = { x = 1 } # c\n", "fuel.flow.y", "flow = { x = 1, y = 1 } # c"),
            ("flow = {}\n", "flow.y", "flow = { y = 1}"),
            ("t = [ { n = 'l' },\n {n = 'r'} ]\n", "t.1.y", " {n = 'r', y = 1} ]"),
        ] {
            let placed = placed(text, &way(name), "1", "").unwrap_or_else(|| panic!("{name} in\n{text}"));
            assert!(placed.text.lines().any(|line| line == expected), "{}", placed.text);
        }
    }

    #[test]
    fn what_stood_there_is_kept_as_a_comment() {
        let text = "[fuel]\nrate = \"18 gal/h\" # by bucket\nx = 2\n";
        let new = placed(text, &way("fuel.rate"), "\"19 gal/h\"", "until 2026-11-25: ").expect("placed");
        let expected =
            "[fuel]\n# until 2026-11-25: rate = \"18 gal/h\" # by bucket\nrate = \"19 gal/h\" # by bucket\nx = 2\n";
        assert_eq!((new.text.as_str(), new.line), (expected, 3));
    }

    #[test]
    fn where_there_is_no_room_nothing_is_changed() {
        // A comment above would fall into the text; a value is no group.
        let odd = "t = { a = '''\n''', b = 1 }\n";
        assert_eq!(placed(odd, &way("t.b"), "2", ""), None);
        assert_eq!(placed("fuel = 1\n", &way("fuel.cap"), "1", ""), None);
        assert_eq!(placed("not toml", &way("fuel.cap"), "1", ""), None);
        assert_eq!(known("[fuel.flow]\nx = 1\n", &way("fuel.flow.rate")), 2);
    }
}
