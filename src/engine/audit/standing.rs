//! The findings of a record item by item, so that a change makes those anew that it can reach, and no others.

use super::build_finding::{HowMuch, finding};
use super::finding::Finding;
use super::index::Index;
use super::judge::{Judge, severity};
use super::off;
use super::request::{Request, Scope, has_one_wording};
use super::whole_lists::WantedWords;
use crate::ir::{Arena, Child, Condition, FactId, IdOf, Item, ItemId, ListId, Origin, Rules};
use std::collections::{BTreeMap, BTreeSet};

/// A finding that is another now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed {
    /// What it was; none where it is new.
    pub before: Option<Finding>,
    /// What it is; none where there is none any more.
    pub now: Option<Finding>,
}

/// What a change can bear on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reach {
    /// What reads a fact.
    Fact(FactId),
    /// What reads a list, or asks whether it is whole.
    List(ListId),
    /// The items of these names, as a builder writes them.
    Items(Vec<String>),
    /// What anything in the log can undo or show.
    Log,
    /// Anything.
    All,
}

/// Which items share a name, and which read what.
#[derive(Debug)]
pub struct Readers {
    facts: Index,
    lists: BTreeMap<ListId, BTreeSet<NameId>>,
    /// Those that the log can bear on.
    log: BTreeSet<NameId>,
    /// The wordings of each name.
    names: Arena<NameId, (String, Vec<ItemId>)>,
    of_item: Arena<ItemId, NameId>,
}

/// An item's full name, which its wordings share.
type NameId = IdOf<OfName>;

impl Readers {
    /// Looks all items through once.
    #[must_use]
    pub fn new(rules: &Rules) -> Self {
        let mut known: BTreeMap<String, NameId> = BTreeMap::new();
        let mut readers = Self {
            log: BTreeSet::new(),
            facts: Index::new(rules),
            lists: BTreeMap::new(),
            names: Arena::default(),
            of_item: Arena::default(),
        };
        for (id, item) in rules.items_with_ids() {
            let full = rules.full_name(item);
            let name = match known.get(&full) {
                Some(name) => *name,
                None => {
                    let name = readers.names.push((full.clone(), Vec::new()));
                    known.insert(full, name);
                    name
                }
            };
            if let Some((_, wordings)) = readers.names.get_mut(name) {
                wordings.push(id);
            }
            readers.of_item.push(name);
            if may_lapse(rules, item) {
                readers.log.insert(name);
            }
            for list in item.reads_lists.iter().copied().chain(item.each) {
                readers.lists.entry(list).or_default().insert(name);
            }
        }
        readers
    }

    /// The names that a change can bear on.
    fn reached(&self, rules: &Rules, reach: &Reach) -> BTreeSet<NameId> {
        let name = |id: &ItemId| self.of_item.get(*id).copied();
        match reach {
            Reach::Fact(fact) => self.facts.readers(*fact).iter().filter_map(name).collect(),
            Reach::List(list) => self.lists.get(list).cloned().unwrap_or_default(),
            Reach::Items(items) => {
                items.iter().flat_map(|item| rules.find_items(item)).filter_map(|id| name(&id)).collect()
            }
            Reach::Log => self.log.clone(),
            Reach::All => self.names.ids().collect(),
        }
    }
}

/// Whether an entry of the log can undo or show something that an item asks for.
fn may_lapse(rules: &Rules, item: &Item) -> bool {
    let lets = item.lets.iter().map(|one| Child::Number(one.node));
    let conditions = item.when.into_iter().chain([item.need]).map(Child::Condition);
    let of_fact = |id: &FactId| rules.fact(*id).is_some_and(|fact| fact.state.is_some());
    let of_list =
        |id: ListId| rules.list(id).is_none_or(|list| list.derived() || list.part.is_some() || list.names_states());
    !item.shows.is_empty()
        || item.reads.iter().any(of_fact)
        || item.reads_lists.iter().copied().chain(item.each).any(of_list)
        || conditions.chain(lets).any(|child| asks_the_log(rules, child, &of_list))
}

/// Whether a part of a condition asks for an entry, or for a word that an entry undoes, or reads what one undoes.
fn asks_the_log(rules: &Rules, child: Child, of_list: &impl Fn(ListId) -> bool) -> bool {
    let program = &rules.program;
    let any_of = |children: Vec<Child>| children.into_iter().any(|child| asks_the_log(rules, child, of_list));
    match child {
        Child::Condition(node) => program.conditions.get(node).copied().is_some_and(|condition| {
            matches!(condition, Condition::Confirmed(_) | Condition::Logged(_))
                || any_of(program.children_of_condition(condition).collect())
        }),
        Child::Number(node) | Child::IfEmpty(node) => program
            .numbers
            .get(node)
            .copied()
            .is_some_and(|number| any_of(program.children_of_number(number).collect())),
        Child::Records(over) => {
            of_list(over.list) || over.condition.is_some_and(|node| any_of(vec![Child::Condition(node)]))
        }
        Child::Column { list, .. } => of_list(list),
        Child::Read(operand) => match operand.origin() {
            Some(Origin::Slot(slot)) => {
                let fact = program.slots.fact(slot).and_then(|id| rules.fact(id));
                fact.is_some_and(|fact| fact.state.is_some())
            }
            Some(Origin::Field { list, .. }) => of_list(list),
            None => false,
        },
    }
}

