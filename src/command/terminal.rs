//! What reaches a terminal: whether in colour, and never a character that could command it.

use cotterpin_engine::source::{cut_at_unshowable, is_plain};
use std::env::var_os;
use std::ffi::OsStr;
use std::io::{self, IsTerminal, Write};
use std::ops::RangeInclusive;
use std::str::from_utf8;
use std::sync::OnceLock;
use terminal_size::{Width, terminal_size_of};

/// A stream to which nothing goes but text that shows what it holds: whatever a key, a value, a file's name, an
/// argument or a pack has in it, what would move the cursor, command the terminal, turn text round or hide is written
/// out. All output of the command goes through one, errors and reports alike.
pub(super) struct Clean<'a> {
    to: &'a mut dyn Write,
    /// Colours may pass, and a line may be written over, as progress is.
    colour: bool,
    /// The beginning of a character that has not come whole yet.
    cut: Vec<u8>,
}

impl<'a> Clean<'a> {
    pub(super) fn new(to: &'a mut dyn Write, colour: bool) -> Self {
        Self { to, colour, cut: Vec::new() }
    }

    fn text(&mut self, text: &str) -> io::Result<()> {
        if is_plain(text.as_bytes()) {
            return self.to.write_all(text.as_bytes());
        }
        let (mut out, mut rest) = (String::with_capacity(text.len()), text);
        while let Some((before, letter, after)) = cut_at_unshowable(rest) {
            out.push_str(before);
            rest = after;
            // Progress writes over its own line; what stands within a text does not.
            let at_an_end = out.is_empty() || after.is_empty();
            let ends_line = letter == '\r' && after.starts_with('\n');
            let colours = if self.colour && letter == '\u{1b}' { colours(after) } else { None };
            if let Some((code, after)) = colours {
                out.extend(["\u{1b}", code]);
                rest = after;
            } else if matches!(letter, '\n' | '\t') || ends_line || self.colour && letter == '\r' && at_an_end {
                out.push(letter);
            } else {
                out.extend(letter.escape_unicode());
            }
        }
        out.push_str(rest);
        self.to.write_all(out.as_bytes())
    }
}

/// The code of a colour, which begins a text, and what comes after it.
fn colours(text: &str) -> Option<(&str, &str)> {
    let digits = text.strip_prefix('[')?;
    let end = digits.find(|sign: char| !sign.is_ascii_digit() && sign != ';')?;
    digits.get(end..)?.starts_with('m').then(|| text.split_at_checked(end.checked_add(2)?))?
}

impl Write for Clean<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut all = std::mem::take(&mut self.cut);
        all.extend_from_slice(bytes);
        let mut rest = all.as_slice();
        while !rest.is_empty() {
            match from_utf8(rest) {
                Ok(text) => {
                    self.text(text)?;
                    break;
                }
                Err(wrong) => {
                    let (good, odd) = rest.split_at_checked(wrong.valid_up_to()).unwrap_or((rest, &[]));
                    self.text(from_utf8(good).unwrap_or_default())?;
                    let Some(odd_bytes) = wrong.error_len() else {
                        self.cut = odd.to_vec();
                        break;
                    };
                    self.to.write_all("\u{fffd}".as_bytes())?;
                    rest = odd.get(odd_bytes..).unwrap_or_default();
                }
            }
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        if !std::mem::take(&mut self.cut).is_empty() {
            self.to.write_all("\u{fffd}".as_bytes())?;
        }
        self.to.flush()
    }
}

/// The width of a common terminal and of a printed page.
const COMMON: usize = 80;
/// What is narrower cannot be laid out; what is wider is hard to read.
const WIDTHS: RangeInclusive<usize> = 40..=100;

/// The width of the terminal to which reports go, taken once by the process that has one.
static WIDTH: OnceLock<usize> = OnceLock::new();

