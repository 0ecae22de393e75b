//! What the log must know of `project.toml`: packs, people and parts.

use super::quoted::{key, quoted};
use super::words::Word;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Somebody of `[people]`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::command) struct Person {
    /// The short name.
    pub(in crate::command) key: String,
    /// The whole name; the short one where there is no other.
    pub(in crate::command) name: String,
    pub(in crate::command) roles: Vec<String>,
}

/// A part of `project.toml`, as written.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(in crate::command) struct Header {
    /// Country and packs.
    pub(in crate::command) packs: Vec<String>,
    /// In the order written.
    pub(in crate::command) people: Vec<Person>,
    pub(in crate::command) parts: Vec<Word>,
}

impl Header {
    /// Reads a text that is known to be TOML. What is not as expected is
    /// passed over here; an audit says what is wrong with it.
    pub(in crate::command) fn read(text: &str) -> Self {
        let Ok(table) = DeTable::parse(text) else { return Self::default() };
        let table = table.get_ref();
        let mut header = Self::default();
        header.packs.extend(table.get("country").and_then(|country| country.get_ref().as_str()).map(str::to_owned));
        let packs = table.get("packs").and_then(|packs| packs.get_ref().as_array());
        for pack in packs.into_iter().flat_map(|packs| packs.iter()).filter_map(|pack| pack.get_ref().as_str()) {
            if !header.packs.iter().any(|known| known == pack.trim()) {
                header.packs.push(pack.trim().to_owned());
            }
        }
        if let Some(people) = inner(table, "people") {
            let mut people: Vec<_> = people.iter().collect();
            people.sort_by_key(|(key, _)| key.span().start);
            header.people.extend(people.into_iter().filter_map(|(key, value)| person(key.get_ref(), value)));
        }
        if let Some(parts) = inner(table, "parts") {
            declared(parts, "", &mut header.parts);
        }
        header
    }

    /// The project's text with one more line in a table of names.
    pub(in crate::command) fn with_part(text: &str, part: &Word, zone: Option<&str>) -> String {
        let zone = zone.map_or_else(String::new, |zone| format!(", zone = {}", quoted(zone)));
        let line = format!("{} = {{ title = {}{zone} }}", quoted(&part.name), quoted(&part.title));
        with_line(text, "parts", &line)
    }

    /// The project's text with one more person.
    pub(in crate::command) fn with_person(text: &str, person: &Person) -> String {
        let roles = match person.roles.as_slice() {
            [only] => format!("role = {}", quoted(only)),
            several => {
                let several: Vec<String> = several.iter().map(|role| quoted(role)).collect();
                format!("roles = [{}]", several.join(", "))
            }
        };
        let line = format!("{} = {{ name = {}, {roles} }}", key(&person.key), quoted(&person.name));
        with_line(text, "people", &line)
    }
}

fn inner<'t>(table: &'t DeTable<'t>, key: &str) -> Option<&'t DeTable<'t>> {
    table.get(key)?.get_ref().as_table()
}

fn person(key: &str, value: &Spanned<DeValue<'_>>) -> Option<Person> {
    let table = value.get_ref().as_table()?;
    let text = |key: &str| table.get(key).and_then(|value| value.get_ref().as_str()).map(str::to_owned);
    let several = table.get("roles").and_then(|roles| roles.get_ref().as_array());
    let several = several.into_iter().flat_map(|roles| roles.iter());
    let several = several.filter_map(|role| role.get_ref().as_str()).map(str::to_owned);
    let roles = text("role").into_iter().chain(several).collect();
    Some(Person { key: key.to_owned(), name: text("name").unwrap_or_else(|| key.to_owned()), roles })
}

/// Parts under quoted names, or under bare ones, which nest.
fn declared(table: &DeTable<'_>, group: &str, into: &mut Vec<Word>) {
    for (key, value) in table {
        let name = if group.is_empty() { key.get_ref().to_string() } else { format!("{group}.{}", key.get_ref()) };
        let Some(inner) = value.get_ref().as_table() else { continue };
        if let Some(title) = inner.get("title").and_then(|title| title.get_ref().as_str()) {
            into.push(Word { name: name.clone(), title: title.to_owned() });
        }
        declared(inner, &name, into);
    }
}

/// A line below the last line of `[table]`, or below a new `[table]` at the end.
fn with_line(text: &str, table: &str, line: &str) -> String {
    let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let close = |text: &str| if text.is_empty() || text.ends_with('\n') { "" } else { end };
    let Some(at) = end_of(text, table) else {
        return format!("{text}{}{end}[{table}]{end}{line}{end}", close(text));
    };
    let (before, after) = text.split_at_checked(at).unwrap_or((text, ""));
    format!("{before}{}{line}{end}{after}", close(before))
}

/// The end of the line of the last value in `[table]`; of its heading where it
/// has none. Nothing where the table is not written with a heading.
fn end_of(text: &str, table: &str) -> Option<usize> {
    let parsed = DeTable::parse(text).ok()?;
    let (heading, value) = parsed.get_ref().get_key_value(table)?;
    let start = text.get(..heading.span().start)?.rfind('\n').map_or(0, |at| at.saturating_add(1));
    let line_end = |at: usize| {
        text.get(at..).and_then(|rest| rest.find('\n')).map_or(text.len(), |n| at.saturating_add(n).saturating_add(1))
    };
    let line = text.get(start..line_end(start))?.trim();
    let named = line.strip_prefix('[')?.split_once(']')?.0;
    if named.trim() != table {
        return None;
    }
    let values = value.get_ref().as_table()?.values();
    let written_here = values.filter(|value| text.get(value.span()).is_some_and(|value| !value.starts_with('[')));
    let last = written_here.map(|value| value.span().end).max();
    Some(line_end(last.unwrap_or(heading.span().end).max(heading.span().end)))
}

#[cfg(test)]
mod tests {
    use super::{Header, Person, Word};

    const TEXT: &str = "# mine\nname = \"x\" # y\ncountry = \"us\"\npacks = [\"workmanship\"]\n\n[people] # who\n\
                        zoe = { name = \"Zoe Sample\", roles = [\"helper\", \"adviser\"] }\n# second\n\
                        ada = { name = \"Ada Sample\", role = \"builder\" } # me\n\n[parts]\n# none yet\n";

    #[test]
    fn people_come_in_the_order_written() {
        let header = Header::read(TEXT);
        let people: Vec<_> = header.people.iter().map(|p| (p.key.as_str(), p.roles.len())).collect();
        assert_eq!(people, [("zoe", 2), ("ada", 1)]);
        assert_eq!(header.packs, ["us", "workmanship"]);
    }

    #[test]
    fn lines_are_added_where_they_belong_and_all_else_stays() {
        let new = Person { key: "kim".into(), name: "Kim \"K\"".into(), roles: vec!["helper".into()] };
        let cap = Word { name: "fuel.cap".into(), title: "Cap".into() };
        for text in [TEXT.to_owned(), TEXT.replace('\n', "\r\n"), "name = \"x\"".to_owned(), TEXT.trim_end().to_owned()]
        {
            let more = Header::with_person(&Header::with_part(&text, &cap, Some("cabin")), &new);
            let header = Header::read(&more);
            assert_eq!(header.parts.last().map(|part| part.name.as_str()), Some("fuel.cap"), "{more}");
            assert_eq!(header.people.last(), Some(&new), "{more}");
            let mut lines = more.lines();
            assert!(text.lines().all(|line| lines.any(|kept| kept == line)), "{more}");
        }
    }
}
