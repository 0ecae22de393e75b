//! Messages as pictures of the text they are about.

mod lines;

use cotterpin_engine::diagnostic::{Diagnostic as Message, Label, Severity};
use cotterpin_engine::source::{SourceId, Sources, visible};
use lines::Lines;
use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceCode};
use std::fmt;

/// Width of a message.
/// A line longer than this is not shown: the picture would bury the message.
const LONGEST: usize = 240;

/// The message with the lines it points at; places in further files follow it.
pub(super) fn shown(message: &Message, sources: &Sources, colour: bool) -> String {
    let theme = if colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
    // A path must stay whole, so that it can be copied.
    let handler = GraphicalReportHandler::new_themed(theme)
        .with_width(super::terminal::width())
        .with_links(false)
        .with_break_words(false);
    let mut text = String::new();
    match handler.render_report(&mut text, &Shown::new(message, sources)) {
        Ok(()) => text.push('\n'),
        // The picture is a courtesy; the words must arrive in any case.
        Err(fmt::Error) => text = plain(message, sources),
    }
    text
}

/// The message in words only.
fn plain(message: &Message, sources: &Sources) -> String {
    let mut lines = vec![format!("{}: {}", message.code, message.message)];
    lines.extend(message.labels.iter().map(|label| in_words(label, sources)));
    lines.extend(message.help.iter().map(|help| format!("help: {help}")));
    lines.push(String::new());
    lines.join("\n")
}

/// A label without its picture: `(facts.toml:3:8, expected a length)`.
fn in_words(label: &Label, sources: &Sources) -> String {
    let place = sources.place(label.span);
    let comma = if label.text.is_empty() { "" } else { ", " };
    format!("({}:{}:{}{comma}{})", place.file, place.line, place.column, label.text)
}

/// A message as the renderer wants it: one file and its labels, other files as
/// related messages of their own.
#[derive(Debug)]
struct Shown {
    message: String,
    code: Option<&'static str>,
    severity: Option<Severity>,
    help: Option<String>,
    file: Option<NamedSource<Lines>>,
    labels: Vec<LabeledSpan>,
    related: Vec<Shown>,
}

impl Shown {
    fn new(message: &Message, sources: &Sources) -> Self {
        let mut files = by_file(&message.labels).into_iter();
        let mut main = match files.next() {
            Some((file, labels)) => Self::of_file(&message.message, sources, file, &labels),
            None => Self::words(visible(&message.message).into_owned()),
        };
        main.related = files.map(|(file, labels)| Self::of_file("and here", sources, file, &labels)).collect();
        main.code = Some(message.code);
        main.severity = Some(message.severity);
        main.help = message.help.as_deref().map(|help| visible(help).into_owned());
        main
    }

    fn words(message: String) -> Self {
        Self { message, code: None, severity: None, help: None, file: None, labels: Vec::new(), related: Vec::new() }
    }

    /// The labels in one file; in words where its lines are too long to show.
    fn of_file(message: &str, sources: &Sources, file: SourceId, labels: &[&Label]) -> Self {
        let mut shown = Self::words(visible(message).into_owned());
        let Some(source) = sources.file(file) else {
            return shown;
        };
        if labels.iter().any(|label| !fits(&source.text, label.span.range())) {
            for label in labels {
                shown.message.push(' ');
                shown.message.push_str(&visible(&in_words(label, sources)));
            }
            return shown;
        }
        let lines = Lines::around(sources, &source.text, labels);
        shown.labels = labels
            .iter()
            .map(|label| {
                let text = (!label.text.is_empty()).then(|| visible(&label.text).into_owned());
                let (start, end) = (lines.moved(label.span.start), lines.moved(label.span.end));
                LabeledSpan::new(text, start, end.saturating_sub(start))
            })
            .collect();
        shown.file = Some(NamedSource::new(visible(&source.name), lines));
        shown
    }
}

