//! Many projects for a person: one line each, then what is open in several of
//! them. No score; made to be read aloud.

use super::message::Message;
use super::phrases::{self, capital, listed, sentence, title_of};
use super::wrap::Page;
use crate::round::{Counts, Fault, Line, OpenItem, Round};
use crate::vocabulary::Verdict;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// How many items are worth reading out: an evening's talk.
const ITEMS: usize = 20;
/// How many projects are named where more have the same.
const PROJECTS: usize = 5;
/// How many packs are named where more are of one edition and used in as many projects; how many such rows there are.
const PACKS: usize = 30;
const EDITIONS: usize = 12;

/// The whole report, no line wider than `width` characters (at least 40), with what else there is to say.
#[must_use]
pub fn round_text(round: &Round, messages: &[Message], width: usize) -> String {
    let mut page = Page::new(width);
    heading(&mut page, round);
    not_judged(&mut page, round);
    lines(&mut page, round);
    items(&mut page, round);
    totals(&mut page, round);
    packs(&mut page, round);
    closing(&mut page, round, messages);
    page.finish()
}

/// A count with commas between its thousands.
#[must_use]
pub fn thousands(count: usize) -> String {
    let digits = count.to_string();
    let mut text = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && digits.len().saturating_sub(at).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{} {many}", thousands(count)) }
}

fn heading(page: &mut Page, round: &Round) {
    let (all, judged) = (round.projects.len(), round.judged().count());
    page.line(0, &format!("Self-audits of {}, {}", counted(all, "project", "projects"), round.on));
    page.gap();
    if let Some(by) = &round.by {
        page.line(0, &format!("Only what is asked by --by {by} was looked at."));
    }
    let (not, judged_none) = (all.saturating_sub(judged), judged == 0);
    let judged = match not {
        0 => "All were judged.".to_owned(),
        _ => format!("{} judged, {} not.", was(judged), thousands(not)),
    };
    let ending: usize = round.judged().filter(|(_, counts)| counts.can_end_the_visit > 0).count();
    let ending = match ending {
        _ if judged_none => String::new(),
        0 => "Nothing that is open can end a visit.".to_owned(),
        _ => format!("In {} something open can end the visit.", counted(ending, "project", "projects")),
    };
    page.line(0, format!("{judged} {ending}").trim_end());
}

fn was(count: usize) -> String {
    if count == 1 { "1 was".to_owned() } else { format!("{} were", thousands(count)) }
}

/// What was not judged, in whole or in part.
fn not_judged(page: &mut Page, round: &Round) {
    if round.not_judged().next().is_none() {
        return;
    }
    page.heading("Not judged");
    for (line, fault) in round.not_judged() {
        let part = if line.came_to.is_some() { "judged below but for this: " } else { "" };
        page.hanging(2, 6, &format!("{}: {part}{}", named(line), said(fault)));
    }
}

fn said(fault: &Fault) -> String {
    let place = fault.place.as_ref().map_or_else(String::new, |place| format!(" ({place})"));
    let errors = match fault.errors {
        0 | 1 => String::new(),
        many => format!("{}, the first: ", counted(many, "error", "errors")),
    };
    sentence(&format!("{errors}{}{place}", fault.first))
}

fn named(line: &Line) -> String {
    match &line.name {
        Some(name) => format!("{name} ({})", line.folder),
        None => line.folder.clone(),
    }
}

/// The columns before the name of a project.
const COLUMNS: usize = 51;

fn lines(page: &mut Page, round: &Round) {
    if round.judged().next().is_none() {
        return;
    }
    page.heading("The nearest visit first");
    let row = |cells: [&str; 5]| {
        let [visit, ends, unmet, not_shown, met] = cells;
        format!("{visit:<12}{ends:>10}{unmet:>7}{not_shown:>11}{met:>7}")
    };
    page.labelled(2, COLUMNS, &row(["visit", "can end it", "unmet", "not shown", "met"]), "project");
    for (line, counts) in round.judged() {
        let sum = &counts.summary;
        let numbers = [counts.can_end_the_visit, sum.unmet, sum.not_shown, sum.met].map(thousands);
        let [ends, unmet, not_shown, met] = &numbers;
        let visit = counts.visit.as_deref().unwrap_or("none planned");
        page.labelled(
            2,
            COLUMNS,
            &row([visit, ends, unmet, not_shown, met]),
            &format!("{}{}", named(line), rest(counts)),
        );
    }
}

/// What is counted in few projects only.
fn rest(counts: &Counts) -> String {
    let some = [(counts.summary.conceded, "conceded"), (counts.summary.set_aside, "set aside")];
    let some = some.iter().filter(|(count, _)| *count > 0);
    some.map(|(count, word)| format!(", {} {word}", thousands(*count))).collect()
}

