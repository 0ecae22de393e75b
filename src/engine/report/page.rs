//! The first page: what matters today, a line for each, and how to see the rest.

use super::cause_sentences;
use super::days;
use super::outline::{Block, Part, outline};
use super::phrases;
use super::text::heading_of;
use super::wrap::Page;
use crate::audit::{
    Audit, Behind, Finding, FindingKind, MissingCause, Notice, Observed, ObservedValue, Unanswered, Wants,
};
use crate::plan::{JobKind, Plan};
use crate::quantity::Date;
use crate::vocabulary::Verdict;
use std::collections::BTreeMap;

/// So many lines the page has at most.
const LINES: usize = 60;
/// So many lines a part has at most.
const OF_A_PART: usize = 9;
/// So many rows stay of the first part, whatever else there is.
const OF_THE_FIRST: usize = 8;
/// And so many of every other.
const OF_THE_OTHERS: usize = 2;
/// Of so many records the names are said.
const NAMED: usize = 3;
/// A recorded value longer than this is not said here.
const LONGEST_VALUE: usize = 24;
/// A row longer than so many characters is cut; why NUMBER has all of it.
const LONGEST_ROW: usize = 200;
/// A line of the top longer than so many characters is cut.
const LONGEST_TOP: usize = 330;

/// The first page of an audit, at most 60 lines of 80 or more characters however much is open, none wider than `width`
/// (at least 40);
/// with the plan of the same audit it says what closes and what the way to the visit waits for.
///
/// What does not fit is counted, and the last lines say how to see it. The numbers are those of the whole report.
#[must_use]
pub fn page(audit: &Audit, plan: Option<&Plan>, width: usize) -> String {
    let behind = audit.behind();
    let sections = sections(audit, plan, &behind, width);
    let (top, bottom) = (top(audit, plan, width), bottom(audit, plan, &behind, width));
    let fixed = lines(&top).saturating_add(lines(&bottom));
    let mut out = top;
    for (heading, rows) in shortened(sections, LINES.saturating_sub(fixed)) {
        out.push('\n');
        out.push_str(&heading);
        rows.iter().for_each(|row| out.push_str(row));
    }
    out.push_str(&bottom);
    out
}

/// A part of the page: its heading and its rows, each with its line ends.
type Section = (String, Vec<String>);

fn lines(text: &str) -> usize {
    text.lines().count()
}

/// Leaves rows out until all fits. One row of each part comes first, then the first part's, then a second one of each,
/// then the others from the first part to the last.
fn shortened(sections: Vec<Section>, room: usize) -> Vec<Section> {
    // A gap, the heading, and a line for what is left out.
    const AROUND: usize = 3;
    let mut left = room.saturating_sub(sections.len().saturating_mul(AROUND));
    let mut counts = vec![0usize; sections.len()];
    let mut taken = vec![0usize; sections.len()];
    // So many rows of the first part and of the others; in the end as many as there is room for.
    for (of_the_first, of_the_others) in
        [(Some(1), Some(1)), (Some(OF_THE_FIRST), Some(1)), (Some(OF_THE_FIRST), Some(OF_THE_OTHERS)), (None, None)]
    {
        for (at, (_, rows)) in sections.iter().enumerate() {
            let (Some(count), Some(taken)) = (counts.get_mut(at), taken.get_mut(at)) else { continue };
            let most = if at == 0 { of_the_first } else { of_the_others };
            let more = |count: usize| rows.get(count).filter(|_| most.is_none_or(|most| count < most));
            while let Some(next) = more(*count).map(|row| lines(row)) {
                // What can end the visit goes before room for the rest.
                let even = taken.saturating_add(next) <= OF_A_PART || at == 0 && *count < OF_THE_FIRST;
                if next > left || (*count > 0 && !even) {
                    break;
                }
                left = left.saturating_sub(next);
                *taken = taken.saturating_add(next);
                *count = count.saturating_add(1);
            }
        }
    }
    let cut = |((heading, mut rows), count): (Section, usize)| {
        let more = rows.len().saturating_sub(count);
        rows.truncate(count);
        if more > 0 {
            rows.push(format!("     and {more} more\n"));
        }
        (heading, rows)
    };
    sections.into_iter().zip(counts).map(cut).collect()
}

/// The text, cut behind a word where it is longer than so many characters.
fn cut(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let mut kept = String::new();
    for word in text.split_inclusive(' ') {
        if kept.chars().count().saturating_add(word.chars().count()) > most {
            break;
        }
        kept.push_str(word);
    }
    // A single word may be longer than all there is room for.
    let kept = if kept.is_empty() { text.chars().take(most).collect() } else { kept };
    format!("{} ...", kept.trim_end())
}

