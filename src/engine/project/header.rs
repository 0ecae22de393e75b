//! `project.toml`: whose rules apply, and when the visit is planned.

use super::keys::{header as keys, part, person};
use super::log::length_of_time;
use super::text::{FileText, Page, open};
use super::words::{in_words, normal_word};
use crate::diagnostic::{Diagnostic, did_you_mean, settle};
use crate::quantity::{Date, DateRange, Exact, ExactInterval};
use crate::source::{Sources, Span};
use std::borrow::Cow;
use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The file's name.
pub const PROJECT: &str = "project.toml";

/// The most people a project names: each name is held against each other.
const MOST_PEOPLE: usize = 200;

/// What `project.toml` says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Header {
    /// The project's name.
    pub name: String,
    /// The country whose authority visits, as its pack is named: `us`.
    pub country: Option<String>,
    /// Packs, by built-in name or path from the project's folder (`./kit`).
    pub packs: Vec<(String, Span)>,
    /// The planned visit.
    pub visit: Option<DateRange>,
    /// Planned days of hold points, by name.
    pub planned: BTreeMap<String, (Date, Span)>,
    /// Planned days on which zones are closed, by zone.
    pub closing: BTreeMap<String, (Date, Span)>,
    /// The people of the project, by the short name the log uses.
    pub people: BTreeMap<String, Person>,
    /// The builder's own parts.
    pub parts: BTreeMap<String, OwnPart>,
    /// Working time on an ordinary day, in seconds.
    pub a_day: Option<ExactInterval>,
    /// The file.
    pub place: Span,
}

impl Header {
    /// That of a project of which nothing but the name is known.
    #[must_use]
    pub fn named(name: &str, sources: &mut Sources) -> Self {
        Self {
            name: name.to_owned(),
            country: None,
            packs: Vec::new(),
            visit: None,
            planned: BTreeMap::new(),
            closing: BTreeMap::new(),
            people: BTreeMap::new(),
            parts: BTreeMap::new(),
            a_day: None,
            place: Span::new(sources.add(PROJECT, ""), 0, 0),
        }
    }
}

/// A person of the project.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person {
    /// The full name; two entries of one name are one person.
    pub name: String,
    /// The roles in which the person may sign or speak.
    pub roles: Vec<String>,
    /// Where the person is named.
    pub place: Span,
}

/// A part the builder named, below one that a pack knows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnPart {
    /// What it is.
    pub title: String,
    /// Where it is, if it is not where the part above it is.
    pub zone: Option<String>,
    /// Whether the aircraft can be without it.
    pub can_be_left_off: bool,
    /// Where it is named.
    pub place: Span,
}

/// The latest form of a project that is read.
const FORMAT: i64 = 1;

/// Reads `project.toml`. There is a header only if nothing is wrong with it.
#[must_use]
pub fn read_header(file: &FileText, sources: &mut Sources) -> (Option<Header>, Vec<Diagnostic>) {
    let (header, messages) = read_header_in_part(file, sources);
    let fine = !messages.iter().any(Diagnostic::is_error);
    (header.filter(|_| fine), messages)
}

/// The same, with what can be read of a header in which something is wrong.
/// There is none only if the file cannot be read at all, or is of a form not known here.
pub fn read_header_in_part(file: &FileText, sources: &mut Sources) -> (Option<Header>, Vec<Diagnostic>) {
    let (page, mut messages) = open(file, sources);
    let Some(page) = page else {
        return (None, messages);
    };
    let mut reading = Reading { page: &page, messages: Vec::new() };
    let header = reading.header();
    messages.extend(reading.messages.into_iter().filter(|message| page.stands(message)));
    settle(&mut messages);
    (header, messages)
}

pub(super) struct Reading<'a> {
    pub(super) page: &'a Page<'a>,
    pub(super) messages: Vec<Diagnostic>,
}