fn items(page: &mut Page, round: &Round) {
    let several: Vec<&OpenItem> = round.items.iter().filter(|item| item.projects() > 1).collect();
    let single = round.items.len().saturating_sub(several.len());
    let judged = round.judged().count();
    if judged < 2 || several.is_empty() && single == 0 {
        return;
    }
    page.heading("Open in several projects");
    for (number, item) in (1usize..).zip(several.iter().take(ITEMS)) {
        let all = if item.projects() == judged { "all " } else { "" };
        let first = format!("{number}. In {all}{}: ", thousands(item.projects()));
        page.hanging(2, 6, &format!("{first}{}", title_of(&item.item, &item.title)));
        let ends = if item.stops_the_visit { "; it can end a visit" } else { "" };
        let verdicts = [(&item.unmet, Verdict::Unmet), (&item.not_shown, Verdict::NotShown)];
        let verdicts = verdicts.iter().filter(|(places, _)| !places.is_empty());
        let verdicts = verdicts
            .map(|(places, verdict)| format!("{} in {}", phrases::verdict_within(*verdict), folders(round, places)));
        page.hanging(6, 6, &format!("{}{ends}: {}.", item.item, verdicts.collect::<Vec<_>>().join("; ")));
    }
    let more = several.len().saturating_sub(ITEMS);
    if more > 0 {
        let these = counted(more, "more item is", "more items are");
        page.hanging(2, 6, &format!("And {these} open in several; `--format json` has every one."));
    }
    if single > 0 {
        page.hanging(2, 6, &format!("{} open in one project only.", counted(single, "item is", "items are")));
    }
}

/// The folders of some projects, or the first of them.
fn folders(round: &Round, places: &[usize]) -> String {
    let folder = |place: &usize| round.projects.get(*place).map(|line| line.folder.clone());
    // One more is as short as to say that there is one more.
    let shown = if places.len() == PROJECTS.saturating_add(1) { places.len() } else { PROJECTS };
    let mut parts: Vec<String> = places.iter().take(shown).filter_map(folder).collect();
    let more = places.len().saturating_sub(parts.len());
    if more > 0 {
        parts.push(format!("{} more", thousands(more)));
    }
    listed(&parts)
}

fn totals(page: &mut Page, round: &Round) {
    let sum = &round.summary;
    page.heading("All together");
    let rows = [
        ("unmet", sum.unmet),
        ("not shown", sum.not_shown),
        ("conceded", sum.conceded),
        ("met", sum.met),
        ("not applicable", sum.not_applicable),
        ("set aside", sum.set_aside),
    ];
    for (word, count) in rows.into_iter().filter(|(word, count)| *count > 0 || *word != "set aside") {
        page.line(2, &format!("{word:<16}{:>9}", thousands(count)));
    }
}

/// Packs by how many projects use them, and by their editions.
fn packs(page: &mut Page, round: &Round) {
    if round.packs.is_empty() {
        return;
    }
    page.heading("Packs used");
    // Two packs of one name and edition are told apart by their texts; here they are one.
    let mut by_name: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    for pack in &round.packs {
        let projects = by_name.entry((&pack.name, &pack.edition)).or_default();
        *projects = projects.saturating_add(pack.projects);
    }
    let mut alike: BTreeMap<(Reverse<usize>, &str), Vec<&str>> = BTreeMap::new();
    for ((name, edition), projects) in by_name {
        alike.entry((Reverse(projects), edition)).or_default().push(name);
    }
    let more = alike.len().saturating_sub(EDITIONS);
    for ((Reverse(projects), edition), names) in alike.into_iter().take(EDITIONS) {
        let others = names.len().saturating_sub(PACKS);
        let mut text: Vec<String> = names.into_iter().take(PACKS).map(str::to_owned).collect();
        if others > 0 {
            text.push(format!("{} more", thousands(others)));
        }
        let count = counted(projects, "project", "projects");
        page.hanging(2, 6, &format!("In {count}, edition {edition}: {}.", listed(&text)));
    }
    if more > 0 {
        page.hanging(2, 6, &format!("And {}.", counted(more, "other edition", "other editions")));
    }
}

fn remark(message: &Message) -> String {
    let help = message.help.iter().map(|help| format!(" {}", sentence(&capital(help))));
    format!("{}{}", sentence(&message.message), help.collect::<String>())
}

fn closing(page: &mut Page, round: &Round, messages: &[Message]) {
    let warned: usize = round.judged().filter(|(_, counts)| counts.warnings > 0).count();
    let mut said: Vec<String> = messages.iter().map(remark).collect();
    if warned > 0 {
        said.push(format!(
            "In {} something is probably not as meant: {} told when it is audited alone.",
            counted(warned, "project", "projects"),
            counted(round.judged().map(|(_, counts)| counts.warnings).sum(), "warning is", "warnings are")
        ));
    }
    if !said.is_empty() {
        page.heading("Remarks");
        said.iter().for_each(|remark| page.hanging(2, 6, remark));
    }
    page.gap();
    page.line(0, "`cotterpin audit FOLDER` with the folder of one project tells all of that one.");
    page.gap();
    page.line(0, round.reminder);
}
