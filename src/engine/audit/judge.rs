//! Verdicts: from `when` and `need`, the day, evidence, people's words and
//! concessions to one word per item and record.

use super::cause::PlannedDay;
use super::none_until::{NoneUntil, none_until};
use super::what_counts::{name_people, undo, without_gone};
use crate::eval::{Cache, Caches, ConfirmationRef, Evaluation, Facts, too_long};
use crate::ir::{Arena, ConditionId, FactId, Item, ItemId, Kind, ListId, RowId, Rules};
use crate::lapse::{DerivedLists, Logbook, Wholeness, derived_lists, of_fact, wholeness, wholeness_of_log};
use crate::project::whole::LOG;
use crate::project::{Concession, Deferral, Entry, FIRST_FLIGHT, Record, Recorded, Rows, record_names};
use crate::quantity::{Date, DateRange, Truth};
use crate::source::{Place, Span};
use crate::vocabulary::Verdict;
use std::collections::{BTreeMap, BTreeSet};

/// A project bound to rules, ready to be judged on a day.
#[derive(Debug)]
pub struct Judge<'a> {
    pub(super) rules: &'a Rules,
    pub(super) record: &'a Record,
    pub(super) derived: DerivedLists,
    /// Lists some of whose records are of parts that the aircraft is without: what is left of them.
    left: BTreeMap<ListId, Rows>,
    pub(super) logbook: Logbook<'a>,
    pub(super) facts: Facts,
    /// What the facts come to; nothing is kept once somebody changed one.
    kept: Option<Kept>,
    /// Whether something recorded no longer counts.
    pub(super) undone: bool,
    /// What is taken as none where it is asked whether an item applies.
    pub(super) none_until: NoneUntil,
    /// Whether each list is whole.
    pub(super) lists: Arena<ListId, Wholeness<'a>>,
    pub(super) today: DateRange,
    pub(super) visit: Option<DateRange>,
    /// Days to come on which what runs out must still hold.
    pub(super) coming: Vec<Coming>,
    /// Words about items that ask for one, by item and record.
    words: BTreeMap<ItemId, BTreeMap<Option<String>, Vec<ConfirmationRef<'a>>>>,
    /// Whether the aircraft is for good without a part that items may ask about.
    some_gone: bool,
    /// Items that would take more steps than any may.
    pub(super) too_long: BTreeSet<ItemId>,
    /// Facts that were changed since, and no longer are as the record has them.
    changed: BTreeMap<FactId, Option<Recorded>>,
    /// Where those are written.
    places: BTreeMap<Span, Place>,
}

/// What the facts of a project come to, as far as somebody asked.
#[derive(Debug)]
struct Kept {
    of_all_days: Cache,
    /// For each day that is judged.
    of_days: Vec<(DateRange, Cache)>,
}

impl Kept {
    fn on(&self, day: DateRange) -> Caches<'_> {
        let of_day = self.of_days.iter().find(|(of, _)| *of == day).map(|(_, cache)| cache);
        Caches { of_all_days: Some(&self.of_all_days), of_day }
    }
}

/// The verdict on one item, or on one item and one record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Judged<'a> {
    /// The item.
    pub item: ItemId,
    /// The record's row.
    pub row: Option<RowId>,
    /// The record's name.
    pub subject: Option<String>,
    /// The verdict without any concession.
    pub bare: Verdict,
    /// The verdict.
    pub verdict: Verdict,
    /// The verdict today, where it is a better one than on a day to come.
    pub today: Option<Verdict>,
    /// That day: the visit, or the first flight.
    pub(super) then: Option<Coming>,
    /// The need holds but the evidence asked for is not there.
    pub lacks_evidence: bool,
    /// It does not apply because a fact that nobody recorded is taken as none until a day ahead.
    pub(super) left_out: bool,
    /// What the word that a list is whole would make of it, by itself.
    pub(super) if_whole: Option<IfWhole>,
    /// The concession that counts.
    pub concession: Option<&'a Concession>,
    /// The deferral to test flying that counts.
    pub deferral: Option<&'a Deferral>,
    /// Another wording of the item may be in force as well, and shows as much or more.
    pub(super) either_wording: bool,
}

