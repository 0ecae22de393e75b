//! Whether an instrument was good on a day: within a calibration that had begun
//! and not ended, and not found out of tolerance since it was last found good.

use crate::ir::{ChoiceSet, FieldId, Kind, List, ListId, Rules, Store};
use crate::project::{EQUIPMENT, Record, Row, Value};
use crate::quantity::{Date, DateRange};
use std::collections::BTreeMap;

/// The list of calibrations besides the one that stands with the instrument.
pub(crate) const CALIBRATIONS: &str = "measuring.calibrations";

/// One calibration of an instrument, as far as it is recorded.
#[derive(Debug, Clone, Copy)]
struct Calibrated {
    from: Option<DateRange>,
    until: Option<DateRange>,
    /// Whether the instrument was surely found within tolerance then, before
    /// anybody adjusted it; nothing of one that stands with the instrument.
    found_good: Option<bool>,
}

/// What is recorded of one instrument.
#[derive(Debug, Default)]
struct Instrument {
    /// It stands in the list once, as one instrument.
    entries: usize,
    /// It is said to need no calibration.
    needs_none: bool,
    calibrations: Vec<Calibrated>,
}

/// All instruments of a project, by the name the log calls them.
#[derive(Debug, Default)]
pub(crate) struct Instruments {
    named: BTreeMap<String, Instrument>,
    /// Calibrations of nobody knows which instrument: each may be of any.
    unplaced: Vec<Calibrated>,
}

impl Instruments {
    pub(crate) fn of(rules: &Rules, record: &Record) -> Self {
        let mut all = Self::default();
        for (list, row) in rows(rules, record, EQUIPMENT) {
            let Some(name) = text(list, row, "name") else { continue };
            let one = all.named.entry(name.to_owned()).or_default();
            one.entries = one.entries.saturating_add(1);
            // Who leaves one of the two open has not said that it needs none.
            let begins = list.fields.iter().any(|field| field.name == "calibrated_from");
            one.needs_none |=
                absent(list, row, "calibrated_until") && (!begins || absent(list, row, "calibrated_from"));
            one.calibrations.push(calibrated(list, row, "calibrated_from", "calibrated_until"));
        }
        for (list, row) in rows(rules, record, CALIBRATIONS) {
            let found_good = value(list, row, "found_good") == Some(&Value::Words(ChoiceSet::yes_or_no(true)));
            let one = Calibrated { found_good: Some(found_good), ..calibrated(list, row, "from", "until") };
            match text(list, row, "equipment").and_then(|name| all.named.get_mut(name)) {
                Some(known) => known.calibrations.push(one),
                None => all.unplaced.push(one),
            }
        }
        all
    }

    /// Whether what was measured with an instrument on a day rests on a
    /// calibration: surely, for whatever is not recorded might be otherwise.
    pub(crate) fn was_good(&self, name: &str, on: DateRange) -> bool {
        let Some(instrument) = self.named.get(name).filter(|one| one.entries == 1) else { return false };
        let within = |one: &Calibrated| {
            let begun = one.from.is_some_and(|from| from.last <= on.first);
            begun && one.until.is_some_and(|until| on.last <= until.first)
        };
        let calibrated = instrument.needs_none || instrument.calibrations.iter().any(within);
        calibrated && !instrument.undone(on, &self.unplaced)
    }

    /// The last day on which an instrument is calibrated, if one is recorded.
    pub(crate) fn calibrated_until(&self, name: &str) -> Option<DateRange> {
        let ends = self.named.get(name)?.calibrations.iter().filter_map(|one| one.until);
        ends.max_by_key(|until| until.first)
    }
}

impl Instrument {
    /// Whether it may have been found out of tolerance after that day, before it was found good again.
    fn undone(&self, on: DateRange, unplaced: &[Calibrated]) -> bool {
        let all = self.calibrations.iter().chain(unplaced);
        all.filter(|one| one.found_good == Some(false)).any(|bad| {
            let after = bad.from.is_none_or(|from| on.first <= from.last);
            // On one day nobody knows which came first: of a meter found out and set right the
            // same day, the certificate says both.
            let good_between = self.calibrations.iter().filter(|one| one.found_good == Some(true)).any(|good| {
                good.from.is_some_and(|good| on.last < good.first && bad.from.is_some_and(|bad| good.last < bad.first))
            });
            after && !good_between
        })
    }
}

fn rows<'a>(rules: &'a Rules, record: &'a Record, name: &str) -> impl Iterator<Item = (&'a List, &'a Row)> {
    let id: Option<ListId> = rules.list_by_name.get(name).copied();
    let list = id.and_then(|id| rules.list(id)).filter(|list| is_as_expected(list));
    let rows = id.and_then(|id| record.lists.get(&id)).map_or(&[][..], |rows| rows.rows.as_slice());
    list.into_iter().flat_map(move |list| rows.iter().map(move |row| (list, row)))
}

/// Another pack's field of that name may be of another kind.
fn is_as_expected(list: &List) -> bool {
    let expected = [
        ("name", Store::Texts),
        ("equipment", Store::Texts),
        ("calibrated_from", Store::Numbers),
        ("calibrated_until", Store::Numbers),
        ("from", Store::Numbers),
        ("until", Store::Numbers),
    ];
    list.fields.iter().all(|field| {
        let kind = expected.iter().find(|(name, _)| *name == field.name).map(|(_, store)| *store);
        kind.is_none_or(|store| field.kind.store() == store && (store != Store::Numbers || field.kind == Kind::Date))
    })
}

fn value<'a>(list: &List, row: &'a Row, name: &str) -> Option<&'a Value> {
    let at: FieldId = list.fields.position(|field| field.name == name)?;
    row.field(at).map(|recorded| &recorded.value)
}

fn text<'a>(list: &List, row: &'a Row, name: &str) -> Option<&'a str> {
    if let Value::Text(text) = value(list, row, name)? { Some(text) } else { None }
}

fn absent(list: &List, row: &Row, name: &str) -> bool {
    value(list, row, name) == Some(&Value::Absent)
}

fn calibrated(list: &List, row: &Row, from: &str, until: &str) -> Calibrated {
    let days = |name: &str| {
        let Some(Value::Number(range)) = value(list, row, name) else { return None };
        let (first, last) = range.days()?;
        DateRange::new(Date::from_days(first), Date::from_days(last))
    };
    Calibrated { from: days(from), until: days(until), found_good: None }
}
