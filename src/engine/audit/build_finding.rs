//! Makes a finding of what was judged: its words, reasons, sources and remarks.

use super::cause::{MissingCause, MissingKind, Planned, Remark};
use super::explain::Explanation;
use super::finding::{Cited, Clause, Conceded, Deferred, Finding, FindingKind, Missing, Reason, SetAside};
use super::judge::{Judge, Judged};
use super::proof::entry_ref;
use crate::eval::{Evaluation, MOST_STEPS};
use crate::ir::{Aside, Frame, HoldPointId, Item, Rules, ZoneId};
use crate::project::{Concession, Deferral, Value};
use crate::vocabulary::Verdict;

/// The field that says in which zone a record is.
pub(super) const ZONE: &str = "zone";

/// How much a finding tells besides its verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum HowMuch {
    /// Nothing.
    Verdict,
    /// Its reasons, sources, remedy and caution.
    Reasons,
    /// With values as data and the place of the rule.
    Data,
}

/// When a finding is due, among the hold points, and where one looks, among the zones.
#[derive(Clone, Copy)]
pub(crate) struct DueAndZone {
    pub(super) due: HoldPointId,
    pub(super) zone: Option<ZoneId>,
}

impl DueAndZone {
    pub(crate) fn of(judge: &Judge<'_>, item: &Item, judged: &Judged<'_>) -> Self {
        Self { due: due(judge, item, judged), zone: zone_of(judge, item, judged) }
    }
}

/// The hold point at which an item is due: its own, or that of the test it is deferred to.
fn due(judge: &Judge<'_>, item: &Item, judged: &Judged<'_>) -> HoldPointId {
    let deferral = judged.deferral;
    let later = deferral.and_then(|one| judge.rules.hold_points.position(|point| point.name == one.by));
    later.map_or(item.by, |later| later.max(item.by))
}

/// The zone one looks in: the item's, or that of the record, where its list has a field `zone`.
fn zone_of(judge: &Judge<'_>, item: &Item, judged: &Judged<'_>) -> Option<ZoneId> {
    let of_record = || {
        let (id, row) = (item.each?, judged.row?);
        let field = judge.rules.list(id)?.fields.position(|field| field.name == ZONE)?;
        let row = judge.rows(id)?.rows.get(row.index())?;
        match &row.field(field)?.value {
            Value::Text(zone) => judge.rules.zones.position(|known| known.name == *zone),
            _ => None,
        }
    };
    item.zone.or_else(of_record)
}

/// The system an item is of: the first word of its name.
pub(super) fn system_of(item: &Item) -> &str {
    item.name.split('.').next().unwrap_or("")
}

/// The evaluation that a verdict comes from.
pub(super) fn evaluation_of<'j>(judge: &'j Judge<'_>, judged: &Judged<'_>) -> Evaluation<'j> {
    let day = judged.then.map_or(judge.today, |then| then.on);
    let evaluation = judge.evaluation(judged.item, judged.subject.as_deref(), day);
    if judged.left_out { evaluation.with_none_until() } else { evaluation }
}

/// The finding on an item, and on one record of its list, with as much of it as there is room for.
pub(crate) fn finding(
    judge: &Judge<'_>,
    (name, item): (String, &Item),
    judged: &Judged<'_>,
    standing: DueAndZone,
    how_much: HowMuch,
) -> Finding {
    let rules = judge.rules;
    let as_data = how_much == HowMuch::Data;
    let explanation = Explanation { judge, evaluation: evaluation_of(judge, judged), as_data };
    // Where no wording is in force, or the aircraft is without the part, nothing was looked at.
    let looked_for = judge.may_be_in_force(item) && judge.gone(item, judged.row, judged.subject.as_deref()).is_none();
    let too_long = looked_for && judge.too_long.contains(&judged.item);
    let reasons = how_much != HowMuch::Verdict && looked_for && !too_long;
    let mut frame = Frame::of(judged.row);
    let (mut because, mut missing) = (Vec::new(), Vec::new());
    if reasons {
        explain(&explanation, judge, item, judged, &mut frame, &mut because, &mut missing);
    }
    missing.extend((too_long && how_much != HowMuch::Verdict).then(|| too_many_steps(item)));
    let worked_out = item
        .lets
        .iter()
        .filter(|_| reasons && (judged.row.is_some() || item.each.is_none()))
        .map(|one| explanation.worked_out(one.name.to_string(), one.node, &mut frame))
        .collect();
    let mut finding = Finding {
        kind: FindingKind::Item,
        item: name,
        added_by: None,
        subject: judged.subject.clone(),
        verdict: judged.verdict,
        title: item.title.clone(),
        basis: item.basis,
        because,
        worked_out,
        missing,
        sources: item.cites.iter().filter(|_| reasons).map(|cite| Cited::of(rules, cite)).collect(),
        by: rules.hold_points.get(standing.due).map(|point| point.name.clone()).unwrap_or_default(),
        zone: standing.zone.and_then(|zone| rules.zones.get(zone)).map(|zone| zone.name.clone()),
        system: system_of(item).to_owned(),
        stops_the_visit: item.stops_the_visit,
        check: reasons.then(|| item.check.clone()).flatten(),
        remedy: reasons.then(|| item.remedy.clone()).flatten(),
        caution: reasons.then(|| item.caution.clone()).flatten(),
        concession: judged.concession.map(|concession| conceded(concession, judged.bare)),
        set_aside: asides(rules, item, judged.bare),
        deferred: judged.deferral.map(|deferral| deferred(judge, deferral, item)),
        added: Vec::new(),
        notes: notes(judge, item, judged),
        after: if judged.verdict == Verdict::NotShown { after(rules, item) } else { Vec::new() },
        waits_for: waits_for(judge, judged),
        waiting: Vec::new(),
        place: as_data.then(|| rules.sources.place(item.place)),
    };
    let looked_at = (judged.row.is_some() || item.each.is_none()) && !too_long;
    super::added::add_needs(&mut finding, item, judged.bare, &explanation, looked_at.then_some(frame));
    finding
}

