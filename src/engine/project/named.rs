//! What facts and records name: files, parts, zones and instruments that are there.

use super::evidence::Files;
use super::{EQUIPMENT, Record, Recorded, Value, record_names};
use crate::ir::{Fact, Kind, Named, Rules};
use std::collections::BTreeSet;

/// Each name of something that is not known. People are known to the log.
pub(super) fn unknown(rules: &Rules, record: &Record, files: &Files<'_>) -> BTreeSet<(Named, String)> {
    if names(rules, record).next().is_none() {
        return BTreeSet::new();
    }
    let zones: BTreeSet<&str> = rules.zones.iter().map(|zone| zone.name.as_str()).collect();
    let of_packs = rules.subjects.iter().map(|part| part.name.as_str());
    let parts: BTreeSet<&str> = of_packs.chain(record.parts.keys().map(String::as_str)).collect();
    let list = rules.list_by_name.get(EQUIPMENT).copied();
    let rows = list.and_then(|list| Some((list, record.lists.get(&list)?)));
    let instruments = rows.map_or_else(Vec::new, |(list, rows)| record_names(rules, list, rows));
    let is_known = |named: Named, name: &String| match named {
        Named::Person => true,
        Named::File => files.shows(name),
        Named::Part => parts.contains(name.as_str()),
        Named::Zone => zones.contains(name.as_str()),
        Named::Instrument => instruments.contains(name),
    };
    let all = names(rules, record).filter(|(named, name, _)| !is_known(*named, name));
    all.map(|(named, name, _)| (named, name.clone())).collect()
}

/// Every name that is recorded where one is asked, with its value.
pub(super) fn names<'r>(
    rules: &'r Rules,
    record: &'r Record,
) -> impl Iterator<Item = (Named, &'r String, &'r Recorded)> {
    let facts = record.facts.iter().filter_map(|(id, recorded)| Some((rules.fact(*id)?, recorded)));
    let lists = record.lists.iter().filter_map(|(id, rows)| Some((rules.list(*id)?, rows)));
    let cells = lists.flat_map(|(list, rows)| rows.rows.iter().flat_map(|row| list.fields.iter().zip(&row.fields)));
    let cells = cells.filter_map(|(field, cell)| Some((field, cell.as_ref()?)));
    facts.chain(cells).filter_map(|(fact, recorded): (&Fact, &Recorded)| match (fact.kind, &recorded.value) {
        (Kind::Named(named), Value::Text(name)) => Some((named, name, recorded)),
        _ => None,
    })
}
