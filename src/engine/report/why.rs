//! One item's whole reasoning, in sentences.

use super::cause_sentences;
use super::phrases;
use super::wrap::Page;
use crate::audit::{Audit, Behind, Clause, Finding, FindingKind, Held, Join, Missing, MissingKind, Reason};
use crate::vocabulary::{Mark, Verdict};

/// Why each of `findings` came out as it did, no line wider than `width`
/// characters (at least 40). The reminder ends it.
#[must_use]
pub fn why(audit: &Audit, findings: &[&Finding], width: usize) -> String {
    let mut page = Page::new(width);
    let behind = audit.behind();
    for finding in findings {
        page.gap();
        verdict(&mut page, audit, finding);
        what_to_do(&mut page, finding);
        missing(&mut page, finding);
        reasons(&mut page, finding);
        around(&mut page, audit, finding);
        order(&mut page, finding, &behind);
        added(&mut page, finding);
    }
    page.gap();
    page.line(0, audit.reminder);
    page.finish()
}

fn verdict(page: &mut Page, audit: &Audit, finding: &Finding) {
    let of = finding.subject.as_ref().map_or_else(String::new, |subject| format!(", for {subject}"));
    page.hanging(0, 4, &format!("{}{of}", finding.item));
    page.line(4, &phrases::title(finding));
    page.gap();
    page.hanging(0, 4, &format!("{} on {}.", phrases::verdict(finding.verdict), audit.on));
    if let Some(concession) = &finding.concession {
        let (instead, who) = (phrases::verdict_within(concession.instead_of), &concession.granted_by);
        let text = format!(
            "It would be {instead}, but {who} ({}) gave leave from {} until {}: {}",
            phrases::role(&concession.role),
            concession.on,
            concession.until,
            phrases::sentence(&concession.reason)
        );
        page.line(4, &text);
    }
    for aside in &finding.set_aside {
        let instead = phrases::verdict_within(aside.instead_of);
        let reason = phrases::sentence(&aside.because);
        page.line(4, &format!("Pack {} set it aside; it would be {instead}. Its reason: {reason}", aside.pack));
        for source in &aside.sources {
            page.hanging(4, 8, &format!("Its source: {}.", phrases::cited(source)));
        }
        if let Some(basis) = aside.basis {
            page.line(4, &format!("That is {}.", phrases::basis(basis)));
        }
        for pack in &aside.silenced {
            page.line(4, &format!("What the pack {pack} added to it is silenced with it."));
        }
    }
    if let Some(pack) = &finding.added_by {
        page.line(4, &format!("It was added by {}.", phrases::added_by(pack, finding.basis)));
    }
    if let Some(deferred) = &finding.deferred {
        let (who, on, reason) = (&deferred.who, &deferred.on, phrases::sentence(&deferred.reason));
        page.line(4, &format!("Deferred to test flying by {who} on {on}: {reason}"));
        page.line(4, &format!("Until then: {}", phrases::sentence(&deferred.limit)));
        page.line(4, &format!("The test: {}", phrases::sentence(&deferred.test)));
        let result = deferred.result.as_deref().unwrap_or("none recorded yet");
        page.line(4, &format!("Its result: {}", phrases::sentence(result)));
    }
    for remark in &finding.notes {
        page.line(4, &phrases::sentence(&cause_sentences::remark(remark)));
    }
    page.gap();
}

fn reasons(page: &mut Page, finding: &Finding) {
    match finding.kind {
        FindingKind::WholeList => {
            page.line(0, "It waits for somebody's word:");
            for one in &finding.waiting {
                let of = one.subject.as_ref().map_or_else(String::new, |subject| format!(", for {subject}"));
                page.hanging(4, 8, &format!("{}{of}", one.item));
            }
        }
        FindingKind::Item if finding.because.is_empty() => page.line(0, "No part of its condition was looked at."),
        FindingKind::Item => page.line(0, "How it was decided:"),
        FindingKind::Removed => {}
    }
    for reason in &finding.because {
        part(page, 0, reason);
    }
    for value in &finding.worked_out {
        page.hanging(0, 4, &format!("Worked out: {}.", phrases::seen(value)));
    }
    page.gap();
}

/// What other packs added, each with its own word.
fn added(page: &mut Page, finding: &Finding) {
    for need in &finding.added {
        page.line(0, &format!("Added by the pack `{}`, standing: {}.", need.pack, phrases::basis(need.basis)));
        for reason in &need.because {
            part(page, 0, reason);
        }
        for source in &need.sources {
            page.hanging(0, 4, &format!("Source: {}.", phrases::cited(source)));
        }
        if is_open(finding) {
            to_do(page, need.held != Held::False, need.check.as_deref(), need.remedy.as_deref());
        }
        if let Some(caution) = &need.caution {
            page.hanging(0, 4, &format!("CAUTION: {}", phrases::sentence(caution)));
        }
        page.gap();
    }
}

