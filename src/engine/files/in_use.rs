//! A file that another program has open: it is tried again for a second, and then it is said.

use std::io::{self, ErrorKind};
use std::thread::sleep;
use std::time::Duration;

/// A look by a scanner or a backup is over by then; a window that somebody left open is not.
const TRIES: usize = 20;
const BETWEEN: Duration = Duration::from_millis(50);

/// Does it again, for a second, while another program is in the way.
///
/// # Errors
/// What the last try came to.
pub fn patiently<T>(mut act: impl FnMut() -> io::Result<T>) -> io::Result<T> {
    for _ in 0..TRIES {
        match act() {
            Err(problem) if is_in_use(&problem) => sleep(BETWEEN),
            done => return done,
        }
    }
    act()
}

/// Whether another program is in the way. Windows says so by its numbers for sharing and for a locked part.
fn is_in_use(problem: &io::Error) -> bool {
    problem.kind() == ErrorKind::ResourceBusy || cfg!(windows) && matches!(problem.raw_os_error(), Some(32 | 33))
}

/// Why a file cannot be read or written, in words.
#[must_use]
pub fn why(problem: &io::Error) -> String {
    if is_in_use(problem) { "another program has it open".to_owned() } else { problem.to_string() }
}

/// What to do about it; `otherwise` where no other program is in the way.
#[must_use]
pub fn what_to_do<'a>(problem: &io::Error, otherwise: &'a str) -> &'a str {
    if is_in_use(problem) { "close it there, then once more" } else { otherwise }
}

#[cfg(test)]
mod tests {
    use super::{TRIES, patiently, what_to_do, why};
    use std::io::{Error, ErrorKind};

    #[test]
    fn another_program_is_waited_for() {
        let mut tries = 0;
        let done = patiently(|| {
            tries += 1;
            if tries < 4 { Err(Error::from(ErrorKind::ResourceBusy)) } else { Ok(tries) }
        });
        assert_eq!(done.ok(), Some(4));
        let mut tries = 0;
        let left = patiently(|| -> Result<(), Error> {
            tries += 1;
            Err(Error::from(ErrorKind::ResourceBusy))
        });
        let problem = left.unwrap_err();
        assert_eq!((why(&problem).as_str(), tries), ("another program has it open", TRIES + 1));
        assert_eq!(what_to_do(&problem, "look"), "close it there, then once more");
    }

    #[test]
    fn what_is_wrong_for_good_is_tried_once() {
        let mut tries = 0;
        let done = patiently(|| -> Result<(), Error> {
            tries += 1;
            Err(Error::from(ErrorKind::NotFound))
        });
        assert_eq!((done.map_err(|problem| what_to_do(&problem, "look") == "look"), tries), (Err(true), 1));
    }
}
