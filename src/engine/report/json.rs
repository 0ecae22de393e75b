//! The report for programs, schema `cotterpin-audit/1`.
//!
//! Keys may be added under the same schema name; none is removed or changes
//! its meaning without a new one. `null` stands where there is nothing.
//!
//! | key | what it holds |
//! |---|---|
//! | `schema` | `cotterpin-audit/1` |
//! | `project` | the project's name |
//! | `on` | the audit date, ISO 8601 |
//! | `visit` | the planned visit as recorded, or null |
//! | `by` | the hold point up to which items were looked at, or null for all |
//! | `closing` | the zone about to be closed, if only its items were looked at, or null |
//! | `packs[]` | `name`, `title`, `edition`, `authority`, `scope`, `not_covered[]`, `uses[]` |
//! | `summary` | counts of findings: `met`, `unmet`, `not-shown`, `not-applicable`, `conceded` |
//! | `recorded` | how many values the project records |
//! | `findings[]` | see below; what can end the visit first, then by hold point, system, zone and name |
//! | `questions[]` | `fact`, `ask`, `example` or null, `settles`: how many findings wait for it; most first |
//! | `notices[]` | sentences about what is recorded and does not count |
//! | `titles` | `hold_points`, `zones`, `systems`: arrays of `name` and `title`, in order |
//! | `reminder` | who has the final say; always there |
//!
//! | key of a finding | what it holds |
//! |---|---|
//! | `kind` | `whole-list` where it asks whether a list is whole; `removed` where a part is off; otherwise left out |
//! | `item` | pack and item: `us/marks.height`; the list, or `log`, where it asks whether that is whole; `removed` of a part that is off |
//! | `subject` | the record it is about, the part that is off, or null |
//! | `verdict` | `met`, `unmet`, `not-shown`, `not-applicable`, `conceded` |
//! | `title` | what is so when it is met |
//! | `added_by` | null; or the pack whose added need is open while what the item itself asks holds: `basis`, `because[]`, `sources[]` and `remedy` are then that need's |
//! | `basis` | `law`, `advice`, `handbook`, `association`, `kit`, `common-practice`, `own` |
//! | `because[]` | deciding parts: `expression`, `held` (`true`, `false`, `undecided`), `values[]`, `note` or null, `lapses[]` |
//! | `worked_out[]` | named values worked out on the way, like `values[]` |
//! | `missing[]` | names of facts that would help to decide; `questions[]` has their questions |
//! | `sources[]` | `id`, `title`, `number`, `edition`, `superseded_by` where a later edition is known and was not compared, `paragraph`, `mark` (`read`, `quoted`, `memory`, `common-practice`) |
//! | `by` | the hold point by which it must be met |
//! | `zone` | where one looks, or null |
//! | `system` | the first word of the item's name |
//! | `stops_the_visit` | whether it can end the visit while it is open |
//! | `remedy`, `caution` | what to do, what can hurt; or null |
//! | `concession` | null, or `reason`, `granted_by`, `role`, `on`, `until`, `instead_of` (a verdict) |
//! | `deferred` | null, or `reason`, `limit`, `test`, `who`, `on`, `instead_of` (a hold point), `result` or null |
//! | `set_aside` | null, or `pack`, `because`, `basis` or null, `sources[]`, `instead_of` (a verdict), `silenced[]` (packs whose needs, added to the item, fall silent with it), and `also[]`: the same of each further pack that set it aside |
//! | `added[]` | needs that other packs added, without the one of `added_by`: `pack`, `basis`, `held`, `because[]`, `sources[]`, `remedy`, `caution` |
//! | `waits_for` | the list whose word alone would make it met; left out where there is none |
//! | `waiting[]` | what waits for the word that this list is whole, `item` and `subject`; left out where nothing does |
//! | `notes[]` | sentences such as "holds today, not on the planned visit" |
//!
//! A value of `values[]` or `worked_out[]` is `name`, `value` and `place`,
//! which is null or `file`, `line`, `column` (both from 1). One of `lapses[]` is
//! `shown` and `undone_by`, two entries of the log (`on`, `event`, `subject`,
//! `who`, `role`, `note` or null, `place`), and `through`, how the one disturbs
//! what the other had shown, or null. Of a person's word that lapsed, `shown`
//! has the `event` `confirmed` or `confirmed not`, and the item as `subject`; of
//! a value that no longer counts, the `event` `recorded`, the name and the value
//! as `subject`, and no day where none was written.

