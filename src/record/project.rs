//! `project.toml`: whose rules apply, and when the visit is planned.

use super::dates;
use super::text::{FileText, Page, open};
use super::words::in_words;
use crate::diagnostic::{Diagnostic, nearest, settle};
use crate::measure::{Date, DateRange};
use crate::source::{Sources, Span};
use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::DeValue;

/// The file's name.
pub(super) const PROJECT: &str = "project.toml";

const KEYS: [&str; 7] = ["name", "country", "packs", "visit", "hold-points", "people", "parts"];

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
    pub planned: BTreeMap<String, Date>,
    /// The file.
    pub place: Span,
}

/// Reads `project.toml`. There is a header only if nothing is wrong with it.
#[must_use]
pub fn read_header(file: &FileText, sources: &mut Sources) -> (Option<Header>, Vec<Diagnostic>) {
    let (page, mut messages) = open(file, sources);
    let Some(page) = page else {
        return (None, messages);
    };
    let mut reading = Reading { page: &page, messages: Vec::new() };
    let header = reading.header();
    messages.extend(reading.messages.into_iter().filter(|message| page.stands(message)));
    settle(&mut messages);
    let fine = !messages.iter().any(Diagnostic::is_error);
    (header.filter(|_| fine), messages)
}

struct Reading<'a> {
    page: &'a Page<'a>,
    messages: Vec<Diagnostic>,
}

impl<'a> Reading<'a> {
    fn header(&mut self) -> Option<Header> {
        self.unknown_keys();
        let place = Span::new(self.page.source, 0, 0);
        let name = self.text("name");
        if self.find("name").is_none() {
            let message = Diagnostic::error("record::missing", "the project has no `name`").at(place, "");
            self.messages.push(message.help("write name = \"...\", as reports shall call it"));
        }
        let country = self.text("country");
        let packs = self.packs(country.as_deref());
        if self.find("country").is_none() && packs.is_empty() && self.messages.is_empty() {
            let message = Diagnostic::error("project::no-packs", "the project names neither a country nor a pack");
            self.messages.push(message.at(place, "").help("write country = \"us\", packs = [\"...\"], or both"));
        }
        let (visit, planned) = (self.visit(), self.planned());
        Some(Header { name: name?, country, packs, visit, planned, place })
    }

    fn find(&self, key: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.page.table.get(key)
    }

    fn wrong(&mut self, place: Span, message: String, help: &str) {
        self.messages.push(Diagnostic::error("project::form", message).at(place, "").help(help));
    }

    fn unknown_keys(&mut self) {
        let page = self.page;
        for key in page.table.keys().filter(|key| !KEYS.contains(&key.get_ref().as_ref())) {
            let help = match nearest(key.get_ref(), KEYS) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("its keys are {}; facts stand in the project's other files", KEYS.join(", ")),
            };
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
        if let (Some(country), Some(written)) = (country, self.find("country"))
            && !packs.iter().any(|(name, _)| name == country)
        {
            packs.insert(0, (country.to_owned(), self.page.span(written)));
        }
        packs
    }

    fn listed_packs(&mut self) -> Vec<(String, Span)> {
        let mut packs = Vec::new();
        let Some(written) = self.find("packs") else {
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

    fn visit(&mut self) -> Option<DateRange> {
        let written = self.find("visit")?;
        dates::read(written.get_ref()).map_err(|why| self.wrong_date("visit", written, &why)).ok()
    }

    fn wrong_date(&mut self, key: &str, written: &Spanned<DeValue<'_>>, why: &str) {
        let message = Diagnostic::error("value::date", format!("`{key}` is a date")).at(self.page.span(written), why);
        self.messages.push(message.help("write a day, 2026-10-04; for the visit also a month, \"2026-10\""));
    }

    fn planned(&mut self) -> BTreeMap<String, Date> {
        let mut planned = BTreeMap::new();
        let Some(written) = self.find("hold-points") else {
            return planned;
        };
        let Some(table) = written.get_ref().as_table() else {
            let message = format!("`hold-points` is a table, and this is {}", in_words(written.get_ref()));
            self.wrong(self.page.span(written), message, "write [hold-points], and below it a date for each name");
            return planned;
        };
        for (name, day) in table {
            match dates::read(day.get_ref()) {
                Ok(range) if range.first == range.last => {
                    planned.insert(name.get_ref().clone().into_owned(), range.first);
                }
                Ok(_) => self.wrong_date(name.get_ref(), day, "a hold point is planned for one day"),
                Err(why) => self.wrong_date(name.get_ref(), day, &why),
            }
        }
        planned
    }
}

fn words_or_empty(written: &DeValue<'_>) -> &'static str {
    if written.is_str() { "empty" } else { in_words(written) }
}
