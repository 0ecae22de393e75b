//! The report as SARIF, the format in which programs that look for faults tell
//! what they found: OASIS, Static Analysis Results Interchange Format 2.1.0.
//!
//! Every finding is one result, in the audit's order. `ruleId` is the item's
//! full name; `properties` has `item` and `subject` as the JSON report has them.
//!
//! | verdict | `kind` | why, by the definitions of section 3.27.9 |
//! |---|---|---|
//! | met | `pass` | evaluated, and no problem was found |
//! | unmet | `fail` | a problem: `level` is `error` where it can end the visit, otherwise `warning` |
//! | not shown | `open` | evaluated, and there was not enough information to decide. Not `review`: that leaves the decision to the reader of the result, while here a value, a signature or somebody's word is missing, and recording it decides |
//! | not applicable | `notApplicable` | it does not apply to what was looked at |
//! | conceded | that of the verdict without the leave | leave makes nothing met: the result stays a `fail` (or `open`), with an accepted `suppression` that says why, by whom and until when |
//! | set aside | that of the verdict it would have had | the same, with one `suppression` for each pack that set it aside |
//!
//! So the results that are not suppressed count as the summary does, by kind.
//! `suppressions` is there for every result, as section 3.27.23 asks.
//!
//! The first recorded value that was looked at is the result's location, what
//! else was looked at, and what undid it, its related locations: a result has
//! several locations only if each of them must be changed (3.27.12). Their
//! `uri` is relative to the folder of the project, `PROJECT`. Against an audit
//! that was kept, every result has its `baselineState`; what is there no more
//! is `absent`.
//!
//! `partialFingerprints` has one entry, `cotterpinFinding/v1`: the item's full
//! name, and the record's in brackets. What is recorded and does not count is
//! told by `invocations[].toolExecutionNotifications[]`, and so is the reminder
//! of who has the final say, which also stands in the properties of the run.

use super::cause_sentences;
use super::lines::{self, Lines, key};
use super::phrases;
use super::since;
use crate::audit::{Audit, EntryRef, Finding, FindingKind, MissingCause, Notice, Observed};
use crate::history::{Class, ENGINE, Gone, Standing};
use crate::source::Place;
use crate::vocabulary::Verdict;
use serde_json::{Map, Value, json};

/// Where the standard publishes its schema.
const SCHEMA: &str = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

/// The symbol for the project's folder, which paths are relative to.
const PROJECT: &str = "PROJECT";

/// Names of notifications, in the order in which the driver describes them.
const NOTIFICATIONS: [(&str, &str); 5] = [
    ("reminder", "Who has the final say."),
    ("not-read", "A file that may hold something recorded was not read."),
    ("does-not-count", "Something recorded does not count."),
    ("nothing-judged", "No item concerns the aircraft."),
    ("another-project", "The audit that was kept is of another project."),
];

/// The audit as SARIF 2.1.0, with a line end. With `standing`, every result
/// says how it stands against the audit that was kept.
///
/// Source: OASIS Standard, Static Analysis Results Interchange Format (SARIF)
/// Version 2.1.0 Plus Errata 01, 28 August 2023.
#[must_use]
pub fn sarif(audit: &Audit, standing: Option<&Standing>) -> String {
    let gone: &[Gone] = standing.map_or(&[], |standing| &standing.gone);
    let rules = Rules::of(audit, gone);
    let state = |at: usize| standing.map(|standing| standing.classes.get(at).map_or("new", |class| state(*class)));
    let found = audit.findings.iter().enumerate().map(|(at, finding)| result(&rules, finding, state(at)));
    let results: Vec<Value> = found.chain(gone.iter().map(|gone| absent(&rules, gone))).collect();
    let log = json!({
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": driver(rules.described), "extensions": extensions(audit) },
            "language": "en",
            "invocations": [invocation(audit, standing)],
            "originalUriBaseIds": { PROJECT: { "description": { "text": "The folder of the project." } } },
            "columnKind": "unicodeCodePoints",
            "results": results,
            "properties": {
                "project": audit.project,
                "on": audit.on,
                "visit": audit.visit,
                "by": audit.by,
                "closing": audit.closing,
                "recorded": audit.recorded,
                "summary": audit.summary,
                "since": standing.map(|standing| &standing.since),
                "reminder": audit.reminder,
            },
        }],
    });
    format!("{log:#}\n")
}