impl<'a> Judge<'a> {
    /// Binds a record to rules for a day.
    #[must_use]
    pub fn new(rules: &'a Rules, record: &'a Record, on: Date) -> Self {
        // Of a month that has begun only what is left of it is to come.
        let to_come = |visit: DateRange| DateRange::new(visit.first.max(on), visit.last);
        let visit = record.visit.filter(|visit| visit.last > on).and_then(to_come);
        let logbook = Logbook::new(rules, record, on);
        let derived = derived_lists(rules, record, logbook.removals(), on);
        let mut facts = Facts::bind(rules, record);
        let left = without_gone(rules, record, &logbook);
        for (list, rows) in &left {
            facts.set_list(rules, *list, rows);
        }
        let undone = undo(rules, (record, &left), &logbook, &mut facts);
        name_people(rules, record, &logbook, &mut facts);
        for (list, rows) in &derived {
            facts.set_list(rules, *list, rows);
        }
        let (mut lists, log) = (Arena::default(), wholeness_of_log(record, on));
        for id in rules.lists.ids() {
            let rows = record.lists.get(&id).or_else(|| derived.get(&id));
            let stands = wholeness((rules, &logbook, &log), record, id, rows, on);
            facts.set_whole(id, stands == Wholeness::Whole);
            lists.push(stands);
        }
        let none_until = none_until(rules, record, on);
        facts.take_as_none(rules, none_until.keys().copied().collect());
        facts.logged = logbook.shown();
        facts.disturbed = logbook.last_disturbed();
        let (today, coming) = (DateRange::day(on), coming(record, visit, on));
        let days = std::iter::once(today).chain(coming.iter().map(|coming| coming.on));
        let of_days = days.map(|day| (day, Cache::default())).collect();
        let mut judge = Self {
            rules,
            record,
            derived,
            left,
            logbook,
            facts,
            kept: Some(Kept { of_all_days: Cache::default(), of_days }),
            undone,
            none_until,
            lists,
            today,
            coming,
            visit,
            words: BTreeMap::new(),
            some_gone: false,
            too_long: BTreeSet::new(),
            changed: BTreeMap::new(),
            places: BTreeMap::new(),
        };
        judge.some_gone = judge.is_some_named_part_gone();
        judge.too_long = too_long(rules, |list| judge.rows(list).map_or(0, |rows| rows.rows.len() as u64));
        for confirmation in &record.confirmations {
            let Some(role) = rules.roles.position(|role| role.name == confirmation.role) else { continue };
            let kept_from_builders = rules.roles.get(role).is_some_and(|role| role.other_than_builder);
            let out_of_role = kept_from_builders && judge.logbook.persons().is_builder(&confirmation.who);
            let person = judge.logbook.persons().role_set(rules, &confirmation.who);
            for item in rules.find_items(&confirmation.item) {
                let given_to = |item| judge.given_to(item, confirmation.wording, confirmation.on);
                if !rules.item(item).is_some_and(given_to) {
                    continue;
                }
                let word = ConfirmationRef {
                    role,
                    person,
                    out_of_role,
                    on: confirmation.on,
                    at: confirmation.at,
                    holds: confirmation.holds,
                    recorded: confirmation,
                };
                let of_item = judge.words.entry(item).or_default();
                of_item.entry(confirmation.subject.clone()).or_default().push(word);
            }
        }
        judge
    }

    /// The facts as bound, to change one and judge again.
    pub fn facts_mut(&mut self) -> &mut Facts {
        self.kept = None;
        &mut self.facts
    }