use super::cause_sentences;
use super::phrases;
use crate::audit::{
    AddedNeed, Audit, Cited, Clause, Conceded, Deferred, Finding, FindingKind, Held, Join, Lapse, LogLine, Observed,
    Reason, SetAside, Waiting,
};
use crate::ir::Pack;
use crate::source::{Place, SharedText};
use crate::vocabulary::{Basis, Mark, Verdict};
use serde::Serialize;

/// The schema's name and version.
pub(super) const SCHEMA: &str = "cotterpin-audit/1";

#[derive(Serialize)]
struct AuditOut<'a> {
    schema: &'static str,
    project: &'a str,
    on: &'a str,
    visit: Option<&'a str>,
    by: Option<&'a str>,
    closing: Option<&'a str>,
    packs: Vec<PackOut<'a>>,
    summary: SummaryOut,
    recorded: usize,
    findings: Vec<FindingOut<'a>>,
    questions: Vec<QuestionOut<'a>>,
    notices: Vec<String>,
    titles: TitlesOut<'a>,
    reminder: &'static str,
}

#[derive(Serialize)]
struct PackOut<'a> {
    name: &'a str,
    title: &'a str,
    edition: &'a str,
    authority: &'a str,
    scope: &'a str,
    not_covered: &'a [SharedText],
    uses: &'a [SharedText],
}

#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct SummaryOut {
    met: usize,
    unmet: usize,
    not_shown: usize,
    not_applicable: usize,
    conceded: usize,
    set_aside: usize,
}

#[derive(Serialize)]
struct FindingOut<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    kind: Option<FindingKind>,
    item: &'a str,
    subject: Option<&'a str>,
    verdict: Verdict,
    title: std::borrow::Cow<'a, str>,
    added_by: Option<&'a str>,
    basis: Basis,
    because: Vec<ReasonOut<'a>>,
    worked_out: Vec<ObservedOut<'a>>,
    missing: Vec<&'a str>,
    sources: Vec<CitedOut<'a>>,
    by: &'a str,
    zone: Option<&'a str>,
    system: &'a str,
    stops_the_visit: bool,
    remedy: Option<&'a str>,
    caution: Option<&'a str>,
    concession: Option<ConcededOut<'a>>,
    set_aside: Option<SetAsideOut<'a>>,
    deferred: Option<DeferredOut<'a>>,
    added: Vec<AddedOut<'a>>,
    notes: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    waits_for: Option<&'a str>,
    #[serde(skip_serializing_if = "<[Waiting]>::is_empty")]
    waiting: &'a [Waiting],
}

#[derive(Serialize)]
struct ReasonOut<'a> {
    /// `when`, of an item that is not said not to apply: the other parts are of its need.
    #[serde(skip_serializing_if = "Option::is_none")]
    clause: Option<&'static str>,
    expression: &'a str,
    held: &'static str,
    values: Vec<ObservedOut<'a>>,
    note: Option<String>,
    lapses: Vec<LapseOut<'a>>,
    /// It holds if one of these does.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    any_of: Vec<ReasonOut<'a>>,
    /// It holds if all of these do.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    all_of: Vec<ReasonOut<'a>>,
}

#[derive(Serialize)]
struct LapseOut<'a> {
    shown: LogLineOut<'a>,
    undone_by: LogLineOut<'a>,
    through: Option<String>,
}

#[derive(Serialize)]
struct LogLineOut<'a> {
    on: &'a str,
    event: &'a str,
    subject: &'a str,
    who: &'a str,
    role: &'a str,
    note: Option<&'a str>,
    place: &'a Place,
}

#[derive(Serialize)]
struct DeferredOut<'a> {
    reason: &'a str,
    limit: &'a str,
    test: &'a str,
    who: &'a str,
    on: &'a str,
    instead_of: &'a str,
    result: Option<&'a str>,
}

#[derive(Serialize)]
struct ObservedOut<'a> {
    name: &'a str,
    value: String,
    place: Option<&'a Place>,
}

#[derive(Serialize)]
struct CitedOut<'a> {
    id: &'a str,
    title: &'a str,
    number: &'a str,
    edition: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    superseded_by: Option<&'a str>,
    paragraph: &'a str,
    mark: Mark,
}

#[derive(Serialize)]
struct ConcededOut<'a> {
    reason: &'a str,
    granted_by: &'a str,
    role: &'a str,
    on: &'a str,
    until: &'a str,
    instead_of: Verdict,
}

