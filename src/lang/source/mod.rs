//! Places in text: which file, which bytes, which line and column.

mod letters;
mod shared_text;

pub use letters::{cut_at_unshowable, is_invisible, is_plain, is_unshowable, visible, visible_but};
pub use shared_text::SharedText;
use std::sync::{Arc, OnceLock};

/// The most one text may hold, in bytes: a file of rules, or one of a project's
/// facts. Nobody writes so much by hand; what is larger is something else by mistake.
///
/// ```
/// assert_eq!(cotterpin_lang::source::MOST_BYTES >> 20, 16);
/// ```
pub const MOST_BYTES: usize = 16 << 20;

/// The most that all texts of one project, or of one pack, may hold together, in bytes.
///
/// ```
/// assert_eq!(cotterpin_lang::source::MOST_IN_ALL >> 20, 64);
/// ```
pub const MOST_IN_ALL: usize = 4 * MOST_BYTES;

/// A file that has been read: its place among the [`Sources`] it was added to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SourceId(u32);

impl SourceId {
    /// The first text added to any [`Sources`].
    ///
    /// ```
    /// use cotterpin_lang::source::{SourceId, Sources};
    /// assert_eq!(Sources::default().add("a.toml", ""), SourceId::FIRST);
    /// ```
    pub const FIRST: Self = Self(0);

    /// So many texts after another one; `None` beyond what can be counted.
    #[must_use]
    pub(crate) fn after(self, texts: u32) -> Option<Self> {
        self.0.checked_add(texts).map(Self)
    }

    /// How many texts were added before it.
    #[must_use]
    pub(crate) const fn index(self) -> u32 {
        self.0
    }
}

/// A stretch of a source file, in bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The file.
    pub source: SourceId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// The span from `start` to `end` in `source`.
    #[must_use]
    pub fn new(source: SourceId, start: usize, end: usize) -> Self {
        let clip = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Self { source, start: clip(start), end: clip(end) }
    }

    /// The bytes as a range.
    #[must_use]
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }

    /// The span that covers both (of the first one's file).
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self { source: self.source, start: self.start.min(other.start), end: self.end.max(other.end) }
    }
}

/// A place as a person says it: columns count characters, lines and columns from 1.
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
pub struct Place {
    /// The file, as given.
    pub file: String,
    /// Line, from 1.
    pub line: u32,
    /// Column, from 1, in characters.
    pub column: u32,
    /// The line in which it ends; 0 where only its beginning is kept.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub end_line: u32,
    /// The column after its last character; 0 where only its beginning is kept.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub end_column: u32,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands the field over by reference")]
fn is_zero(number: &u32) -> bool {
    *number == 0
}

impl Place {
    /// Where it begins, alone.
    #[must_use]
    pub fn beginning(&self) -> Self {
        Self { end_line: 0, end_column: 0, ..self.clone() }
    }
}

impl std::fmt::Display for Place {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}:{}", self.file, self.line)
    }
}

/// One text with its name.
#[derive(Debug, Clone)]
pub struct SourceFile {
    /// The file's name as shown in messages.
    pub name: String,
    /// Its whole text.
    pub text: SharedText,
    /// Where its lines begin, once somebody has asked for a place in it.
    lines: OnceLock<Vec<u32>>,
}

/// The same name and the same text.
impl PartialEq for SourceFile {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name && *self.text == *other.text
    }
}

impl Eq for SourceFile {}

impl SourceFile {
    /// The number of the line a byte stands in, from zero, and its beginning.
    fn line(&self, at: u32) -> (u32, u32) {
        let lines = self.lines.get_or_init(|| {
            let after = |(at, _): (usize, &str)| u32::try_from(at.saturating_add(1)).unwrap_or(u32::MAX);
            // The first line begins at zero, each other after a line break.
            std::iter::once(0).chain(self.text.match_indices('\n').map(after)).collect()
        });
        let line = lines.partition_point(|begin| *begin <= at).saturating_sub(1);
        (u32::try_from(line).unwrap_or(u32::MAX), lines.get(line).copied().unwrap_or(0))
    }
}

/// Every text that spans point into.
///
/// ```
/// let mut sources = cotterpin_lang::source::Sources::default();
/// let id = sources.add("a.toml", "x = 1\ny = 2\n");
/// let span = cotterpin_lang::source::Span::new(id, 6, 7);
/// assert_eq!(sources.text(span), "y");
/// assert_eq!(sources.place(span).line, 2);
/// ```
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sources {
    /// Shared between copies until one of them gets another text.
    files: Arc<Vec<SourceFile>>,
}

