//! One block of the text report: an open finding, or all open findings of one
//! item that was raised once per record.

use super::cause_sentences;
use super::phrases;
use super::wrap::Page;
use crate::audit::{AddedNeed, Behind, Finding, FindingKind, Held, Lapse, Observed, Reason, Titles};

/// Where labels begin, and how much room they take.
pub(super) const INDENT: usize = 4;
const COLUMN: usize = 12;
/// So many of what stands behind a finding are named.
const NAMED: usize = 3;

/// Findings of one item with one verdict.
pub(super) struct Group<'a> {
    pub(super) findings: Vec<&'a Finding>,
}

impl<'a> Group<'a> {
    pub(super) fn first(&self) -> Option<&'a Finding> {
        self.findings.first().copied()
    }
}

/// Puts findings of the same item and verdict together, in the order in which
/// each item first appears.
pub(super) fn grouped<'a>(findings: &[&'a Finding]) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    let mut places = std::collections::BTreeMap::new();
    for finding in findings {
        let key = (finding.item.as_str(), finding.verdict, finding.added_by.as_deref());
        let next = groups.len();
        let place = *places.entry(key).or_insert(next);
        match groups.get_mut(place) {
            Some(group) => group.findings.push(finding),
            None => groups.push(Group { findings: vec![finding] }),
        }
    }
    groups
}

/// Writes an open block: `UNMET 3. The marks are at least 12 in high`.
pub(super) fn open(page: &mut Page, number: usize, group: &Group<'_>, titles: &Titles) {
    let Some(first) = group.first() else { return };
    page.gap();
    let lead = format!("{} {number}. {}", phrases::verdict(first.verdict), phrases::title(first));
    page.hanging(0, INDENT, &lead);
    label(page, if first.kind == FindingKind::Item { "item" } else { "finding" }, &first.item);
    if let Some(pack) = &first.added_by {
        label(page, "added by", &phrases::added_by(pack, first.basis));
    }
    if let Some(zone) = &first.zone {
        label(page, "where", phrases::titled(&titles.zones, zone));
    }
    if first.stops_the_visit {
        // Those stand together in front, without their hold point above them.
        label(page, "due", phrases::titled(&titles.hold_points, &first.by));
    }
    match group.findings.as_slice() {
        [only] => single(page, only),
        // Each part that is off is a finding of its own.
        many if first.kind == FindingKind::Removed => many.iter().for_each(|one| single(page, one)),
        many => records(page, many),
    }
    common(page, &group.findings);
}

/// What comes before it, and what stands behind it.
pub(super) fn order<'a>(page: &mut Page, group: &Group<'a>, behind: &Behind<'a>) {
    let (mut before, mut later) = (Vec::new(), Vec::new());
    for finding in &group.findings {
        behind.comes_before(finding).into_iter().for_each(|name| phrases::push_new(&mut before, name.to_owned()));
        behind.later(finding).iter().for_each(|one| phrases::push_new(&mut later, one.item.clone()));
    }
    if !before.is_empty() {
        label(page, "after", &phrases::listed(&before));
    }
    if !later.is_empty() {
        label(page, "before", &phrases::named_at_most(later, NAMED));
    }
}

/// What was seen, of one finding.
fn single(page: &mut Page, finding: &Finding) {
    if let Some(subject) = &finding.subject {
        label(page, "record", subject);
    }
    saw(page, finding, finding.leaves());
    for value in &finding.worked_out {
        label(page, "worked out", &phrases::seen(value));
    }
    deferral(page, finding);
}

/// What deciding parts saw, each value and each lapse once; the parts themselves stand in the whole reasoning.
fn saw<'f>(page: &mut Page, finding: &Finding, leaves: impl Iterator<Item = &'f Reason>) {
    let mut told: Vec<(&str, String)> = Vec::new();
    for reason in leaves {
        for value in reason.values.iter().filter(|value| !is_missing(finding, value)) {
            phrases::push_new(&mut told, ("recorded", phrases::seen(value)));
        }
        for lapse in &reason.lapses {
            phrases::push_new(&mut told, ("had been", phrases::told(&lapse.shown)));
            phrases::push_new(&mut told, ("undone by", undone_by(lapse)));
        }
        if let Some(note) = cause_sentences::notes(&reason.notes) {
            phrases::push_new(&mut told, ("because", phrases::sentence(&note)));
        }
    }
    for (what, text) in told {
        label(page, what, &text);
    }
}

/// What undid an entry, and how where that needs a word.
fn undone_by(lapse: &Lapse) -> String {
    let mut text = phrases::told(&lapse.undone_by);
    if let Some(through) = cause_sentences::through(&lapse.through) {
        text.push_str("; ");
        text.push_str(&through);
    }
    text
}