/// Labels by file, the file of the main label first.
fn by_file(labels: &[Label]) -> Vec<(SourceId, Vec<&Label>)> {
    let mut files: Vec<(SourceId, Vec<&Label>)> = Vec::new();
    for label in labels {
        match files.iter_mut().find(|(file, _)| *file == label.span.source) {
            Some((_, list)) => list.push(label),
            None => files.push((label.span.source, vec![label])),
        }
    }
    files
}

/// Whether the span is inside the text, on whole characters, and the lines
/// around it are short enough to show.
fn fits(text: &str, span: std::ops::Range<usize>) -> bool {
    let (Some(before), Some(after)) = (text.get(..span.start), text.get(span.end..)) else {
        return false;
    };
    let Some(inside) = text.get(span) else {
        return false;
    };
    let head = before.rsplit('\n').take(2).map(str::len).max().unwrap_or(0);
    let tail = after.split('\n').take(2).map(str::len).max().unwrap_or(0);
    let body = inside.split('\n').map(str::len).max().unwrap_or(0);
    head.saturating_add(body).saturating_add(tail) <= LONGEST
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Shown {}

impl Diagnostic for Shown {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.code.map(|code| Box::new(code) as Box<dyn fmt::Display>)
    }

    fn severity(&self) -> Option<miette::Severity> {
        // A place in another file is shown as advice to the message it belongs to.
        Some(match self.severity {
            Some(Severity::Error) => miette::Severity::Error,
            Some(Severity::Warning) => miette::Severity::Warning,
            None => miette::Severity::Advice,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help.as_ref().map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.file.as_ref().map(|file| file as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        (!self.labels.is_empty())
            .then(|| Box::new(self.labels.iter().cloned()) as Box<dyn Iterator<Item = LabeledSpan>>)
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        let related = self.related.iter().map(|shown| shown as &dyn Diagnostic);
        (!self.related.is_empty()).then(|| Box::new(related) as Box<dyn Iterator<Item = &'a dyn Diagnostic>>)
    }
}

#[cfg(test)]
mod tests {
    use super::shown;
    use cotterpin_engine::diagnostic::Diagnostic;
    use cotterpin_engine::source::{Sources, Span};

    #[test]
    fn both_files_of_a_message_are_shown_with_line_and_column() {
        let mut sources = Sources::default();
        let one = sources.add("one.toml", "[spar]\nspan = 1\n");
        let two = sources.add("more/two.toml", "\n[spar]\nspan = 2\n");
        let message = Diagnostic::error("fact::twice", "`spar.span` is given twice")
            .at(Span::new(one, 7, 11), "first here")
            .at(Span::new(two, 8, 12), "again here")
            .help("keep one of them");
        let text = shown(&message, &sources, false);
        for part in [
            "fact::twice",
            "given twice",
            "one.toml:2:1",
            "first here",
            "more/two.toml:3:1",
            "again here",
            "keep one of them",
        ] {
            assert!(text.contains(part), "{part} is not in:\n{text}");
        }
        assert!(!text.contains('\u{1b}'), "{text}");
    }

    #[test]
    fn an_endless_line_is_told_in_words() {
        let mut sources = Sources::default();
        let id = sources.add("deep.checklist", "(".repeat(10_000));
        let message = Diagnostic::error("syntax::deep", "too deep").at(Span::new(id, 64, 65), "here");
        let text = shown(&message, &sources, false);
        assert!(text.contains("(deep.checklist:1:65, here)"), "{text}");
        assert!(text.len() < 500, "{text}");
    }

    #[test]
    fn a_place_that_is_not_in_the_text_still_leaves_the_words() {
        let mut sources = Sources::default();
        let id = sources.add("short.toml", "é");
        for (start, end) in [(1, 2), (0, 900), (900, 901), (2, 1)] {
            let message = Diagnostic::error("any::place", "the words").at(Span::new(id, start, end), "");
            assert!(shown(&message, &sources, false).contains("the words"));
        }
        let nowhere = Span::new(Sources::default().add("gone", ""), 0, 0);
        let message = Diagnostic::error("any::place", "the words").at(nowhere, "");
        assert!(shown(&message, &Sources::default(), false).contains("the words"));
    }
}
