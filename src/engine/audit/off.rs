//! One finding for each part that was taken off and is not back.

use super::cause::{MissingCause, MissingKind, Remark};
use super::finding::{Cited, Finding, FindingKind, Missing};
use super::judge::Judge;
use super::proof::entry_ref;
use crate::ir::{HoldPointId, Rules, ZoneId};
use crate::lapse::{Removal, part_is_below, zone_of_entry};
use crate::project::{FIRST_FLIGHT, Record, VISIT};
use crate::source::SharedText;
use crate::vocabulary::{Basis, Mark, Verdict};

/// What such a finding is named by, before its part.
pub const REMOVED: &str = "removed";

/// The findings, each with when it is due and where one looks.
pub(super) fn findings(judge: &Judge<'_>) -> Vec<(HoldPointId, Option<ZoneId>, Finding)> {
    judge.logbook.removals().to_come_back().filter_map(|removal| finding(judge, removal)).collect()
}

fn finding(judge: &Judge<'_>, removal: Removal<'_>) -> Option<(HoldPointId, Option<ZoneId>, Finding)> {
    let (rules, record, entry) = (judge.rules, judge.record, removal.entry);
    let point = |name: &str| rules.hold_points.position(|point| point.name == name);
    // Taken off for the visit, it stays off until the inspector has looked.
    let due = if entry.for_visit { point(FIRST_FLIGHT) } else { None };
    let due = due.or_else(|| point(VISIT)).or_else(|| rules.hold_points.ids().last())?;
    let zone = zone_of_entry(rules, record, entry).and_then(|zone| rules.zones.position(|known| known.name == zone));
    let part = &entry.subject;
    let with_it = went_with(judge, rules, record, part);
    let missing = Missing {
        kind: MissingKind::LogEntry,
        fact: format!("refitted {part}"),
        ask: format!("Is `{part}` back in its place?").into(),
        example: Some(format!("cotterpin log refitted {part}").into()),
        why: MissingCause::Off(entry_ref(record, entry)),
    };
    let finding = Finding {
        kind: FindingKind::Removed,
        system: part.split('.').next().unwrap_or("").to_owned(),
        item: REMOVED.to_owned(),
        subject: Some(part.clone()),
        // Of a day to come, or perhaps back: then nobody knows.
        verdict: if removal.surely { Verdict::Unmet } else { Verdict::NotShown },
        title: title(rules, record, part),
        added_by: None,
        basis: Basis::CommonPractice,
        because: Vec::new(),
        worked_out: Vec::new(),
        missing: vec![missing],
        sources: vec![Cited::common_practice(Mark::CommonPractice)],
        by: rules.hold_points.get(due).map(|point| point.name.clone()).unwrap_or_default(),
        zone: zone.and_then(|zone| rules.zones.get(zone)).map(|zone| zone.name.clone()),
        stops_the_visit: false,
        check: None,
        remedy: Some("Refit it, have what was disturbed inspected, and log that it is refitted.".into()),
        caution: None,
        concession: None,
        set_aside: Vec::new(),
        deferred: None,
        added: Vec::new(),
        notes: with_it.into_iter().map(Remark::WentWithIt).collect(),
        after: Vec::new(),
        waits_for: None,
        waiting: Vec::new(),
        place: None,
    };
    Some((due, zone, finding))
}

/// The parts that went off with one, if there are any: those below it without a line of their own.
fn went_with(judge: &Judge<'_>, rules: &Rules, record: &Record, part: &str) -> Option<Vec<String>> {
    let declared = rules.subjects.iter().map(|part| part.name.as_str());
    let known = declared.chain(record.parts.keys().map(String::as_str));
    let below = known.filter(|other| part_is_below(other, part) && !judge.logbook.removals().has_its_own(other));
    let mut names: Vec<String> = below.map(str::to_owned).collect();
    names.sort_unstable();
    names.dedup();
    (!names.is_empty()).then_some(names)
}

fn title(rules: &Rules, record: &Record, part: &str) -> SharedText {
    let declared = rules.subjects.iter().find(|known| known.name == part).map(|known| known.title.clone());
    let own = || record.parts.get(part).map(|own| own.title.clone().into());
    declared.or_else(own).unwrap_or_else(|| part.to_owned().into())
}