/// Section 3.27.24.
fn state(class: Class) -> &'static str {
    match class {
        Class::New => "new",
        Class::Unchanged => "unchanged",
        Class::Gone => "absent",
        Class::Worse | Class::Better | Class::Otherwise | Class::Stirred => "updated",
    }
}

fn driver(rules: Vec<Value>) -> Value {
    let described = |(id, text): (&str, &str)| json!({ "id": id, "shortDescription": { "text": text } });
    json!({
        "name": "cotterpin",
        "version": ENGINE,
        "shortDescription": { "text": "Audits an amateur-built aircraft before the authority's inspector does." },
        "notifications": NOTIFICATIONS.map(described),
        "rules": rules,
    })
}

/// The packs, with their editions. Their rules stand with the driver, where every reader looks.
fn extensions(audit: &Audit) -> Vec<Value> {
    let extension = |pack: &crate::ir::Pack| {
        json!({
            "name": pack.name,
            "fullName": pack.title,
            "version": pack.edition,
            "properties": {
                "authority": pack.authority,
                "scope": pack.scope,
                "not_covered": pack.not_covered,
                "uses": pack.uses,
                "digest": pack.digest,
            },
        })
    };
    audit.packs.iter().map(extension).collect()
}

/// The rules of an audit, each item once, in the order in which they first appear.
struct Rules<'a> {
    /// The place of each among the rules, by the item's full name.
    places: std::collections::BTreeMap<&'a str, usize>,
    described: Vec<Value>,
}

impl<'a> Rules<'a> {
    fn of(audit: &'a Audit, gone: &'a [Gone]) -> Self {
        let mut firsts: Vec<&Finding> = Vec::new();
        let mut places = std::collections::BTreeMap::new();
        for finding in &audit.findings {
            let next = firsts.len();
            let place = *places.entry(finding.item.as_str()).or_insert(next);
            match firsts.get_mut(place) {
                None => firsts.push(finding),
                // Where another pack's need is told of first, sources and remedy are that pack's.
                Some(first) if first.added_by.is_some() && finding.added_by.is_none() => *first = finding,
                Some(_) => {}
            }
        }
        let mut described: Vec<Value> = firsts.into_iter().map(rule).collect();
        for gone in gone {
            let next = described.len();
            if *places.entry(gone.item.as_str()).or_insert(next) == next {
                described.push(rule_of_then(gone));
            }
        }
        Self { places, described }
    }
}

fn rule(finding: &Finding) -> Value {
    let title = match finding.kind {
        FindingKind::Removed => "Every part that was taken off is back.".to_owned(),
        FindingKind::Item | FindingKind::WholeList => phrases::title(finding),
    };
    let mut help: Vec<String> = finding.check.iter().map(|check| phrases::sentence(check)).collect();
    help.extend(finding.remedy.iter().map(|remedy| format!("If it is not so: {}", phrases::sentence(remedy))));
    help.extend(finding.caution.iter().map(|caution| format!("CAUTION: {}", phrases::sentence(caution))));
    help.extend(Lines::of(finding).sources.iter().map(|source| format!("Written in: {source}.")));
    json!({
        "id": finding.item,
        "shortDescription": { "text": message(&title) },
        "help": { "text": message(&help.join("\n")) },
        "defaultConfiguration": { "level": level(finding.stops_the_visit) },
        "properties": { "basis": finding.basis, "system": finding.system, "zone": finding.zone },
    })
}

fn rule_of_then(gone: &Gone) -> Value {
    json!({
        "id": gone.item,
        "shortDescription": { "text": message(&phrases::title_of(&gone.item, &gone.title)) },
        "help": { "text": "It was asked in the audit that was kept, and is asked no more." },
        "defaultConfiguration": { "level": level(gone.stops_the_visit) },
    })
}

/// The severity of a problem (3.27.10).
fn level(stops_the_visit: bool) -> &'static str {
    if stops_the_visit { "error" } else { "warning" }
}

/// Kind and level of a verdict that nobody gave leave for.
fn kind(verdict: Verdict, stops_the_visit: bool) -> (&'static str, &'static str) {
    match verdict {
        Verdict::Met => ("pass", "none"),
        Verdict::Unmet => ("fail", level(stops_the_visit)),
        Verdict::NotApplicable => ("notApplicable", "none"),
        // Of leave nothing more is known here than that it was not met.
        Verdict::NotShown | Verdict::Conceded | Verdict::SetAside => ("open", "none"),
    }
}

