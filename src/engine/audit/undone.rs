//! Recorded values that no longer count: what had been recorded, when and
//! where, and what undid it.

use super::cause::{Calibration, EntryState, MissingCause, ObservedValue};
use super::explain::Explanation;
use super::finding::{Lapse, LineKind, LogLine};
use super::judge::Judge;
use super::proof::{entry_ref, log_line, which_first};
use super::what_counts::{WhyUnknown, why_unknown};
use crate::eval::MissingInput;
use crate::ir::Frame;
use crate::ir::{ConditionId, Fact, Named, Value};
use crate::lapse::{EntryStanding, ValueState, moment_of, taken_as_entry};
use crate::project::{EQUIPMENT, Moment, Recorded};

/// A fact, or a field of a record, as an explanation reads it.
pub(super) struct Read<'a> {
    /// Its name, that of the record included.
    pub(super) name: String,
    pub(super) fact: &'a Fact,
    pub(super) recorded: Option<&'a Recorded>,
    /// What it is a state of.
    pub(super) state: Option<ValueState<'a>>,
}

impl Explanation<'_> {
    /// What a value is, as it counts.
    pub(super) fn as_it_counts(&self, read: &Read<'_>, text: String) -> ObservedValue {
        let (judge, Some(recorded)) = (self.judge, read.recorded) else { return ObservedValue::NotRecorded };
        if let Some(why) = why_unknown(read.fact.kind, recorded, judge.record, &judge.logbook) {
            return ObservedValue::NoLonger(
                text,
                match why {
                    WhyUnknown::Nobody => EntryState::Nobody,
                    WhyUnknown::NoSuch(Named::File) => EntryState::NoFile,
                    WhyUnknown::NoSuch(named) => EntryState::NotKnown(named),
                },
            );
        }
        let state = match judge.logbook.standing_of_value(recorded, read.state) {
            EntryStanding::Counts => return ObservedValue::Recorded(text),
            EntryStanding::Lapsed(by) => EntryState::Undone(entry_ref(judge.record, by)),
            EntryStanding::Undated(by) => EntryState::Undated(entry_ref(judge.record, by)),
            EntryStanding::Unclear(other) => EntryState::UnclearOrder(entry_ref(judge.record, other)),
            EntryStanding::Off(by) => EntryState::Off(entry_ref(judge.record, by)),
            EntryStanding::NotYet => EntryState::UnclearBeforeAudit,
            EntryStanding::Weak => match self.instrument(recorded) {
                Some(calibration) => EntryState::Weak(calibration),
                None => return ObservedValue::NotRecorded,
            },
        };
        ObservedValue::NoLonger(text, state)
    }

    /// Why a value is wanted though it is recorded.
    pub(super) fn why_again(&self, read: &Read<'_>) -> Option<MissingCause> {
        let recorded = read.recorded?;
        match why_unknown(read.fact.kind, recorded, self.judge.record, &self.judge.logbook) {
            Some(WhyUnknown::Nobody) => return Some(MissingCause::Nobody(named(recorded))),
            Some(WhyUnknown::NoSuch(Named::File)) => return Some(MissingCause::NoSuchFile(named(recorded))),
            Some(WhyUnknown::NoSuch(of)) => return Some(MissingCause::NotKnown(of, named(recorded))),
            None => {}
        }
        let on = moment_of(recorded, read.state);
        let standing = self.judge.logbook.standing_of_value(recorded, read.state);
        if standing == EntryStanding::Weak {
            let calibration = self.instrument(recorded)?;
            return Some(match on {
                Some(_) => MissingCause::Calibration(calibration),
                None => MissingCause::InstrumentWithoutDay(calibration.instrument),
            });
        }
        self.judge.why_undone(standing, on)
    }

    fn instrument(&self, recorded: &Recorded) -> Option<Calibration> {
        let taken = recorded.taken.as_deref()?;
        let instrument = taken.instrument.clone()?;
        let until = self.judge.logbook.calibrated_until(&instrument).map(|until| until.to_string());
        Some(Calibration { instrument, until, list: EQUIPMENT.to_owned() })
    }

    /// What had been recorded of the values that a part waits for, and what undid it.
    pub(super) fn undone(&self, node: ConditionId, frame: &mut Frame) -> Vec<Lapse> {
        let mut lapses = Vec::new();
        for input in self.evaluation.missing_inputs(node, true, frame) {
            let read = match input {
                MissingInput::Slot(slot, _) => self.fact(slot),
                MissingInput::Field { list, row, column, .. } => self.field(list, row, column),
                MissingInput::List(_)
                | MissingInput::Whole(_)
                | MissingInput::Confirmation(..)
                | MissingInput::Entry(_) => None,
            };
            lapses.extend(read.and_then(|read| self.lapse_of(&read)));
        }
        lapses
    }

    fn lapse_of(&self, read: &Read<'_>) -> Option<Lapse> {
        let (judge, recorded) = (self.judge, read.recorded?);
        let (EntryStanding::Lapsed(by) | EntryStanding::Undated(by)) =
            judge.logbook.standing_of_value(recorded, read.state)
        else {
            return None;
        };
        let on = moment_of(recorded, read.state);
        let shown = LogLine {
            kind: LineKind::Value,
            on: on.map_or_else(String::new, |on| on.on.to_string()),
            event: "recorded".to_owned(),
            subject: format!("{} = {}", read.name, recorded.told()),
            who: String::new(),
            role: String::new(),
            note: None,
            place: judge.place(recorded),
            evidence: Vec::new(),
        };
        let through = read.state.map(|state| judge.logbook.how(by, state.of)).unwrap_or_default();
        Some(Lapse { shown, undone_by: log_line(judge.record, by), through })
    }
}

/// Whom, or which file, a value names.
fn named(recorded: &Recorded) -> String {
    if let Value::Text(name) = &recorded.value { name.clone() } else { recorded.text.clone() }
}

impl Judge<'_> {
    /// Why something of a day does not count; nothing where it does.
    pub(super) fn why_undone(&self, standing: EntryStanding<'_>, on: Option<Moment>) -> Option<MissingCause> {
        match standing {
            EntryStanding::Counts | EntryStanding::Weak => None,
            EntryStanding::Lapsed(by) => Some(MissingCause::Undone(entry_ref(self.record, by))),
            EntryStanding::Undated(by) => Some(MissingCause::Undated(entry_ref(self.record, by))),
            EntryStanding::Off(by) => Some(MissingCause::Off(entry_ref(self.record, by))),
            EntryStanding::Unclear(other) => on.map(|on| which_first(self.record, &taken_as_entry(on, None), other)),
            EntryStanding::NotYet => on.map(|on| MissingCause::DayBeforeAudit(self.record.sources.place(on.place))),
        }
    }
}
