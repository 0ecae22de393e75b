//! What can be wrong with the text of a unit.

use std::error::Error;
use std::fmt;

/// Why a text is no unit. `Display` is a sentence that says what is wrong and
/// what was expected.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum UnitError {
    /// No unit is written so; the nearest one that is.
    Unknown {
        /// What was written.
        text: String,
        /// The known symbol that looks most like it.
        nearest: Option<String>,
    },
    /// Several units go by that word.
    Ambiguous {
        /// What was written.
        text: String,
        /// What to write instead.
        say: &'static str,
    },
    /// A month or a year, which have no fixed length.
    CalendarLength {
        /// What was written.
        text: String,
    },
    /// A temperature on a scale inside a unit made of several.
    ScaleInside {
        /// What was written.
        text: String,
    },
    /// Not built like a unit.
    Malformed {
        /// What was written.
        text: String,
        /// What is wrong with it.
        why: &'static str,
    },
}

impl fmt::Display for UnitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            UnitError::Unknown { text, nearest } => {
                write!(f, "no unit is written `{text}`")?;
                match nearest {
                    Some(nearest) => write!(f, "; did you mean `{nearest}`?"),
                    None => f.write_str("; expected one such as in, lb, V, gal/h or lbf-in"),
                }
            }
            UnitError::Ambiguous { text, say } => {
                write!(f, "`{text}` can mean several units; {say}")
            }
            UnitError::CalendarLength { text } => write!(
                f,
                "`{text}` is not a unit, because months and years differ in length; \
                 write days or weeks, or `+ 6 months` in a date sum"
            ),
            UnitError::ScaleInside { text } => write!(
                f,
                "`{text}` multiplies a temperature on a scale; write the difference, deltaC, deltaF or deltaK"
            ),
            UnitError::Malformed { text, why } => {
                write!(f, "`{text}` is not built like a unit: {why}; expected one such as kg/m3, lbf-in or ohm/1000ft")
            }
        }
    }
}

impl Error for UnitError {}
