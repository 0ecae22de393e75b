//! Evidence: which files are there to show something.

use super::Evidence;
use super::dates;
use super::file_pattern::FilePattern;
use super::known_names::nearest_or_all;
use super::taken::{DATED, Moment};
use super::text::Page;
use super::words::{in_words, normal_word};
use crate::diagnostic::Diagnostic;
use crate::ir::Rules;
use crate::source::{Span, is_unshowable};
use crate::workers::held;
use std::sync::Mutex;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Endings of photographs.
const PHOTOS: [&str; 16] = [
    "jpg", "jpeg", "png", "heic", "heif", "webp", "tif", "tiff", "avif", "gif", "bmp", "dng", "cr2", "cr3", "nef",
    "arw",
];

/// The kind of a photograph.
const PHOTO: &str = "photo";

/// Endings of documents: what says nothing of its kind and has another ending shows nothing.
const DOCUMENTS: [&str; 26] = [
    "pdf", "txt", "md", "rtf", "doc", "docx", "odt", "pages", "xls", "xlsx", "ods", "csv", "tsv", "numbers", "ppt",
    "pptx", "odp", "html", "htm", "eml", "msg", "svg", "dxf", "dwg", "mp4", "mov",
];

/// Endings of what is no evidence, whatever kind is named: half-loaded files, shortcuts, and what systems and programs
/// leave in a folder.
const NO_EVIDENCE: [&str; 16] = [
    "opdownload",
    "filepart",
    "aria2",
    "bak",
    "part",
    "crdownload",
    "download",
    "partial",
    "tmp",
    "temp",
    "lnk",
    "url",
    "webloc",
    "desktop",
    "db",
    "ini",
];

/// The ending of records that wait for the rest of their list.
const UNFINISHED: &str = ".unfinished.txt";

/// The files of a project, and the kinds of evidence the packs know.
pub(super) struct Files<'a> {
    rules: &'a Rules,
    /// Every path, in order.
    paths: Vec<&'a str>,
    /// What patterns have taken so far.
    spent: Mutex<Spent>,
}

/// So many signs of names may be held against parts of patterns, in all that is read at once.
const MOST_STEPS: u64 = 100_000_000;
/// So many files may patterns stand for.
const MOST_FOUND: usize = 100_000;
/// For so many names that are not there it is asked whether they are in other letters.
const MOST_ASKED: usize = 200;

/// What patterns have taken.
#[derive(Debug, Clone, Copy, Default)]
struct Spent {
    steps: u64,
    found: usize,
    asked: usize,
}

/// One file or pattern, with what is said of it.
struct Entry<'t> {
    subject: &'t str,
    kind: Option<String>,
    file: &'t str,
    dated: Option<Moment>,
    place: Span,
}

impl<'a> Files<'a> {
    pub(super) fn new(rules: &'a Rules, paths: &'a [String]) -> Self {
        let mut paths: Vec<&str> = paths.iter().map(String::as_str).collect();
        paths.sort_unstable();
        paths.dedup();
        Self { rules, paths, spent: Mutex::default() }
    }

    /// Whether a file that a fact names is there, and is none of the project's own texts.
    pub(super) fn shows(&self, written: &str) -> bool {
        let Ok(path) = inside(written) else { return false };
        !is_own_text(path) && !is_no_evidence(path) && self.paths.binary_search(&path).is_ok()
    }

    /// Reads what stands behind an `evidence` key of `subject`, which is of the
    /// day of what it stands beside unless it says its own.
    pub(super) fn read(
        &self,
        page: &Page<'_>,
        subject: &str,
        written: &Spanned<DeValue<'_>>,
        beside: Option<Moment>,
    ) -> (Vec<Evidence>, Vec<Diagnostic>) {
        let single = std::slice::from_ref(written);
        let pieces = written.get_ref().as_array().map_or(single, |array| array.as_ref());
        let (mut found, mut messages) = (Vec::new(), Vec::new());
        for piece in pieces {
            match self.piece(page, (subject, beside), piece) {
                Ok(some) => {
                    messages.extend(some.iter().filter(|one| !one.found).filter_map(|one| self.in_other_letters(one)));
                    found.extend(some);
                }
                Err(message) => messages.push(*message),
            }
        }
        (found, messages)
    }

