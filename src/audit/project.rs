//! A whole audit: every item judged, explained where it is open, counted,
//! put in order.

use super::explain::Explanation;
use super::finding::{
    Audit, Cited, Conceded, Deferred, Finding, Missing, Question, REMINDER, Reason, Seen, SetAside, Summary, Titles,
    Verdict,
};
use super::judge::{Judge, Judged};
use crate::measure::Date;
use crate::program::Frame;
use crate::record::{Record, Value};
use crate::rules::{Aside, Cite, Item, ItemId, Rules, Titled};
use crate::source::{Sources, Span};
use std::collections::BTreeMap;

/// What to audit.
#[derive(Debug, Clone)]
pub struct Request {
    /// The project's name.
    pub project: String,
    /// The audit date.
    pub on: Date,
    /// Only items due by this hold point.
    pub by: Option<String>,
    /// Only items of this zone, which is about to be closed, and of zones it lies in or that lie in it: due by any
    /// hold point, as they will be out of reach.
    pub closing: Option<String>,
}

/// The hold point at which an item is due: its own, or that of the test it is deferred to.
fn due(judge: &Judge<'_>, item: &Item, judged: &Judged) -> usize {
    let deferral = judged.deferral.and_then(|at| judge.record.deferrals.get(at));
    let later = deferral.and_then(|one| judge.rules.hold_points.iter().position(|point| point.name == one.by));
    later.map_or(item.by, |later| later.max(item.by))
}

/// An audit for the hold point of the test, or a later one, asks for its result.
fn end_of_deferral(judge: &Judge<'_>, last: Option<usize>, judged: &mut Judged) {
    let Some(deferral) = judged.deferral.and_then(|at| judge.record.deferrals.get(at)) else { return };
    let at = judge.rules.hold_points.iter().position(|point| point.name == deferral.by);
    if judged.verdict == Verdict::NotShown && deferral.result.is_none() && last.is_some() && at <= last {
        judged.bare = Verdict::Unmet;
        judged.verdict = Verdict::Unmet;
    }
}

/// The zone one looks in: the item's, or that of the record, where its list has a field `zone`.
fn zone_of(judge: &Judge<'_>, item: &Item, judged: &Judged) -> Option<usize> {
    let of_record = || {
        let (id, row) = (item.each?, judged.row?);
        let field = judge.rules.list(id)?.fields.iter().position(|field| field.name == "zone")?;
        let row = judge.rows(id)?.rows.get(row as usize)?;
        match &row.fields.get(field)?.as_ref()?.value {
            Value::Text(zone) => judge.rules.zones.iter().position(|known| known.name == *zone),
            _ => None,
        }
    };
    item.zone.or_else(of_record)
}

/// Audits a record against rules. `sources` holds the texts of both.
#[must_use]
pub fn audit(rules: &Rules, record: &Record, sources: &Sources, request: &Request) -> Audit {
    whole(rules, record, sources, request, |_, _| true)
}

/// The same audit in less time: findings that are met or do not apply come
/// without reasons, sources, remedy and caution, for a report that has no room for them.
#[must_use]
pub fn audit_in_brief(rules: &Rules, record: &Record, sources: &Sources, request: &Request) -> Audit {
    whole(rules, record, sources, request, |item, judged| {
        !matches!(judged.verdict, Verdict::Met | Verdict::NotApplicable) || !item.set_aside.is_empty()
    })
}

