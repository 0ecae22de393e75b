//! What is wrong, or probably not as meant: data with its places, and a plain text of it.

use cotterpin_engine::diagnostic::{Diagnostic, Severity};
use cotterpin_engine::source::{Place, Sources, Span};
use std::error::Error;
use std::fmt;

/// One message about a pack, a project or a call.
///
/// ```
/// use cotterpin::{Pack, Rules, Severity};
///
/// let manifest = "name='mine'\ntitle='Mine'\nedition='1'\nauthority='none'\nscope='a latch'";
/// let pack = Pack::new("mine", manifest, [("mine.checklist", "fact a.b : nonsense")]);
/// let broken = Rules::new([pack]).unwrap_err();
/// assert!(broken.messages().iter().any(|message| message.severity == Severity::Error && !message.labels.is_empty()));
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Message {
    /// A stable name such as `unit::mismatch`.
    pub code: String,
    /// How much it weighs.
    pub severity: Severity,
    /// What is wrong, in one sentence without a full stop.
    pub message: String,
    /// The places, the main one first.
    pub labels: Vec<Label>,
    /// What to do.
    pub help: Option<String>,
}

/// A place in a text, with a few words about it.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Label {
    /// The file, the line and the column.
    pub place: Place,
    /// What this is; may be empty.
    pub text: String,
    /// The line it stands in, as it is written.
    pub line: String,
    /// How many characters it takes up in that line, at least one.
    pub width: usize,
}

impl Message {
    pub(crate) fn of(diagnostic: &Diagnostic, sources: &Sources) -> Self {
        let label = |span: Span, text: &String| {
            let place = sources.place(span);
            let whole = sources.file(span.source).map_or("", |file| &file.text);
            let line = whole.lines().nth((place.line as usize).saturating_sub(1)).unwrap_or("").to_owned();
            let left = line.chars().count().saturating_sub((place.column as usize).saturating_sub(1));
            let width = sources.text(span).chars().take_while(|letter| *letter != '\n').count().min(left).max(1);
            Label { place, text: text.clone(), line, width }
        };
        Self {
            code: diagnostic.code.to_owned(),
            severity: diagnostic.severity,
            message: diagnostic.message.clone(),
            labels: diagnostic.labels.iter().map(|one| label(one.span, &one.text)).collect(),
            help: diagnostic.help.clone(),
        }
    }

    pub(crate) fn all(diagnostics: &[Diagnostic], sources: &Sources) -> Vec<Self> {
        diagnostics.iter().map(|one| Self::of(one, sources)).collect()
    }
}

/// Without colour, whatever it is written to: what is wrong, each place with its line, what to do.
impl fmt::Display for Message {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let severity = match self.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        };
        write!(f, "{severity}[{}]: {}", self.code, self.message)?;
        for label in &self.labels {
            write!(f, "\n  at {}:{}", label.place, label.place.column)?;
            if !label.text.is_empty() {
                write!(f, ": {}", label.text)?;
            }
            if !label.line.is_empty() {
                let before = " ".repeat((label.place.column as usize).saturating_sub(1).min(label.line.len()));
                write!(
                    f,
                    "\n    {}\n    {before}{}",
                    label.line,
                    "^".repeat(label.width.min(label.line.len().max(1)))
                )?;
            }
        }
        match &self.help {
            Some(help) => write!(f, "\n  help: {help}"),
            None => Ok(()),
        }
    }
}

/// Messages with the texts that they point into.
pub(crate) type Batch = (Sources, Vec<Diagnostic>);

/// Why packs or a project cannot be read. Its text is that of all its messages.
#[derive(Debug, Clone)]
pub struct LoadError(Box<Said>);

/// Why a call was not taken: nothing has changed. Its text is that of all its messages.
#[derive(Debug, Clone)]
pub struct ValueError(Box<Said>);

/// Messages, resolved and as they came.
#[derive(Debug, Clone)]
struct Said {
    messages: Vec<Message>,
    batches: Vec<Batch>,
}

/// Both kinds of error are messages.
macro_rules! of_messages {
    ($name:ident) => {
        impl $name {
            /// Everything that is to be said, errors and the warnings beside them.
            #[must_use]
            pub fn messages(&self) -> &[Message] {
                &self.0.messages
            }

            /// The same as it came, for who draws the texts.
            pub(crate) fn into_batches(self) -> Vec<Batch> {
                self.0.batches
            }

            pub(crate) fn of_all(batches: Vec<Batch>) -> Self {
                let messages = batches.iter().flat_map(|(sources, found)| Message::all(found, sources)).collect();
                Self(Box::new(Said { messages, batches }))
            }

            pub(crate) fn of(diagnostics: &[Diagnostic], sources: &Sources) -> Self {
                Self::of_all(vec![(sources.clone(), diagnostics.to_vec())])
            }

            pub(crate) fn one(diagnostic: &Diagnostic) -> Self {
                Self::of(std::slice::from_ref(diagnostic), &Sources::default())
            }
        }

        impl PartialEq for $name {
            fn eq(&self, other: &Self) -> bool {
                self.0.messages == other.0.messages
            }
        }

        impl Eq for $name {}

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                for (at, message) in self.0.messages.iter().enumerate() {
                    if at > 0 {
                        f.write_str("\n")?;
                    }
                    message.fmt(f)?;
                }
                Ok(())
            }
        }

        impl Error for $name {}
    };
}

of_messages!(LoadError);
of_messages!(ValueError);

/// A project that cannot be read is also a reason why a call on it fails.
impl From<ValueError> for LoadError {
    fn from(error: ValueError) -> Self {
        Self(error.0)
    }
}
