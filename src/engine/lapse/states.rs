//! Of which part's state a value, a word or a file is: what work on that part undoes.

use crate::ir::{Fact, List, PartOrAll, Rules, State};
use crate::project::{Evidence, Record, Row};
use std::collections::BTreeSet;
use std::ops::Bound;

/// What has to be undisturbed of a part for something to count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Aspect {
    /// As somebody looked at it: opened for the visit, all that lies there is
    /// to be looked at again.
    LookedAt,
    /// As it is fitted: a value measured there stays when others only look.
    Fitted,
    /// In itself, which stays when it is taken off and the same one is put back.
    Itself,
}

/// A part, or the whole aircraft (`None`), in one of its aspects.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct StateOf<'a> {
    pub(crate) part: Option<&'a str>,
    pub(crate) aspect: Aspect,
}

/// What a recorded value is a state of, and of which day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct ValueState<'a> {
    pub(crate) of: StateOf<'a>,
    /// The value is the day it is of.
    pub(crate) own_day: bool,
}

impl<'a> StateOf<'a> {
    /// As an inspection or a word is of it.
    pub(crate) fn looked_at(part: Option<&'a str>) -> Self {
        Self { part, aspect: Aspect::LookedAt }
    }

    /// As a value is of it, and leave.
    pub(crate) fn fitted(part: Option<&'a str>) -> Self {
        Self { part, aspect: Aspect::Fitted }
    }

    fn new(part: Option<&'a str>, itself: bool) -> Self {
        Self { part, aspect: if itself { Aspect::Itself } else { Aspect::Fitted } }
    }
}

/// What a fact is a state of; nothing for design.
pub(crate) fn of_fact(fact: &Fact) -> Option<ValueState<'_>> {
    let State { of, itself, own_day } = fact.state.as_ref()?;
    // A fact that names no part does not compile.
    let of = StateOf::new(of.as_ref().and_then(PartOrAll::part), *itself);
    Some(ValueState { of, own_day: *own_day })
}

/// What a field of a record is a state of. A record that names no part, in a
/// list that names none, cannot be read; to be safe it would be of everything.
pub(crate) fn of_field<'a>(list: &'a List, field: &'a Fact, row: &'a Row) -> Option<ValueState<'a>> {
    let State { of, itself, own_day } = field.state.as_ref()?;
    let part = match (of, &row.part, &list.part) {
        (Some(of), ..) | (None, None, Some(of)) => of.part(),
        (None, Some(own), _) => Some(own.as_str()),
        (None, None, None) => None,
    };
    Some(ValueState { of: StateOf::new(part, *itself), own_day: *own_day })
}

/// What the word that a list is whole is a state of: its part in itself.
pub(crate) fn of_whole(list: &List) -> Option<StateOf<'_>> {
    list.part.as_ref().map(|part| StateOf::new(part.part(), true))
}

/// What a file shows: the part it is of, and the states of all facts and
/// records that it is named for.
pub(crate) fn of_evidence<'a>(rules: &'a Rules, record: &'a Record, evidence: &'a Evidence) -> Vec<StateOf<'a>> {
    of_evidence_named(rules, record, &evidence.subject)
}

/// The same, of whatever stands under a name: `fuel.flow_test`, `fuel.tanks[left]`, or a part.
pub(crate) fn of_evidence_named<'a>(rules: &'a Rules, record: &'a Record, subject: &str) -> Vec<StateOf<'a>> {
    let mut states = BTreeSet::new();
    let (named, of_record) = match subject.split_once('[') {
        Some((list, rest)) => (list, rest.strip_suffix(']')),
        None => (subject, None),
    };
    let declared = rules.subjects.iter().map(|part| part.name.as_str());
    let part = declared.chain(record.parts.keys().map(String::as_str)).find(|part| *part == named);
    if let Some(part) = part.filter(|_| of_record.is_none()) {
        states.insert(StateOf::fitted(Some(part)));
    }
    let inside = |name: &str| name.strip_prefix(named).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'));
    if of_record.is_none() {
        let facts = rules
            .fact_by_name
            .range::<str, _>((Bound::Included(named), Bound::Unbounded))
            .take_while(|(name, _)| name.starts_with(named));
        let facts = facts.filter(|(name, _)| inside(name)).filter_map(|(_, id)| rules.fact(*id));
        states.extend(facts.filter_map(of_fact).map(|state| state.of));
    }
    let lists = rules
        .list_by_name
        .range::<str, _>((Bound::Included(named), Bound::Unbounded))
        .take_while(|(name, _)| name.starts_with(named));
    for (id, list) in lists.filter(|(name, _)| inside(name)).filter_map(|(_, id)| Some((*id, rules.list(*id)?))) {
        let Some(rows) = record.lists.get(&id) else { continue };
        let names = of_record.map(|_| crate::project::record_names(rules, id, rows));
        for (at, row) in rows.rows.iter().enumerate() {
            let named = names.as_ref().is_none_or(|names| names.get(at).map(String::as_str) == of_record);
            if named {
                let fields = list.fields.iter().filter_map(|field| of_field(list, field, row));
                states.extend(fields.map(|state| state.of));
            }
        }
    }
    states.into_iter().collect()
}

/// Everything of which something that a project holds is a state.
pub(super) fn all<'a>(rules: &'a Rules, record: &'a Record) -> BTreeSet<StateOf<'a>> {
    let mut states: BTreeSet<StateOf<'_>> = rules.facts.iter().filter_map(of_fact).map(|state| state.of).collect();
    states.extend(rules.lists.iter().filter_map(of_whole));
    for (id, rows) in &record.lists {
        let Some(list) = rules.list(*id).filter(|list| list.fields.iter().any(|field| field.state.is_some())) else {
            continue;
        };
        for row in &rows.rows {
            let fields = list.fields.iter().filter_map(|field| of_field(list, field, row));
            states.extend(fields.map(|state| state.of));
        }
    }
    for evidence in &record.evidence {
        states.extend(of_evidence(rules, record, evidence));
    }
    states
}