fn sections<'a>(audit: &'a Audit, plan: Option<&Plan>, behind: &Behind<'a>, width: usize) -> Vec<Section> {
    let mut sections = Vec::new();
    let mut closing = plan.map_or_else(Vec::new, |plan| closing(plan, width));
    let mut number = 0usize;
    for (part, blocks) in outline(audit) {
        let first = number.saturating_add(1);
        number = number.saturating_add(blocks.len());
        if part >= Part::ToInspect {
            continue;
        }
        if part > Part::Off && !closing.is_empty() {
            sections.push((format!("{}\n", heading_of(Part::Off)), std::mem::take(&mut closing)));
        }
        let mut rows: Vec<String> =
            (first..).zip(&blocks).map(|(number, block)| row((part, plan), number, (block, behind), width)).collect();
        if part == Part::Off {
            rows.append(&mut closing);
        }
        sections.push((format!("{}\n", heading_of(part)), rows));
    }
    if !closing.is_empty() {
        sections.push((format!("{}\n", heading_of(Part::Off)), closing));
    }
    let to_say = to_say(audit, behind, width);
    if !to_say.is_empty() {
        sections.push(("Still to be said\n".to_owned(), to_say));
    }
    sections
}

fn top(audit: &Audit, plan: Option<&Plan>, width: usize) -> String {
    let mut page = Page::new(width);
    let on = Date::parse(&audit.on).ok();
    let today = on.map_or_else(|| audit.on.clone(), days::in_words);
    page.line(0, &format!("{}, {today}. {}", cut(&audit.project, LONGEST_ROW), visit(audit, on)));
    if let Some(waits) = plan.and_then(waits) {
        page.line(0, &cut(&waits, LONGEST_TOP));
    }
    let until = match (&audit.by, &audit.closing) {
        (_, Some(zone)) => format!("{}, before it is closed", phrases::titled(&audit.titles.zones, zone)),
        (Some(by), None) => phrases::looked_at(&audit.titles, by),
        (None, None) => "what is due by any hold point".to_owned(),
    };
    let looked_at = format!("Looked at: {until}. Packs: {}.", phrases::pack_names(&audit.packs));
    page.line(0, &cut(&looked_at, LONGEST_TOP));
    // What was recorded and not judged comes before everything.
    let unjudged: Vec<_> = audit.notices.iter().filter(|notice| notice.is_of_something_not_judged()).collect();
    for notice in unjudged.iter().take(NAMED) {
        let notice = phrases::sentence(&cause_sentences::notice(notice));
        page.hanging(0, 2, &cut(&format!("NOT JUDGED. {notice}"), LONGEST_ROW));
    }
    for notice in audit.notices.iter().filter(|notice| matches!(notice, Notice::NoneUntil(..))).take(NAMED) {
        page.hanging(0, 2, &cut(&phrases::sentence(&cause_sentences::notice(notice)), LONGEST_ROW));
    }
    if let Some(more) = unjudged.len().checked_sub(NAMED).filter(|more| *more > 0) {
        page.line(0, &format!("NOT JUDGED. And {more} more."));
    }
    page.finish()
}

/// `The visit is in 11 days, on Thursday 10 December 2026.`
fn visit(audit: &Audit, on: Option<Date>) -> String {
    let Some(visit) = &audit.visit else { return "No day is recorded for the visit.".to_owned() };
    match (Date::parse(visit), on) {
        (Ok(day), Some(on)) if day < on => format!("The visit was planned for {}.", days::in_words(day)),
        (Ok(day), Some(on)) => format!("The visit is {}, on {}.", days::from_now(day, on), days::in_words(day)),
        _ => format!("The visit is planned for {visit}."),
    }
}

fn row<'a>(
    (part, plan): (Part, Option<&Plan>),
    number: usize,
    (block, behind): (&Block<'a>, &Behind<'a>),
    width: usize,
) -> String {
    let mut page = Page::new(width);
    let findings = block.findings();
    let Some(first) = findings.first() else { return String::new() };
    let text = match block {
        Block::Undone(_) => undone(findings),
        Block::Group(_) => snags(findings, plan).unwrap_or_else(|| one_line(findings)),
    };
    // Elsewhere the heading says it for all.
    let verdict = match part {
        Part::EndsTheVisit | Part::Off => format!("{:<10} ", phrases::verdict_within(first.verdict)),
        _ => String::new(),
    };
    let lead = format!("{number:>3}  {verdict}");
    let indent = lead.chars().count();
    let waiting: usize = findings.iter().map(|finding| behind.later(finding).len()).sum();
    let waiting = match waiting {
        0 => String::new(),
        1 => " (1 waits for it)".to_owned(),
        more => format!(" ({more} wait for it)"),
    };
    page.labelled(0, indent, &lead, &format!("{}{waiting}", cut(&text, LONGEST_ROW)));
    page.finish()
}