/// Leave, with its reason: kept outside of what was looked at, and given (3.35).
fn suppression(reason: &str) -> Value {
    json!({ "kind": "external", "status": "accepted", "justification": reason })
}

fn result(rules: &Rules<'_>, finding: &Finding, state: Option<&str>) -> Value {
    let leave = finding.concession.as_ref().filter(|_| finding.verdict == Verdict::Conceded);
    let aside = finding.set_aside.iter().filter(|_| finding.verdict == Verdict::SetAside);
    let without = leave.map(|leave| leave.instead_of).or_else(|| aside.clone().next().map(|aside| aside.instead_of));
    let (kind, level) = kind(without.unwrap_or(finding.verdict), finding.stops_the_visit);
    let reasons = leave.map(lines::conceded).into_iter().chain(aside.map(lines::set_aside));
    let suppressions: Vec<Value> = reasons.map(|reason| suppression(&reason)).collect();
    let mut places = places(finding).into_iter().map(location);
    let locations: Vec<Value> = places.by_ref().take(1).collect();
    let mut result = json!({
        "ruleId": finding.item,
        "ruleIndex": rules.places.get(finding.item.as_str()),
        "kind": kind,
        "level": level,
        "message": { "text": message(&said(finding)) },
        "locations": locations,
        "relatedLocations": places.collect::<Vec<_>>(),
        "partialFingerprints": fingerprint(&finding.item, finding.subject.as_deref()),
        "suppressions": suppressions,
        "properties": {
            "kind": finding.kind,
            "item": finding.item,
            "subject": finding.subject,
            "verdict": finding.verdict,
            "title": lines::title(finding),
            "by": finding.by,
            "zone": finding.zone,
            "system": finding.system,
            "basis": finding.basis,
            "added_by": finding.added_by,
            "stops_the_visit": finding.stops_the_visit,
            "missing": finding.missing.iter().map(|missing| &missing.fact).collect::<Vec<_>>(),
            "waits_for": finding.waits_for,
        },
    });
    with_state(&mut result, state);
    result
}

/// A finding of the audit that was kept, which is there no more, as it was then.
fn absent(rules: &Rules<'_>, gone: &Gone) -> Value {
    let (kind, level) = kind(gone.was, gone.stops_the_visit);
    let leave = matches!(gone.was, Verdict::Conceded | Verdict::SetAside);
    let title = phrases::title_of(&gone.item, &gone.title);
    let said = format!("No longer asked; it was {}: {title}", phrases::verdict_within(gone.was));
    let suppressions: Vec<Value> = leave.then(|| suppression("See the audit that was kept.")).into_iter().collect();
    let mut result = json!({
        "ruleId": gone.item,
        "ruleIndex": rules.places.get(gone.item.as_str()),
        "kind": kind,
        "level": level,
        "message": { "text": message(&said) },
        "locations": [],
        "partialFingerprints": fingerprint(&gone.item, gone.subject.as_deref()),
        "suppressions": suppressions,
        "properties": {
            "item": gone.item,
            "subject": gone.subject,
            "verdict": gone.was,
            "title": gone.title,
            "by": gone.by,
            "stops_the_visit": gone.stops_the_visit,
        },
    });
    with_state(&mut result, Some("absent"));
    result
}

fn with_state(result: &mut Value, state: Option<&str>) {
    if let (Some(fields), Some(state)) = (result.as_object_mut(), state) {
        fields.insert("baselineState".to_owned(), state.into());
    }
}

fn fingerprint(item: &str, subject: Option<&str>) -> Value {
    json!({ "cotterpinFinding/v1": key(item, subject) })
}

/// The verdict and what is so when it is met, then a line for each thing there is to say.
fn said(finding: &Finding) -> String {
    let verdict = phrases::capital(phrases::verdict_within(finding.verdict));
    format!("{verdict}: {}\n{}", phrases::title(finding), lines::text(finding).trim_end())
}

/// A text as a message may hold it: braces stand twice, for one begins a
/// placeholder (3.11.5), and nothing reads as a link (3.11.6).
fn message(text: &str) -> String {
    text.replace('{', "{{").replace('}', "}}").replace("](", "] (")
}