impl Sources {
    /// Adds a text and gives its number.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<SharedText>) -> SourceId {
        let id = self.next();
        Arc::make_mut(&mut self.files).push(SourceFile {
            name: name.into(),
            text: text.into(),
            lines: OnceLock::new(),
        });
        id
    }

    /// The number that the next text will get.
    #[must_use]
    pub fn next(&self) -> SourceId {
        SourceId(u32::try_from(self.files.len()).unwrap_or(u32::MAX))
    }

    /// Takes the text away that was added last.
    pub fn forget_last(&mut self) {
        Arc::make_mut(&mut self.files).pop();
    }

    /// Puts another text in the place of one; places in the old one no longer mean anything.
    ///
    /// ```
    /// let mut sources = cotterpin_lang::source::Sources::default();
    /// let id = sources.add("a.toml", "x = 1");
    /// sources.renew(id, "x = 2");
    /// assert_eq!(&*sources.files()[0].text, "x = 2");
    /// ```
    pub fn renew(&mut self, id: SourceId, text: impl Into<SharedText>) {
        if let Some(file) = Arc::make_mut(&mut self.files).get_mut(id.0 as usize) {
            file.text = text.into();
            file.lines = OnceLock::new();
        }
    }

    /// The file of that number.
    #[must_use]
    pub fn file(&self, id: SourceId) -> Option<&SourceFile> {
        self.files.get(id.0 as usize)
    }

    /// All files in the order they were added.
    #[must_use]
    pub fn files(&self) -> &[SourceFile] {
        &self.files
    }

    /// The text of a span; empty where the span points nowhere.
    #[must_use]
    pub fn text(&self, span: Span) -> &str {
        self.file(span.source).and_then(|file| file.text.get(span.range())).unwrap_or("")
    }

    /// A pack's own text of a span, on one line, comments taken out.
    #[must_use]
    pub fn one_line(&self, span: Span) -> String {
        let text = self.text(span);
        let lines =
            text.lines().map(|line| if line.contains('"') { line } else { line.split("--").next().unwrap_or("") });
        lines.flat_map(str::split_whitespace).collect::<Vec<_>>().join(" ")
    }

    /// The line in which a span begins, without its line break; empty where there is no text.
    ///
    /// ```
    /// use cotterpin_lang::source::{Sources, Span};
    /// let mut sources = Sources::default();
    /// let id = sources.add("a.toml", "x = 1\r\ny = 2\n");
    /// assert_eq!(sources.line(Span::new(id, 11, 12)), "y = 2");
    /// assert_eq!(sources.line(Span::new(id, 2, 3)), "x = 1");
    /// ```
    #[must_use]
    pub fn line(&self, span: Span) -> &str {
        let Some(file) = self.file(span.source) else { return "" };
        let (_, begin) = file.line(span.start.min(u32::try_from(file.text.len()).unwrap_or(u32::MAX)));
        file.text.get(begin as usize..).and_then(|rest| rest.lines().next()).unwrap_or("")
    }

    /// File, line and column of a span's beginning and end.
    #[must_use]
    pub fn place(&self, span: Span) -> Place {
        let Some(file) = self.file(span.source) else { return Place::default() };
        // A place past the end is that of the end.
        let last = u32::try_from(file.text.len()).unwrap_or(u32::MAX);
        let within = |at: u32| if file.text.is_char_boundary(at as usize) { at } else { last };
        let (start, end) = (within(span.start), within(span.end.max(span.start)));
        let text = |from: u32, to: u32| file.text.get(from as usize..to as usize).unwrap_or("");
        let letters = |text: &str| u32::try_from(text.chars().count()).unwrap_or(u32::MAX);
        let (line, begin) = file.line(start);
        let column = letters(text(begin, start));
        // Most places are of one line, and are not looked up twice.
        let (end_line, end_column) = match text(start, end) {
            inside if inside.contains('\n') => {
                let (line, begin) = file.line(end);
                (line, letters(text(begin, end)))
            }
            inside => (line, column.saturating_add(letters(inside))),
        };
        Place {
            file: file.name.clone(),
            line: line.saturating_add(1),
            column: column.saturating_add(1),
            end_line: end_line.saturating_add(1),
            end_column: end_column.saturating_add(1),
        }
    }
}
