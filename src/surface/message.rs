//! What is wrong, or probably not as meant: data with its places, and a plain text of it.

use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::report::Message;
use cotterpin_engine::source::Sources;
use std::error::Error;
use std::fmt;

/// Messages with the texts that they point into.
pub(crate) type Batch = (Sources, Vec<Diagnostic>);

/// Why packs or a project cannot be read. Its text is that of all its messages.
///
/// ```
/// use cotterpin::{Pack, Rules, Severity};
///
/// let manifest = "name='mine'\ntitle='Mine'\nedition='1'\nauthority='none'\nscope='a latch'";
/// let pack = Pack::new("mine", manifest, [("mine.checklist", "fact a.b : nonsense")]);
/// let broken = Rules::new([pack]).unwrap_err();
/// assert!(broken.messages().iter().any(|message| message.severity == Severity::Error && !message.labels.is_empty()));
/// assert!(broken.to_string().contains("mine.checklist:1:"));
/// ```
#[derive(Clone)]
pub struct LoadError(Box<Said>);

/// Why a call was not taken: nothing has changed. Its text is that of all its messages.
#[derive(Clone)]
pub struct ValueError(Box<Said>);

/// Messages, resolved and as they came.
#[derive(Clone)]
struct Said {
    messages: Vec<Message>,
    batches: Vec<Batch>,
}

/// Messages as data.
pub(super) fn all(found: &[Diagnostic], sources: &Sources) -> Vec<Message> {
    found.iter().map(|one| Message::of(one, sources)).collect()
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

            pub(crate) fn of_all(batches: Vec<Batch>) -> Self {
                let messages = batches.iter().flat_map(|(sources, found)| all(found, sources)).collect();
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

        /// As its text: what a `main` that fails prints is to be read, and the texts it points into are long.
        impl fmt::Debug for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                fmt::Display::fmt(self, f)
            }
        }

        impl Error for $name {}
    };
}

impl LoadError {
    /// The same as it came.
    pub(crate) fn into_batches(self) -> Vec<Batch> {
        self.0.batches
    }
}

#[cfg(feature = "command")]
impl ValueError {
    /// The same as it came, for who draws the texts.
    pub(crate) fn into_batches(self) -> Vec<Batch> {
        self.0.batches
    }
}

of_messages!(LoadError);
of_messages!(ValueError);

/// A project that cannot be read is also a reason why a call on it fails.
impl From<ValueError> for LoadError {
    fn from(error: ValueError) -> Self {
        Self(error.0)
    }
}
