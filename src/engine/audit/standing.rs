//! The findings of a record item by item, so that a change makes those anew that it can reach, and no others.

use super::build_finding::finding;
use super::finding::Finding;
use super::index::Index;
use super::judge::{Judge, severity};
use super::off;
use super::request::{Request, Scope, has_one_wording};
use super::whole_lists::WantedWords;
use crate::ir::{Arena, FactId, IdOf, ItemId, ListId, Rules};
use std::collections::{BTreeMap, BTreeSet};

/// A finding that is another now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed {
    /// What it was; none where it is new.
    pub before: Option<Finding>,
    /// What it is; none where there is none any more.
    pub now: Option<Finding>,
}

/// Which items share a name, and which read what.
#[derive(Debug)]
pub struct Readers {
    facts: Index,
    lists: BTreeMap<ListId, BTreeSet<NameId>>,
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
            for list in item.reads_lists.iter().copied().chain(item.each) {
                readers.lists.entry(list).or_default().insert(name);
            }
        }
        readers
    }

    /// The names of the items that read a fact.
    fn of_fact(&self, fact: FactId) -> BTreeSet<NameId> {
        self.facts.readers(fact).iter().filter_map(|id| self.of_item.get(*id).copied()).collect()
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

    /// Makes those anew that read a fact, and says which are others now.
    pub fn fact_changed(&mut self, judge: &Judge<'_>, readers: &Readers, fact: FactId) -> Vec<Changed> {
        self.renew(judge, readers, readers.of_fact(fact))
    }

    /// Makes all anew, and says which are others now.
    pub fn all_changed(&mut self, judge: &Judge<'_>, readers: &Readers, request: &Request) -> Vec<Changed> {
        self.scope = Scope::of(judge.rules(), request);
        self.renew(judge, readers, readers.names.ids().collect())
    }

    fn renew(&mut self, judge: &Judge<'_>, readers: &Readers, names: BTreeSet<NameId>) -> Vec<Changed> {
        let mut changed = Vec::new();
        let (mut words_changed, of_all) = (false, names.len() == readers.names.len());
        for id in names {
            let (Some(name), Some(known)) = (readers.names.get(id), self.of_names.get_mut(id)) else { continue };
            let now = of_name(judge, self.scope, name);
            words_changed |= !known.words.is_empty() || !now.words.is_empty();
            let before = std::mem::replace(known, now.clone());
            compare(before.findings, now.findings, &mut changed);
        }
        if words_changed || of_all {
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
        let of_lists = words.findings(judge).into_iter().map(|(_, finding)| finding);
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
        for (judged, standing) in scope.judged(judge, name, (*id, item), &mut words) {
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
    let findings =
        told.iter().map(|(item, judged, standing)| finding(judge, (name.clone(), item), judged, *standing, true));
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