/// What the items of one name come to.
#[derive(Debug, Clone, Default)]
struct OfName {
    findings: Vec<Finding>,
    words: WantedWords,
}

/// All findings of a record, as they stand.
#[derive(Debug, Clone)]
pub struct Standing {
    scope: Scope,
    of_names: Arena<NameId, OfName>,
    /// The lists of which the word is wanted, and the parts that are off.
    others: BTreeMap<(String, Option<String>), Finding>,
}

impl Standing {
    /// Every finding of a judge's record.
    #[must_use]
    pub fn new(judge: &Judge<'_>, readers: &Readers, request: &Request) -> Self {
        let scope = Scope::of(judge.rules(), request);
        let of_names = readers.names.iter().map(|name| of_name(judge, scope, name)).collect();
        let mut standing = Self { scope, of_names, others: BTreeMap::new() };
        standing.others = standing.others(judge);
        standing
    }

    /// All findings, in no order that means anything.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        self.of_names.iter().flat_map(|of_name| &of_name.findings).chain(self.others.values())
    }

    /// Looks at another hold point or zone; what is reached then is all.
    pub fn look(&mut self, rules: &Rules, request: &Request) {
        self.scope = Scope::of(rules, request);
    }

    /// Makes those anew that a change can bear on, and says which are others now.
    pub fn renew(&mut self, judge: &Judge<'_>, readers: &Readers, reach: &Reach) -> Vec<Changed> {
        let names = readers.reached(judge.rules(), reach);
        let mut changed = Vec::new();
        // Parts that are off have findings of their own, and whether a list is whole may be another thing now.
        let mut words_changed = matches!(reach, Reach::Log | Reach::All | Reach::List(_));
        for id in names {
            let (Some(name), Some(known)) = (readers.names.get(id), self.of_names.get_mut(id)) else { continue };
            let now = of_name(judge, self.scope, name);
            words_changed |= !known.words.is_empty() || !now.words.is_empty();
            let before = std::mem::replace(known, now.clone());
            compare(before.findings, now.findings, &mut changed);
        }
        if words_changed {
            let now = self.others(judge);
            let before = std::mem::replace(&mut self.others, now.clone());
            compare(before.into_values().collect(), now.into_values().collect(), &mut changed);
        }
        changed
    }

    /// The findings of lists, and of parts that are off.
    fn others(&self, judge: &Judge<'_>) -> BTreeMap<(String, Option<String>), Finding> {
        let mut words = WantedWords::default();
        self.of_names.iter().for_each(|of_name| words.merge(&of_name.words));
        let of_lists = words.findings(judge, true).into_iter().map(|(_, finding)| finding);
        let off = off::findings(judge).into_iter();
        let off = off.filter(|(due, zone, _)| self.scope.reaches(judge.rules(), *due, *zone)).map(|(.., one)| one);
        of_lists.chain(off).map(|one| ((one.item.clone(), one.subject.clone()), one)).collect()
    }
}

/// What all wordings of one name come to: of two that may be in force, the worse is told.
fn of_name(judge: &Judge<'_>, scope: Scope, (name, wordings): &(String, Vec<ItemId>)) -> OfName {
    let mut words = WantedWords::default();
    let mut told = Vec::new();
    for id in wordings {
        let Some(item) = judge.rules().item(*id) else { continue };
        let looked_at = scope.judged(judge, name, (*id, item), &mut words).into_iter();
        for (judged, standing) in looked_at.filter(|(_, standing)| scope.is_in_time(standing.due)) {
            let same = |known: &&mut (_, super::judge::Judged<'_>, _)| known.1.subject == judged.subject;
            let known = told.iter_mut().find(same).filter(|_| !has_one_wording(item));
            match known {
                None => told.push((item, judged, standing)),
                Some(known) => {
                    if severity(judged.verdict) > severity(known.1.verdict) {
                        *known = (item, judged, standing);
                    }
                    known.1.either_wording = true;
                }
            }
        }
    }
    let findings = told
        .iter()
        .map(|(item, judged, standing)| finding(judge, (name.clone(), item), judged, *standing, HowMuch::Data));
    OfName { findings: findings.collect(), words }
}

/// What differs of findings of one item, of a list or of a part.
fn compare(before: Vec<Finding>, now: Vec<Finding>, changed: &mut Vec<Changed>) {
    if before == now {
        return;
    }
    let key = |finding: &Finding| (finding.kind, finding.item.clone(), finding.subject.clone());
    let mut before: BTreeMap<_, Finding> = before.into_iter().map(|one| (key(&one), one)).collect();
    for one in now {
        let known = before.remove(&key(&one));
        if known.as_ref() != Some(&one) {
            changed.push(Changed { before: known, now: Some(one) });
        }
    }
    changed.extend(before.into_values().map(|one| Changed { before: Some(one), now: None }));
}