/// An audit, with reasons for those findings that are to have some.
fn whole(
    rules: &Rules,
    record: &Record,
    sources: &Sources,
    request: &Request,
    reasons: impl Fn(&Item, &Judged) -> bool,
) -> Audit {
    let judge = Judge::new(rules, record, request.on);
    let last = request.by.as_ref().and_then(|by| rules.hold_points.iter().position(|point| point.name == *by));
    let closing = request.closing.as_ref().and_then(|zone| rules.zones.iter().position(|known| known.name == *zone));
    let systems = (0..).zip(&rules.systems).map(|(at, system)| (system.name.as_str(), at)).collect();
    let mut findings = Vec::new();
    for (n, item) in (0u32..).zip(&rules.items) {
        if judge.in_force(item) {
            let judged = judge.judge(ItemId(n)).into_iter();
            let wanted = |judged: &Judged| {
                last.is_none_or(|last| due(&judge, item, judged) <= last)
                    && closing.is_none_or(|zone| {
                        zone_of(&judge, item, judged).is_some_and(|own| rules.zones_overlap(own, zone))
                    })
            };
            for mut judged in judged.filter(wanted) {
                end_of_deferral(&judge, last, &mut judged);
                let rank = rank(&judge, &systems, item, &judged);
                findings.push((rank, finding(&judge, sources, item, &judged, reasons(item, &judged))));
            }
        }
    }
    let findings = in_order(findings);
    Audit {
        project: request.project.clone(),
        on: request.on.to_string(),
        visit: record.visit.map(|visit| visit.to_string()),
        by: request.by.clone(),
        closing: request.closing.clone(),
        packs: rules.packs.clone(),
        summary: summary(&findings),
        questions: questions(&findings),
        notices: notices(&judge, &findings, request.by.is_none() && request.closing.is_none()),
        recorded: recorded(record),
        titles: Titles {
            hold_points: titles(&rules.hold_points),
            zones: titles(&rules.zones),
            systems: titles(&rules.systems),
        },
        reminder: REMINDER,
        findings,
    }
}

/// Where a finding stands among the others: what can end the visit first, then
/// by hold point, system and zone.
type Rank = (bool, Verdict, usize, usize, usize);

fn rank(judge: &Judge<'_>, systems: &BTreeMap<&str, usize>, item: &Item, judged: &Judged) -> Rank {
    let open = matches!(judged.verdict, Verdict::Unmet | Verdict::NotShown);
    (
        !(open && item.stops_the_visit),
        judged.verdict,
        due(judge, item, judged),
        systems.get(system_of(item)).copied().unwrap_or(usize::MAX),
        zone_of(judge, item, judged).unwrap_or(usize::MAX),
    )
}

/// The system an item is of: the first word of its name.
fn system_of(item: &Item) -> &str {
    item.name.split('.').next().unwrap_or("")
}

/// By rank, name and record. Findings are large: their places are sorted, and each is moved once.
fn in_order(findings: Vec<(Rank, Finding)>) -> Vec<Finding> {
    let mut keys: Vec<_> = findings
        .iter()
        .enumerate()
        .map(|(at, (rank, finding))| (*rank, finding.item.as_str(), finding.subject.as_deref(), at))
        .collect();
    keys.sort_unstable();
    let order: Vec<usize> = keys.into_iter().map(|(.., at)| at).collect();
    let mut findings: Vec<Option<Finding>> = findings.into_iter().map(|(_, finding)| Some(finding)).collect();
    order.into_iter().filter_map(|at| findings.get_mut(at)?.take()).collect()
}

fn set_aside(rules: &Rules, aside: &Aside, instead_of: Verdict) -> SetAside {
    SetAside {
        pack: rules.packs.get(aside.pack).map(|pack| pack.name.clone()).unwrap_or_default(),
        because: aside.because.clone(),
        basis: aside.basis,
        sources: aside.cites.iter().map(|cite| cited(rules, cite)).collect(),
        instead_of,
    }
}

fn titles(titled: &[Titled]) -> Vec<(String, String)> {
    titled.iter().map(|t| (t.name.clone(), t.title.clone())).collect()
}

fn recorded(record: &Record) -> usize {
    let fields = record.lists.values().flat_map(|rows| &rows.rows).flat_map(|row| &row.fields).flatten().count();
    record.facts.len().saturating_add(fields)
}

