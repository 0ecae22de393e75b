//! The lines of a text that a message shows, and no others: a text may be long, and messages about it many.

use cotterpin_engine::diagnostic::Label;
use cotterpin_engine::source::{Sources, cut_at_unshowable};
use miette::{MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents};

/// What stands in the picture for a character that must not be shown: one for one, so that columns stay those of the
/// file. The message beside it says which it was.
const UNSHOWABLE: char = '\u{fffd}';

/// Some lines of a text.
#[derive(Debug)]
pub(super) struct Lines {
    shown: String,
    /// How many lines stand before them.
    before: usize,
    /// The first byte of them in the whole text.
    begin: usize,
    /// Where characters were replaced, in the whole text, and how much longer that has made it up to there.
    longer: Vec<(usize, isize)>,
}

impl Lines {
    /// From the line before the first label to the one after the last.
    pub(super) fn around(sources: &Sources, text: &str, labels: &[&Label]) -> Self {
        let first = labels.iter().map(|label| label.span.start as usize).min().unwrap_or(0);
        let last = labels.iter().map(|label| label.span.end as usize).max().unwrap_or(0);
        let (head, tail) = (text.get(..first).unwrap_or(""), text.get(last..).unwrap_or(""));
        // The end of the line before the one before.
        let begin = head.rmatch_indices('\n').nth(1).map_or(0, |(at, _)| at.saturating_add(1));
        let end =
            tail.match_indices('\n').nth(1).map_or(text.len(), |(at, _)| last.saturating_add(at).saturating_add(1));
        let line = labels.iter().map(|label| sources.place(label.span).line).min().unwrap_or(1) as usize;
        let up_to = head.get(begin..).map_or(0, |lines| lines.matches('\n').count());
        let mut lines = Self {
            shown: String::new(),
            before: line.saturating_sub(1).saturating_sub(up_to),
            begin,
            longer: Vec::new(),
        };
        lines.put(text.get(begin..end).unwrap_or(""));
        lines
    }

    fn put(&mut self, text: &str) {
        let (mut rest, mut longer) = (text, 0isize);
        while let Some((before, letter, after)) = cut_at_unshowable(rest) {
            self.shown.push_str(before);
            if matches!(letter, '\n' | '\t') || letter == '\r' && after.starts_with('\n') {
                self.shown.push(letter);
            } else {
                self.shown.push(UNSHOWABLE);
                longer = longer
                    .saturating_add(UNSHOWABLE.len_utf8().cast_signed())
                    .saturating_sub(letter.len_utf8().cast_signed());
                let at = self.begin.saturating_add(text.len()).saturating_sub(after.len());
                self.longer.push((at, longer));
            }
            rest = after;
        }
        self.shown.push_str(rest);
    }

    /// Where a byte of the whole text is in these lines.
    pub(super) fn moved(&self, at: u32) -> usize {
        let at = at as usize;
        let passed = self.longer.partition_point(|(after, _)| *after <= at);
        let longer = passed.checked_sub(1).and_then(|last| self.longer.get(last)).map_or(0, |(_, longer)| *longer);
        at.saturating_sub(self.begin).saturating_add_signed(longer)
    }
}

impl SourceCode for Lines {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let read = self.shown.read_span(span, before, after)?;
        let line = read.line().saturating_add(self.before);
        // Its count of lines is that of all up to there; by it places that are near each other share a picture.
        let count = read.line_count().saturating_add(self.before);
        Ok(Box::new(MietteSpanContents::new(read.data(), *read.span(), line, read.column(), count)))
    }
}