/// Takes the width of the terminal behind the process's output, if that is one.
pub(super) fn take_width() {
    WIDTH.get_or_init(|| width_of(terminal_size_of(io::stdout()).map(|(Width(columns), _)| columns)));
}

/// How wide reports and messages are.
pub(super) fn width() -> usize {
    WIDTH.get().copied().unwrap_or(COMMON)
}

/// For a terminal of so many columns, if there is one.
fn width_of(columns: Option<u16>) -> usize {
    columns.map_or(COMMON, |columns| usize::from(columns).clamp(*WIDTHS.start(), *WIDTHS.end()))
}

/// Only on a terminal that takes the codes, and where nobody has asked for none.
pub(super) fn takes_colour() -> bool {
    let wanted = wants_colour(var_os("NO_COLOR").as_deref(), var_os("TERM").as_deref());
    wanted && io::stderr().is_terminal() && takes_codes()
}

/// By the two variables that ask for none.
fn wants_colour(no_colour: Option<&OsStr>, terminal: Option<&OsStr>) -> bool {
    no_colour.is_none_or(OsStr::is_empty) && terminal.is_none_or(|terminal| terminal != "dumb")
}

/// A console of Windows has to be asked to, and old ones cannot.
#[cfg(windows)]
fn takes_codes() -> bool {
    anstyle_query::windows::enable_ansi_colors() == Some(true)
}

#[cfg(not(windows))]
const fn takes_codes() -> bool {
    true
}

#[cfg(test)]
mod tests {
    use super::{Clean, wants_colour, width, width_of};
    use cotterpin_engine::source::is_unshowable;
    use std::ffi::OsStr;
    use std::io::Write;

    fn cleaned(pieces: &[&[u8]], colour: bool) -> String {
        let mut out = Vec::new();
        let mut clean = Clean::new(&mut out, colour);
        for piece in pieces {
            clean.write_all(piece).expect("written");
        }
        clean.flush().expect("flushed");
        String::from_utf8(out).expect("UTF-8")
    }

    /// A narrow one, a common one, one as wide as the wall; a pipe has none.
    #[test]
    fn reports_are_as_wide_as_can_be_read() {
        let widths = [None, Some(0), Some(30), Some(64), Some(80), Some(96), Some(300)].map(width_of);
        assert_eq!(widths, [80, 40, 40, 64, 80, 96, 100]);
        // Nothing here has taken the width of a terminal.
        assert_eq!(width(), 80);
    }

    #[test]
    fn no_command_passes() {
        let all: String = (0..=0x10ffff_u32).filter_map(char::from_u32).collect();
        let passed = cleaned(&[all.as_bytes()], false);
        let raw: Vec<char> = passed.chars().filter(|letter| is_unshowable(*letter)).collect();
        assert_eq!(raw, ['\t', '\n']);
        // However it comes, byte by byte too.
        let bytes: Vec<&[u8]> = all.as_bytes().chunks(1).collect();
        assert_eq!(cleaned(&bytes, false), passed);
        assert_eq!(cleaned(&[b"a\xff\xc3\r\n\x1b[1mb\r"], false), "a\u{fffd}\u{fffd}\r\n\\u{1b}[1mb\\u{d}");
        assert_eq!(
            cleaned(&[b"\x1b[1;31mb\x1b[0m\x1b[2Jc\x1b]52;c;eA==\x07\x1b"], true),
            "\x1b[1;31mb\x1b[0m\\u{1b}[2Jc\\u{1b}]52;c;eA==\\u{7}\\u{1b}"
        );
    }

    #[test]
    fn two_variables_ask_for_none() {
        for (no_colour, terminal, wanted) in [
            (None, None, true),
            (Some(""), Some("xterm"), true),
            (Some("1"), Some("xterm"), false),
            (None, Some("dumb"), false),
        ] {
            assert_eq!(wants_colour(no_colour.map(OsStr::new), terminal.map(OsStr::new)), wanted);
        }
    }
}
