//! Whether messages may have colour.

use std::env::var_os;
use std::ffi::OsStr;
use std::io::{self, IsTerminal};

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
    use super::wants_colour;
    use std::ffi::OsStr;

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