/// What is told of an item that nobody has worked out.
fn too_many_steps(item: &Item) -> Missing {
    Missing {
        kind: MissingKind::LogField,
        fact: item.name.to_string(),
        ask: "Can fewer records be held against each other?".into(),
        example: None,
        why: MissingCause::TooManySteps(MOST_STEPS),
    }
}

/// Reasons and missing facts for one finding.
fn explain(
    explanation: &Explanation<'_>,
    judge: &Judge<'_>,
    item: &Item,
    judged: &Judged<'_>,
    frame: &mut Frame,
    because: &mut Vec<Reason>,
    missing: &mut Vec<Missing>,
) {
    let ask = item.ask.as_deref().unwrap_or("");
    // There is no record.
    if item.each.is_some() && judged.row.is_none() {
        return;
    }
    if judged.bare == Verdict::NotApplicable {
        if let Some(when) = item.when {
            because.extend(explanation.reasons(Clause::When, when, frame));
        }
        return;
    }
    let mut missing_inputs = std::collections::BTreeSet::new();
    if judged.bare == Verdict::NotShown && !judged.lacks_evidence {
        if let Some(when) =
            item.when.filter(|when| explanation.evaluation.truth(*when, frame) == crate::quantity::Truth::Undecided)
        {
            because.extend(explanation.reasons(Clause::When, when, frame));
            missing_inputs.extend(explanation.evaluation.missing_inputs(when, true, frame));
        }
        missing_inputs.extend(explanation.evaluation.missing_inputs(item.need, true, frame));
    }
    because.extend(explanation.reasons(Clause::Need, item.own_need, frame));
    missing.extend(missing_inputs.iter().filter_map(|one| explanation.missing(one, ask, frame)));
    if judged.lacks_evidence {
        for show in &item.shows {
            let kinds: Vec<_> = show
                .kinds
                .iter()
                .filter_map(|at| judge.rules.evidence.get(*at))
                .map(|kind| kind.name.as_str())
                .collect();
            let subject = judge.show_subject(item, show, judged.subject.as_deref());
            let mut named = judge.record.evidence.iter().filter(|evidence| evidence.subject == subject);
            let undone = named.clone().filter(|evidence| evidence.found);
            let undone = undone
                .filter_map(|one| {
                    judge.why_undone(judge.standing_of_evidence(one, item, judged.subject.as_deref()), one.dated)
                })
                .next();
            let named = named.find(|evidence| !evidence.found);
            let why =
                named.map_or(MissingCause::NoEvidence, |evidence| MissingCause::NoSuchFile(evidence.file.clone()));
            let why = undone.unwrap_or(why);
            missing.push(Missing {
                kind: MissingKind::Evidence,
                fact: format!("{subject}.evidence"),
                ask: format!("Where is the {} of {subject}?", kinds.join(" or ")).into(),
                example: Some(format!("evidence/{}.jpg", subject.replace('.', "/")).into()),
                why,
            });
        }
    }
}

/// The items that come before it; two wordings of one have one name.
fn after(rules: &Rules, item: &Item) -> Vec<String> {
    let mut names: Vec<String> =
        item.after.iter().filter_map(|id| rules.item(*id)).map(|item| rules.full_name(item)).collect();
    names.sort();
    names.dedup();
    names
}

/// The list under whose finding it is told, because the word alone would make it met.
fn waits_for(judge: &Judge<'_>, judged: &Judged<'_>) -> Option<String> {
    let word = judged.if_whole.filter(|word| word.verdict == Verdict::Met)?;
    judge.list_or_log(word.list).map(str::to_owned)
}

