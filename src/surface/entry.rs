//! One entry of a project's files: a record, a line of the log, a word, leave.

use super::value::{Value, quoted};
use cotterpin_engine::project::whole_name;

/// What a program adds to a project: keys and values as they stand in its files.
///
/// ```
/// use cotterpin::Entry;
///
/// let tank = Entry::record("fuel.tanks").with("name", "left wing").with("capacity", "21 gal");
/// let all = Entry::whole("fuel.tanks").with("records", ["left wing"]).with("who", "ada").with("on", "2026-11-20");
/// let line = Entry::log().with("on", "2026-11-21").with("what", "removed").with("subject", "cabin.seat");
/// assert_ne!(tank, all);
/// assert_ne!(all, line);
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    kind: Kind,
    keys: Vec<(String, Value)>,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Kind {
    /// `[[fuel.tanks]]`
    Record(String),
    /// `[[log]]` and its like.
    Of(&'static str),
    /// `[whole]`
    Whole(String),
}

impl Entry {
    fn new(kind: Kind) -> Self {
        Self { kind, keys: Vec::new() }
    }

    /// A record of a list, with its fields, and `how_many`, `part` or `evidence` where they are said.
    #[must_use]
    pub fn record(list: &str) -> Self {
        Self::new(Kind::Record(list.to_owned()))
    }

    /// A line of the log: `on`, `what`, `subject`, `who`, `role` and what else belongs to what happened.
    #[must_use]
    pub fn log() -> Self {
        Self::new(Kind::Of("log"))
    }

    /// A person's word about an item: `item`, `of`, `who`, `role`, `on`, `holds`.
    #[must_use]
    pub fn confirmed() -> Self {
        Self::new(Kind::Of("confirmed"))
    }

    /// Leave to use what does not conform: `item`, `of`, `reason`, `granted_by`, `role`, `on`, `until`.
    #[must_use]
    pub fn concession() -> Self {
        Self::new(Kind::Of("concession"))
    }

    /// An item deferred to test flying: `item`, `of`, `reason`, `limit`, `test`, `who`, `on`, `by`, `result`.
    #[must_use]
    pub fn deferred() -> Self {
        Self::new(Kind::Of("deferred"))
    }

    /// What the builder says of a job: `about`, `takes`, `after` and more.
    #[must_use]
    pub fn job() -> Self {
        Self::new(Kind::Of("job"))
    }

    /// The word that the records of a list are all there are: `records`, `who`, `on`; of the list `log`: `entries`,
    /// `up_to`, `who`, `on`.
    #[must_use]
    pub fn whole(list: &str) -> Self {
        Self::new(Kind::Whole(list.to_owned()))
    }

    /// Adds a key.
    #[must_use]
    pub fn with(mut self, key: &str, value: impl Into<Value>) -> Self {
        self.keys.push((key.to_owned(), value.into()));
        self
    }

    /// The name under which it is stated.
    pub(super) fn name(&self) -> String {
        match &self.kind {
            Kind::Record(list) => list.clone(),
            Kind::Of(key) => (*key).to_owned(),
            Kind::Whole(list) => whole_name(list),
        }
    }

    /// Whether what is stated under its name later comes in its place.
    pub(super) fn is_single(&self) -> bool {
        matches!(self.kind, Kind::Whole(_))
    }

    /// The list it is a record of.
    pub(super) fn list(&self) -> Option<&str> {
        if let Kind::Record(list) = &self.kind { Some(list) } else { None }
    }

    /// As it stands in a file of the project.
    pub(super) fn toml(&self) -> String {
        let keys = self.keys.iter().map(|(key, value)| format!("{} = {}", quoted(key), value.toml()));
        let keys: Vec<String> = keys.collect();
        match &self.kind {
            Kind::Record(list) => format!("[[{}]]\n{}\n\n", quoted(list), keys.join("\n")),
            Kind::Of(key) => format!("[[{key}]]\n{}\n\n", keys.join("\n")),
            Kind::Whole(list) => format!("[whole]\n{} = {{ {} }}\n", quoted(list), keys.join(", ")),
        }
    }
}