impl<'a> Reading<'a> {
    fn header(&mut self) -> Option<Header> {
        if !self.format_is_known() {
            // What the keys of another form mean is not known here.
            return None;
        }
        let place = Span::new(self.page.source, 0, 0);
        self.unknown_keys();
        let name = self.text(keys::NAME);
        if self.find(keys::NAME).is_none() {
            let message = Diagnostic::error("record::missing", "the project has no `name`").at(place, "");
            self.messages.push(message.help("write name = \"...\", as reports shall call it"));
        }
        let country = self.text(keys::COUNTRY);
        let packs = self.packs(country.as_deref());
        if self.find(keys::COUNTRY).is_none() && packs.is_empty() && self.messages.is_empty() {
            let message = Diagnostic::error("project::no-packs", "the project names neither a country nor a pack");
            self.messages.push(message.at(place, "").help("write country = \"us\", packs = [\"...\"], or both"));
        }
        let (visit, planned) = self.visit_and_planned();
        let (closing, people) = (self.closing(), self.people());
        let (parts, a_day) = (self.parts(), self.a_day());
        let name = name.unwrap_or_default();
        Some(Header { name, country, packs, visit, planned, closing, people, parts, a_day, place })
    }

    /// Whether the project is written in a form that is read here; without one it is the first.
    fn format_is_known(&mut self) -> bool {
        let Some(written) = self.find(keys::FORMAT) else { return true };
        let place = self.page.span(written);
        let number =
            written.get_ref().as_integer().and_then(|number| i64::from_str_radix(number.as_str(), number.radix()).ok());
        match number {
            Some(FORMAT) => return true,
            Some(later) if later > FORMAT => {
                let message =
                    format!("the project is written in form {later}; this cotterpin reads up to form {FORMAT}");
                let message = Diagnostic::error("project::newer", message).at(place, "a later form");
                self.messages.push(message.help("use the cotterpin that wrote it, or a newer one"));
            }
            _ => {
                let message = "`format` is the number of a form, and there is no such form".to_owned();
                self.wrong(place, message, "write format = 1, or leave it out");
            }
        }
        false
    }

    pub(super) fn find(&self, key: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.page.table.get(key)
    }

    fn wrong(&mut self, place: Span, message: String, help: &str) {
        self.messages.push(Diagnostic::error("project::form", message).at(place, "").help(help));
    }

    fn unknown_keys(&mut self) {
        let page = self.page;
        for key in page.table.keys().filter(|key| !keys::ALL.contains(&key.get_ref().as_ref())) {
            let help = did_you_mean(key.get_ref(), keys::ALL).unwrap_or_else(|| {
                format!("its keys are {}; facts stand in the project's other files", keys::ALL.join(", "))
            });
            let message = format!("{PROJECT} has no `{}`", key.get_ref());
            self.messages
                .push(Diagnostic::error("project::unknown", message).at(page.span(key), "not known").help(help));
        }
    }

    fn text(&mut self, key: &str) -> Option<String> {
        let written = self.find(key)?;
        let text = written.get_ref().as_str().map(str::trim).filter(|text| !text.is_empty());
        if text.is_none() {
            let message = format!("`{key}` is a text in quotes, and this is {}", words_or_empty(written.get_ref()));
            self.wrong(self.page.span(written), message, "write it in quotes");
        }
        text.map(str::to_owned)
    }

    fn packs(&mut self, country: Option<&str>) -> Vec<(String, Span)> {
        let mut packs = self.listed_packs();
        if let (Some(country), Some(written)) = (country, self.find(keys::COUNTRY))
            && !packs.iter().any(|(name, _)| name == country)
        {
            packs.insert(0, (country.to_owned(), self.page.span(written)));
        }
        packs
    }

    fn listed_packs(&mut self) -> Vec<(String, Span)> {
        let mut packs = Vec::new();
        let Some(written) = self.find(keys::PACKS) else {
            return packs;
        };
        let Some(pieces) = written.get_ref().as_array() else {
            let message = format!("`packs` is a list, and this is {}", in_words(written.get_ref()));
            self.wrong(self.page.span(written), message, "write packs = [\"us\", \"./kit\"]");
            return packs;
        };
        for piece in pieces {
            self.pack(piece, &mut packs);
        }
        packs
    }

