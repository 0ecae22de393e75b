//! What to audit.

use super::message::ValueError;
use super::rules::Rules;
use cotterpin_engine::audit::{Request, next_hold_point};
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::project::Record;
use cotterpin_engine::quantity::{Date, DateError};

/// The day of an audit, and how far it looks.
///
/// ```
/// use cotterpin::Options;
///
/// let options = Options::on("2026-11-25")?.by("visit");
/// assert_eq!(options, Options::on("2026-11-25")?.by("visit"));
/// assert!(Options::on("2026-02-30").is_err());
/// # Ok::<(), cotterpin::ValueError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Options {
    on: Date,
    by: Until,
    closing: Option<String>,
}

/// How far an audit looks.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Until {
    /// To any hold point.
    Any,
    /// To this one.
    HoldPoint(String),
    /// To the next one that lies ahead.
    Next,
}

impl Options {
    /// An audit of everything on a day: `2026-11-25`, in a year from 1900 to 2199.
    ///
    /// # Errors
    /// There is no such day.
    pub fn on(day: &str) -> Result<Self, ValueError> {
        let parsed = Date::parse(day).map_err(|why| {
            let why = match why {
                DateError::Malformed { .. } => String::new(),
                why => format!(": {why}"),
            };
            let message = Diagnostic::error("value::date", format!("`{day}` is no day of the calendar{why}"));
            ValueError::one(&message.help("write year, month and day, such as 2026-11-25"))
        })?;
        Ok(Self::from(parsed))
    }

    /// Only what is due by a hold point.
    #[must_use]
    pub fn by(self, hold_point: &str) -> Self {
        Self { by: Until::HoldPoint(hold_point.to_owned()), ..self }
    }

    /// Only what is due by the next hold point that lies ahead: the visit while its planned day is not over, then the
    /// first one after it that is planned for that day or a later one. Everything where nothing is planned.
    #[must_use]
    pub fn by_next(self) -> Self {
        Self { by: Until::Next, ..self }
    }

    /// Only what lies in reach of a zone that is about to be closed.
    #[must_use]
    pub fn closing(self, zone: &str) -> Self {
        Self { closing: Some(zone.to_owned()), ..self }
    }

    /// The day.
    #[must_use]
    pub fn day(&self) -> Date {
        self.on
    }

    /// The same for the engine, with names that the packs know.
    pub(super) fn request(&self, rules: &Rules, project: &str, record: &Record) -> Result<Request, ValueError> {
        let (points, zones) = (rules.hold_points(), rules.zones());
        let by = match &self.by {
            Until::Any => None,
            Until::HoldPoint(name) => Some(name.clone()),
            Until::Next => next_hold_point(&rules.checked, record, self.on).map(|point| point.to_string()),
        };
        known(("hold point", "hold-point::unknown"), by.as_deref(), &points.map(|(name, _)| name).collect::<Vec<_>>())?;
        known(("zone", "zone::unknown"), self.closing.as_deref(), &zones.map(|(name, _)| name).collect::<Vec<_>>())?;
        Ok(Request { project: project.to_owned(), on: self.on, by, closing: self.closing.clone() })
    }
}

impl From<Date> for Options {
    fn from(on: Date) -> Self {
        Self { on, by: Until::Any, closing: None }
    }
}

fn known((kind, code): (&str, &'static str), name: Option<&str>, known: &[&str]) -> Result<(), ValueError> {
    let Some(name) = name.filter(|name| !known.contains(name)) else { return Ok(()) };
    let message = Diagnostic::error(code, format!("the packs know no {kind} `{name}`"));
    Err(ValueError::one(&match nearest(name, known.iter().copied()) {
        Some(near) => message.help(format!("did you mean `{near}`?")),
        None => message.help(format!("they know {}", known.join(", "))),
    }))
}
