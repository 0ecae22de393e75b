//! A whole audit: every item judged, made a finding, counted, put in order.

use super::audited::{Audit, Later, Question, REMINDER, Summary, Titles};
use super::behind::Behind;
use super::build_finding::{DueAndZone, HowMuch, ZONE, finding, system_of};
use super::cause::MissingKind;
use super::deciding::deciding;
use super::finding::{Finding, Missing};
use super::judge::{Judge, Judged, severity};
use super::notices::notices;
use super::off;
use super::whole_lists::WantedWords;
use crate::ir::{Arena, HoldPointId, IdOf, Item, ItemId, ListId, Rules, SystemId, Titled, ZoneId};
use crate::project::Record;
use crate::quantity::Date;
use crate::source::SharedText;
use crate::vocabulary::Verdict;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// An item that was judged: where it stands, its full name, its verdict, when it is due and where.
type ToldItem<'a> = (Rank, String, Judged<'a>, DueAndZone);

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

/// Audits a record against rules.
#[must_use]
pub fn audit(rules: &Rules, record: &Record, request: &Request) -> Audit {
    whole(rules, record, request, HowMuch::Data)
}

/// The same audit in less time: findings that are met or do not apply come
/// without reasons, sources, remedy and caution, for a report that has no room for them; no
/// value comes as data, and no rule with its place.
#[must_use]
pub fn audit_in_brief(rules: &Rules, record: &Record, request: &Request) -> Audit {
    whole(rules, record, request, HowMuch::Reasons)
}

/// The same audit in the least time: no finding of an item comes with reasons, sources, remedy and caution, and nothing
/// is asked. For counts.
#[must_use]
pub fn audit_in_outline(rules: &Rules, record: &Record, request: &Request) -> Audit {
    whole(rules, record, request, HowMuch::Verdict)
}

/// What one item comes to, by its full name, with its reasons: the findings that an audit has of it, in less time.
/// Of two wordings that may be in force both are told.
#[must_use]
pub fn findings_of(rules: &Rules, record: &Record, request: &Request, item: &str) -> Vec<Finding> {
    let judge = Judge::new(rules, record, request.on);
    let scope = Scope::of(rules, request);
    let mut findings = Vec::new();
    for id in rules.find_items(item) {
        let Some(found) = rules.item(id) else { continue };
        let name = rules.full_name(found);
        let judged = scope.judged(&judge, &name, (id, found), &mut WantedWords::default());
        for (judged, standing) in judged.into_iter().filter(|(_, standing)| scope.is_in_time(standing.due)) {
            findings.push(finding(&judge, (name.clone(), found), &judged, standing, HowMuch::Reasons));
        }
    }
    findings
}

/// An audit, with so much told of a finding at most.
fn whole(rules: &Rules, record: &Record, request: &Request, most: HowMuch) -> Audit {
    let as_data = most == HowMuch::Data;
    let how_much = |judged: &Judged<'_>| match judged.verdict {
        Verdict::Met | Verdict::NotApplicable if !as_data => HowMuch::Verdict,
        _ => most,
    };
    let judge = Judge::new(rules, record, request.on);
    let scope = Scope::of(rules, request);
    let systems: BTreeMap<&str, SystemId> =
        rules.systems.with_ids().map(|(id, system)| (system.name.as_str(), id)).collect();
    let mut told: Arena<IdOf<Judged<'_>>, ToldItem<'_>> = Arena::default();
    let mut words = WantedWords::default();
    let mut wordings: BTreeMap<(String, Option<String>), IdOf<Judged<'_>>> = BTreeMap::new();
    let mut later = BTreeMap::new();
    for (id, item) in rules.items_with_ids() {
        let system = systems.get(system_of(item)).copied();
        let name = rules.full_name(item);
        for (judged, standing) in scope.judged(&judge, &name, (id, item), &mut words) {
            if !scope.is_in_time(standing.due) {
                count_later(&mut later, &name, judged, standing.due);
                continue;
            }
            let one = (rank(item, &judged, system, standing), name.clone(), judged, standing);
            if has_one_wording(item) {
                told.push(one);
            } else {
                push_worse(&mut told, &mut wordings, one);
            }
        }
    }
    let mut of_lists: Arena<IdOf<Finding>, (Rank, Option<Finding>)> = Arena::default();
    for (due, finding) in words.findings(&judge, as_data) {
        let system = systems.get(finding.system.as_str()).copied();
        let first = !finding.stops_the_visit;
        let rank = (first, finding.verdict, due, (system.is_none(), system), (true, None));
        of_lists.push((rank, Some(finding)));
    }
    for (due, zone, finding) in off::findings(&judge) {
        if scope.is_within(rules, zone) && !scope.is_in_time(due) {
            later.insert((finding.item.clone(), finding.subject.clone()), (due, finding.verdict));
        } else if scope.is_within(rules, zone) {
            let system = systems.get(finding.system.as_str()).copied();
            let rank =
                (!finding.stops_the_visit, finding.verdict, due, (system.is_none(), system), (zone.is_none(), zone));
            of_lists.push((rank, Some(finding)));
        }
    }
    // They are large: their ids are sorted, and each finding is made where it stays.
    let items = told
        .with_ids()
        .map(|(id, (rank, name, judged, _))| (*rank, name.as_str(), judged.subject.as_deref(), Told::Item(id)));
    let lists = of_lists.with_ids().filter_map(|(id, (rank, finding))| {
        finding.as_ref().map(|finding| (*rank, finding.item.as_str(), finding.subject.as_deref(), Told::List(id)))
    });
    let mut order: Vec<_> = items.chain(lists).collect();
    order.sort_unstable();
    let order: Vec<_> = order.into_iter().map(|(.., one)| one).collect();
    let told_finding = |one| match one {
        Told::List(id) => of_lists.get_mut(id)?.1.take(),
        Told::Item(id) => {
            let (_, name, judged, standing) = told.get_mut(id)?;
            let item = rules.item(judged.item)?;
            Some(finding(&judge, (std::mem::take(name), item), judged, *standing, how_much(judged)))
        }
    };
    let findings: Vec<Finding> = order.into_iter().filter_map(told_finding).collect();
    Audit {
        project: request.project.clone(),
        on: request.on.to_string(),
        visit: record.visit.map(|visit| visit.to_string()),
        by: request.by.clone(),
        closing: request.closing.clone(),
        packs: rules.packs.iter().cloned().collect(),
        summary: summary(&findings),
        later: counted_later(rules, &later),
        questions: questions(rules, &findings),
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

/// Which items an audit looks at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scope {
    /// Due by this hold point.
    last: Option<HoldPointId>,
    /// In reach of this zone.
    closing: Option<ZoneId>,
}