/// `2026-11-14 adjusted controls.elevator.pushrod: 4 things to look at again`
fn undone(findings: &[&Finding]) -> String {
    let again = phrases::counted(findings.len(), "thing", "things");
    let entry = findings.first().and_then(|finding| finding.lapses().next()).map(|lapse| &lapse.undone_by);
    entry.map_or_else(String::new, |entry| {
        format!("{} {} {}: {again} to look at again", entry.on, entry.event, entry.subject)
    })
}

/// How many jobs of the builder's own are open.
fn own_jobs(plan: &Plan) -> Option<String> {
    match plan.jobs.iter().filter(|job| job.kind == JobKind::Own).count() {
        0 => None,
        1 => Some("1 job of your own is open: cotterpin next".to_owned()),
        many => Some(format!("{many} jobs of your own are open: cotterpin next")),
    }
}

/// `Snag 2, right brake line chafes, is not cleared`: what was found says more than that it is not cleared.
fn snags(findings: &[&Finding], plan: Option<&Plan>) -> Option<String> {
    let jobs = plan?.jobs.iter().filter(|job| job.kind == JobKind::Snag);
    let titles: BTreeMap<&str, &str> = jobs.map(|job| (job.name.as_str(), job.title.trim_end_matches('.'))).collect();
    let of = |finding: &&Finding| {
        let snag = finding.subject.as_deref()?;
        let open = finding.verdict == Verdict::Unmet;
        open.then(|| Some(format!("{snag}, {},", titles.get(snag)?)))?
    };
    let told: Option<Vec<String>> = findings.iter().map(of).collect();
    let told = told.filter(|told| !told.is_empty())?;
    let is = if told.len() == 1 { "is" } else { "are" };
    Some(phrases::capital(&format!("{} {is} not cleared", told.join(" "))))
}

/// The title, with the records and what is recorded of them.
fn one_line(findings: &[&Finding]) -> String {
    let Some(first) = findings.first() else { return String::new() };
    if first.kind == FindingKind::Removed {
        let parts: Vec<String> = findings.iter().map(|finding| off(finding)).collect();
        return parts.join("; ");
    }
    let title = phrases::title(first);
    let title = title.trim_end_matches('.');
    let mut records: Vec<String> = findings.iter().filter_map(|finding| finding.subject.clone()).take(NAMED).collect();
    if let Some(more) = findings.len().checked_sub(NAMED).filter(|more| *more > 0 && !records.is_empty()) {
        records.push(format!("{more} more"));
    }
    let seen = if findings.len() == 1 { seen(first).or_else(|| lacks(first)) } else { None };
    match (records.is_empty(), seen) {
        (true, None) => title.to_owned(),
        (true, Some(seen)) => format!("{title} ({seen})"),
        (false, None) => format!("{title} ({})", records.join(", ")),
        (false, Some(seen)) => format!("{title} ({}: {seen})", records.join(", ")),
    }
}

/// `Left door check strap, off since 2026-11-21`
fn off(finding: &Finding) -> String {
    let since = finding.missing.iter().find_map(|missing| match &missing.why {
        MissingCause::Off(entry) => Some(entry.on.as_str()),
        _ => None,
    });
    match since {
        Some(on) => format!("{}, off since {on}", finding.title),
        None => finding.title.to_string(),
    }
}

/// Why what is recorded does not show it, where a few words say so.
fn lacks(finding: &Finding) -> Option<String> {
    finding.missing.iter().filter(|_| finding.verdict == Verdict::NotShown).find_map(|missing| match &missing.why {
        MissingCause::TooCoarse(text) => Some(format!("{text} is too coarse")),
        MissingCause::NoEvidence => Some("no file is named".to_owned()),
        MissingCause::NoSuchFile(file) => Some(format!("{file} is not there")),
        MissingCause::Calibration(calibration) => Some(format!("{} out of calibration", calibration.instrument)),
        _ => None,
    })
}

/// What is recorded and decided it, where that is one or two short values.
fn seen(finding: &Finding) -> Option<String> {
    let recorded = |value: &&Observed| value.place.is_some() && matches!(value.value, ObservedValue::Recorded(_));
    let values: Vec<String> = finding
        .leaves()
        .flat_map(|reason| &reason.values)
        .filter(recorded)
        .map(|value| cause_sentences::value(&value.value))
        // A bare yes or no says nothing without its question.
        .filter(|value| !["true", "false"].contains(&value.as_str()))
        .collect();
    let mut distinct = Vec::new();
    for value in &values {
        phrases::push_new(&mut distinct, value.as_str());
    }
    let short = distinct.iter().all(|value| value.chars().count() <= LONGEST_VALUE);
    let said = (1..=2).contains(&distinct.len()) && short && finding.verdict == Verdict::Unmet;
    said.then(|| distinct.join(", "))
}