#[derive(Serialize)]
struct SetAsideOut<'a> {
    pack: &'a str,
    because: &'a str,
    basis: Option<Basis>,
    sources: Vec<CitedOut<'a>>,
    instead_of: Verdict,
    silenced: &'a [SharedText],
    also: Vec<SetAsideOut<'a>>,
}

#[derive(Serialize)]
struct AddedOut<'a> {
    pack: &'a str,
    basis: Basis,
    held: &'static str,
    because: Vec<ReasonOut<'a>>,
    sources: Vec<CitedOut<'a>>,
    remedy: Option<&'a str>,
    caution: Option<&'a str>,
}

#[derive(Serialize)]
struct QuestionOut<'a> {
    fact: &'a str,
    ask: &'a str,
    example: Option<&'a str>,
    settles: usize,
}

#[derive(Serialize)]
struct TitlesOut<'a> {
    hold_points: Vec<TitleOut<'a>>,
    zones: Vec<TitleOut<'a>>,
    systems: Vec<TitleOut<'a>>,
}

#[derive(Serialize)]
struct TitleOut<'a> {
    name: &'a str,
    title: &'a str,
}

/// The audit as pretty JSON with a line end; see the tables above.
#[must_use]
pub fn json(audit: &Audit) -> String {
    pretty(SCHEMA, &audit_out(audit))
}

/// Pretty JSON. Plain structs of strings and numbers always serialize; should
/// one not, the reader gets an object that says so and no findings.
pub(super) fn pretty(schema: &str, value: &impl Serialize) -> String {
    let mut text = serde_json::to_string_pretty(value)
        .unwrap_or_else(|problem| serde_json::json!({ "schema": schema, "error": problem.to_string() }).to_string());
    text.push('\n');
    text
}

fn audit_out(audit: &Audit) -> AuditOut<'_> {
    let sum = &audit.summary;
    AuditOut {
        schema: SCHEMA,
        project: &audit.project,
        on: &audit.on,
        visit: audit.visit.as_deref(),
        by: audit.by.as_deref(),
        closing: audit.closing.as_deref(),
        packs: audit.packs.iter().map(pack_out).collect(),
        summary: SummaryOut {
            met: sum.met,
            unmet: sum.unmet,
            not_shown: sum.not_shown,
            not_applicable: sum.not_applicable,
            conceded: sum.conceded,
            set_aside: sum.set_aside,
        },
        recorded: audit.recorded,
        findings: audit.findings.iter().map(finding_out).collect(),
        questions: audit
            .questions
            .iter()
            .map(|q| QuestionOut { fact: &q.fact, ask: &q.ask, example: q.example.as_deref(), settles: q.settles })
            .collect(),
        notices: audit.notices.iter().map(cause_sentences::notice).collect(),
        titles: TitlesOut {
            hold_points: titles_out(&audit.titles.hold_points),
            zones: titles_out(&audit.titles.zones),
            systems: titles_out(&audit.titles.systems),
        },
        reminder: audit.reminder,
    }
}

fn pack_out(pack: &Pack) -> PackOut<'_> {
    PackOut {
        name: &pack.name,
        title: &pack.title,
        edition: &pack.edition,
        authority: &pack.authority,
        scope: &pack.scope,
        not_covered: &pack.not_covered,
        uses: &pack.uses,
    }
}

fn finding_out(finding: &Finding) -> FindingOut<'_> {
    FindingOut {
        kind: (finding.kind != FindingKind::Item).then_some(finding.kind),
        item: &finding.item,
        subject: finding.subject.as_deref(),
        verdict: finding.verdict,
        title: title(finding),
        added_by: finding.added_by.as_deref(),
        basis: finding.basis,
        because: finding.because.iter().map(|reason| clause_out(finding, reason)).collect(),
        worked_out: finding.worked_out.iter().map(observed_out).collect(),
        missing: finding.missing.iter().map(|missing| missing.fact.as_str()).collect(),
        sources: finding.sources.iter().map(cited_out).collect(),
        by: &finding.by,
        zone: finding.zone.as_deref(),
        system: &finding.system,
        stops_the_visit: finding.stops_the_visit,
        remedy: finding.remedy.as_deref(),
        caution: finding.caution.as_deref(),
        concession: finding.concession.as_ref().map(conceded_out),
        set_aside: finding.set_aside.split_first().map(|(first, also)| set_aside_out(first, also)),
        deferred: finding.deferred.as_ref().map(deferred_out),
        added: finding.added.iter().map(added_out).collect(),
        notes: finding.notes.iter().map(cause_sentences::remark).collect(),
        waits_for: finding.waits_for.as_deref(),
        waiting: &finding.waiting,
    }
}

