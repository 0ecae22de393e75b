//! What a job, a snag or a part on order is about, by name.

use std::fmt;

/// What begins the name of a job that no pack knows.
const OWN: &str = "own:";

/// What begins the name of a snag.
const SNAG: &str = "snag ";

/// What a job is about.
///
/// ```
/// use cotterpin_engine::project::JobSubject;
/// assert_eq!(JobSubject::parse("snag 14"), JobSubject::Snag(14));
/// assert_eq!(JobSubject::parse("own:  Fit wheel spats"), JobSubject::Own("Fit wheel spats".to_owned()));
/// assert_eq!(JobSubject::parse("us/marks.height").to_string(), "us/marks.height");
/// ```
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum JobSubject {
    /// An item, with or without its pack's name.
    Item(String),
    /// A snag, by its number.
    Snag(u32),
    /// A job of the builder's own, by its name.
    Own(String),
}

impl JobSubject {
    /// Reads `us/marks.height`, `snag 14` or `own: fit wheel spats`.
    #[must_use]
    pub fn parse(text: &str) -> Self {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if let Some(name) = text.strip_prefix(OWN) {
            return Self::Own(name.trim().to_owned());
        }
        match text.strip_prefix(SNAG).map(str::parse) {
            Some(Ok(number)) => Self::Snag(number),
            _ => Self::Item(text),
        }
    }
}

impl fmt::Display for JobSubject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Item(name) => f.write_str(name),
            Self::Snag(number) => write!(f, "snag {number}"),
            Self::Own(name) => write!(f, "own: {name}"),
        }
    }
}