/// What only waits for somebody to say or log it: one line for each kind, with the command that takes it.
fn to_say<'a>(audit: &'a Audit, behind: &Behind<'a>, width: usize) -> Vec<String> {
    let told = audit.findings.iter().filter(|finding| phrases::is_told(finding) && !behind.waits(finding));
    let told: Vec<&Finding> = told.collect();
    let entries = told.iter().filter(|finding| finding.wants() == Wants::Entry).count();
    let unanswered = Unanswered::of(told.iter().copied());
    let mut rows = Vec::new();
    if entries > 0 {
        let count = phrases::counted(entries, "inspection or test", "inspections or tests");
        rows.push(format!("{count} to make and to log: cotterpin log --help"));
    }
    rows.extend(phrases::unanswered(&unanswered));
    let row = |text: String| {
        let mut page = Page::new(width);
        page.hanging(2, 4, &text);
        page.finish()
    };
    rows.into_iter().map(row).collect()
}

/// Zones that were to be closed, or are about to be, with what is to be done before.
fn closing(plan: &Plan, width: usize) -> Vec<String> {
    let mut zones: BTreeMap<(Date, &str), usize> = BTreeMap::new();
    for job in plan.jobs.iter() {
        if let (Some(day), Some(zone)) = (job.closes, job.zone.as_deref()) {
            let count = zones.entry((day, zone)).or_default();
            *count = count.saturating_add(1);
        }
    }
    let closes = |((day, zone), count): ((Date, &str), usize)| {
        let title = phrases::titled(&plan.titles.zones, zone);
        let (when, jobs) = (days::from_now(day, plan.on), phrases::counted(count, "job", "jobs"));
        let how = if day < plan.on { "was to be closed" } else { "closes" };
        format!("{title} {how} on {day}, {when}: {jobs} in it (cotterpin audit --by close:{zone})")
    };
    let rows = zones.into_iter().map(closes);
    let row = |text: String| {
        let mut page = Page::new(width);
        page.hanging(2, 5, &cut(&text, LONGEST_ROW));
        page.finish()
    };
    rows.map(row).collect()
}

/// What the chain that ends last on the way to the visit waits for.
fn waits(plan: &Plan) -> Option<String> {
    let chain = plan.chain.as_ref()?;
    let first = plan.jobs.get(*chain.jobs.first()?)?;
    let part = first.part.as_ref().filter(|part| part.awaited)?;
    let expected = part.expected.map_or_else(
        || "no day is expected for it".to_owned(),
        |day| format!("expected {}, on {day}", days::from_now(day, plan.on)),
    );
    Some(format!("The way to the visit waits longest for {}, {expected} ({}).", part.part, first.name))
}

fn bottom(audit: &Audit, plan: Option<&Plan>, behind: &Behind<'_>, width: usize) -> String {
    let mut page = Page::new(width);
    let sum = &audit.summary;
    let mut text = String::from("\n");
    if !audit.later.is_empty() {
        let later = audit.later.iter().map(|later| {
            let title = phrases::hold_point(&audit.titles, &later.by);
            format!("{title} {}", later.unmet.saturating_add(later.not_shown))
        });
        page.line(0, &format!("Open later: {}.", later.collect::<Vec<_>>().join(", ")));
        page.gap();
    }
    if let Some(own) = plan.and_then(own_jobs) {
        page.line(0, &own);
        page.gap();
    }
    let (later, not_yet) = match behind.count() {
        0 => (0, String::new()),
        1 => (1, ", 1 not yet (it comes after another)".to_owned()),
        some => (some, format!(", {some} not yet (they come after others)")),
    };
    let aside = if sum.set_aside > 0 { format!(", {} set aside", sum.set_aside) } else { String::new() };
    page.line(
        0,
        &format!(
            "{} unmet, {} not shown{not_yet}, {} conceded, {} met, {} not applicable{aside}.{}",
            sum.unmet,
            sum.not_shown.saturating_sub(later),
            sum.conceded,
            sum.met,
            sum.not_applicable,
            match audit.notices.len() {
                0 => String::new(),
                some => format!(" {} in the whole report.", phrases::counted(some, "remark", "remarks")),
            }
        ),
    );
    page.line(0, "One of them: cotterpin why NUMBER. All of it: cotterpin audit --full.");
    page.line(0, audit.reminder);
    text.push_str(&page.finish());
    text
}