impl Scope {
    pub(super) fn of(rules: &Rules, request: &Request) -> Self {
        Self {
            last: request.by.as_ref().and_then(|by| rules.hold_points.position(|point| point.name == *by)),
            closing: request.closing.as_ref().and_then(|zone| rules.zones.position(|known| known.name == *zone)),
        }
    }

    /// Whether what is due then is looked at.
    pub(super) fn is_in_time(self, due: HoldPointId) -> bool {
        self.last.is_none_or(|last| due <= last)
    }

    /// Whether what is there is looked at.
    pub(super) fn is_within(self, rules: &Rules, zone: Option<ZoneId>) -> bool {
        self.closing.is_none_or(|closing| zone.is_some_and(|own| rules.zones_overlap(own, closing)))
    }

    /// Whether what is due then, and there, is looked at.
    pub(super) fn reaches(self, rules: &Rules, due: HoldPointId, zone: Option<ZoneId>) -> bool {
        self.is_in_time(due) && self.is_within(rules, zone)
    }

    /// What one item comes to in the zones that are looked at, at any hold point; what waits for a word is noted of
    /// what is due in time.
    pub(super) fn judged<'a>(
        self,
        judge: &Judge<'a>,
        name: &str,
        (id, item): (ItemId, &Item),
        words: &mut WantedWords,
    ) -> Vec<(Judged<'a>, DueAndZone)> {
        let rules = judge.rules();
        // A record that is not known may lie in any zone.
        let anywhere = item.zone.is_none() && item.each.is_some_and(|list| has_zones(rules, list));
        let in_closing = |zone| item.zone.is_some_and(|own| rules.zones_overlap(own, zone));
        let due_in_time = self.last.is_none_or(|last| item.by <= last);
        let in_force = item.each.is_some() && judge.may_be_in_force(item);
        if in_force && due_in_time && self.closing.is_none_or(|zone| anywhere || in_closing(zone)) {
            words.raised(judge, name, item);
        }
        let mut told = Vec::new();
        for mut judged in judge.judge(id) {
            let standing = DueAndZone::of(judge, item, &judged);
            if self.is_within(rules, standing.zone) {
                if self.is_in_time(standing.due) {
                    words.not_shown(judge, name, (id, item), &mut judged, standing.due);
                }
                told.push((judged, standing));
            }
        }
        told
    }
}

/// What is due later than what is looked at, by item and record: of two wordings that may be in force the worse.
type LaterVerdicts = BTreeMap<(String, Option<String>), (HoldPointId, Verdict)>;

fn count_later(later: &mut LaterVerdicts, name: &str, judged: Judged<'_>, due: HoldPointId) {
    if matches!(judged.verdict, Verdict::Unmet | Verdict::NotShown) {
        let known = later.entry((name.to_owned(), judged.subject)).or_insert((due, judged.verdict));
        if severity(judged.verdict) > severity(known.1) {
            *known = (due, judged.verdict);
        }
    }
}

