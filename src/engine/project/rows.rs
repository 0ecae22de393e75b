//! Lists: records with their fields.

use super::taken::{DATED, INSTRUMENT, VALUE, taken};
use super::text::Page;
use super::value::{value, whole_number};
use super::walk::{KeyAndValue, Walk, beside_value};
use super::words::{in_words, question};
use super::{Recorded, Row, Rows, Taken, Value};
use crate::diagnostic::{Diagnostic, did_you_mean};
use crate::ir::{HOW_MANY, List, PART};
use crate::source::{SharedText, Span, is_invisible};
use std::collections::BTreeMap;
use std::num::NonZeroU32;
use toml::de::{DeTable, DeValue};
use unicode_normalization::UnicodeNormalization;

impl Walk<'_> {
    /// Reads `[[electrical.runs]]` tables, or the same as an array.
    pub(super) fn rows(&mut self, page: &Page<'_>, list: &List, (key, written): KeyAndValue<'_>) -> Rows {
        let mut rows = Rows { rows: Vec::new(), place: key };
        let mut named: BTreeMap<String, (Span, String)> = BTreeMap::new();
        // The full names of its fields, the same for every record.
        let names: Vec<String> = list.fields.iter().map(|field| format!("{}.{}", list.name, field.name)).collect();
        let records = written.get_ref().as_array().map(|array| array.iter()).into_iter().flatten();
        for (number, record) in (1usize..).zip(records) {
            let place = page.span(record);
            let DeValue::Table(table) = record.get_ref() else {
                self.list_form(list, place, record.get_ref());
                continue;
            };
            let how_many = how_many(self, page, list, table);
            let taken = taken(page, table, None, &mut self.messages);
            let part = part(self, page, list, table);
            if part.is_none() && list.part.is_none() && list.names_states() {
                self.messages.push(no_part(list, place));
            }
            let (fields, unread) = fields(self, page, (list, &names), table, taken.as_ref());
            let row = Row { fields, how_many, part, place };
            let name = name(self, list, &row, table, &mut named);
            for (field, at) in unread {
                let name = name.clone().unwrap_or_else(|| number.to_string());
                self.record.not_taken_in(&format!("{}[{name}].{field}", list.name), at);
            }
            if let Some(evidence) = table.get("evidence") {
                let name = name.unwrap_or_else(|| number.to_string());
                self.evidence(page, &format!("{}[{name}]", list.name), evidence, taken.as_ref());
            }
            rows.rows.push(row);
        }
        rows
    }
}

/// Its fields, and those that are written and could not be read, with their places.
fn fields(
    walk: &mut Walk<'_>,
    page: &Page<'_>,
    (list, names): (&List, &[String]),
    table: &DeTable<'_>,
    around: Option<&Taken>,
) -> (Vec<Option<Recorded>>, Vec<(SharedText, Span)>) {
    let of_record = ["evidence", HOW_MANY, PART, DATED, INSTRUMENT];
    for key in table.keys().filter(|key| !of_record.contains(&key.get_ref().as_ref())) {
        if !list.fields.iter().any(|field| field.name == **key.get_ref()) {
            walk.messages.push(unknown_field(list, key.get_ref(), page.span(key)));
        }
    }
    let (mut fields, mut unread) = (Vec::with_capacity(list.fields.len()), Vec::new());
    for ((at, field), name) in list.fields.with_ids().zip(names) {
        let is_name = at == list.named_by;
        let recorded = table.get(field.name.as_str()).and_then(|written| {
            let own = written.get_ref().as_table().filter(|table| table.contains_key(VALUE));
            let taken = own.map_or_else(|| around.cloned(), |own| taken(page, own, around, &mut walk.messages));
            for key in own.into_iter().flat_map(|own| own.keys()) {
                if ![VALUE, DATED, INSTRUMENT].contains(&key.get_ref().as_ref()) {
                    walk.messages.push(beside_value(name, key.get_ref(), page.span(key)));
                }
            }
            let written = own.and_then(|own| own.get(VALUE)).unwrap_or(written);
            let text = walk.record.sources.text(page.span(written));
            let read = value(walk.rules, (name, field), page, written, text, taken.as_ref());
            // A record is known by its name, whatever is wrong with its day.
            if is_name {
                return read.map_err(|message| walk.messages.push(*message)).ok();
            }
            let whole = !taken.is_some_and(|taken| taken.unread);
            let recorded = read.map_err(|message| walk.messages.push(message.of_one_value())).ok().filter(|_| whole);
            if recorded.is_none() {
                unread.push((field.name.clone(), page.span(written)));
            }
            recorded
        });
        fields.push(recorded);
    }
    (fields, unread)
}