    fn piece(
        &self,
        page: &Page<'_>,
        (subject, dated): (&str, Option<Moment>),
        piece: &Spanned<DeValue<'_>>,
    ) -> Result<Vec<Evidence>, Box<Diagnostic>> {
        let place = page.span(piece);
        match piece.get_ref() {
            DeValue::String(file) => self.find(&Entry { subject, kind: None, file, dated, place }),
            DeValue::Table(table) => self.named(page, (subject, dated), table, place),
            other => Err(Box::new(
                Diagnostic::error("evidence::form", format!("evidence of `{subject}` is a file, not {}", in_words(other)))
                    .at(place, "expected a path in quotes")
                    .help("write evidence = [\"evidence/left-tank.jpg\"], or { kind = \"weigh-sheet\", file = \"evidence/weighing.pdf\" }"),
            )),
        }
    }

    /// `{ kind = "weigh-sheet", file = "...", dated = 2026-10-04 }`
    fn named(
        &self,
        page: &Page<'_>,
        (subject, beside): (&str, Option<Moment>),
        table: &DeTable<'_>,
        place: Span,
    ) -> Result<Vec<Evidence>, Box<Diagnostic>> {
        for key in table.keys() {
            if !["kind", "file", DATED].contains(&key.get_ref().as_ref()) {
                return Err(Box::new(
                    Diagnostic::error("evidence::form", format!("evidence has no `{}`", key.get_ref()))
                        .at(page.span(key), "")
                        .help("a piece of evidence has a `kind`, a `file`, and perhaps the day it is of, `dated`"),
                ));
            }
        }
        let text = |key: &str| table.get(key).and_then(|value| value.get_ref().as_str());
        let (Some(kind), Some(file)) = (text("kind"), text("file")) else {
            return Err(Box::new(
                Diagnostic::error("evidence::form", format!("this evidence of `{subject}` lacks its kind or its file"))
                    .at(place, "")
                    .help("write { kind = \"weigh-sheet\", file = \"evidence/weighing.pdf\" }, both in quotes"),
            ));
        };
        let dated = match table.get(DATED) {
            None => beside,
            Some(written) => {
                let place = page.span(written);
                let (on, at) = dates::read_with_time(written.get_ref()).map_err(|why| {
                    let message = format!("the day of this evidence of `{subject}` cannot be read");
                    Box::new(
                        Diagnostic::error("value::date", message)
                            .at(place, why)
                            .help("write the day, such as dated = 2026-10-04"),
                    )
                })?;
                Some(Moment { on, at, place })
            }
        };
        self.find(&Entry { subject, kind: Some(normal_word(kind)), file, dated, place })
    }

    /// What is said of a file that is there under another name, the same but for capitals. Some disks would find it by
    /// either; the verdict is the same on all.
    fn in_other_letters(&self, evidence: &Evidence) -> Option<Diagnostic> {
        let path = &evidence.file;
        let mut spent = held(&self.spent);
        if spent.asked >= MOST_ASKED {
            return None;
        }
        spent.asked = spent.asked.saturating_add(1);
        drop(spent);
        let pattern = FilePattern::new(&path.to_lowercase()).ok()?;
        let lower = path.to_lowercase();
        let alike = |file: &str| file.to_lowercase() == lower || pattern.is_of(&file.to_lowercase(), &mut 0);
        let there = self.paths.iter().find(|file| alike(file) && !is_own_text(file) && !is_no_evidence(file))?;
        let message = format!("there is no file `{path}`, but there is `{there}`");
        let help = if path.contains('*') {
            format!("capitals count in the name of a file: write a pattern that has it, or `{there}`")
        } else {
            format!("capitals count in the name of a file: write `{there}`")
        };
        Some(Diagnostic::warning("evidence::capitals", message).at(evidence.place, "no file of this name").help(help))
    }