    fn pack(&mut self, piece: &Spanned<DeValue<'_>>, packs: &mut Vec<(String, Span)>) {
        let place = self.page.span(piece);
        let Some(name) = piece.get_ref().as_str().map(str::trim).filter(|name| !name.is_empty()) else {
            let message = format!("a pack is named by a text, and this is {}", words_or_empty(piece.get_ref()));
            self.wrong(place, message, "write a built-in name such as \"us\", or a path such as \"./kit\"");
            return;
        };
        let before = packs.iter().find(|(known, _)| known == name).map(|(_, before)| *before);
        let Some(before) = before else {
            packs.push((name.to_owned(), place));
            return;
        };
        let message = Diagnostic::error("project::twice", format!("the pack `{name}` is named twice"));
        self.messages.push(message.at(place, "here again").at(before, "first here").help("keep one of them"));
    }

    /// The entries of a table, if there is one; what else stands there is an error.
    pub(super) fn table_of(
        &mut self,
        key: &str,
        below: &str,
    ) -> Vec<(&'a Spanned<Cow<'a, str>>, &'a Spanned<DeValue<'a>>)> {
        let Some(written) = self.find(key) else { return Vec::new() };
        let Some(table) = written.get_ref().as_table() else {
            let message = format!("`{key}` is a table, and this is {}", in_words(written.get_ref()));
            self.wrong(self.page.span(written), message, &format!("write [{key}], and below it {below}"));
            return Vec::new();
        };
        table.iter().collect()
    }

    fn people(&mut self) -> BTreeMap<String, Person> {
        let mut people = BTreeMap::new();
        let written = self.table_of(keys::PEOPLE, "rosa = { name = \"Rosa Example\", role = \"builder\" }");
        if let Some((short, _)) = written.get(MOST_PEOPLE) {
            let message = format!("more than {MOST_PEOPLE} people");
            self.wrong(self.page.span(short), message, "name those who work on it, look at it or sign for it");
        }
        for (short, written) in written.into_iter().take(MOST_PEOPLE) {
            let fields = self.fields(keys::PEOPLE, short, written, &person::ALL);
            let name = fields.text(person::NAME);
            let roles = fields.texts(&[person::ROLE, person::ROLES]);
            if name.is_none() || roles.is_empty() {
                let message = format!("`{}` needs a name and a role", short.get_ref());
                let help =
                    "write { name = \"Rosa Example\", role = \"builder\" }, or roles = [\"builder\", \"helper\"]";
                self.wrong(self.page.span(written), message, help);
            }
            if fields.0.is_none() {
                continue;
            }
            let name = name.unwrap_or_else(|| short.get_ref().to_string());
            let roles = roles.iter().map(|role| normal_word(role)).collect();
            people.insert(short.get_ref().to_string(), Person { name, roles, place: self.page.span(short) });
        }
        people
    }

    fn parts(&mut self) -> BTreeMap<String, OwnPart> {
        let mut parts = BTreeMap::new();
        for (name, written) in self.table_of(keys::PARTS, "\"controls.elevator.pushrod\" = { title = \"...\" }") {
            let (title, zone, can_be_left_off) = match written.get_ref().as_str() {
                Some(title) => (title.trim().to_owned(), None, false),
                None => {
                    let fields = self.fields(keys::PARTS, name, written, &part::ALL);
                    let off = fields.yes(part::CAN_BE_LEFT_OFF);
                    (fields.text(part::TITLE).unwrap_or_default(), fields.text(part::ZONE), off)
                }
            };
            if title.is_empty() {
                let message = format!("`{}` needs a title", name.get_ref());
                let help = "put the dotted name in quotes: \"controls.elevator.pushrod\" = { title = \"Elevator pushrod\", zone = \"tail\" }";
                self.wrong(self.page.span(written), message, help);
                continue;
            }
            let place = self.page.span(name);
            parts.insert(name.get_ref().to_string(), OwnPart { title, zone, can_be_left_off, place });
        }
        parts
    }

