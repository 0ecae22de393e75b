//! What a program records, as the builder would write it.

use cotterpin_engine::quantity::Date;

/// A value as a builder writes it: a text with its unit, a count, yes or no, a day, several of them.
/// What it may be is decided by what it is recorded for.
///
/// ```
/// use cotterpin::Value;
///
/// let rate = Value::from("18.4 gal/h ± 0.2 gal/h").dated("2026-10-04").measured_with("kitchen scale");
/// assert_ne!(rate, Value::from("18.4 gal/h ± 0.2 gal/h"));
/// assert_eq!(Value::quantity(45.5, "lb"), Value::from("45.5 lb"));
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Value {
    /// As TOML.
    written: String,
    dated: Option<String>,
    instrument: Option<String>,
    /// The files that show it.
    shown_by: Vec<String>,
}

impl Value {
    /// A number in a unit, as it stands in the table of units.
    #[must_use]
    pub fn quantity(number: f64, unit: &str) -> Self {
        Self::from(format!("{number} {unit}"))
    }

    /// The day on which it was so: `2026-10-04`, with a time `2026-10-04T14:30:00`, or a month or year where no more is
    /// known.
    #[must_use]
    pub fn dated(mut self, day: impl Into<Value>) -> Self {
        self.dated = Some(day.into().written);
        self
    }

    /// The instrument it was measured with, by its name among `measuring.equipment`.
    #[must_use]
    pub fn measured_with(mut self, instrument: &str) -> Self {
        self.instrument = Some(quoted(instrument));
        self
    }

    /// A file that shows it, by its path from the project's folder; several by one call each. Its kind is that of its
    /// ending; [`Project::add_file`](crate::Project::add_file) says that it is there. A field of a record has none: the
    /// record has.
    #[must_use]
    pub fn shown_by(mut self, file: &str) -> Self {
        self.shown_by.push(quoted(file));
        self
    }

    fn plain(written: String) -> Self {
        Self { written, dated: None, instrument: None, shown_by: Vec::new() }
    }

    /// As it stands in a file of the project.
    pub(super) fn toml(&self) -> String {
        if self.dated.is_none() && self.instrument.is_none() && self.shown_by.is_empty() {
            return self.written.clone();
        }
        let dated = self.dated.iter().map(|day| format!(", dated = {day}"));
        let instrument = self.instrument.iter().map(|name| format!(", instrument = {name}"));
        let files = (!self.shown_by.is_empty()).then(|| format!(", evidence = [{}]", self.shown_by.join(", ")));
        format!("{{ value = {}{} }}", self.written, dated.chain(instrument).chain(files).collect::<String>())
    }
}

/// A text in the quotes of TOML.
pub(super) fn quoted(text: &str) -> String {
    let mut quoted = String::with_capacity(text.len().saturating_add(2));
    quoted.push('"');
    for letter in text.chars() {
        match letter {
            '"' | '\\' => quoted.extend(['\\', letter]),
            letter if letter.is_control() => quoted.push_str(&format!("\\u{:04X}", u32::from(letter))),
            letter => quoted.push(letter),
        }
    }
    quoted.push('"');
    quoted
}

/// A text: a word, a name, or a number with its unit and uncertainty.
impl From<&str> for Value {
    fn from(text: &str) -> Self {
        Self::plain(quoted(text))
    }
}

impl From<String> for Value {
    fn from(text: String) -> Self {
        Self::from(text.as_str())
    }
}

impl From<&String> for Value {
    fn from(text: &String) -> Self {
        Self::from(text.as_str())
    }
}

/// Yes or no.
impl From<bool> for Value {
    fn from(yes: bool) -> Self {
        Self::plain(yes.to_string())
    }
}

/// A count, or a plain number.
impl From<i64> for Value {
    fn from(count: i64) -> Self {
        Self::plain(count.to_string())
    }
}

impl From<i32> for Value {
    fn from(count: i32) -> Self {
        Self::from(i64::from(count))
    }
}

impl From<u32> for Value {
    fn from(count: u32) -> Self {
        Self::from(i64::from(count))
    }
}

/// A plain number, with the fewest digits that mean just this one.
impl From<f64> for Value {
    fn from(number: f64) -> Self {
        Self::plain(if number.is_nan() { "nan".to_owned() } else { format!("{number:?}") })
    }
}

/// A day.
impl From<Date> for Value {
    fn from(day: Date) -> Self {
        Self::plain(day.to_string())
    }
}

/// Several, where a key takes a list: points that were looked at, names of records.
impl<V: Into<Value>> From<Vec<V>> for Value {
    fn from(values: Vec<V>) -> Self {
        let written: Vec<String> = values.into_iter().map(|value| value.into().toml()).collect();
        Self::plain(format!("[{}]", written.join(", ")))
    }
}

impl<V: Into<Value>, const N: usize> From<[V; N]> for Value {
    fn from(values: [V; N]) -> Self {
        Self::from(Vec::from(values))
    }
}
