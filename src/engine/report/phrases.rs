//! Marks, bases and verdicts in words, for reports that are read aloud.

use super::cause_sentences;
use crate::audit::{
    AddedNeed, Cited, Finding, FindingKind, Held, LineKind, LogLine, Missing, MissingKind, Observed, ObservedValue,
    REMOVED, Titles, Unanswered,
};
use crate::ir::{Named, Pack};
use crate::project::whole::LOG;
use crate::source::SharedText;
use crate::vocabulary::{Basis, Mark, Verdict};

/// A verdict as it stands at the beginning of a block.
pub(super) fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Unmet => "UNMET",
        Verdict::NotShown => "NOT SHOWN",
        Verdict::Conceded => "CONCEDED",
        Verdict::Met => "MET",
        Verdict::NotApplicable => "NOT APPLICABLE",
        Verdict::SetAside => "SET ASIDE",
    }
}

/// A verdict within a sentence.
#[must_use]
pub fn verdict_within(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Unmet => "unmet",
        Verdict::NotShown => "not shown",
        Verdict::Conceded => "conceded",
        Verdict::Met => "met",
        Verdict::NotApplicable => "not applicable",
        Verdict::SetAside => "set aside",
    }
}

/// What kind of word an item is.
pub(super) fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::Law => "law",
        Basis::Limitations => "the limitations issued to this aircraft, which bind it",
        Basis::Advice => "the authority's advice, not law",
        Basis::Handbook => "handbook practice, not law",
        Basis::Association => "an association's advice, not law",
        Basis::Kit => "the kit's own word, not law",
        Basis::CommonPractice => "common practice, not law",
        Basis::Own => "the builder's own rule, not law",
    }
}

/// Whose need is open where what the item itself asks holds.
pub(super) fn added_by(pack: &str, kind: Basis) -> String {
    format!("the pack `{pack}`, standing: {}; what the item itself asks holds", basis(kind))
}

/// What the reader must know about how a source was seen; none where it was read.
pub(super) fn mark(mark: Mark) -> Option<&'static str> {
    match mark {
        Mark::Read => None,
        Mark::Quoted => Some("seen quoted only"),
        Mark::Memory => Some("from memory, not checked: look it up"),
        Mark::CommonPractice => Some("common practice, no document"),
    }
}

/// Number, edition, paragraph and mark of a source.
pub(super) fn cited(source: &Cited) -> String {
    let mut parts = Vec::new();
    if source.mark != Mark::CommonPractice {
        let name = if source.number.is_empty() { &source.title } else { &source.number };
        parts.push(name.to_string());
        if !source.edition.is_empty() {
            parts.push(format!("edition {}", source.edition));
        }
        if !source.paragraph.is_empty() {
            parts.push(format!("at {}", source.paragraph));
        }
    }
    if let Some(later) = &source.superseded_by {
        parts.push(format!("superseded by {later}"));
    }
    match mark(source.mark) {
        Some(words) if parts.is_empty() => words.to_owned(),
        Some(words) => format!("{} ({words})", parts.join(", ")),
        None => parts.join(", "),
    }
}

/// A value with its name and place.
pub(super) fn seen(value: &Observed) -> String {
    let files = with_files(&value.evidence);
    match &value.place {
        Some(place) => format!("{} = {} ({place}){files}", value.name, cause_sentences::value(&value.value)),
        None if matches!(value.value, ObservedValue::WorkedOut(_)) => {
            format!("{} = {}", value.name, cause_sentences::value(&value.value))
        }
        None => format!("{}: {}", value.name, cause_sentences::value(&value.value)),
    }
}

/// The photographs and other files that stand beside something.
pub(super) fn with_files(files: &[String]) -> String {
    if files.is_empty() { String::new() } else { format!(", shown in {}", files.join(", ")) }
}

