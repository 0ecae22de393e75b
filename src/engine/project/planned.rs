//! Planned days of `project.toml`: the visit, hold points, and when zones close.

use super::dates;
use super::header::Reading;
use super::keys::header::{CLOSING, HOLD_POINTS, VISIT};
use crate::diagnostic::Diagnostic;
use crate::quantity::{Date, DateRange};
use crate::source::Span;
use std::borrow::Cow;
use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::DeValue;

/// The hold point before which nobody flies, as the common words name it.
pub(crate) const FIRST_FLIGHT: &str = "first-flight";

impl Reading<'_> {
    /// The visit is a hold point as well: it may stand at the top or under
    /// `[hold-points]`, and means the same at either place.
    pub(super) fn visit_and_planned(&mut self) -> (Option<DateRange>, BTreeMap<String, (Date, Span)>) {
        let at_top = self.find(VISIT).and_then(|written| Some((self.visit(written)?, self.page.span(written))));
        let (mut visit, mut planned) = (at_top, BTreeMap::new());
        for (name, written) in self.table_of(HOLD_POINTS, "a date for each name") {
            if name.get_ref() != VISIT {
                let place = self.page.span(name);
                planned.extend(self.day(name, written).map(|day| (name.get_ref().to_string(), (day, place))));
                continue;
            }
            let place = self.page.span(written);
            match (self.visit(written), visit) {
                (Some(day), None) => visit = Some((day, place)),
                // A month at one place and a day of it at the other say the same: what both allow is the visit.
                (Some(day), Some((top, at))) => match both(day, top) {
                    Some(known) => visit = Some((known, place)),
                    None => self.two_visits((top, at), (day, place)),
                },
                _ => {}
            }
        }
        let one_day = visit.filter(|(day, _)| day.first == day.last);
        planned.extend(one_day.map(|(day, place)| (VISIT.to_owned(), (day.first, place))));
        (visit.map(|(visit, _)| visit), planned)
    }

    fn two_visits(&mut self, (top, at): (DateRange, Span), (other, place): (DateRange, Span)) {
        let message = format!("the visit is planned for {top} and for {other}");
        let message = Diagnostic::error("project::two-visits", message);
        self.messages.push(
            message
                .at(place, format!("{other} under [hold-points]"))
                .at(at, format!("{top} at the top"))
                .help("keep one of them: both say when the inspector comes"),
        );
    }

    /// A day, or some day of a month or year.
    fn visit(&mut self, written: &Spanned<DeValue<'_>>) -> Option<DateRange> {
        let help = "write a day, 2026-10-04, or \"2026-10\" for some day of that month";
        dates::read(written.get_ref()).map_err(|why| self.wrong_date(VISIT, written, &why, help)).ok()
    }

    fn wrong_date(&mut self, key: &str, written: &Spanned<DeValue<'_>>, why: &str, help: &str) {
        let message = Diagnostic::error("value::date", format!("`{key}` is a date")).at(self.page.span(written), why);
        self.messages.push(message.help(help));
    }

    /// One day, and no month.
    fn day(&mut self, name: &Spanned<Cow<'_, str>>, written: &Spanned<DeValue<'_>>) -> Option<Date> {
        let why = match dates::read(written.get_ref()) {
            Ok(range) if range.first == range.last => return Some(range.first),
            Ok(_) => "it is planned for one day".to_owned(),
            Err(why) => why,
        };
        self.wrong_date(name.get_ref(), written, &why, "write a day, 2026-10-04");
        None
    }

    /// Planned days on which zones are closed.
    pub(super) fn closing(&mut self) -> BTreeMap<String, (Date, Span)> {
        let mut closing = BTreeMap::new();
        for (zone, written) in self.table_of(CLOSING, "a date for each zone") {
            let place = self.page.span(zone);
            closing.extend(self.day(zone, written).map(|day| (zone.get_ref().to_string(), (day, place))));
        }
        closing
    }
}

/// The days that lie in both.
fn both(one: DateRange, other: DateRange) -> Option<DateRange> {
    DateRange::new(one.first.max(other.first), one.last.min(other.last))
}
