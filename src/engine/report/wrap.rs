//! Lines of a given width, for a screen of 80 columns and for a screen reader.

use crate::source::visible;

/// The narrowest page; below it labels and text would not fit side by side.
const NARROWEST: usize = 40;

/// A text being written line by line, none of them wider than the page.
///
/// ```
/// let mut page = cotterpin_engine::report::Page::new(40);
/// page.labelled(2, 10, "seen", "the serial number on the plate is 107");
/// assert_eq!(page.finish(), "  seen      the serial number on the\n            plate is 107\n");
/// ```
#[derive(Debug, Clone)]
pub struct Page {
    width: usize,
    text: String,
}

impl Page {
    /// An empty page of `width` characters, at least 40.
    #[must_use]
    pub fn new(width: usize) -> Self {
        Self { width: width.max(NARROWEST), text: String::new() }
    }

    /// One blank line, never two in a row and none at the top.
    pub fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// A heading with a blank line before and after it.
    pub fn heading(&mut self, title: &str) {
        self.gap();
        self.hanging(0, 0, title);
        self.gap();
    }

    /// A paragraph, every line indented alike.
    pub fn line(&mut self, indent: usize, text: &str) {
        self.hanging(indent, indent, text);
    }

    /// A paragraph whose first line is indented by `first` and the others by `rest`.
    pub fn hanging(&mut self, first: usize, rest: usize, text: &str) {
        let begin = self.text.len();
        self.blanks(first);
        self.put(begin, first, rest, text);
    }

    /// A paragraph beside its label, which takes `column` characters.
    pub fn labelled(&mut self, indent: usize, column: usize, label: &str, text: &str) {
        let begin = self.text.len();
        self.blanks(indent);
        let label = visible(label);
        self.text.push_str(&label);
        let wide = label.chars().count();
        self.blanks(column.saturating_sub(wide));
        self.put(begin, indent.saturating_add(wide.max(column)), indent.saturating_add(column), text);
    }

    /// A paragraph of comment lines, each begun with `# `.
    pub fn commented(&mut self, text: &str) {
        for line in wrapped(&visible(text), self.width.saturating_sub(2), self.width.saturating_sub(2)) {
            self.verbatim(format!("# {line}").trim_end());
        }
    }

    /// One line as it is, however wide: what must not be broken.
    pub fn verbatim(&mut self, line: &str) {
        self.text.push_str(&visible(line));
        self.text.push('\n');
    }

    /// The finished text; no blank line at its end.
    #[must_use]
    pub fn finish(mut self) -> String {
        while self.text.ends_with("\n\n") {
            self.text.pop();
        }
        self.text
    }

    fn blanks(&mut self, count: usize) {
        /// More than nearly every indent.
        const SOME: &str = "                                ";
        let mut count = count;
        while count > 0 {
            let blanks = SOME.get(..count).unwrap_or(SOME);
            self.text.push_str(blanks);
            count = count.saturating_sub(blanks.len());
        }
    }

    /// Goes on with a line that begins at a byte and has used some of its room.
    fn put(&mut self, begin: usize, used: usize, rest: usize, text: &str) {
        let (text, width) = (visible(text), self.width);
        let room = |used: usize| width.saturating_sub(used).max(8);
        let mut lines = wrapped(&text, room(used), room(rest)).into_iter();
        self.end_line(begin, lines.next().unwrap_or_default());
        for line in lines {
            let begin = self.text.len();
            self.blanks(rest);
            self.end_line(begin, line);
        }
    }

    /// Ends the line that begins at a byte, with no blanks at its end.
    fn end_line(&mut self, begin: usize, text: &str) {
        self.text.push_str(text);
        let kept = self.text.get(begin..).map_or(0, |line| line.trim_end().len());
        self.text.truncate(begin.saturating_add(kept));
        self.text.push('\n');
    }
}

/// Breaks at single spaces. Further spaces stay, because texts are compared
/// character for character; a word wider than the room is cut.
fn wrapped(text: &str, first: usize, rest: usize) -> Vec<&str> {
    let ascii = text.is_ascii();
    let mut lines = Vec::new();
    let (mut text, mut room) = (text, first);
    loop {
        // The character for which a line of them all would have no room: where a line ends, a blank may stand there.
        let over = if ascii { Some(room) } else { text.char_indices().nth(room).map(|(at, _)| at) };
        let Some((line, after)) = over.and_then(|over| text.get(..over).zip(text.get(over..))) else { break };
        let Some(next) = after.chars().next() else { break };
        let blank = if next == ' ' { Some(line.len()) } else { line.rfind(' ') };
        let (line, after) = match blank.and_then(|at| text.split_at_checked(at)) {
            Some((line, after)) => (line, after.strip_prefix(' ').unwrap_or(after)),
            None => (line, after),
        };
        lines.push(line);
        (text, room) = (after, rest);
    }
    lines.push(text);
    lines
}