    /// The files an entry stands for; the entry itself, as not found, if none.
    fn find(&self, entry: &Entry<'_>) -> Result<Vec<Evidence>, Box<Diagnostic>> {
        let path = inside(entry.file).map_err(|wrong| Box::new(wrong.0.at(entry.place, wrong.1)))?;
        if is_own_text(path) {
            let message = format!("`{path}` is one of the project's own texts");
            let help = "what says that a thing is so does not show it as well: name a photograph, a sheet or a report";
            return Err(Box::new(Diagnostic::error("evidence::own-text", message).at(entry.place, "").help(help)));
        }
        let has = |known: &[&str]| ending(path).is_some_and(|ending| known.contains(&ending.as_str()));
        if entry.kind.as_deref() == Some(PHOTO) && !path.contains('*') && !has(&PHOTOS) {
            let message = format!("`{path}` is no photograph by its name");
            let help = format!("the name of a photograph ends in {}", PHOTOS.join(", "));
            return Err(Box::new(Diagnostic::error("evidence::no-document", message).at(entry.place, "").help(help)));
        }
        if is_no_evidence(path) || entry.kind.is_none() && !path.contains('*') && !has_known_ending(path) {
            let message = format!("`{path}` is no photograph and no document by its name");
            let help = "name the file itself; of a file with another ending say the kind, such as { kind = \"report\", file = \"...\" }";
            return Err(Box::new(Diagnostic::error("evidence::no-document", message).at(entry.place, "").help(help)));
        }
        let mut files = self.matching(entry, path)?;
        let found = !files.is_empty();
        if !found {
            files.push(path);
        }
        files.into_iter().map(|file| self.evidence(entry, file, found)).collect()
    }

    fn matching<'p>(&'p self, entry: &Entry<'_>, path: &str) -> Result<Vec<&'p str>, Box<Diagnostic>> {
        if let Ok(at) = self.paths.binary_search(&path) {
            return Ok(self.paths.get(at).copied().into_iter().collect());
        }
        let pattern = FilePattern::new(path).map_err(|error| {
            Box::new(
                Diagnostic::error("evidence::pattern", format!("`{path}` is not a pattern: {error}"))
                    .at(entry.place, "")
                    .help("`*` stands for any part of a file's name, `**` for any folders, `[0-9]` for one of several signs"),
            )
        })?;
        let is_photo = |file: &str| ending(file).is_some_and(|ending| PHOTOS.contains(&ending.as_str()));
        let fits = |file: &str| match entry.kind.as_deref() {
            Some(PHOTO) => is_photo(file),
            Some(_) => true,
            None => has_known_ending(file),
        };
        let shows = |file: &&str| !is_own_text(file) && fits(file);
        let shows = |file: &&str| shows(file) && !is_no_evidence(file);
        // Those that begin as it does stand together.
        let begins = pattern.begins();
        let from = self.paths.partition_point(|file| *file < begins.as_str());
        let mut spent = held(&self.spent);
        let mut found = Vec::new();
        let has_room = |spent: Spent| spent.steps < MOST_STEPS && spent.found < MOST_FOUND;
        for file in self.paths.iter().skip(from).take_while(|file| file.starts_with(&begins)) {
            if !has_room(*spent) {
                break;
            }
            if shows(file) && pattern.is_of(file, &mut spent.steps) {
                spent.found = spent.found.saturating_add(1);
                found.push(*file);
            }
        }
        if has_room(*spent) {
            return Ok(found);
        }
        let message =
            format!("with `{path}` the patterns of this project stand for too many files to be looked through");
        Err(Box::new(Diagnostic::error("evidence::too-many", message).at(entry.place, "too many from here on").help(
            format!("name the files, or write fewer patterns and shorter ones; they may stand for {MOST_FOUND} files"),
        )))
    }

