//! Facts that are taken as none until a day ahead: before the visit there is no certificate yet. That only leaves
//! items out: nothing is met by it, and nothing unmet.

use crate::ir::{FactId, HoldPointId, Rules};
use crate::project::{Record, VISIT};
use crate::quantity::{Date, DateRange};
use std::collections::BTreeMap;

/// The facts, each with the hold point that lies ahead and its planned day.
pub(super) type NoneUntil = BTreeMap<FactId, (HoldPointId, DateRange)>;

/// The facts that nobody recorded and that are none until a hold point that is planned and not over. Not where
/// something else tells that they are recorded elsewhere: a value beside it in its table, one that could not be read,
/// or a later hold point whose planned day has passed.
pub(super) fn none_until(rules: &Rules, record: &Record, on: Date) -> NoneUntil {
    let planned = |point: HoldPointId| {
        let name = rules.hold_points.get(point)?.name.as_str();
        let visit = record.visit.filter(|_| name == VISIT);
        visit.or_else(|| record.planned.get(name).map(|day| DateRange::day(*day)))
    };
    let is_past = |point: HoldPointId| planned(point).is_some_and(|day| day.last < on);
    let is_beyond = |point: HoldPointId| rules.hold_points.ids().any(|later| later > point && is_past(later));
    let facts = rules.facts.with_ids().filter_map(|(id, fact)| {
        let point = fact.none_until?;
        let day = planned(point).filter(|day| day.last >= on)?;
        let unread = record.not_taken_in.iter().any(|(name, _)| beside(name, &fact.name));
        let told = record.facts.keys().any(|other| rules.fact(*other).is_some_and(|one| beside(&one.name, &fact.name)));
        (!unread && !told && !is_beyond(point)).then_some((id, (point, day)))
    });
    facts.collect()
}

/// Whether a fact bears on whether another is taken as none.
pub(super) fn bears_on_none_until(rules: &Rules, id: FactId) -> bool {
    let Some(fact) = rules.fact(id) else { return false };
    rules.facts.iter().any(|other| other.none_until.is_some() && beside(&fact.name, &other.name))
}

/// Whether two facts stand in one table of the builder's files, or are one.
fn beside(one: &str, other: &str) -> bool {
    let table = |name: &str| name.rsplit_once('.').map(|(table, _)| table.to_owned());
    one == other || table(one).is_some() && table(one) == table(other)
}
