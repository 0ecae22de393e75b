//! The hold point up to which one looks where nobody says.

use super::{Audit, Finding};
use crate::ir::{HoldPointId, Rules};
use crate::project::{Record, VISIT};
use crate::quantity::Date;
use crate::source::SharedText;

/// The next hold point that lies ahead on a day: the visit while its planned day is not over; then the first one after
/// it that is planned for that day or a later one. Nothing where none is planned, or where no item is due by it: then
/// everything is looked at.
///
/// What is planned before the visit is on the way to it, so the visit goes before.
#[must_use]
pub fn next_hold_point(rules: &Rules, record: &Record, on: Date) -> Option<SharedText> {
    let visit = rules.hold_points.position(|point| point.name == VISIT);
    let asked = |point: &HoldPointId| rules.items.iter().any(|item| item.by <= *point);
    if visit.as_ref().is_some_and(asked) && record.visit.is_some_and(|day| on <= day.last) {
        return Some(VISIT.into());
    }
    let ahead = |name: &str| record.planned.get(name).is_some_and(|day| on <= *day);
    let after = rules.hold_points.with_ids().filter(|(id, _)| visit.is_none_or(|visit| *id > visit));
    let mut ahead = after.filter(|(_, point)| ahead(&point.name));
    ahead.find(|(id, _)| asked(id)).map(|(_, point)| point.name.clone())
}

impl Audit {
    /// Whether a finding is due by a hold point; each is where none is named.
    #[must_use]
    pub fn is_due(&self, finding: &Finding, by: Option<&str>) -> bool {
        let place = |by: &str| self.titles.hold_points.iter().position(|(name, _)| name == by);
        let last = by.and_then(place);
        last.is_none() || place(&finding.by) <= last
    }
}