/// The test in flight an item waits for.
fn deferral(page: &mut Page, finding: &Finding) {
    let Some(deferred) = &finding.deferred else { return };
    label(page, "deferred", &format!("to test flying, by {} on {}: {}", deferred.who, deferred.on, deferred.reason));
    label(page, "until then", &phrases::sentence(&deferred.limit));
    label(page, "to be shown", &phrases::sentence(&deferred.test));
    label(page, "result", deferred.result.as_deref().unwrap_or("none recorded yet"));
}

/// Writes findings whose inspections one entry of the log undid: that entry
/// once, then a line for each.
pub(super) fn undone(page: &mut Page, number: usize, findings: &[&Finding]) {
    let Some(lapse) = findings.first().and_then(|finding| finding.lapses().next()) else { return };
    page.gap();
    let lead = format!("NOT SHOWN {number}. Undone by one entry of the log: {}.", phrases::told(&lapse.undone_by));
    page.hanging(0, INDENT, &lead);
    if let Some(note) = &lapse.undone_by.note {
        label(page, "note", &phrases::sentence(note));
    }
    label(page, "concerns", &phrases::counted(findings.len(), "finding", "findings"));
    for finding in findings {
        page.hanging(INDENT, 8, &format!("{}. {}", finding.item, phrases::sentence(&finding.title)));
        for lapse in finding.lapses() {
            page.labelled(8, COLUMN, "had been", &phrases::told(&lapse.shown));
        }
        if let Some(through) = finding.lapses().find_map(|lapse| cause_sentences::through(&lapse.through)) {
            page.labelled(8, COLUMN, "because", &phrases::sentence(&through));
        }
        for note in finding.leaves().filter_map(|reason| cause_sentences::notes(&reason.notes)) {
            page.labelled(8, COLUMN, "besides", &phrases::sentence(&note));
        }
        for source in &finding.sources {
            page.labelled(8, COLUMN, "source", &phrases::cited(source));
        }
        page.labelled(8, COLUMN, "standing", phrases::basis(finding.basis));
        for missing in &finding.missing {
            page.labelled(8, COLUMN, "missing", &phrases::missing(missing));
        }
        if let Some((label, words)) = phrases::to_do(finding) {
            page.labelled(8, COLUMN, label, words);
        }
        if let Some(caution) = &finding.caution {
            page.labelled(8, COLUMN, "CAUTION", caution);
        }
    }
}

/// In how many places, then a paragraph for each record.
fn records(page: &mut Page, findings: &[&Finding]) {
    label(page, "in", &phrases::counted(findings.len(), "place", "places"));
    for finding in findings {
        let subject = finding.subject.as_deref().unwrap_or("(no name)");
        page.hanging(INDENT, 8, &format!("{subject}. {}", record(finding)));
    }
}

/// One record in a sentence or two.
fn record(finding: &Finding) -> String {
    let mut parts = Vec::new();
    for reason in finding.leaves() {
        for value in reason.values.iter().filter(|value| !is_missing(finding, value)) {
            phrases::push_new(&mut parts, format!("{}.", phrases::seen(value)));
        }
        for lapse in &reason.lapses {
            phrases::push_new(
                &mut parts,
                format!("Had been {}; undone by {}.", phrases::told(&lapse.shown), undone_by(lapse)),
            );
        }
        if let Some(note) = cause_sentences::notes(&reason.notes) {
            phrases::push_new(&mut parts, phrases::sentence(&note));
        }
    }
    if let Some(deferred) = &finding.deferred {
        let result = deferred.result.as_deref().unwrap_or("none recorded yet");
        parts.push(format!(
            "Deferred to test flying: {} Result: {}",
            phrases::sentence(&deferred.test),
            phrases::sentence(result)
        ));
    }
    for value in &finding.worked_out {
        phrases::push_new(&mut parts, format!("Worked out {}.", phrases::seen(value)));
    }
    for missing in &finding.missing {
        let why = match cause_sentences::missing_cause(&missing.why) {
            why if why.is_empty() => "not recorded".to_owned(),
            why => why,
        };
        phrases::push_new(&mut parts, format!("Missing {}, {why}.", missing.fact));
    }
    parts.extend(finding.notes.iter().map(|remark| phrases::sentence(&cause_sentences::remark(remark))));
    parts.join(" ")
}

/// Whether the value is told as missing, so that it need not be told as seen.
fn is_missing(finding: &Finding, value: &Observed) -> bool {
    value.place.is_none() && finding.missing.iter().any(|missing| missing.fact == value.name)
}

/// What all findings of a block share: questions, sources, what to do, caution.
fn common(page: &mut Page, findings: &[&Finding]) {
    let alone = findings.len() == 1;
    let mut missing = Vec::new();
    let mut notes = Vec::new();
    for finding in findings {
        for fact in &finding.missing {
            phrases::push_new(&mut missing, phrases::missing(fact));
        }
        if alone {
            notes.extend(finding.notes.iter().map(cause_sentences::remark));
        }
    }
    for fact in missing {
        label(page, "missing", &fact);
    }
    for note in notes {
        label(page, "note", &phrases::sentence(&note));
    }
    if let Some(first) = findings.first() {
        rest(page, first);
    }
    added(page, findings);
}

