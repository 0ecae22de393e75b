//! The list for closing up after the visit, by place.

use super::phrases;
use super::wrap::Page;
use super::{days, job};
use crate::audit::{Finding, Lapse};
use crate::plan::{CloseUp, Opening};

const INDENT: usize = 4;
const COLUMN: usize = 10;

/// The list for a person, no line wider than `width` characters (at least 40).
#[must_use]
pub fn close_up_text(list: &CloseUp, width: usize) -> String {
    let mut page = Page::new(width);
    page.line(0, &format!("To close up on {}", list.project));
    page.gap();
    page.labelled(0, 10, "Day", &days::in_words(list.on));
    page.labelled(0, 10, "Packs", &phrases::pack_names(&list.packs));
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
