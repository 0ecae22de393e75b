//! What is said of a finding, line by line, for formats that have no page:
//! SARIF, JUnit XML and CSV. The words are those of the text report.

use super::cause_sentences;
use super::phrases;
use crate::audit::{AddedNeed, Clause, Conceded, Deferred, Finding, FindingKind, Held, Lapse, Reason, SetAside};
use crate::source::SharedText;

/// The name of a finding, the same in each of these formats: the item's full
/// name, and in brackets the record it is about. No item's name has a bracket.
pub(super) fn key(item: &str, subject: Option<&str>) -> String {
    subject.map_or_else(|| item.to_owned(), |subject| format!("{item}[{subject}]"))
}

/// The title as the pack has it; of a list, what is asked, and of a part that is off, that it is.
pub(super) fn title(finding: &Finding) -> String {
    match finding.kind {
        FindingKind::WholeList | FindingKind::Removed => phrases::title(finding),
        FindingKind::Item => finding.title.to_string(),
    }
}

/// The lines of a finding, each of one kind.
#[derive(Default)]
pub(super) struct Lines {
    pub(super) asked: Vec<String>,
    pub(super) seen: Vec<String>,
    pub(super) undone: Vec<String>,
    pub(super) notes: Vec<String>,
    pub(super) missing: Vec<String>,
    pub(super) waiting: Vec<String>,
    pub(super) deferred: Vec<String>,
    pub(super) conceded: Vec<String>,
    pub(super) set_aside: Vec<String>,
    pub(super) added: Vec<String>,
    pub(super) sources: Vec<String>,
}

impl Lines {
    pub(super) fn of(finding: &Finding) -> Self {
        let mut lines = Self::default();
        for reason in &finding.because {
            lines.reason(reason);
        }
        for value in &finding.worked_out {
            phrases::push_new(&mut lines.seen, phrases::seen(value));
        }
        lines.notes.extend(finding.notes.iter().map(|remark| phrases::sentence(&cause_sentences::remark(remark))));
        lines.missing = finding.missing.iter().map(phrases::missing).collect();
        lines.waiting = finding.waiting.iter().map(|one| key(&one.item, one.subject.as_deref())).collect();
        lines.deferred = finding.deferred.iter().map(deferred).collect();
        lines.conceded = finding.concession.iter().map(conceded).collect();
        lines.set_aside = finding.set_aside.iter().map(set_aside).collect();
        lines.added = finding.added.iter().map(added).collect();
        lines.sources = finding.sources.iter().map(phrases::cited).collect();
        lines
    }

    fn reason(&mut self, reason: &Reason) {
        let when = if reason.clause == Clause::When { "applies if " } else { "" };
        phrases::push_new(&mut self.asked, format!("{when}{}", reason.expression));
        for leaf in reason.leaves() {
            leaf.values.iter().for_each(|value| phrases::push_new(&mut self.seen, phrases::seen(value)));
            leaf.lapses.iter().for_each(|lapse| phrases::push_new(&mut self.undone, undone(lapse)));
            if let Some(note) = cause_sentences::notes(&leaf.notes) {
                phrases::push_new(&mut self.notes, phrases::sentence(&note));
            }
        }
    }

    /// Each line after the word for its kind.
    pub(super) fn labelled(&self) -> impl Iterator<Item = (&'static str, &str)> {
        let kinds = [
            ("asked", &self.asked),
            ("recorded", &self.seen),
            ("undone", &self.undone),
            ("note", &self.notes),
            ("missing", &self.missing),
            ("waiting", &self.waiting),
            ("deferred", &self.deferred),
            ("conceded", &self.conceded),
            ("set aside", &self.set_aside),
            ("added", &self.added),
            ("source", &self.sources),
        ];
        kinds.into_iter().flat_map(|(label, lines)| lines.iter().map(move |line| (label, line.as_str())))
    }
}

/// All that is said of a finding, one line each: a line break in what somebody recorded begins none.
pub(super) fn text(finding: &Finding) -> String {
    let mut text = String::new();
    let mut line = |label: &str, words: &str| text.extend([label, ": ", &words.replace(['\n', '\r'], " "), "\n"]);
    line("item", &finding.item);
    finding.subject.iter().for_each(|subject| line("record", subject));
    finding.added_by.iter().for_each(|pack| line("added by", &phrases::added_by(pack, finding.basis)));
    Lines::of(finding).labelled().for_each(|(label, words)| line(label, words));
    line("standing", phrases::basis(finding.basis));
    phrases::to_do(finding).iter().for_each(|(label, words)| line(label, words));
    finding.caution.iter().for_each(|caution| line("CAUTION", caution));
    text
}

fn undone(lapse: &Lapse) -> String {
    let through = cause_sentences::through(&lapse.through).map_or_else(String::new, |through| format!("; {through}"));
    format!("{}, undone by {}{through}", phrases::told(&lapse.shown), phrases::told(&lapse.undone_by))
}

fn deferred(deferred: &Deferred) -> String {
    let Deferred { reason, limit, test, who, on, result, .. } = deferred;
    format!(
        "to test flying, by {who} on {on}: {} Until then: {} To be shown: {} Result: {}",
        phrases::sentence(reason),
        phrases::sentence(limit),
        phrases::sentence(test),
        phrases::sentence(result.as_deref().unwrap_or("none recorded yet"))
    )
}

/// Why leave was given, by whom and until when.
pub(super) fn conceded(conceded: &Conceded) -> String {
    let Conceded { reason, granted_by, role, on, until, instead_of } = conceded;
    let role = if role.is_empty() { String::new() } else { format!(", {}", phrases::role(role)) };
    let instead = phrases::verdict_within(*instead_of);
    format!(
        "{} Granted by {granted_by}{role}, from {on} until {until}, instead of {instead}.",
        phrases::sentence(reason)
    )
}

/// Which pack set it aside, and why.
pub(super) fn set_aside(aside: &SetAside) -> String {
    let SetAside { pack, because, basis, sources, instead_of, silenced } = aside;
    let mut text = format!("by the pack `{pack}`: {}", phrases::sentence(because));
    for source in sources {
        text.push_str(&format!(" Written in {}.", phrases::cited(source)));
    }
    if let Some(basis) = basis {
        text.push_str(&format!(" That is {}.", phrases::basis(*basis)));
    }
    text.push_str(&format!(" Instead of {}.", phrases::verdict_within(*instead_of)));
    if !silenced.is_empty() {
        let packs: Vec<String> = silenced.iter().map(SharedText::to_string).collect();
        text.push_str(&format!(" With it falls silent what {} added.", phrases::listed(&packs)));
    }
    text
}

fn added(need: &AddedNeed) -> String {
    let held = match need.held {
        Held::True => "holds",
        Held::False => "does not hold",
        Held::Undecided => "cannot be decided",
    };
    let mut lines = Lines::default();
    need.because.iter().for_each(|reason| lines.reason(reason));
    lines.sources = need.sources.iter().map(phrases::cited).collect();
    let mut text = format!("by the pack `{}`, basis: {}; it {held}", need.pack, phrases::basis(need.basis));
    for (label, line) in lines.labelled() {
        text.push_str(&format!("; {label} {line}"));
    }
    let caution = need.caution.as_deref().map(|words| ("CAUTION", words));
    for (label, words) in phrases::to_do_of_need(need).into_iter().chain(caution) {
        text.push_str(&format!("; {label} {words}"));
    }
    text
}