/// A line of the log: `adjusted controls.elevator on 2026-09-20 by Rosa Example, builder (log/2026-09.toml:3)`.
pub(super) fn told(told: &LogLine) -> String {
    let LogLine { on, event, subject, who, role, place, evidence, .. } = told;
    if told.kind == LineKind::Value {
        let on = if on.is_empty() { "without a day".to_owned() } else { format!("on {on}") };
        return format!("{event} {subject} {on} ({place})");
    }
    format!("{event} {subject} on {on} by {who}, {} ({place}){}", self::role(role), with_files(evidence))
}

/// A role as it is spoken of: `licensed engineer`.
pub(super) fn role(role: &str) -> String {
    role.replace('-', " ")
}

/// A missing fact with its question and an example of an answer.
pub(super) fn missing(missing: &Missing) -> String {
    let mut text = missing.fact.clone();
    let why = cause_sentences::missing_cause(&missing.why);
    if !why.is_empty() {
        text.push_str(", ");
        text.push_str(&why);
    }
    text.push('.');
    if !missing.ask.is_empty() {
        text.push(' ');
        text.push_str(&sentence(&missing.ask));
    }
    if let Some(example) = &missing.example {
        text.push_str(" For example: ");
        text.push_str(example);
    }
    text
}

/// The text with a stop at its end, if it has none.
pub(super) fn sentence(text: &str) -> String {
    let text = text.trim_end();
    if text.ends_with(['.', '?', '!', ':']) || text.is_empty() { text.to_owned() } else { format!("{text}.") }
}

/// The text with its first letter large, as a sentence begins.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A hold point within a sentence: `before the inspector's visit`.
#[must_use]
pub fn hold_point(titles: &Titles, name: &str) -> String {
    let title = titled(&titles.hold_points, name);
    let begins = ["Before ", "During ", "At ", "In ", "After "].iter().any(|word| title.starts_with(word));
    let mut letters = title.chars();
    match letters.next() {
        Some(first) if begins => format!("{}{}", first.to_lowercase(), letters.as_str()),
        _ => format!("by \"{title}\""),
    }
}

/// How far an audit looks: `what is due before the inspector's visit`, `what is due in service or earlier`.
pub(super) fn looked_at(titles: &Titles, by: &str) -> String {
    let by = hold_point(titles, by);
    let earlier = if by.starts_with("before ") { "" } else { " or earlier" };
    format!("what is due {by}{earlier}")
}

/// `1 finding`, `2 findings`.
pub(super) fn counted(n: usize, one: &str, many: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {many}") }
}

/// The names of packs, with commas between.
pub(super) fn pack_names(packs: &[Pack]) -> String {
    packs.iter().map(|pack| pack.name.as_str()).collect::<Vec<_>>().join(", ")
}

/// How a condition came out.
pub(super) fn held(held: &Held) -> &'static str {
    match held {
        Held::True => "yes",
        Held::False => "no",
        Held::Undecided => "not known from what is recorded",
    }
}