fn notes(judge: &Judge<'_>, item: &Item, judged: &Judged<'_>) -> Vec<Remark> {
    let mut notes = Vec::new();
    let then = judged.then.map(|then| Planned { what: then.what, on: then.on.to_string() });
    match (judged.today, judged.bare, then) {
        (Some(Verdict::Met), Verdict::Unmet, Some(then)) => notes.push(Remark::NotOnPlannedDay(then)),
        (Some(today), bare, Some(then)) => notes.push(Remark::OtherwiseOnPlannedDay(today, then, bare)),
        _ => {}
    }
    if let Some(by) = judge.gone(item, judged.row, judged.subject.as_deref()) {
        notes.push(Remark::GoneForGood(entry_ref(judge.record, by)));
    }
    if judged.deferral.is_some() && judged.verdict == Verdict::Unmet {
        notes.push(Remark::DeferralOver);
    }
    if judged.lacks_evidence {
        notes.push(Remark::LacksEvidence);
    }
    let taken = judge.none_until.iter().filter(|(fact, _)| judged.left_out && item.reads.contains(fact));
    notes.extend(taken.filter_map(|(fact, (_, day))| {
        Some(Remark::NoneUntil(judge.rules.fact(*fact)?.name.to_string(), day.to_string()))
    }));
    if let Some(word) = judged.if_whole.filter(|word| word.verdict == Verdict::Unmet) {
        let list = judge.list_or_log(word.list).unwrap_or_default();
        notes.push(Remark::UnmetIfWhole(list.to_owned()));
    }
    let open = matches!(judged.verdict, Verdict::Unmet | Verdict::NotShown);
    let planned = judge.rules.hold_points.get(item.by).and_then(|point| judge.record.planned.get(point.name.as_str()));
    if let Some(planned) = planned.filter(|planned| open && **planned < judge.today.first) {
        notes.push(Remark::HoldPointPassed(planned.to_string()));
    }
    let about = |concession: &&Concession| {
        concession.subject == judged.subject && judge.rules.find_items(&concession.item).contains(&judged.item)
    };
    for concession in judge.record.concessions.iter().filter(about).filter(|_| open) {
        if let Some(why) = judge.why_not(concession, judged.item) {
            notes.push(Remark::LeaveDoesNotCount(concession.granted_by.clone(), why));
        }
    }
    if let Some(from) = judge.next_wording(judged.item, item) {
        notes.push(Remark::WordingFrom(from.to_string()));
    }
    if let Some(until) = item.until.filter(|_| !judge.may_be_in_force(item)) {
        notes.push(Remark::WordingUntil(until.to_string()));
    }
    if judged.either_wording {
        notes.push(Remark::EitherWording);
    }
    for pack in item.added.iter().filter_map(|added| judge.rules.packs.get(added.pack)) {
        notes.push(Remark::NeedAdded(pack.name.to_string()));
    }
    for aside in &item.set_aside {
        if let (Some(why), Some(pack)) = (item.not_set_aside(aside), judge.rules.packs.get(aside.pack)) {
            notes.push(Remark::NotSetAside(pack.name.to_string(), aside.because.to_string(), why));
        }
    }
    if item.each.is_some()
        && judged.row.is_none()
        && judged.bare == Verdict::NotApplicable
        && judged.verdict == Verdict::NotApplicable
        && judge.may_be_in_force(item)
    {
        notes.push(Remark::NoRecord);
    }
    notes
}

fn deferred(judge: &Judge<'_>, deferral: &Deferral, item: &Item) -> Deferred {
    Deferred {
        reason: deferral.reason.clone(),
        limit: deferral.limit.clone(),
        test: deferral.test.clone(),
        who: deferral.who.clone(),
        on: deferral.on.to_string(),
        instead_of: judge.rules.hold_points.get(item.by).map(|point| point.name.clone()).unwrap_or_default(),
        result: deferral.result.clone(),
    }
}

fn conceded(concession: &Concession, instead_of: Verdict) -> Conceded {
    Conceded {
        reason: concession.reason.clone(),
        granted_by: concession.granted_by.clone(),
        role: concession.role.clone(),
        on: concession.on.to_string(),
        until: concession.until.to_string(),
        instead_of,
    }
}

/// The packs that set an item aside, and could.
fn asides(rules: &Rules, item: &Item, instead_of: Verdict) -> Vec<SetAside> {
    let mut silenced: Vec<_> =
        item.added.iter().filter_map(|added| rules.packs.get(added.pack)).map(|pack| pack.name.clone()).collect();
    silenced.dedup();
    let stand = item.set_aside.iter().filter(|aside| item.not_set_aside(aside).is_none());
    stand.map(|aside| SetAside { silenced: silenced.clone(), ..set_aside(rules, aside, instead_of) }).collect()
}

fn set_aside(rules: &Rules, aside: &Aside, instead_of: Verdict) -> SetAside {
    SetAside {
        pack: rules.packs.get(aside.pack).map(|pack| pack.name.clone()).unwrap_or_default(),
        because: aside.because.clone(),
        basis: aside.basis,
        sources: aside.cites.iter().map(|cite| Cited::of(rules, cite)).collect(),
        instead_of,
        silenced: Vec::new(),
    }
}