fn counted_later(rules: &Rules, later: &LaterVerdicts) -> Vec<Later> {
    let of = |point, wanted| later.values().filter(|(due, verdict)| *due == point && *verdict == wanted).count();
    let counted = rules.hold_points.with_ids().map(|(id, point)| Later {
        by: point.name.clone(),
        unmet: of(id, Verdict::Unmet),
        not_shown: of(id, Verdict::NotShown),
    });
    counted.filter(|one| one.unmet > 0 || one.not_shown > 0).collect()
}

/// Whether it never has another wording.
pub(super) fn has_one_wording(item: &Item) -> bool {
    item.from.is_none() && item.until.is_none()
}

/// What is told in one place: an item that was judged, or a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Told<'a> {
    /// An item, and perhaps a record.
    Item(IdOf<Judged<'a>>),
    /// Whether a list is whole.
    List(IdOf<Finding>),
}

/// Of two wordings that may be in force when an item must be met, the worse is told.
fn push_worse<'a>(
    told: &mut Arena<IdOf<Judged<'a>>, ToldItem<'a>>,
    wordings: &mut BTreeMap<(String, Option<String>), IdOf<Judged<'a>>>,
    one: ToldItem<'a>,
) {
    let key = (one.1.clone(), one.2.subject.clone());
    match wordings.get(&key).copied().and_then(|id| told.get_mut(id)) {
        Some(known) => {
            if severity(one.2.verdict) > severity(known.2.verdict) {
                *known = one;
            }
            known.2.either_wording = true;
        }
        None => {
            wordings.insert(key, told.push(one));
        }
    }
}

/// Where a finding stands among the others: what can end the visit first, then
/// by hold point, system and zone; those of one rank by name and record.
type Rank = (bool, Verdict, HoldPointId, (bool, Option<SystemId>), (bool, Option<ZoneId>));

fn rank(item: &Item, judged: &Judged<'_>, system: Option<SystemId>, standing: DueAndZone) -> Rank {
    let open = matches!(judged.verdict, Verdict::Unmet | Verdict::NotShown);
    (
        !(open && item.stops_the_visit),
        judged.verdict,
        standing.due,
        (system.is_none(), system),
        (standing.zone.is_none(), standing.zone),
    )
}

/// Whether the records of a list say in which zone they are.
fn has_zones(rules: &Rules, list: ListId) -> bool {
    rules.list(list).is_some_and(|list| list.fields.iter().any(|field| field.name == ZONE))
}

fn titles<'t>(titled: impl IntoIterator<Item = &'t Titled>) -> Vec<(SharedText, SharedText)> {
    titled.into_iter().map(|t| (t.name.clone(), t.title.clone())).collect()
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
        set_aside: of(Verdict::SetAside),
    }
}

/// The missing facts: those first that decide most of what applies, as the packs declare them, then those that most
/// findings wait for; last those of which only what comes after something else that is open has need.
fn questions(rules: &Rules, findings: &[Finding]) -> Vec<Question> {
    let behind = Behind::of(findings);
    let mut waiting: BTreeMap<&str, (&Missing, usize, bool)> = BTreeMap::new();
    for finding in findings.iter().filter(|finding| finding.verdict == Verdict::NotShown) {
        // Nobody is asked for a word here, nor for what the log keeps.
        let unasked = [MissingKind::Confirmation, MissingKind::LogField];
        let asked = |missing: &&Missing| !unasked.contains(&missing.kind);
        for missing in finding.missing.iter().filter(asked) {
            let entry = waiting.entry(&missing.fact).or_insert((missing, 0, true));
            entry.1 = entry.1.saturating_add(1);
            entry.2 &= behind.waits(finding);
        }
    }
    let deciding = if waiting.is_empty() { BTreeMap::new() } else { deciding(rules) };
    let decides = |fact: &str| Some((rules.fact_by_name.get(fact)?, deciding.get(rules.fact_by_name.get(fact)?)?));
    let mut questions: Vec<_> = waiting
        .into_values()
        .map(|(missing, settles, later)| {
            let first = decides(&missing.fact);
            let question = Question {
                fact: missing.fact.clone(),
                ask: missing.ask.clone(),
                example: missing.example.clone(),
                settles,
                decides: first.map_or(0, |(_, count)| *count),
            };
            // Those that decide nothing come last.
            let place =
                first.map_or((true, later, None, Reverse(settles)), |(id, _)| (false, false, Some(*id), Reverse(0)));
            (place, question)
        })
        .collect();
    questions.sort_by(|(place, a), (other, b)| place.cmp(other).then_with(|| a.fact.cmp(&b.fact)));
    questions.into_iter().map(|(_, question)| question).collect()
}
