//! Questions out, answers in: a terminal, or a pipe.

use std::io::{BufRead, Read, Write};

/// No answer is as long as this.
const LONGEST: u64 = 1 << 16;

/// What was answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Reply {
    /// `stop`, or nobody is there any more.
    Stop,
    /// An empty line.
    Skip,
    /// `back`
    Back,
    /// `?`
    Unknown,
    /// Anything else, without spaces around it.
    Text(String),
}

/// The two ends of a conversation.
pub(super) struct Dialogue<'a> {
    input: &'a mut dyn BufRead,
    out: &'a mut dyn Write,
    /// Nobody reads any more, so nobody can be asked.
    closed: bool,
}

impl<'a> Dialogue<'a> {
    pub(super) fn new(input: &'a mut dyn BufRead, out: &'a mut dyn Write) -> Self {
        Self { input, out, closed: false }
    }

    pub(super) fn say(&mut self, text: &str) {
        let said = self.out.write_all(text.as_bytes()).and_then(|()| self.out.flush());
        self.closed |= said.is_err();
    }

    /// Waits for one line. What is no text is asked for again.
    pub(super) fn reply(&mut self) -> Reply {
        loop {
            self.say("> ");
            if self.closed {
                return Reply::Stop;
            }
            let mut line = Vec::new();
            let read = (&mut *self.input).take(LONGEST).read_until(b'\n', &mut line);
            if read.is_err() || line.is_empty() {
                self.say("\n");
                return Reply::Stop;
            }
            let too_long = line.len() as u64 >= LONGEST;
            match std::str::from_utf8(&line) {
                // A shell may put the mark of a text before what it hands on.
                Ok(text) if !too_long => return of(text.trim_start_matches('\u{feff}').trim()),
                _ if too_long => {
                    self.say("This is too long for an answer.\n");
                    return Reply::Stop;
                }
                _ => self.say("This is not text in UTF-8. Once more, please.\n"),
            }
        }
    }
}

/// An answer of one word in small letters, without a stop or quotes.
pub(super) fn bare(answer: &str) -> String {
    let signs = |letter: char| matches!(letter, '.' | ',' | '!' | '"' | '\'') || letter.is_whitespace();
    answer.trim_matches(signs).to_lowercase()
}

fn of(text: &str) -> Reply {
    match text.to_lowercase().as_str() {
        "" | "skip" => Reply::Skip,
        "?" => Reply::Unknown,
        "stop" | "quit" | "exit" => Reply::Stop,
        "back" | "back." => Reply::Back,
        _ => Reply::Text(text.to_owned()),
    }
}