fn part(page: &mut Page, indent: usize, reason: &Reason) {
    let asks = if reason.clause == Clause::When { "Applies if" } else { "Needed" };
    let lead = if indent > 0 { "" } else { asks };
    let (within, beyond) = (indent.saturating_add(4), indent.saturating_add(8));
    let lead = if lead.is_empty() { String::new() } else { format!("{lead}: ") };
    page.hanging(indent, within, &format!("{lead}{}", reason.expression));
    let held = phrases::capital(phrases::held(&reason.held));
    match reason.join {
        Some(Join::Any) => page.line(within, &format!("{held}. There is more than one way; each wants this at least:")),
        Some(Join::All) => page.line(within, &format!("{held}. All of these are needed for it:")),
        None => page.line(within, &format!("{held}.")),
    }
    for value in &reason.values {
        page.hanging(within, beyond, &format!("{}.", phrases::seen(value)));
    }
    for lapse in &reason.lapses {
        page.hanging(within, beyond, &format!("No longer counts: {}.", phrases::told(&lapse.shown)));
        page.hanging(within, beyond, &format!("Undone by: {}.", phrases::told(&lapse.undone_by)));
        if let Some(through) = cause_sentences::through(&lapse.through) {
            page.hanging(within, beyond, &format!("For {}.", through.replace("; ", ", and ")));
        }
    }
    if let Some(note) = cause_sentences::notes(&reason.notes) {
        page.line(within, &phrases::sentence(&phrases::capital(&note)));
    }
    for one in &reason.parts {
        part(page, within, one);
    }
}

/// Whether there is something to do about it.
fn is_open(finding: &Finding) -> bool {
    !matches!(finding.verdict, Verdict::Met | Verdict::NotApplicable | Verdict::SetAside)
}

fn missing(page: &mut Page, finding: &Finding) {
    if finding.missing.is_empty() {
        return;
    }
    page.line(0, "These answers would help to decide:");
    for fact in &finding.missing {
        page.hanging(4, 8, &phrases::missing(fact));
    }
    if finding.verdict == Verdict::NotShown && finding.missing.iter().any(is_asked) {
        page.hanging(0, 4, &format!("To give them: cotterpin ask --about {}", finding.item));
    }
    page.gap();
}

/// Whether `cotterpin ask` asks for it.
fn is_asked(missing: &Missing) -> bool {
    matches!(missing.kind, MissingKind::Fact | MissingKind::List | MissingKind::Whole | MissingKind::Confirmation)
}

fn around(page: &mut Page, audit: &Audit, finding: &Finding) {
    for source in &finding.sources {
        let practice = source.mark == Mark::CommonPractice;
        let title = if practice || source.title.is_empty() { String::new() } else { format!(": {}", source.title) };
        page.hanging(0, 4, &format!("Source: {}{title}.", phrases::cited(source)));
    }
    page.hanging(0, 4, &format!("Standing: {}.", phrases::basis(finding.basis)));
    page.hanging(0, 4, &format!("Due: {}.", phrases::titled(&audit.titles.hold_points, &finding.by)));
    if let Some(zone) = &finding.zone {
        page.hanging(0, 4, &format!("Where to look: {}.", phrases::titled(&audit.titles.zones, zone)));
    }
    if finding.stops_the_visit && is_open(finding) {
        page.line(0, "While it is open it can end the visit before it begins.");
    }
    page.gap();
}

/// What comes before it, and what stands behind it.
fn order<'a>(page: &mut Page, finding: &'a Finding, behind: &Behind<'a>) {
    if let Some(name) = behind.comes_before(finding) {
        page.hanging(0, 4, &format!("First comes {name}, which is open."));
        page.gap();
    }
    let later = behind.later(finding);
    // A list says above what waits for it.
    if later.is_empty() || finding.kind == FindingKind::WholeList {
        return;
    }
    page.line(0, "Behind it wait:");
    for one in later {
        let of = one.subject.as_ref().map_or_else(String::new, |subject| format!(", for {subject}"));
        page.hanging(4, 8, &format!("{}{of}", one.item));
    }
    page.gap();
}

fn what_to_do(page: &mut Page, finding: &Finding) {
    if is_open(finding) {
        to_do(page, finding.verdict == Verdict::NotShown, finding.check.as_deref(), finding.remedy.as_deref());
    }
    if let Some(caution) = &finding.caution {
        page.hanging(0, 4, &format!("CAUTION: {}", phrases::sentence(caution)));
    }
    page.gap();
}

/// How to find out, where nothing shows it either way, and what to do if it is not so.
fn to_do(page: &mut Page, open: bool, check: Option<&str>, remedy: Option<&str>) {
    let check = check.filter(|_| open);
    if let Some(check) = check {
        page.hanging(0, 4, &format!("How to find out: {}", phrases::sentence(check)));
    }
    if let Some(remedy) = remedy {
        let when = if open { "If it is not so" } else { "What to do" };
        page.hanging(0, 4, &format!("{when}: {}", phrases::sentence(remedy)));
    }
}
