//! The list for closing up after the visit, by place; and the same for
//! programs, schema `cotterpin-close-up/1`:
//!
//! | key | what it holds |
//! |---|---|
//! | `schema`, `project`, `on` | `cotterpin-close-up/1`; the project's name; the day, ISO 8601 |
//! | `openings[]` | `what`, `event` (`opened`, `removed`), `on`, `who`, `for_visit`, `zone` or null, `note` or null, `remedy`, `caution`, `place` |
//! | `again[]` | what must be inspected or confirmed again: `item`, `subject` or null, `title`, `zone` or null, `shown` and `undone_by` in words, `remedy` or null, `caution` or null |
//! | `reminder` | who has the final say; always there |

use super::phrases;
use super::wrap::Page;
use super::{days, job, json};
use crate::audit::{Finding, Lapse};
use crate::plan::{CloseUp, Opening};
use crate::source::Place;
use serde::Serialize;

const SCHEMA: &str = "cotterpin-close-up/1";
const INDENT: usize = 4;
const COLUMN: usize = 10;

/// The list for a person, no line wider than `width` characters (at least 40).
#[must_use]
pub fn close_up_text(list: &CloseUp, width: usize) -> String {
    let mut page = Page::new(width);
    page.line(0, &format!("To close up on {}", list.project));
    page.gap();
    page.labelled(0, 10, "Day", &days::in_words(list.on));
    page.labelled(0, 10, "Packs", &list.packs.join(", "));
    let open = phrases::counted(list.openings.len(), "place or part is open or off", "places or parts are open or off");
    let again = phrases::counted(list.again.len(), "finding asks", "findings ask");
    page.labelled(0, 10, "Left", &format!("{open}; {again} for another inspection or test"));
    if list.openings.is_empty() && list.again.is_empty() {
        page.gap();
        page.line(0, "The log shows nothing open and nothing disturbed. Walk round and look all the same.");
    }
    let mut number = 0usize;
    for zone in zones(list) {
        let title = zone.map_or("In no particular place", |zone| phrases::titled(&list.titles.zones, zone));
        page.heading(title);
        // Inspect again while it is open, then close.
        for finding in list.again.iter().filter(|finding| finding.zone.as_deref() == zone) {
            number = number.saturating_add(1);
            inspect(&mut page, number, finding);
        }
        for opening in list.openings.iter().filter(|one| one.zone.as_deref() == zone) {
            number = number.saturating_add(1);
            close(&mut page, number, opening);
        }
    }
    page.gap();
    page.line(0, list.reminder);
    page.finish()
}

/// The zones of the list, in walking order; what has none comes last.
fn zones(list: &CloseUp) -> Vec<Option<&str>> {
    let mut zones = Vec::new();
    let all = list.openings.iter().map(|one| one.zone.as_deref());
    for zone in all.chain(list.again.iter().map(|finding| finding.zone.as_deref())) {
        phrases::push_new(&mut zones, zone);
    }
    zones.sort_by_key(|zone| zone.map_or(usize::MAX, |zone| phrases::rank(&list.titles.zones, zone)));
    zones
}

fn inspect(page: &mut Page, number: usize, finding: &Finding) {
    page.gap();
    let verb = match () {
        () if finding.lapses().all(Lapse::of_word) => "CONFIRM",
        () if finding.lapses().all(Lapse::of_value) => "RECORD",
        () => "INSPECT",
    };
    page.hanging(0, INDENT, &format!("{number}. {verb} AGAIN. {}", phrases::sentence(&finding.title)));
    let of = finding.subject.as_ref().map_or_else(String::new, |subject| format!(", for {subject}"));
    label(page, "job", &format!("{}{of}", finding.item));
    for lapse in finding.lapses() {
        label(page, "why", &job::lapsed(lapse));
    }
    if let Some(remedy) = &finding.remedy {
        label(page, "do", remedy);
    }
    if let Some(caution) = &finding.caution {
        label(page, "CAUTION", caution);
    }
}

fn close(page: &mut Page, number: usize, opening: &Opening) {
    page.gap();
    let event = opening.event.words();
    let verb = if event == "removed" { "REFIT" } else { "CLOSE" };
    page.hanging(0, INDENT, &format!("{number}. {verb}. {}", phrases::sentence(&opening.what)));
    let visit = if opening.for_visit { " for the visit" } else { "" };
    let place = &opening.place;
    label(page, "why", &format!("{event}{visit} on {} by {} ({place}).", opening.on, opening.who));
    if let Some(note) = &opening.note {
        label(page, "note", &phrases::sentence(note));
    }
    label(page, "do", &opening.remedy);
    label(page, "CAUTION", &opening.caution);
}

fn label(page: &mut Page, label: &str, text: &str) {
    page.labelled(INDENT, COLUMN, label, text);
}

#[derive(Serialize)]
struct ListOut<'a> {
    schema: &'static str,
    project: &'a str,
    on: String,
    openings: Vec<OpeningOut<'a>>,
    again: Vec<AgainOut<'a>>,
    reminder: &'static str,
}

#[derive(Serialize)]
struct OpeningOut<'a> {
    what: &'a str,
    event: &'static str,
    on: &'a str,
    who: &'a str,
    for_visit: bool,
    zone: Option<&'a str>,
    note: Option<&'a str>,
    remedy: &'a str,
    caution: &'a str,
    place: &'a Place,
}

#[derive(Serialize)]
struct AgainOut<'a> {
    item: &'a str,
    subject: Option<&'a str>,
    title: &'a str,
    zone: Option<&'a str>,
    shown: Vec<String>,
    undone_by: Vec<String>,
    remedy: Option<&'a str>,
    caution: Option<&'a str>,
}

/// The list as JSON; keys in a fixed order, a line break at the end.
#[must_use]
pub fn close_up_json(list: &CloseUp) -> String {
    let again = |finding: &'_ Finding| -> (Vec<String>, Vec<String>) {
        finding.lapses().map(|lapse| (phrases::told(&lapse.shown), phrases::told(&lapse.undone_by))).unzip()
    };
    let out = ListOut {
        schema: SCHEMA,
        project: &list.project,
        on: list.on.to_string(),
        openings: list.openings.iter().map(opening_out).collect(),
        again: list
            .again
            .iter()
            .map(|finding| {
                let (shown, undone_by) = again(finding);
                AgainOut {
                    item: &finding.item,
                    subject: finding.subject.as_deref(),
                    title: &finding.title,
                    zone: finding.zone.as_deref(),
                    shown,
                    undone_by,
                    remedy: finding.remedy.as_deref(),
                    caution: finding.caution.as_deref(),
                }
            })
            .collect(),
        reminder: list.reminder,
    };
    json::pretty(SCHEMA, &out)
}

fn opening_out(one: &Opening) -> OpeningOut<'_> {
    OpeningOut {
        what: &one.what,
        event: one.event.words(),
        on: &one.on,
        who: &one.who,
        for_visit: one.for_visit,
        zone: one.zone.as_deref(),
        note: one.note.as_deref(),
        remedy: &one.remedy,
        caution: &one.caution,
        place: &one.place,
    }
}