fn summary(findings: &[Finding]) -> Summary {
    let of = |verdict: Verdict| findings.iter().filter(|finding| finding.verdict == verdict).count();
    Summary {
        met: of(Verdict::Met),
        unmet: of(Verdict::Unmet),
        not_shown: of(Verdict::NotShown),
        not_applicable: of(Verdict::NotApplicable),
        conceded: of(Verdict::Conceded),
    }
}

/// The missing facts, those that most findings wait for first.
fn questions(findings: &[Finding]) -> Vec<Question> {
    let mut waiting: BTreeMap<&str, (&Missing, usize)> = BTreeMap::new();
    for finding in findings.iter().filter(|finding| finding.verdict == Verdict::NotShown) {
        let asked = |missing: &&Missing| missing.fact != "confirmed" && !of_kept_list(&missing.fact);
        for missing in finding.missing.iter().filter(asked) {
            let entry = waiting.entry(&missing.fact).or_insert((missing, 0));
            entry.1 = entry.1.saturating_add(1);
        }
    }
    let mut questions: Vec<Question> = waiting
        .into_values()
        .map(|(missing, settles)| Question {
            fact: missing.fact.clone(),
            ask: missing.ask.clone(),
            example: missing.example.clone(),
            settles,
        })
        .collect();
    questions.sort_by(|a, b| b.settles.cmp(&a.settles).then_with(|| a.fact.cmp(&b.fact)));
    questions
}

/// Whether it is a value of a list that the log keeps, which nobody is asked for.
fn of_kept_list(fact: &str) -> bool {
    fact.starts_with("log.")
}

/// Concessions and confirmations that do not count, and why. That one is not
/// needed can be said only of an audit of everything.
fn notices(judge: &Judge<'_>, findings: &[Finding], everything: bool) -> Vec<String> {
    let mut notices = Vec::new();
    for concession in &judge.record.concessions {
        let about = concession
            .subject
            .as_ref()
            .map_or_else(|| concession.item.clone(), |of| format!("{} of {of}", concession.item));
        let items = judge.rules.find_items(&concession.item);
        let forbidden =
            items.iter().filter_map(|id| judge.rules.items.get(id.0 as usize)).any(|item| item.no_concession);
        let used = findings.iter().any(|finding| {
            let same = finding.item == concession.item
                || finding.item.split_once('/').is_some_and(|(_, name)| name == concession.item);
            same && finding.subject == concession.subject && finding.verdict == Verdict::Conceded
        });
        let why = if items.is_empty() {
            Some("there is no such item".to_owned())
        } else if forbidden {
            Some("nobody can concede this item".to_owned())
        } else {
            judge.why_not(concession)
        };
        match why {
            Some(why) => notices.push(format!("The concession for {about} does not count: {why}.")),
            None if !used && everything => notices.push(format!(
                "The concession for {about} is not needed, or names no record of it; take it out or correct it."
            )),
            None => {}
        }
    }
    for confirmation in &judge.record.confirmations {
        let items = judge.rules.find_items(&confirmation.item);
        let asks = items.iter().filter_map(|id| judge.rules.items.get(id.0 as usize)).any(|item| item.confirm);
        if !asks {
            notices.push(format!(
                "The confirmation of {} by {} answers no item that asks for one.",
                confirmation.item, confirmation.who
            ));
        } else if confirmation.on.last > judge.today.first {
            notices.push(format!(
                "The confirmation of {} by {} is dated {}, after the audit, and does not count yet.",
                confirmation.item, confirmation.who, confirmation.on
            ));
        }
    }
    notices.extend(deferral_notices(judge, findings, everything));
    notices.extend(log_notices(judge));
    for evidence in judge.record.evidence.iter().filter(|evidence| !evidence.found) {
        notices.push(format!(
            "The evidence `{}` for {} is not there, or is an empty file.",
            evidence.file, evidence.subject
        ));
    }
    notices
}