    /// Changes one fact, if that changes nothing but what reads it: not if the log bears on its old value or its new
    /// one, nor if it names somebody or something. Says whether it did; else the record has to be bound anew.
    pub fn set_fact(&mut self, id: FactId, recorded: Option<Recorded>, place: Place) -> bool {
        let Some(fact) = self.rules.fact(id) else { return false };
        let stands = |recorded: &Recorded| {
            let of = of_fact(fact);
            of.is_none() && recorded.taken.is_none() || self.logbook.value_counts(recorded, of)
        };
        let named = matches!(fact.kind, Kind::Named(_));
        if named
            || self.bears_on_none_until(id)
            || !self.recorded(id).is_none_or(stands)
            || !recorded.as_ref().is_none_or(stands)
        {
            return false;
        }
        if let Some(recorded) = &recorded {
            self.places.insert(recorded.place, place);
        }
        let rules = self.rules;
        self.facts_mut().set(rules, id, recorded.as_ref());
        self.changed.insert(id, recorded);
        true
    }

    /// What is recorded of a fact.
    pub(super) fn recorded(&self, id: FactId) -> Option<&Recorded> {
        self.changed.get(&id).map_or_else(|| self.record.facts.get(&id), Option::as_ref)
    }

    /// Where a value is written.
    pub(super) fn place(&self, recorded: &Recorded) -> Place {
        let own = self.places.get(&recorded.place).cloned();
        own.unwrap_or_else(|| self.record.sources.place(recorded.place))
    }

    /// The records of a list, the builder's own or one the log keeps.
    pub(super) fn rows(&self, list: ListId) -> Option<&Rows> {
        let recorded = || self.record.lists.get(&list).or_else(|| self.derived.get(&list));
        self.left.get(&list).or_else(recorded)
    }