/// What other packs added and what is open of it, each with its own word.
fn added(page: &mut Page, findings: &[&Finding]) {
    let mut told: Vec<(&AddedNeed, Vec<&Reason>)> = Vec::new();
    let open = |one: &&AddedNeed| one.held != Held::True;
    for need in findings.iter().flat_map(|finding| finding.added.iter().filter(open)) {
        let same = |(other, _): &&mut (&AddedNeed, Vec<&Reason>)| {
            (&other.pack, &other.sources, &other.check, &other.remedy)
                == (&need.pack, &need.sources, &need.check, &need.remedy)
        };
        match told.iter_mut().find(same) {
            Some((_, reasons)) => need.because.iter().for_each(|reason| phrases::push_new(reasons, reason)),
            None => told.push((need, need.because.iter().collect())),
        }
    }
    for (need, reasons) in told {
        label(page, "added", &format!("by the pack `{}`, standing: {}", need.pack, phrases::basis(need.basis)));
        if let Some(first) = findings.first() {
            saw(page, first, reasons.iter().flat_map(|reason| reason.leaves()));
        }
        for source in &need.sources {
            label(page, "source", &phrases::cited(source));
        }
        last(page, phrases::to_do_of_need(need), need.caution.as_deref());
    }
}

/// Sources, kind of word, what to do and caution of an item.
fn rest(page: &mut Page, finding: &Finding) {
    for source in &finding.sources {
        label(page, "source", &phrases::cited(source));
    }
    label(page, "standing", phrases::basis(finding.basis));
    last(page, phrases::to_do(finding), finding.caution.as_deref());
}

fn last(page: &mut Page, to_do: Option<(&'static str, &str)>, caution: Option<&str>) {
    if let Some((what, words)) = to_do {
        label(page, what, words);
    }
    if let Some(caution) = caution {
        label(page, "CAUTION", caution);
    }
}

pub(super) fn label(page: &mut Page, label: &str, text: &str) {
    page.labelled(INDENT, COLUMN, label, text);
}

/// Writes a conceded finding.
pub(super) fn conceded(page: &mut Page, finding: &Finding) {
    heading(page, finding);
    if let Some(concession) = &finding.concession {
        label(page, "reason", &phrases::sentence(&concession.reason));
        label(page, "granted by", &by_whom(&concession.granted_by, &concession.role));
        label(page, "from", &format!("{}, until {}", concession.on, concession.until));
        label(page, "instead of", phrases::verdict_within(concession.instead_of));
    }
    saw(page, finding, finding.leaves());
    for remark in &finding.notes {
        label(page, "note", &phrases::sentence(&cause_sentences::remark(remark)));
    }
    rest(page, finding);
    added(page, &[finding]);
}

/// Writes a finding that another pack set aside.
pub(super) fn set_aside(page: &mut Page, finding: &Finding) {
    page.gap();
    page.hanging(0, INDENT, &format!("SET ASIDE. {}", phrases::sentence(&finding.title)));
    label(page, "item", &finding.item);
    if let Some(subject) = &finding.subject {
        label(page, "record", subject);
    }
    for aside in &finding.set_aside {
        label(page, "by pack", &aside.pack);
        label(page, "reason", &phrases::sentence(&aside.because));
        if let Some(basis) = aside.basis {
            label(page, "its kind", phrases::basis(basis));
        }
        for source in &aside.sources {
            label(page, "its source", &phrases::cited(source));
        }
    }
    if let Some(aside) = finding.set_aside.first() {
        label(page, "instead of", phrases::verdict_within(aside.instead_of));
        if !aside.silenced.is_empty() {
            let packs: Vec<String> = aside.silenced.iter().map(ToString::to_string).collect();
            label(page, "and with it", &format!("what {} added to it", phrases::listed(&packs)));
        }
    }
    for remark in &finding.notes {
        label(page, "note", &phrases::sentence(&cause_sentences::remark(remark)));
    }
    rest(page, finding);
}

fn heading(page: &mut Page, finding: &Finding) {
    page.gap();
    let lead = format!("{}. {}", phrases::verdict(finding.verdict), phrases::sentence(&finding.title));
    page.hanging(0, INDENT, &lead);
    label(page, "item", &finding.item);
    if let Some(pack) = &finding.added_by {
        label(page, "added by", &phrases::added_by(pack, finding.basis));
    }
    if let Some(subject) = &finding.subject {
        label(page, "record", subject);
    }
}

fn by_whom(name: &str, role: &str) -> String {
    if role.is_empty() { name.to_owned() } else { format!("{name}, {}", phrases::role(role)) }
}