/// The title as the pack has it; of a list, what is asked.
pub(super) fn title(finding: &Finding) -> std::borrow::Cow<'_, str> {
    match finding.kind {
        FindingKind::WholeList | FindingKind::Removed => phrases::title(finding).into(),
        FindingKind::Item => finding.title.as_str().into(),
    }
}

fn clause_out<'a>(finding: &Finding, reason: &'a Reason) -> ReasonOut<'a> {
    let judged = finding.set_aside.first().map_or(finding.verdict, |aside| aside.instead_of);
    let when = reason.clause == Clause::When && judged != Verdict::NotApplicable;
    ReasonOut { clause: when.then_some("when"), ..reason_out(reason) }
}

fn reason_out(reason: &Reason) -> ReasonOut<'_> {
    let parts = |join: Join| {
        let joined = reason.parts.iter().filter(move |_| reason.join == Some(join));
        joined.map(reason_out).collect()
    };
    ReasonOut {
        clause: None,
        any_of: parts(Join::Any),
        all_of: parts(Join::All),
        expression: &reason.expression,
        held: held(&reason.held),
        values: reason.values.iter().map(observed_out).collect(),
        note: cause_sentences::notes(&reason.notes),
        lapses: reason.lapses.iter().map(lapse_out).collect(),
    }
}

fn lapse_out(lapse: &Lapse) -> LapseOut<'_> {
    LapseOut {
        shown: log_line_out(&lapse.shown),
        undone_by: log_line_out(&lapse.undone_by),
        through: cause_sentences::through(&lapse.through),
    }
}

fn log_line_out(told: &LogLine) -> LogLineOut<'_> {
    LogLineOut {
        on: &told.on,
        event: &told.event,
        subject: &told.subject,
        who: &told.who,
        role: &told.role,
        note: told.note.as_deref(),
        place: &told.place,
    }
}

fn deferred_out(deferred: &Deferred) -> DeferredOut<'_> {
    DeferredOut {
        reason: &deferred.reason,
        limit: &deferred.limit,
        test: &deferred.test,
        who: &deferred.who,
        on: &deferred.on,
        instead_of: &deferred.instead_of,
        result: deferred.result.as_deref(),
    }
}

fn held(held: &Held) -> &'static str {
    match held {
        Held::True => "true",
        Held::False => "false",
        Held::Undecided => "undecided",
    }
}

fn added_out(added: &AddedNeed) -> AddedOut<'_> {
    AddedOut {
        pack: &added.pack,
        basis: added.basis,
        held: held(&added.held),
        because: added.because.iter().map(reason_out).collect(),
        sources: added.sources.iter().map(cited_out).collect(),
        remedy: added.remedy.as_deref(),
        caution: added.caution.as_deref(),
    }
}

fn observed_out(seen: &Observed) -> ObservedOut<'_> {
    ObservedOut { name: &seen.name, value: cause_sentences::value(&seen.value), place: seen.place.as_ref() }
}

fn cited_out(cited: &Cited) -> CitedOut<'_> {
    CitedOut {
        id: &cited.id,
        title: &cited.title,
        number: &cited.number,
        edition: &cited.edition,
        superseded_by: cited.superseded_by.as_deref(),
        paragraph: &cited.paragraph,
        mark: cited.mark,
    }
}

fn conceded_out(conceded: &Conceded) -> ConcededOut<'_> {
    ConcededOut {
        reason: &conceded.reason,
        granted_by: &conceded.granted_by,
        role: &conceded.role,
        on: &conceded.on,
        until: &conceded.until,
        instead_of: conceded.instead_of,
    }
}

fn set_aside_out<'a>(aside: &'a SetAside, also: &'a [SetAside]) -> SetAsideOut<'a> {
    SetAsideOut {
        pack: &aside.pack,
        because: &aside.because,
        basis: aside.basis,
        sources: aside.sources.iter().map(cited_out).collect(),
        instead_of: aside.instead_of,
        silenced: &aside.silenced,
        also: also.iter().map(|aside| set_aside_out(aside, &[])).collect(),
    }
}

fn titles_out(titles: &[(SharedText, SharedText)]) -> Vec<TitleOut<'_>> {
    titles.iter().map(|(name, title)| TitleOut { name, title }).collect()
}