    /// `[shed]` with `hours-per-day = 2.5`, or `"2 h"`: more than nothing, at most a day.
    fn a_day(&mut self) -> Option<ExactInterval> {
        const KEY: &str = "hours-per-day";
        let mut a_day = None;
        for (key, written) in self.table_of(keys::SHED, "hours-per-day = 3") {
            if key.get_ref() != KEY {
                let message = format!("[shed] has no `{}`", key.get_ref());
                let message = Diagnostic::error("project::unknown", message).at(self.page.span(key), "not known");
                self.messages.push(message.help(format!("it has `{KEY}`, the working time on an ordinary day")));
                continue;
            }
            let text = match written.get_ref() {
                DeValue::Integer(number) if number.radix() == 10 => format!("{} h", number.as_str()),
                DeValue::Float(number) => format!("{} h", number.as_str()),
                other => other.as_str().unwrap_or("").trim().to_owned(),
            };
            match working_time(&text) {
                Ok(time) => a_day = Some(time),
                Err(why) => {
                    let message = format!("`{KEY}` is a number of hours, more than none and at most 24");
                    let label = format!("{why}; write hours-per-day = 2.5, or hours-per-day = \"150 min\"");
                    self.wrong(self.page.span(written), message, &label);
                }
            }
        }
        a_day
    }

    /// The fields of one entry of a table; unknown ones are told.
    fn fields(
        &mut self,
        table: &str,
        name: &Spanned<Cow<'a, str>>,
        written: &'a Spanned<DeValue<'a>>,
        known: &[&str],
    ) -> Fields<'a> {
        let fields = Fields(written.get_ref().as_table());
        for key in fields.0.into_iter().flat_map(DeTable::keys) {
            if !known.contains(&key.get_ref().as_ref()) {
                let help = did_you_mean(key.get_ref(), known.iter().copied())
                    .unwrap_or_else(|| format!("its keys are {}", known.join(", ")));
                let message = format!("`{}` of [{table}] has no `{}`", name.get_ref(), key.get_ref());
                let message = Diagnostic::error("project::unknown", message).at(self.page.span(key), "not known");
                self.messages.push(message.help(help));
            }
        }
        fields
    }
}

/// The fields of a small table.
struct Fields<'a>(Option<&'a DeTable<'a>>);

impl Fields<'_> {
    fn text(&self, key: &str) -> Option<String> {
        let text = self.0?.get(key)?.get_ref().as_str()?.trim();
        (!text.is_empty()).then(|| text.to_owned())
    }

    /// Whether it is said to be so.
    fn yes(&self, key: &str) -> bool {
        self.0.and_then(|table| table.get(key)).is_some_and(|written| written.get_ref().as_bool() == Some(true))
    }

    /// One text, or several, behind any of the keys.
    fn texts(&self, keys: &[&str]) -> Vec<String> {
        let mut texts = Vec::new();
        for written in keys.iter().filter_map(|key| self.0?.get(*key)) {
            let single = std::slice::from_ref(written);
            let pieces = written.get_ref().as_array().map_or(single, |array| array.as_ref());
            texts.extend(pieces.iter().filter_map(|piece| piece.get_ref().as_str()).map(|text| text.trim().to_owned()));
        }
        texts
    }
}

/// A time that somebody can work in a day.
fn working_time(text: &str) -> Result<ExactInterval, String> {
    let time = length_of_time(text)?.value;
    let fits = time.hi().is_some_and(|most| *most <= Exact::from_int(86_400));
    if fits { Ok(time) } else { Err("a day has 24 h".to_owned()) }
}

fn words_or_empty(written: &DeValue<'_>) -> &'static str {
    if written.is_str() { "empty" } else { in_words(written) }
}