/// Deferrals that do not count, and why.
fn deferral_notices(judge: &Judge<'_>, findings: &[Finding], everything: bool) -> Vec<String> {
    let mut notices = Vec::new();
    for deferral in &judge.record.deferrals {
        let items = judge.rules.find_items(&deferral.item);
        let item = items.first().and_then(|id| judge.rules.items.get(id.0 as usize));
        let used = findings.iter().any(|finding| {
            let name = finding.item.split_once('/').map_or("", |(_, name)| name);
            let same = finding.item == deferral.item || name == deferral.item;
            same && finding.subject == deferral.subject && finding.deferred.is_some()
        });
        let why = match item {
            None => "there is no such item",
            Some(item) if !super::judge::may_be_deferred(item) => "this item cannot wait for a flight",
            Some(_) if deferral.on.last > judge.today.first => "it is dated after the audit",
            Some(_) if used || !everything => continue,
            Some(_) => "the item is not open, or contradicted by what is recorded, which no test in flight can mend",
        };
        notices.push(format!("The deferral of {} to test flying does not count: {why}.", deferral.item));
    }
    notices
}

/// Entries that the audit leaves out.
fn log_notices(judge: &Judge<'_>) -> Vec<String> {
    let later = judge.record.log.iter().filter(|entry| entry.on.first > judge.today.first).count();
    match later {
        0 => Vec::new(),
        1 => vec!["One entry of the log is dated after the audit and was left out.".to_owned()],
        _ => vec![format!("{later} entries of the log are dated after the audit and were left out.")],
    }
}

fn finding(judge: &Judge<'_>, sources: &Sources, item: &Item, judged: &Judged, reasons: bool) -> Finding {
    let rules = judge.rules;
    let subject = judged.subject.as_deref();
    let day = judged.then.map_or(judge.today, |then| then.on);
    let explanation = Explanation { judge, sources, evaluation: judge.evaluation(judged.item, subject, day) };
    let mut frame = Frame::default();
    if let (Some(first), Some(row)) = (frame.first_mut(), judged.row) {
        *first = row;
    }
    let (mut because, mut missing) = (Vec::new(), Vec::new());
    if reasons {
        explain(&explanation, judge, item, judged, &mut frame, &mut because, &mut missing);
    }
    let worked_out = item
        .lets
        .iter()
        .filter(|_| reasons && (judged.row.is_some() || item.each.is_none()))
        .map(|one| Seen { name: one.name.clone(), value: explanation.value_text(one.node, &mut frame), place: None })
        .collect();
    let mut finding = Finding {
        item: rules.full_name(item),
        added_by: None,
        subject: judged.subject.clone(),
        verdict: judged.verdict,
        title: item.title.clone(),
        basis: item.basis,
        because,
        worked_out,
        missing,
        sources: item.cites.iter().filter(|_| reasons).map(|cite| cited(rules, cite)).collect(),
        by: rules.hold_points.get(due(judge, item, judged)).map(|point| point.name.clone()).unwrap_or_default(),
        zone: zone_of(judge, item, judged).and_then(|zone| rules.zones.get(zone)).map(|zone| zone.name.clone()),
        system: system_of(item).to_owned(),
        stops_the_visit: item.stops_the_visit,
        remedy: reasons.then(|| item.remedy.clone()).flatten(),
        caution: reasons.then(|| item.caution.clone()).flatten(),
        concession: judged.concession.and_then(|at| conceded(judge, at, judged.bare)),
        set_aside: item.set_aside.iter().map(|aside| set_aside(rules, aside, judged.bare)).collect(),
        deferred: judged.deferral.and_then(|at| deferred(judge, at, item)),
        added: Vec::new(),
        notes: notes(judge, item, judged),
    };
    let looked_at = judged.row.is_some() || item.each.is_none();
    super::added::tell(&mut finding, item, judged.bare, &explanation, looked_at.then_some(frame));
    finding
}

