//! The day beside a value: when it was so, and with what it was measured.

use super::dates;
use super::text::Page;
use super::words::in_words;
use crate::diagnostic::Diagnostic;
use crate::quantity::{Date, DateRange};
use crate::source::Span;
use toml::de::{DeTable, DeValue};

/// The key of the day.
pub const DATED: &str = "dated";
/// The key of the instrument.
pub const INSTRUMENT: &str = "instrument";
/// The key of a value that has a day or an instrument of its own.
pub const VALUE: &str = "value";

/// When something was recorded as it is: the day, or the month where no more is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// The day.
    pub on: DateRange,
    /// The time of day in seconds, where it was written.
    pub at: Option<u32>,
    /// Where it is written.
    pub place: Span,
}

/// When and with what a value was taken.
///
/// ```
/// use cotterpin_engine::project::Taken;
/// // Most values say neither.
/// assert_eq!(Taken::default().on, None);
/// ```
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Taken {
    /// The day it is of.
    pub on: Option<Moment>,
    /// The instrument it was measured with, as `measuring.equipment` calls it.
    pub instrument: Option<String>,
    /// The day or the instrument is written and cannot be read, so the values are not taken in.
    pub unread: bool,
}

/// The day and the instrument that a table gives for the values in it; what it
/// leaves out is that of the table around it.
pub(super) fn taken(
    page: &Page<'_>,
    table: &DeTable<'_>,
    around: Option<&Taken>,
    messages: &mut Vec<Diagnostic>,
) -> Option<Taken> {
    let mut taken = around.cloned().unwrap_or_default();
    if let Some(written) = table.get(DATED) {
        let place = page.span(written);
        match dates::read_with_time(written.get_ref()) {
            Ok((on, at)) => taken.on = Some(Moment { on, at, place }),
            Err(why) => {
                let message =
                    Diagnostic::error("value::date", "`dated` is the day on which the values beside it were so");
                taken.unread = true;
                let help = "write the day, such as dated = 2026-10-04";
                messages.push(message.at(place, why).help(help).of_one_value());
            }
        }
    }
    if let Some(written) = table.get(INSTRUMENT) {
        let text = written.get_ref().as_str().map(str::trim).filter(|text| !text.is_empty());
        match text {
            Some(text) => taken.instrument = Some(text.to_owned()),
            None => {
                let label = match written.get_ref() {
                    DeValue::String(_) => "this is empty".to_owned(),
                    other => format!("this is {}", in_words(other)),
                };
                let message = Diagnostic::error(
                    "value::instrument",
                    "`instrument` is what the values beside it were measured with",
                );
                taken.unread = true;
                let help = "write its name in quotes, as `measuring.equipment` has it";
                messages.push(message.at(page.span(written), label).help(help).of_one_value());
            }
        }
    }
    (taken != Taken::default()).then_some(taken)
}

/// When something may have been disturbed last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LastDisturbed {
    /// The day.
    pub day: Date,
    /// The time on it, in seconds, where that is known of all that disturbed it then.
    pub at: Option<u32>,
}