/// The parts as a spoken list: `a, b and c`.
pub(super) fn listed(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [only] => only.clone(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

/// The title of a name, or the name itself.
pub(super) fn titled<'a>(titles: &'a [(SharedText, SharedText)], name: &'a str) -> &'a str {
    titles.iter().find(|(known, _)| *known == *name).map_or(name, |(_, title)| title.as_str())
}

/// The place of a name among titles; unknown names come last.
pub(super) fn rank(titles: &[(SharedText, SharedText)], name: &str) -> usize {
    titles.iter().position(|(known, _)| *known == *name).unwrap_or(usize::MAX)
}

/// What is so when it is met; of a list, what is asked.
pub(super) fn title(finding: &Finding) -> String {
    match finding.kind {
        FindingKind::Item => sentence(&finding.title),
        FindingKind::WholeList => {
            let none_known = finding.missing.iter().any(|missing| missing.kind == MissingKind::List);
            asked_of_list(&finding.item, &finding.title, none_known)
        }
        FindingKind::Removed => taken_off(&finding.title),
    }
}

/// What is said of a part that is off.
fn taken_off(part: &str) -> String {
    sentence(&format!("Taken off, and not back: {part}"))
}

/// What is asked of a list, or of the log.
fn asked_of_list(list: &str, ask: &str, none_known: bool) -> String {
    let ask = sentence(ask);
    match (list, none_known) {
        (LOG, _) => "Does the log tell all work that was done?".to_owned(),
        (_, true) => format!("Record each of them, or say that there is none. {ask}"),
        (_, false) => format!("Are these all of them? {ask}"),
    }
}

/// The title of an item, or what is asked of a list: the name of an item holds its pack's.
pub(super) fn title_of(item: &str, title: &str) -> String {
    match item {
        REMOVED => taken_off(title),
        item if item.contains('/') => sentence(title),
        list => asked_of_list(list, title, false),
    }
}

/// The same among others, without a stop: of a list what belongs to it, as far as its first words say.
pub(super) fn in_short(item: &str, title: &str) -> String {
    let title = match item {
        LOG => "Whether the log tells all work that was done",
        item if item.contains('/') => title,
        _ => title.split([':', '.']).next().unwrap_or(title),
    };
    capital(title.trim_end_matches('.'))
}

/// Whether a finding still asks something of the builder.
pub(super) fn is_open(finding: &Finding) -> bool {
    matches!(finding.verdict, Verdict::Unmet | Verdict::NotShown)
}

/// Whether it is told by itself: not where the word that a list is whole is all it waits for, which stands under that.
pub(super) fn is_told(finding: &Finding) -> bool {
    is_open(finding) && finding.waits_for.is_none()
}

/// The first of these by name, and how many others there are.
pub(super) fn named_at_most(mut names: Vec<String>, most: usize) -> String {
    let more = names.len().saturating_sub(most);
    if more > 1 {
        names.truncate(most);
        names.push(counted(more, "other", "others"));
    }
    listed(&names)
}

/// Adds what is not there yet, keeping the order.
pub(super) fn push_new<T: PartialEq>(list: &mut Vec<T>, value: T) {
    if !list.contains(&value) {
        list.push(value);
    }
}

/// What is asked for where something is named.
pub fn named(named: Named) -> &'static str {
    match named {
        Named::Person => "somebody whom [people] of project.toml names",
        Named::File => "a file of the project",
        Named::Part => "the name of a part; `cotterpin log --subjects` lists them",
        Named::Zone => "the name of a zone",
        Named::Instrument => "an instrument, as measuring.equipment calls it",
    }
}

/// What an open finding says is to be done, and its label.
pub(super) fn to_do(finding: &Finding) -> Option<(&'static str, &str)> {
    let open = finding.verdict == Verdict::NotShown;
    check_or_remedy(open, finding.check.as_deref(), finding.remedy.as_deref())
}

/// The same of a need that another pack added.
pub(super) fn to_do_of_need(need: &AddedNeed) -> Option<(&'static str, &str)> {
    check_or_remedy(need.held != Held::False, need.check.as_deref(), need.remedy.as_deref())
}

/// How to find out, where nothing shows it either way; else what to do.
pub(super) fn check_or_remedy<'t>(
    open: bool,
    check: Option<&'t str>,
    remedy: Option<&'t str>,
) -> Option<(&'static str, &'t str)> {
    match (open, check) {
        (true, Some(check)) => Some(("check", check)),
        (true, None) => remedy.map(|remedy| ("if not so", remedy)),
        (false, _) => remedy.map(|remedy| ("do", remedy)),
    }
}

/// What only waits for somebody to say it, in one line; nothing where there is none.
pub(super) fn unanswered(unanswered: &Unanswered) -> Option<String> {
    let Unanswered { questions, words, lists, minutes } = unanswered;
    let kinds = [
        (*questions, "question", "questions"),
        (*words, "word of somebody", "words of somebody"),
        (*lists, "list to call complete", "lists to call complete"),
    ];
    let said: Vec<String> =
        kinds.iter().filter(|(count, ..)| *count > 0).map(|(count, one, many)| counted(*count, one, many)).collect();
    (!said.is_empty()).then(|| format!("{}, about {minutes} min: cotterpin ask", listed(&said)))
}