/// Reasons and missing facts for one finding.
fn explain(
    explanation: &Explanation<'_>,
    judge: &Judge<'_>,
    item: &Item,
    judged: &Judged,
    frame: &mut Frame,
    because: &mut Vec<Reason>,
    missing: &mut Vec<Missing>,
) {
    let ask = item.ask.as_deref().unwrap_or("");
    if item.each.is_some() && judged.row.is_none() {
        if let (Verdict::NotShown, Some(list)) = (judged.bare, item.each) {
            missing.extend(explanation.missing(&super::wanting::Wanting::List(list.0), ask));
        }
        return;
    }
    if judged.bare == Verdict::NotApplicable {
        if let Some(when) = item.when {
            explanation.reasons(when, frame, because);
        }
        return;
    }
    let mut wanting = std::collections::BTreeSet::new();
    if judged.bare == Verdict::NotShown && !judged.lacks_evidence {
        if let Some(when) =
            item.when.filter(|when| explanation.evaluation.truth(*when, frame) == crate::measure::Truth::Undecided)
        {
            explanation.reasons(when, frame, because);
            wanting.extend(explanation.evaluation.wanting(when, true, frame));
        }
        wanting.extend(explanation.evaluation.wanting(item.need, true, frame));
    }
    explanation.reasons(item.own_need, frame, because);
    missing.extend(wanting.iter().filter_map(|one| explanation.missing(one, ask)));
    if judged.lacks_evidence {
        for show in &item.shows {
            let kinds: Vec<_> = show
                .kinds
                .iter()
                .filter_map(|at| judge.rules.evidence.get(*at))
                .map(|kind| kind.name.as_str())
                .collect();
            let subject = judge.show_subject(item, show, judged.subject.as_deref());
            let named = judge.record.evidence.iter().find(|evidence| !evidence.found && evidence.subject == subject);
            let why = named.map_or_else(
                || "no such evidence is named".to_owned(),
                |evidence| format!("`{}` is named, but no such file is there, or it is empty", evidence.file),
            );
            missing.push(Missing {
                fact: format!("{subject}.evidence"),
                ask: format!("Where is the {} of {subject}?", kinds.join(" or ")),
                example: Some(format!("evidence/{}.jpg", subject.replace('.', "/"))),
                why,
            });
        }
    }
}

fn notes(judge: &Judge<'_>, item: &Item, judged: &Judged) -> Vec<String> {
    let mut notes = Vec::new();
    let then = || judged.then.map_or_else(String::new, |then| format!("{}, {}", then.what, then.on));
    match (judged.today, judged.bare) {
        (Some(Verdict::Met), Verdict::Unmet) => {
            notes.push(format!("It holds on the audit date, but not on the planned {}.", then()));
        }
        (Some(today), bare) => notes.push(format!(
            "On the audit date it is {}; for the planned {}, it is {}.",
            today.word(),
            then(),
            bare.word()
        )),
        (None, _) => {}
    }
    if judged.deferral.is_some() && judged.verdict == Verdict::Unmet {
        notes.push("It was deferred to a test in flight; that time is over, and no result is recorded.".to_owned());
    }
    if judged.lacks_evidence {
        notes.push("What is recorded would meet it, but the evidence asked for is not there.".to_owned());
    }
    let open = matches!(judged.verdict, Verdict::Unmet | Verdict::NotShown);
    let planned = judge.rules.hold_points.get(item.by).and_then(|point| judge.record.planned.get(&point.name));
    if let Some(planned) = planned.filter(|planned| open && **planned < judge.today.first) {
        notes.push(format!("Its hold point was planned for {planned}, which has passed."));
    }
    let about = |concession: &&crate::record::Concession| {
        concession.subject == judged.subject && judge.rules.find_items(&concession.item).contains(&judged.item)
    };
    for concession in judge.record.concessions.iter().filter(about).filter(|_| open) {
        if let Some(why) = judge.why_not(concession) {
            notes.push(format!("A concession was granted by {}, but {why}.", concession.granted_by));
        }
    }
    for pack in item.added.iter().filter_map(|added| judge.rules.packs.get(added.pack)) {
        notes.push(format!("The pack `{}` added a need of its own.", pack.name));
    }
    if item.each.is_some()
        && judged.row.is_none()
        && judged.bare == Verdict::NotApplicable
        && judged.verdict == Verdict::NotApplicable
    {
        notes.push("No record is concerned.".to_owned());
    }
    notes
}