    fn evidence(&self, entry: &Entry<'_>, file: &str, found: bool) -> Result<Evidence, Box<Diagnostic>> {
        let kind = entry.kind.clone().unwrap_or_else(|| kind_of(file).to_owned());
        let kinds: Vec<&str> = self.rules.evidence.iter().map(|kind| kind.name.as_str()).collect();
        if !kinds.contains(&kind.as_str()) {
            let help = nearest_or_all(&kind, &kinds, "the packs know");
            let message = format!("no pack knows evidence of the kind `{kind}`");
            return Err(Box::new(Diagnostic::error("evidence::kind", message).at(entry.place, "").help(help)));
        }
        let (subject, file) = (entry.subject.to_owned(), file.to_owned());
        Ok(Evidence { subject, kind, file, found, dated: entry.dated, place: entry.place })
    }
}

/// Whether a file is one in which the project says things, or the command keeps
/// them: what says that a thing is so does not show it as well.
fn is_own_text(path: &str) -> bool {
    let kept = ["log/", "audits/"].iter().any(|folder| path.to_lowercase().starts_with(folder));
    let name = path.rsplit('/').next().unwrap_or(path).to_lowercase();
    // A copy of such a text is none the less one (`facts.toml.txt`).
    kept || name.contains(".toml") || name.contains(".checklist") || name.ends_with(UNFINISHED)
}

/// Whether a file is what systems, programs and broken downloads leave behind.
fn is_no_evidence(path: &str) -> bool {
    let name = path.rsplit('/').next().unwrap_or(path);
    let ending = ending(path);
    let half = |ending: &str| ending.starts_with('!') || ending.ends_with(['#', '~']);
    name.starts_with("~$")
        || name.starts_with("._")
        || ending.as_deref().is_some_and(half)
        || NO_EVIDENCE.iter().any(|known| ending.as_deref() == Some(known))
}

fn has_known_ending(path: &str) -> bool {
    let ending = ending(path);
    !is_no_evidence(path) && PHOTOS.iter().chain(&DOCUMENTS).any(|known| ending.as_deref() == Some(known))
}

fn ending(path: &str) -> Option<String> {
    path.rsplit('/').next().and_then(|name| name.rsplit_once('.')).map(|(_, ending)| ending.to_lowercase())
}

/// The path of a file of the project as written, without the `./` it may begin
/// with. Evidence travels with the project, so its path stays inside it.
///
/// # Errors
/// What is wrong with it, and why, for a label where it is written.
pub fn inside(written: &str) -> Result<&str, Box<(Diagnostic, &'static str)>> {
    let path = written.strip_prefix("./").unwrap_or(written);
    let why = if path.trim().is_empty() {
        "no file is named"
    } else if path.starts_with(['/', '~', '\\']) || path.chars().nth(1) == Some(':') || path.contains("://") {
        "begins outside"
    } else if path.split(['/', '\\']).any(|part| part == "..") {
        "`..` leads outside"
    } else if let Some(mended) = with_slashes(path) {
        let message = "a path in a project has `/` between folders, not a backslash";
        let help = format!("write `{mended}`, on every system");
        return Err(Box::new((Diagnostic::error("evidence::outside", message).help(help), "it has a backslash")));
    } else {
        return Ok(path);
    };
    let message =
        Diagnostic::error("evidence::outside", format!("`{}` is not a path inside the project", shown(written)));
    let help = "put a copy into the project's folder and write its path from there, with `/`";
    Err(Box::new((message.help(help), why)))
}

