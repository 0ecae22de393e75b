//! Lines of a given width, for a screen of 80 columns and for a screen reader.

use std::borrow::Cow;

/// The narrowest page; below it labels and text would not fit side by side.
const NARROWEST: usize = 40;

/// A text being written line by line, none of them wider than the page.
///
/// ```
/// let mut page = cotterpin::report::Page::new(40);
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
        self.put(&" ".repeat(first), rest, text);
    }

    /// A paragraph beside its label, which takes `column` characters.
    pub fn labelled(&mut self, indent: usize, column: usize, label: &str, text: &str) {
        let lead = format!("{}{label:<column$}", " ".repeat(indent));
        self.put(&lead, indent.saturating_add(column), text);
    }

    /// A paragraph of comment lines, each begun with `# `.
    pub fn commented(&mut self, text: &str) {
        for line in wrapped(&clean(text), self.width.saturating_sub(2), self.width.saturating_sub(2)) {
            self.verbatim(format!("# {line}").trim_end());
        }
    }

    /// One line as it is, however wide: what must not be broken.
    pub fn verbatim(&mut self, line: &str) {
        self.text.push_str(&clean(line));
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

    fn put(&mut self, lead: &str, rest: usize, text: &str) {
        let room = |used: usize| self.width.saturating_sub(used).max(8);
        let used = lead.chars().count();
        let mut lines = wrapped(&clean(text), room(used), room(rest)).into_iter();
        let first = format!("{lead}{}", lines.next().unwrap_or_default());
        self.text.push_str(first.trim_end());
        self.text.push('\n');
        for line in lines {
            self.text.push_str(&" ".repeat(rest));
            self.text.push_str(line.trim_end());
            self.text.push('\n');
        }
    }
}

/// The text with control characters written out: what a builder recorded must
/// not be able to move the cursor or hide a line.
pub(super) fn clean(text: &str) -> Cow<'_, str> {
    // As nearly always: nothing in it needs writing out.
    if text.bytes().all(|byte| (0x20..0x7f).contains(&byte)) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\n' | '\r' | '\t' => out.push(' '),
            _ if letter.is_control() || is_invisible(letter) => out.extend(letter.escape_unicode()),
            _ => out.push(letter),
        }
    }
    Cow::Owned(out)
}

/// Characters that change the direction of text or show nothing at all; two
/// serial numbers that differ by one of them must not look alike.
fn is_invisible(letter: char) -> bool {
    matches!(letter, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}' | '\u{ad}')
}

/// Breaks at single spaces. Further spaces stay, because texts are compared
/// character for character; a word wider than the room is cut.
fn wrapped(text: &str, first: usize, rest: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    let mut length = 0usize;
    let mut begun = false;
    for word in text.split(' ') {
        let room = if lines.is_empty() { first } else { rest };
        let wide = word.chars().count();
        let joined = length.saturating_add(1).saturating_add(wide);
        if begun && joined <= room {
            line.push(' ');
            line.push_str(word);
            length = joined;
            continue;
        }
        if begun {
            lines.push(std::mem::take(&mut line));
        }
        let room = if lines.is_empty() { first } else { rest };
        line = cut(word, room, rest, &mut lines);
        length = line.chars().count();
        begun = true;
    }
    lines.push(line);
    lines
}

/// Pushes full lines of a word that is too wide and gives what remains.
fn cut(word: &str, first: usize, rest: usize, lines: &mut Vec<String>) -> String {
    let mut line = String::new();
    let mut room = first;
    let mut length = 0usize;
    for letter in word.chars() {
        if length >= room {
            lines.push(std::mem::take(&mut line));
            room = rest;
            length = 0;
        }
        line.push(letter);
        length = length.saturating_add(1);
    }
    line
}
