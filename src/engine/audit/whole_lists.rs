//! One finding for each list of which nobody says that it is whole, while
//! something that is judged waits for that word.

use super::build_finding::evaluation_of;
use super::explain::Explanation;
use super::finding::{Cited, Finding, FindingKind};
use super::item_ref::ItemRef;
use super::judge::{IfWhole, Judge, Judged};
use crate::eval::MissingInput;
use crate::ir::{Frame, HoldPointId, Item, ItemId, ListId};
use crate::lapse::Wholeness;
use crate::project::VISIT;
use crate::project::whole::LOG;
use crate::source::SharedText;
use crate::vocabulary::{Basis, Mark, Verdict};
use std::collections::BTreeMap;

/// The lists of which the word is wanted, each by its name; those derived from the log as the log.
#[derive(Debug, Clone, Default)]
pub(super) struct WantedWords(BTreeMap<String, WantedWord>);

/// What waits for one word.
#[derive(Debug, Clone)]
struct WantedWord {
    list: ListId,
    due: HoldPointId,
    stops_the_visit: bool,
    waiting: Vec<ItemRef>,
}

impl WantedWords {
    /// Adds an item that is raised for each record of a list: for those that are not recorded it is not judged.
    pub(super) fn raised(&mut self, judge: &Judge<'_>, name: &str, item: &Item) {
        let Some(list) = item.each.filter(|list| !judge.is_whole(*list) && !item.is_set_aside()) else { return };
        let days =
            std::iter::once(judge.today).chain(judge.coming.iter().filter(|_| item.uses_today).map(|day| day.on));
        if days.into_iter().any(|day| judge.may_apply_without_record(item, day)) {
            self.add(judge, list, item, item.by, ItemRef { item: name.to_owned(), subject: None });
        }
    }

    /// Adds what is not shown for want of a word, and notes what the word alone would make of it.
    pub(super) fn not_shown(
        &mut self,
        judge: &Judge<'_>,
        name: &str,
        (id, item): (ItemId, &Item),
        judged: &mut Judged<'_>,
        due: HoldPointId,
    ) {
        if judged.verdict != Verdict::NotShown || judged.lacks_evidence {
            return;
        }
        // Most items read no list that is open.
        let wanted = item.reads_lists.iter().any(|list| !judge.is_whole(*list));
        for list in if wanted { words_wanted(judge, item, judged) } else { Vec::new() } {
            let verdict = judge.if_whole(id, item, judged, list);
            if matches!(verdict, Verdict::Met | Verdict::Unmet) {
                judged.if_whole = Some(IfWhole { list, verdict });
            }
            self.add(judge, list, item, due, ItemRef { item: name.to_owned(), subject: judged.subject.clone() });
        }
    }

    fn add(&mut self, judge: &Judge<'_>, list: ListId, item: &Item, due: HoldPointId, waiting: ItemRef) {
        let Some(name) = judge.list_or_log(list) else { return };
        // The log is told of at the visit, where there is one.
        let visit = judge.rules.hold_points.position(|point| point.name == VISIT);
        let due = visit.filter(|_| name == LOG).unwrap_or(due);
        let word = self.0.entry(name.to_owned()).or_insert_with(|| WantedWord {
            list,
            due,
            stops_the_visit: false,
            waiting: Vec::new(),
        });
        word.due = word.due.min(due);
        word.stops_the_visit |= item.stops_the_visit;
        if !word.waiting.contains(&waiting) {
            word.waiting.push(waiting);
        }
    }

    /// Whether nothing waits for a word.
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What else waits for the same words.
    pub(super) fn merge(&mut self, other: &Self) {
        for (name, word) in &other.0 {
            match self.0.get_mut(name) {
                None => {
                    self.0.insert(name.clone(), word.clone());
                }
                Some(known) => {
                    known.due = known.due.min(word.due);
                    known.stops_the_visit |= word.stops_the_visit;
                    for waiting in &word.waiting {
                        if !known.waiting.contains(waiting) {
                            known.waiting.push(waiting.clone());
                        }
                    }
                }
            }
        }
    }

    /// The finding of each, with the hold point at which it is due.
    pub(super) fn findings(self, judge: &Judge<'_>, as_data: bool) -> Vec<(HoldPointId, Finding)> {
        self.0.into_iter().filter_map(|(name, word)| Some((word.due, finding(judge, name, word, as_data)?))).collect()
    }
}

/// The lists whose word is among what an item that is not shown waits for.
fn words_wanted(judge: &Judge<'_>, item: &Item, judged: &Judged<'_>) -> Vec<ListId> {
    let evaluation = evaluation_of(judge, judged);
    let mut frame = Frame::of(judged.row);
    let mut wanted: Vec<ListId> = Vec::new();
    let worked_out = !judge.too_long.contains(&judged.item);
    for node in item.when.into_iter().chain([item.need]).filter(|_| worked_out) {
        let lists = evaluation.missing_inputs(node, true, &mut frame).into_iter().filter_map(|input| match input {
            MissingInput::Whole(list) | MissingInput::List(list) => Some(list),
            _ => None,
        });
        wanted.extend(lists.filter(|list| !judge.is_whole(*list)));
    }
    wanted.sort_unstable();
    wanted.dedup();
    wanted
}

/// Whether a list that the builder writes has no record, and nobody has said that it has none.
fn nothing_known(judge: &Judge<'_>, list: ListId) -> bool {
    judge.lists.get(list) == Some(&Wholeness::Unsaid)
        && judge.rules.list(list).is_some_and(|list| !list.derived())
        && judge.rows(list).is_none_or(|rows| rows.rows.is_empty())
}

fn finding(judge: &Judge<'_>, name: String, word: WantedWord, as_data: bool) -> Option<Finding> {
    let rules = judge.rules;
    let list = rules.list(word.list)?;
    let explanation = Explanation { judge, evaluation: judge.evaluation_without_words(judge.today), as_data };
    let input =
        if nothing_known(judge, word.list) { MissingInput::List(word.list) } else { MissingInput::Whole(word.list) };
    let mut waiting = word.waiting;
    waiting.sort();
    Some(Finding {
        kind: FindingKind::WholeList,
        system: name.split('.').next().unwrap_or("").to_owned(),
        item: name,
        added_by: None,
        subject: None,
        verdict: Verdict::NotShown,
        title: if list.derived() { SharedText::default() } else { list.ask.clone() },
        basis: Basis::CommonPractice,
        because: Vec::new(),
        worked_out: Vec::new(),
        missing: explanation.missing(&input, "", &mut Frame::default()).into_iter().collect(),
        sources: vec![Cited::common_practice(Mark::CommonPractice)],
        by: rules.hold_points.get(word.due).map(|point| point.name.clone()).unwrap_or_default(),
        zone: None,
        stops_the_visit: word.stops_the_visit,
        check: None,
        remedy: None,
        caution: None,
        concession: None,
        set_aside: Vec::new(),
        deferred: None,
        added: Vec::new(),
        notes: Vec::new(),
        after: Vec::new(),
        waits_for: None,
        waiting,
        place: (as_data && !list.derived()).then(|| rules.sources.place(list.place)),
    })
}