pub(super) fn cited(rules: &Rules, cite: &Cite) -> Cited {
    let document = cite.document.and_then(|at| rules.documents.get(at));
    Cited {
        id: document.map_or_else(|| "common-practice".to_owned(), |d| d.name.clone()),
        title: document.map_or_else(|| "Common practice".to_owned(), |d| d.title.clone()),
        number: document.map(|d| d.number.clone()).unwrap_or_default(),
        edition: document.map(|d| d.edition.clone()).unwrap_or_default(),
        paragraph: cite.paragraph.clone(),
        mark: cite.mark,
    }
}

fn deferred(judge: &Judge<'_>, at: usize, item: &Item) -> Option<Deferred> {
    let deferral = judge.record.deferrals.get(at)?;
    Some(Deferred {
        reason: deferral.reason.clone(),
        limit: deferral.limit.clone(),
        test: deferral.test.clone(),
        who: deferral.who.clone(),
        on: deferral.on.to_string(),
        instead_of: judge.rules.hold_points.get(item.by).map(|point| point.name.clone()).unwrap_or_default(),
        result: deferral.result.clone(),
    })
}

fn conceded(judge: &Judge<'_>, at: usize, instead_of: Verdict) -> Option<Conceded> {
    let concession = judge.record.concessions.get(at)?;
    Some(Conceded {
        reason: concession.reason.clone(),
        granted_by: concession.granted_by.clone(),
        role: concession.role.clone(),
        on: concession.on.to_string(),
        until: concession.until.to_string(),
        instead_of,
    })
}

/// How a worked example came out.
#[derive(Debug, Clone)]
pub struct ExampleResult {
    /// The item's full name.
    pub item: String,
    /// The example's name.
    pub example: String,
    /// What the pack says it comes to.
    pub expected: Verdict,
    /// What it came to; the first that differs, of several records.
    pub got: Verdict,
    /// Where it stands.
    pub place: Span,
    /// The reasons for what it came to.
    pub because: Vec<Reason>,
}

/// Runs the worked examples of every item.
#[must_use]
pub fn run_examples(rules: &Rules) -> Vec<ExampleResult> {
    let mut results = Vec::new();
    for (n, item) in (0u32..).zip(&rules.items) {
        for example in &item.examples {
            // Without a date of its own an example is judged when all that it tells has happened.
            let told = example.record.log.iter().map(|entry| entry.on.last).max();
            let on = example.on.or_else(|| item.from.or_else(|| Date::new(2026, 1, 1)).max(told));
            let Some(on) = on else { continue };
            let judge = Judge::new(rules, &example.record, on);
            let judged = judge.judge(ItemId(n));
            let differs = judged.iter().find(|one| one.bare != example.expect);
            let Some(one) = differs.or_else(|| judged.first()) else { continue };
            let in_force = judge.in_force(item);
            let told = finding(&judge, &rules.sources, item, one, true);
            let because = told.because.into_iter().chain(told.added.into_iter().flat_map(|added| added.because));
            results.push(ExampleResult {
                item: rules.full_name(item),
                example: example.name.clone(),
                expected: example.expect,
                got: if in_force { one.bare } else { Verdict::NotApplicable },
                place: example.place,
                because: because.collect(),
            });
        }
    }
    results
}