/// A path with backslashes, or with what TOML made of one and the letter after it, with `/`; none where it has neither.
fn with_slashes(path: &str) -> Option<String> {
    let of = |sign: char| match sign {
        '\\' => Some("/"),
        '\u{8}' => Some("/b"),
        '\t' => Some("/t"),
        '\n' => Some("/n"),
        '\u{c}' => Some("/f"),
        '\r' => Some("/r"),
        '\u{1b}' => Some("/e"),
        _ => None,
    };
    let mended: String = path.chars().map(|sign| of(sign).map_or_else(|| sign.to_string(), str::to_owned)).collect();
    // A doubled backslash was one, written for TOML.
    (mended != path).then(|| mended.split('/').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("/"))
}

/// A path without signs that would move the cursor.
fn shown(path: &str) -> String {
    path.chars().map(|sign| if is_unshowable(sign) { '?' } else { sign }).collect()
}

/// The kind of a file that says none: a photograph by its ending, or a paper.
pub fn kind_of(file: &str) -> &'static str {
    if ending(file).is_some_and(|ending| PHOTOS.contains(&ending.as_str())) { "photo" } else { "document" }
}

#[cfg(test)]
mod tests {
    use super::{inside, with_slashes};
    use proptest::prelude::*;

    proptest! {
        /// What is mended is a path that is taken, and names the same folders.
        #[test]
        fn a_path_with_backslashes_is_mended(parts in proptest::collection::vec("[a-zA-Z0-9 ._-]{2,8}", 2..5), escaped in any::<bool>()) {
            prop_assume!(parts.iter().all(|part| part != ".." && part != "./" && !part.trim().is_empty()));
            prop_assume!(!parts[0].starts_with('.'));
            prop_assume!(!escaped || !parts.iter().skip(1).any(|part| is_of_digits(part)));
            let written = parts.join("\\");
            let read = format!("text = \"{written}\"").parse::<toml::Table>();
            let written = match read {
                Ok(read) if escaped => read["text"].as_str().unwrap().to_owned(),
                _ => written,
            };
            let mended = with_slashes(&written);
            prop_assert_eq!(mended.as_deref(), Some(&*parts.join("/")));
            prop_assert!(inside(&written).is_err());
            prop_assert!(inside(&parts.join("/")).is_ok());
        }
    }

    /// Whether TOML reads a letter by its number where a backslash stands before it: which digits those were, nothing tells.
    fn is_of_digits(part: &str) -> bool {
        [('x', 2), ('u', 4), ('U', 8)].into_iter().any(|(sign, count)| {
            let digits = part.strip_prefix(sign).and_then(|rest| rest.get(..count));
            digits.is_some_and(|digits| digits.bytes().all(|digit| digit.is_ascii_hexdigit()))
        })
    }

    #[test]
    fn a_letter_by_its_number_is_no_path() {
        let read = r#"text = "0A\x0a""#.parse::<toml::Table>().unwrap();
        assert!(inside(read["text"].as_str().unwrap()).is_err());
    }

    #[test]
    fn what_toml_makes_of_a_backslash_is_told() {
        for (read, mended) in [
            ("evidence\\fuel\\a.JPG", "evidence/fuel/a.JPG"),
            ("evidence\\\\fuel\\\\a.JPG", "evidence/fuel/a.JPG"),
            ("evidence\u{c}uel\new.jpg", "evidence/fuel/new.jpg"),
            ("photos\tank.jpg", "photos/tank.jpg"),
        ] {
            let (message, _) = *inside(read).unwrap_err();
            assert!(message.help.as_deref().is_some_and(|help| help.contains(&format!("`{mended}`"))), "{message:?}");
        }
        for outside in ["C:\\shed\\a.jpg", "\\\\server\\a.jpg", "..\\a.jpg", "a\\..\\..\\b.jpg"] {
            let (message, _) = *inside(outside).unwrap_err();
            assert!(message.help.as_deref().is_some_and(|help| help.starts_with("put a copy")), "{message:?}");
        }
    }
}