/// Every place of a finding with what stands there: the recorded values that
/// were looked at, then what undid them.
fn places(finding: &Finding) -> Vec<(&Place, String)> {
    let mut places: Vec<(&Place, String)> = Vec::new();
    let mut add = |place, said: String| {
        if !places.iter().any(|(known, _)| *known == place) {
            places.push((place, said));
        }
    };
    let values = finding.leaves().flat_map(|reason| &reason.values).chain(&finding.worked_out);
    let recorded = |seen: &'_ Observed| format!("{}: {}", seen.name, cause_sentences::value(&seen.value));
    values.filter_map(|seen| Some((seen.place.as_ref()?, recorded(seen)))).for_each(|(place, said)| add(place, said));
    for lapse in finding.lapses() {
        add(&lapse.shown.place, phrases::told(&lapse.shown));
        add(&lapse.undone_by.place, phrases::told(&lapse.undone_by));
    }
    for EntryRef { event, subject, on, place } in finding.missing.iter().filter_map(|missing| entry(&missing.why)) {
        add(place, format!("{event} {subject}, {on}"));
    }
    places.retain(|(place, _)| !place.file.is_empty());
    places
}

/// The entry of the log for which something is wanted again.
fn entry(why: &MissingCause) -> Option<&EntryRef> {
    match why {
        MissingCause::WholeBefore(entry)
        | MissingCause::WholeUndone(entry)
        | MissingCause::Undone(entry)
        | MissingCause::Undated(entry)
        | MissingCause::Off(entry)
        | MissingCause::UnclearSince(entry) => Some(entry),
        _ => None,
    }
}

/// Sections 3.28 to 3.30: lines and columns count from one.
fn location((place, said): (&Place, String)) -> Value {
    let mut physical = Map::new();
    physical.insert("artifactLocation".to_owned(), artifact(&place.file));
    if place.line > 0 {
        let mut region = json!({ "startLine": place.line, "startColumn": place.column.max(1) });
        // Both count the column after the last character (3.30.8).
        if let Some(region) = region.as_object_mut().filter(|_| place.end_line > 0 && place.end_column > 0) {
            region.insert("endLine".to_owned(), place.end_line.into());
            region.insert("endColumn".to_owned(), place.end_column.into());
        }
        physical.insert("region".to_owned(), region);
    }
    json!({ "physicalLocation": physical, "message": { "text": message(&said) } })
}

/// Section 3.4: a path below the project's folder is a relative reference.
fn artifact(file: &str) -> Value {
    match file.strip_prefix('/') {
        None => json!({ "uri": uri(file), "uriBaseId": PROJECT }),
        Some(_) => json!({ "uri": format!("file://{}", uri(file)) }),
    }
}

/// A path as part of a URI (RFC 3986, sections 2.1 and 2.3): what is neither
/// unreserved nor a slash is written as its bytes.
fn uri(path: &str) -> String {
    let mut uri = String::with_capacity(path.len());
    for byte in path.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => uri.push(char::from(byte)),
            _ => uri.push_str(&format!("%{byte:02X}")),
        }
    }
    uri
}

/// Section 3.20. The day that was judged is not the time at which it was done, which nobody is asked for.
fn invocation(audit: &Audit, standing: Option<&Standing>) -> Value {
    let status = audit.exit_status();
    let means = match status {
        0 => "Nothing is unmet or not shown.",
        1 => "Something is unmet.",
        2 => "Nothing is unmet, something is not shown.",
        _ => "Nothing was evaluated, or something recorded was not judged.",
    };
    let mut notifications: Vec<Value> = audit.notices.iter().map(notice).collect();
    if let Some(other) = standing.and_then(|standing| standing.of_another.as_deref()) {
        notifications.push(notification("another-project", "warning", &since::of_another(other)));
    }
    if !audit.was_evaluated() {
        notifications.push(notification("nothing-judged", "error", "No item of the packs concerns this aircraft."));
    }
    notifications.push(notification("reminder", "note", audit.reminder));
    json!({
        "executionSuccessful": status < 3,
        "exitCode": status,
        "exitCodeDescription": means,
        "toolExecutionNotifications": notifications,
        "properties": { "on": audit.on },
    })
}

fn notice(notice: &Notice) -> Value {
    let (name, level) = match notice {
        // By section 3.20.21 an error says that the results are not complete.
        Notice::FileNotRead(_) | Notice::ValueNotRead(..) => ("not-read", "error"),
        _ => ("does-not-count", "warning"),
    };
    notification(name, level, &cause_sentences::notice(notice))
}

fn notification(name: &str, level: &str, said: &str) -> Value {
    let index = NOTIFICATIONS.iter().position(|(known, _)| *known == name);
    json!({
        "descriptor": { "id": name, "index": index },
        "level": level,
        "message": { "text": message(said) },
    })
}