    /// An evaluation for the audit date, with the words about an item.
    pub(super) fn evaluation(&self, item: ItemId, subject: Option<&str>, day: DateRange) -> Evaluation<'_> {
        let words = self.words.get(&item).and_then(|of_item| of_item.get(&subject.map(str::to_owned)));
        let mut evaluation = self.evaluation_without_words(day);
        evaluation.confirmations = words.map_or(&[], Vec::as_slice);
        evaluation
    }

    /// An evaluation for what no word about an item decides.
    pub(super) fn evaluation_without_words(&self, day: DateRange) -> Evaluation<'_> {
        let caches = self.kept.as_ref().map_or_else(Caches::default, |kept| kept.on(day));
        Evaluation::new(&self.rules.program, &self.facts, day).with_caches(caches)
    }

    /// Judges one item: once, or once per record.
    #[must_use]
    pub fn judge(&self, id: ItemId) -> Vec<Judged<'a>> {
        let mut judged = Vec::new();
        self.judge_into(id, &mut judged);
        judged
    }

    /// Judges every item in force, in the order of the packs, without a word
    /// of explanation: for a caller that has many projects, or asks often.
    ///
    /// The verdicts are those of [`audit`](super::audit()) up to no hold point. Where
    /// two wordings of an item may be in force when it must be met, both are there; an audit tells the worse.
    #[must_use]
    pub fn verdicts(&self) -> Vec<Judged<'a>> {
        let mut judged = Vec::with_capacity(self.rules.items.len());
        for id in self.rules.items.ids() {
            self.judge_into(id, &mut judged);
        }
        judged
    }

    /// Judges one item and adds what came of it.
    pub(super) fn judge_into(&self, id: ItemId, judged: &mut Vec<Judged<'a>>) {
        let Some(item) = self.rules.item(id) else { return };
        if !self.may_be_in_force(item) {
            // Of no wording in force nothing is asked.
            if self.stands_for_none(id, item) {
                judged.push(Judged::plain(id, Verdict::NotApplicable));
            }
            return;
        }
        let Some(list) = item.each else {
            judged.push(self.judge_one(id, item, None, None));
            return;
        };
        match self.rows(list) {
            Some(rows) if !rows.rows.is_empty() => judged.extend(
                record_names(self.rules, list, rows)
                    .into_iter()
                    .enumerate()
                    .map(|(at, name)| self.judge_one(id, item, Some(RowId::new(at)), Some(name))),
            ),
            // It stays counted among what was set aside.
            _ if item.is_set_aside() => {
                judged.push(Judged { verdict: Verdict::SetAside, ..Judged::plain(id, Verdict::NotShown) });
            }
            // Whole, with no record: there is nothing it could be about.
            _ if self.is_whole(list) => judged.push(Judged::plain(id, Verdict::NotApplicable)),
            // Whether there is any is asked of the list, once, not of each item.
            _ => {}
        }
    }

    /// What becomes of an item that is raised for each record of a list, where
    /// there is none and nobody says that this is all: nothing is shown, unless
    /// it certainly does not apply. An audit asks that of the list.
    pub(crate) fn without_record(&self, item: &Item) -> Verdict {
        if self.may_apply_without_record(item, self.today) { Verdict::NotShown } else { Verdict::NotApplicable }
    }

    /// The rules that are judged by.
    pub(crate) fn rules(&self) -> &'a Rules {
        self.rules
    }

    /// What the word that a list is whole is said of: the list, or the log that it comes from.
    pub(super) fn list_or_log(&self, list: ListId) -> Option<&str> {
        let list = self.rules.list(list)?;
        Some(if list.derived() { LOG } else { &list.name })
    }

    /// Whether somebody's word makes a list just the records that are known.
    pub(super) fn is_whole(&self, list: ListId) -> bool {
        self.lists.get(list) == Some(&Wholeness::Whole)
    }

    fn judge_one(&self, id: ItemId, item: &Item, row: Option<RowId>, subject: Option<String>) -> Judged<'a> {
        let on = |day: DateRange| self.on_day(id, item, (row, subject.as_deref()), day, None);
        let OnDay { verdict: now, lacks_evidence, left_out } = on(self.today);
        let mut judged = Judged { row, lacks_evidence, left_out, ..Judged::plain(id, now) };
        for coming in self.coming.iter().filter(|_| item.uses_today) {
            let OnDay { verdict: then, lacks_evidence, left_out } = on(coming.on);
            if severity(then) > severity(judged.bare) {
                judged.lacks_evidence = lacks_evidence;
                judged.left_out = left_out;
                judged.today = Some(now);
                judged.then = Some(*coming);
                judged.bare = then;
                judged.verdict = then;
            }
        }
        judged.subject = subject;
        let set_aside = item.is_set_aside();
        if matches!(judged.bare, Verdict::Unmet | Verdict::NotShown) && !item.no_concession && !set_aside {
            judged.concession = self.concession(id, judged.subject.as_deref());
            if judged.concession.is_some() {
                judged.verdict = Verdict::Conceded;
            }
        }
        if judged.verdict == Verdict::NotShown && may_be_deferred(item) {
            self.defer(&mut judged);
        }
        if set_aside {
            judged.verdict = Verdict::SetAside;
        }
        judged
    }

    /// What the verdict would be if somebody said that a list is whole.
    pub(super) fn if_whole(&self, id: ItemId, item: &Item, judged: &Judged<'_>, list: ListId) -> Verdict {
        let day = judged.then.map_or(self.today, |then| then.on);
        self.on_day(id, item, (judged.row, judged.subject.as_deref()), day, Some(list)).verdict
    }

    /// The verdict on one day.
    fn on_day(
        &self,
        id: ItemId,
        item: &Item,
        (row, subject): (Option<RowId>, Option<&str>),
        day: DateRange,
        as_if_whole: Option<ListId>,
    ) -> OnDay {
        let plain = |verdict| OnDay { verdict, lacks_evidence: false, left_out: false };
        if self.gone(item, row, subject).is_some() {
            return plain(Verdict::NotApplicable);
        }
        if self.too_long.contains(&id) {
            return plain(Verdict::NotShown);
        }
        let mut evaluation = self.evaluation(id, subject, day);
        if let Some(list) = as_if_whole {
            evaluation = evaluation.if_whole(list);
        }
        let decide = |evaluation: &Evaluation<'_>, node: ConditionId| match row {
            Some(_) => evaluation.decide_for(node, row),
            None => evaluation.decide(node),
        };
        let applies = item.when.map_or(Truth::True, |when| decide(&evaluation, when));
        if applies == Truth::False {
            return plain(Verdict::NotApplicable);
        }
        if let Some(when) = item.when.filter(|_| applies == Truth::Undecided && self.reads_none_until(item)) {
            let evaluation = self.evaluation(id, subject, day).with_none_until();
            if decide(&evaluation, when) == Truth::False {
                return OnDay { left_out: true, ..plain(Verdict::NotApplicable) };
            }
        }
        match (decide(&evaluation, item.need), applies) {
            (Truth::True, _) if !self.has_evidence(item, subject) => {
                OnDay { lacks_evidence: true, ..plain(Verdict::NotShown) }
            }
            (Truth::True, _) => plain(Verdict::Met),
            (Truth::False, Truth::True) => plain(Verdict::Unmet),
            (Truth::False | Truth::Undecided, _) => plain(Verdict::NotShown),
        }
    }

    /// Whether the aircraft is without a part that a pack or a record names: of others no item asks.
    fn is_some_named_part_gone(&self) -> bool {
        let removals = self.logbook.removals();
        let is_gone = |part: &str| removals.gone(part).is_some();
        let records = || self.record.lists.values().chain(self.derived.values()).flat_map(|rows| &rows.rows);
        removals.any_gone()
            && (self.rules.subjects.iter().any(|part| is_gone(&part.name))
                || records().filter_map(|row| row.part.as_deref()).any(is_gone))
    }

    /// The entry by which the aircraft is without all that an item asks about.
    pub(super) fn gone(&self, item: &Item, row: Option<RowId>, subject: Option<&str>) -> Option<&'a Entry> {
        if !self.some_gone {
            return None;
        }
        let removals = self.logbook.removals();
        let states = self.states_asked(item, row, subject);
        let gone: Option<Vec<&Entry>> = states.iter().map(|of| of.part.and_then(|part| removals.gone(part))).collect();
        gone?.into_iter().next()
    }
}