/// The part that a record says it is of.
fn part(walk: &mut Walk<'_>, page: &Page<'_>, list: &List, table: &DeTable<'_>) -> Option<String> {
    let written = table.get(PART)?;
    let place = page.span(written);
    let message = |message: String, label: &str, help: String| {
        Diagnostic::error("record::part", message).at(place, label.to_owned()).help(help)
    };
    if list.part.is_none() && !list.names_states() {
        let help = "take it out: nothing in this list is undone by work on a part".to_owned();
        walk.messages.push(message(format!("a record of `{}` is of no part", list.name), "of a part", help));
        return None;
    }
    let declared = walk.rules.subjects.iter().map(|part| part.name.as_str());
    let known: Vec<&str> = declared.chain(walk.record.parts.keys().map(String::as_str)).collect();
    let text = written.get_ref().as_str().unwrap_or("");
    if known.contains(&text) {
        return Some(text.to_owned());
    }
    let help = did_you_mean(text, known.iter().copied()).unwrap_or_else(|| {
        "write a part's name in quotes, such as \"engine.mount\"; `cotterpin log --subjects` lists them".to_owned()
    });
    let message = message(format!("this record of `{}` is of a part that nobody named", list.name), "no part", help);
    walk.messages.push(message);
    None
}

/// A record whose state nobody could say undone or not.
fn no_part(list: &List, place: Span) -> Diagnostic {
    let message = format!("this record of `{}` does not say of which part it is", list.name);
    let help = "add the part, such as part = \"engine.mount\": work on that part undoes what is recorded here";
    Diagnostic::error("record::part", message).at(place, "").help(help)
}

/// For how many things alike a record stands: one, where it does not say.
fn how_many(walk: &mut Walk<'_>, page: &Page<'_>, list: &List, table: &DeTable<'_>) -> NonZeroU32 {
    let Some(written) = table.get(HOW_MANY) else { return NonZeroU32::MIN };
    let place = page.span(written);
    if !list.many_alike {
        let message = format!("a record of `{}` stands for one thing", list.name);
        let help = "its pack does not let one record stand for many: write a record for each of them";
        walk.messages.push(Diagnostic::error("record::how-many", message).at(place, "for many").help(help));
        return NonZeroU32::MIN;
    }
    let many = match written.get_ref() {
        DeValue::Integer(number) => whole_number(number).and_then(|many| u32::try_from(many).ok()),
        _ => None,
    };
    many.and_then(NonZeroU32::new).unwrap_or_else(|| {
        let label = match written.get_ref() {
            DeValue::Integer(number) if whole_number(number).is_some_and(|many| many <= 0) => "this is none".to_owned(),
            DeValue::Integer(_) => format!("this is more than {}", u32::MAX),
            DeValue::Float(_) => "write it without a point".to_owned(),
            DeValue::String(_) => "write it without quotes".to_owned(),
            other => format!("this is {}", in_words(other)),
        };
        let message = "a record stands for a whole number of things, from 1";
        let help = "write how many there are, such as how_many = 48; what differs from them is a record of its own";
        walk.messages.push(Diagnostic::error("record::how-many", message).at(place, label).help(help));
        NonZeroU32::MIN
    })
}

