//! Messages of one run, each kept with the texts its places point into.

use super::render;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::report::Message;
use cotterpin_engine::round::Fault;
use cotterpin_engine::source::Sources;

/// So many errors, and so many warnings, are shown at once: nobody reads more, and a file may hold a million.
const MOST_SHOWN: usize = 200;

/// What an error kept from being done.
#[derive(Debug, Clone, Copy, Default)]
enum Undone {
    #[default]
    Judging,
    Writing,
    /// Only what the messages name was not judged.
    JudgingThose,
}

/// Everything there is to say about a project or a pack, in the order found.
#[derive(Debug, Clone, Default)]
pub(super) struct Messages {
    batches: Vec<(Sources, Vec<Diagnostic>)>,
    /// Something done, which is no fault.
    said: Option<String>,
    /// What an error kept from being done.
    undone: Undone,
}

impl Messages {
    /// One message that points at no text.
    pub(super) fn one(message: Diagnostic) -> Self {
        let mut messages = Self::default();
        messages.add(&Sources::default(), vec![message]);
        messages
    }

    /// Messages, each with the texts that it points into.
    pub(super) fn of(batches: Vec<(Sources, Vec<Diagnostic>)>) -> Self {
        let batches = batches.into_iter().filter(|(_, found)| !found.is_empty()).collect();
        Self { batches, ..Self::default() }
    }

    /// A line about something that was done.
    pub(super) fn said(line: String) -> Self {
        Self { said: Some(line), ..Self::default() }
    }

    /// The same, of a command that would have written.
    pub(super) fn of_writing(mut self) -> Self {
        self.undone = Undone::Writing;
        self
    }

    /// The same, where all but what they name is judged.
    pub(super) fn of_the_rest(mut self) -> Self {
        self.undone = Undone::JudgingThose;
        self
    }

    /// Adds messages about `sources`.
    pub(super) fn add(&mut self, sources: &Sources, found: Vec<Diagnostic>) {
        if !found.is_empty() {
            self.batches.push((sources.clone(), found));
        }
    }

    /// Whether any of them stops the run.
    pub(super) fn any_error(&self) -> bool {
        self.all().any(Diagnostic::is_error)
    }

    /// All of them as text, with the counts at the end.
    pub(super) fn shown(&self, colour: bool) -> String {
        let mut text = self.said.as_ref().map_or_else(String::new, |line| format!("{line}\n"));
        let (mut errors, mut warnings) = (0usize, 0usize);
        for (sources, found) in &self.batches {
            for message in found {
                let so_many = if message.is_error() { &mut errors } else { &mut warnings };
                *so_many = so_many.saturating_add(1);
                if *so_many <= MOST_SHOWN {
                    text.push_str(&render::shown(message, sources, colour));
                }
            }
        }
        if errors.max(warnings) > MOST_SHOWN {
            text.push_str(&format!(
                "Of errors and of warnings the first {MOST_SHOWN} each are shown; mend those, and look again.\n"
            ));
        }
        let undone = match self.undone {
            Undone::Judging => "nothing was judged",
            Undone::Writing => "nothing was written",
            Undone::JudgingThose => "what stands there was not judged, the rest was",
        };
        text.push_str(&counts(errors, warnings, undone));
        text
    }

    /// How many warnings there are, for a command that is not about them; all of them where there is an error.
    pub(super) fn in_brief(&self, colour: bool) -> String {
        match self.all().count() {
            0 => String::new(),
            _ if self.any_error() => self.shown(colour),
            1 => "1 warning about what is written: `cotterpin audit` shows it.\n".to_owned(),
            many => format!("{many} warnings about what is written: `cotterpin audit` shows them.\n"),
        }
    }

    /// How many errors there are, and the first; nothing where there is none.
    pub(super) fn fault(&self) -> Option<Fault> {
        let errors = |found: &[Diagnostic]| found.iter().filter(|message| message.is_error()).count();
        let first = self.batches.iter().find_map(|(sources, found)| {
            found.iter().find(|message| message.is_error()).map(|message| (sources, message))
        });
        first.map(|(sources, message)| Fault {
            errors: self.batches.iter().map(|(_, found)| errors(found)).sum(),
            code: message.code.to_owned(),
            first: message.message.clone(),
            place: message.labels.first().map(|label| sources.place(label.span)),
        })
    }

    /// What to do about them.
    pub(super) fn helps(&self) -> impl Iterator<Item = String> {
        self.all().filter_map(|message| message.help.clone())
    }

    /// How many of them are warnings.
    pub(super) fn warnings(&self) -> usize {
        self.all().filter(|message| !message.is_error()).count()
    }

    /// All of them as data.
    pub(super) fn as_data(&self) -> Vec<Message> {
        let of = |(sources, found): &(Sources, Vec<Diagnostic>)| -> Vec<Message> {
            found.iter().map(|message| Message::of(message, sources)).collect()
        };
        self.batches.iter().flat_map(of).collect()
    }

    fn all(&self) -> impl Iterator<Item = &Diagnostic> {
        self.batches.iter().flat_map(|(_, found)| found)
    }
}

fn counts(errors: usize, warnings: usize, undone: &str) -> String {
    let counted = |n: usize, word: &str| {
        if n == 1 { format!("1 {word}") } else { format!("{n} {word}s") }
    };
    match (errors, warnings) {
        (0, 0) => String::new(),
        (0, n) => format!("{}.\n", counted(n, "warning")),
        (n, 0) => format!("{}; {undone}.\n", counted(n, "error")),
        (n, m) => format!("{} and {}; {undone}.\n", counted(n, "error"), counted(m, "warning")),
    }
}
