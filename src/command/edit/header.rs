//! What the log must know of `project.toml`, and lines added to it.

use super::quoted::{key as bare_or_quoted, quoted};
use super::words::Word;
use crate::command::messages::Messages;
use cotterpin_engine::project::keys::header::{PARTS, PEOPLE};
use cotterpin_engine::project::keys::part::{TITLE, ZONE};
use cotterpin_engine::project::keys::person::{NAME, ROLE, ROLES};
use cotterpin_engine::project::{FileText, Header, PROJECT, Person, read_header_in_part};
use cotterpin_engine::source::Sources;
use toml::de::DeTable;

/// Reads a text that is known to be TOML. What is not as expected is
/// passed over here; an audit says what is wrong with it.
///
/// # Errors
/// What is said of a header of which nothing can be read.
pub(in crate::command) fn header_of(text: &str) -> Result<Header, Messages> {
    let file = FileText { name: PROJECT.to_owned(), bytes: text.as_bytes().to_vec() };
    let mut sources = Sources::default();
    let (header, found) = read_header_in_part(&file, &mut sources);
    header.ok_or_else(|| {
        let mut messages = Messages::default();
        messages.add(&sources, found);
        messages
    })
}

/// The people of a project in the order written, each with the short name.
pub(in crate::command) fn people_of(header: &Header) -> Vec<(&str, &Person)> {
    let mut people: Vec<_> = header.people.iter().map(|(short, person)| (short.as_str(), person)).collect();
    people.sort_by_key(|(_, person)| person.place);
    people
}

/// The project's text with one more line in a table of names.
pub(in crate::command) fn with_part(text: &str, part: &Word, zone: Option<&str>) -> String {
    let zone = zone.map_or_else(String::new, |zone| format!(", {ZONE} = {}", quoted(zone)));
    let line = format!("{} = {{ {TITLE} = {}{zone} }}", quoted(&part.name), quoted(&part.title));
    with_line(text, PARTS, &line)
}

/// The project's text with one more person.
pub(in crate::command) fn with_person(text: &str, key: &str, name: &str, roles: &[String]) -> String {
    let roles = match roles {
        [only] => format!("{ROLE} = {}", quoted(only)),
        several => {
            let several: Vec<String> = several.iter().map(|role| quoted(role)).collect();
            format!("{ROLES} = [{}]", several.join(", "))
        }
    };
    let line = format!("{} = {{ {NAME} = {}, {roles} }}", bare_or_quoted(key), quoted(name));
    with_line(text, PEOPLE, &line)
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
    use super::{Word, header_of, people_of, with_part, with_person};

    const TEXT: &str = "# mine\nname = \"x\" # y\ncountry = \"us\"\npacks = [\"workmanship\"]\n\n[people] # who\n\
                        zoe = { name = \"Zoe Sample\", roles = [\"helper\", \"adviser\"] }\n# second\n\
                        ada = { name = \"Ada Sample\", role = \"builder\" } # me\n\n[parts]\n# none yet\n";

    #[test]
    fn people_come_in_the_order_written() {
        let header = header_of(TEXT).unwrap_or_else(|said| panic!("{}", said.shown(false)));
        let people: Vec<_> = people_of(&header).into_iter().map(|(short, p)| (short, p.roles.len())).collect();
        assert_eq!(people, [("zoe", 2), ("ada", 1)]);
        let packs: Vec<_> = header.packs.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(packs, ["us", "workmanship"]);
    }

    #[test]
    fn lines_are_added_where_they_belong_and_all_else_stays() {
        let (name, roles) = ("Kim \"K\"", ["helper".to_owned()]);
        let cap = Word { name: "fuel.cap".into(), title: "Cap".into() };
        for text in [TEXT.to_owned(), TEXT.replace('\n', "\r\n"), "name = \"x\"".to_owned(), TEXT.trim_end().to_owned()]
        {
            let more = with_person(&with_part(&text, &cap, Some("cabin")), "kim", name, &roles);
            let header = header_of(&more).unwrap_or_else(|said| panic!("{}", said.shown(false)));
            assert_eq!(header.parts.keys().next_back().map(String::as_str), Some("fuel.cap"), "{more}");
            let last = people_of(&header).pop().map(|(short, p)| (short, p.name.as_str(), p.roles.as_slice()));
            assert_eq!(last, Some(("kim", name, &roles[..])), "{more}");
            let mut lines = more.lines();
            assert!(text.lines().all(|line| lines.any(|kept| kept == line)), "{more}");
        }
    }
}