fn unknown_field(list: &List, key: &str, place: Span) -> Diagnostic {
    let known = list.fields.iter().map(|field| field.name.as_str());
    let help = did_you_mean(key, known.clone())
        .unwrap_or_else(|| format!("its fields are {}", known.collect::<Vec<_>>().join(", ")));
    Diagnostic::error("fact::unknown", format!("a record of `{}` has no field `{key}`", list.name))
        .at(place, "not known")
        .help(help)
}

/// The record's own name; an error where it has none or another has it too.
fn name(
    walk: &mut Walk<'_>,
    list: &List,
    row: &Row,
    table: &DeTable<'_>,
    named: &mut BTreeMap<String, (Span, String)>,
) -> Option<String> {
    let at = list.named_by;
    let field = list.fields.get(at)?;
    let recorded = row.field(at);
    let Some(Recorded { value: Value::Text(text), place, .. }) = recorded else {
        // A name that could not be read has its own message already.
        if !table.contains_key(field.name.as_str()) {
            let message =
                format!("this record of `{}` has no `{}`, which is its name in reports", list.name, field.name);
            let help = question(&field.ask, field.example.as_deref());
            walk.messages.push(Diagnostic::error("record::missing", message).at(row.place, "").help(help));
        }
        return None;
    };
    if folded(text).is_empty() {
        let message = format!("this record of `{}` has a name that shows nothing", list.name);
        let help = "write a name with letters or digits";
        walk.messages.push(Diagnostic::error("record::missing", message).at(*place, "").help(help));
        return None;
    }
    if let Some((before, first)) = named.insert(folded(text), (*place, text.clone())) {
        walk.messages.push(named_twice(list, (text, *place), (&first, before)));
    }
    Some(text.clone())
}

fn named_twice(list: &List, (text, place): (&str, Span), (first, before): (&str, Span)) -> Diagnostic {
    let message = format!("two records of `{}` are named `{text}`", list.name);
    let help = "give each its own name, such as \"left\" and \"right\"";
    let (label, help) = if first == text {
        ("first here".to_owned(), help.to_owned())
    } else {
        (format!("first here, as `{first}`"), format!("capitals and blanks do not make another name: {help}"))
    };
    Diagnostic::error("record::twice", message).at(place, "here again").at(before, label).help(help)
}

/// Whether a record that comes later has the name of one that is known.
pub(super) fn twice(list: &List, known: &[Row], later: &[Row]) -> Option<Diagnostic> {
    let name = |row: &Row| match row.field(list.named_by) {
        Some(Recorded { value: Value::Text(text), place, .. }) => Some((folded(text), text.clone(), *place)),
        _ => None,
    };
    let known: BTreeMap<String, (String, Span)> =
        known.iter().filter_map(name).map(|(key, text, place)| (key, (text, place))).collect();
    later.iter().filter_map(name).find_map(|(key, text, place)| {
        let (first, before) = known.get(&key)?;
        Some(named_twice(list, (&text, place), (first, *before)))
    })
}

/// Whether a character only chooses how the one before it looks.
fn is_selector(letter: char) -> bool {
    matches!(letter, '\u{fe00}'..='\u{fe0f}' | '\u{180b}'..='\u{180f}' | '\u{e0100}'..='\u{e01ef}')
}

/// A record's name as it is compared: `Left`, `left ` and `left` are one thing
/// written down several times.
pub(crate) fn folded(name: &str) -> String {
    // Nearly all names are plain letters, which have one form only. What shows nothing makes no other name.
    let letters: String = match name.is_ascii() {
        true => name.to_ascii_lowercase(),
        false => {
            let shown = name.nfkc().filter(|letter| !is_invisible(*letter) && !is_selector(*letter));
            // A final sigma is a sigma.
            shown.flat_map(char::to_lowercase).map(|letter| if letter == 'ς' { 'σ' } else { letter }).collect()
        }
    };
    let mut name = String::with_capacity(letters.len());
    for word in letters.split_whitespace() {
        if !name.is_empty() {
            name.push(' ');
        }
        name.push_str(word);
    }
    name
}
