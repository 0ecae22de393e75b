//! Messages as data: what is wrong, where, what was expected, what to do.
//! Nothing here renders; the command does.

use crate::source::Span;
use serde::{Deserialize, Serialize};

/// How much a message weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// The audit cannot be done, or not all that is written was taken in.
    Error,
    /// Something is probably not as meant.
    Warning,
}

/// A place with a few words about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What this is; may be empty.
    pub text: String,
}

/// One message about a pack or a project.
///
/// ```
/// use cotterpin_lang::diagnostic::Diagnostic;
/// let message = Diagnostic::error("project::missing", "there is no project.toml in `shed`")
///     .help("give the project's folder, or begin one");
/// assert_eq!(message.code, "project::missing");
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// A stable name such as `unit::mismatch`.
    pub code: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// What is wrong, in one sentence without a full stop.
    pub message: String,
    /// The places, the first one being the main one.
    pub labels: Vec<Label>,
    /// What to do.
    pub help: Option<String>,
    /// Only the one value that it points at is passed over: all else can be judged.
    pub of_one_value: bool,
}

impl Diagnostic {
    /// An error without a place yet.
    #[must_use]
    pub fn error(code: &'static str, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            message: message.into(),
            labels: Vec::new(),
            help: None,
            of_one_value: false,
        }
    }

    /// A warning without a place yet.
    #[must_use]
    pub fn warning(code: &'static str, message: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, message) }
    }

    /// Adds a place.
    #[must_use]
    pub fn at(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into() });
        self
    }

    /// Says what to do.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Says that only one value is passed over because of it.
    #[must_use]
    pub fn of_one_value(mut self) -> Self {
        self.of_one_value = true;
        self
    }

    /// Whether something was not taken in because of it.
    #[must_use]
    pub fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }

    /// Whether nothing can be judged because of it.
    #[must_use]
    pub fn stops(&self) -> bool {
        self.is_error() && !self.of_one_value
    }
}

/// Puts messages in the order of their places and drops repeats.
pub fn settle(messages: &mut Vec<Diagnostic>) {
    messages.sort_by(|a, b| {
        let place = |m: &Diagnostic| m.labels.first().map(|label| label.span);
        place(a).cmp(&place(b)).then_with(|| a.message.cmp(&b.message))
    });
    messages.dedup();
}

/// A name with its article.
///
/// ```
/// assert_eq!(cotterpin_lang::diagnostic::with_article("area"), "an area");
/// assert_eq!(cotterpin_lang::diagnostic::with_article("mass"), "a mass");
/// ```
#[must_use]
pub fn with_article(name: &str) -> String {
    let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
    format!("{article} {name}")
}

/// The nearest of `known` to `word`, if any is near enough to be meant.
#[must_use]
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let limit = (word.chars().count() / 3).max(1);
    known
        .into_iter()
        .map(|candidate| (strsim::damerau_levenshtein(word, candidate), candidate))
        .filter(|(distance, _)| *distance <= limit)
        .min()
        .map(|(_, candidate)| candidate)
}

/// The question after the nearest of `known`, if any is near enough to be meant.
///
/// ```
/// use cotterpin_lang::diagnostic::did_you_mean;
/// assert_eq!(did_you_mean("vist", ["visit", "taxi"]).as_deref(), Some("did you mean `visit`?"));
/// assert_eq!(did_you_mean("weighing", ["visit", "taxi"]), None);
/// ```
#[must_use]
pub fn did_you_mean<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    nearest(word, known).map(|near| format!("did you mean `{near}`?"))
}

/// Of the dotted names in the same group as `name`, the one with almost the same last word.
pub fn near_sibling<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    fn split(name: &str) -> (&str, &str) {
        name.split_at(name.rfind('.').unwrap_or(0))
    }
    let (group, last) = split(name);
    let beside: Vec<&str> = known.into_iter().filter(|other| split(other).0 == group).collect();
    let near = nearest(last, beside.iter().map(|other| split(other).1))?;
    beside.into_iter().find(|other| split(other).1 == near)
}