/// The verdict on one day.
#[derive(Debug, Clone, Copy)]
struct OnDay {
    verdict: Verdict,
    /// Only evidence is missing.
    lacks_evidence: bool,
    /// It does not apply because something that nobody recorded is taken as none.
    left_out: bool,
}

impl Judged<'_> {
    fn plain(item: ItemId, verdict: Verdict) -> Self {
        Self {
            item,
            row: None,
            subject: None,
            bare: verdict,
            verdict,
            today: None,
            then: None,
            lacks_evidence: false,
            left_out: false,
            if_whole: None,
            concession: None,
            deferral: None,
            either_wording: false,
        }
    }
}

/// What the word that a list is whole would make of a verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct IfWhole {
    /// The list.
    pub(super) list: ListId,
    /// The verdict then.
    pub(super) verdict: Verdict,
}

/// A day to come on which what runs out must still hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Coming {
    /// What happens then.
    pub(super) what: PlannedDay,
    /// When.
    pub(super) on: DateRange,
}

/// The planned visit and the planned first flight, as far as they are still to come.
fn coming(record: &Record, visit: Option<DateRange>, on: Date) -> Vec<Coming> {
    let flight = record.planned.get(FIRST_FLIGHT).filter(|flight| **flight > on);
    let visit = visit.map(|on| Coming { what: PlannedDay::Visit, on });
    visit
        .into_iter()
        .chain(flight.map(|on| Coming { what: PlannedDay::FirstFlight, on: DateRange::day(*on) }))
        .collect()
}

/// What nobody can concede, or what can end the visit, cannot wait for a flight either.
pub(super) fn may_be_deferred(item: &Item) -> bool {
    !item.no_concession && !item.stops_the_visit && !item.is_set_aside()
}

/// Of two days, or two wordings, the worse verdict counts.
pub(super) fn severity(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Unmet => 3,
        Verdict::NotShown => 2,
        Verdict::Met | Verdict::Conceded => 1,
        Verdict::NotApplicable | Verdict::SetAside => 0,
    }
}
