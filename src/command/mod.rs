//! The command line: the only room that reads the clock, the arguments and a
//! project's folder, and the only one that prints or writes a file.

mod args;
mod ask;
mod audit;
mod begin;
mod clock;
mod complete;
mod completed_names;
mod confirm;
mod day;
mod demo;
mod edit;
mod exit;
mod find;
mod here;
mod job;
mod load;
mod log;
mod manual;
mod messages;
mod next;
mod packs;
mod packs_in;
mod project_rules;
mod questions;
mod record;
mod recording;
mod render;
mod round;
mod saved;
mod schema;
mod since;
mod terminal;
mod try_pack;
mod why;

use args::{Args, Command};
use clap::Parser;
use cotterpin_engine::report::messages_json;
pub use demo::demo;
pub use exit::Status;
use messages::Messages;
use std::cell::{Cell, RefCell};
use std::ffi::OsString;
use std::io::{self, BufRead, Write};
use std::process::ExitCode;
use terminal::Clean;

/// How wide reports and messages are: as the terminal, where they go to one.
fn width() -> usize {
    terminal::width()
}

/// What a command came to: its output and its status, or why it could not be done.
type Done = Result<(String, Status), Messages>;

/// What becomes of what a command worked with, once its output is made.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Afterwards {
    /// It is freed: the caller goes on.
    Free,
    /// It is left to the end of the process, which is next. Freeing some tens of
    /// thousands of pieces one by one would be a twentieth of the whole run.
    Leave,
}

impl Afterwards {
    fn done_with<T>(self, spent: T) {
        if self == Self::Leave {
            std::mem::forget(spent);
        }
    }
}

/// Runs the command with the process's arguments and streams.
#[must_use]
pub fn run() -> ExitCode {
    if complete::answered(std::env::args_os()) {
        return Status::Settled.into();
    }
    terminal::take_width();
    let mut out = io::stdout().lock();
    // Not locked: whoever panics beside this thread could not say so, and would wait for ever.
    let mut err = io::stderr();
    let colour = terminal::takes_colour();
    let mut input = io::stdin().lock();
    run_to_end(std::env::args_os(), &mut input, &mut out, &mut err, (colour, Afterwards::Leave)).into()
}

/// Runs the command: the report goes to `out`, every message to `err`, in
/// colour if `colour` says so. The first argument is the command's own name.
///
/// ```
/// use cotterpin::command::{Status, run_with};
/// let (mut out, mut err) = (Vec::new(), Vec::new());
/// let status = run_with(["cotterpin", "fly"], &mut out, &mut err, false);
/// assert_eq!(status, Status::NotDone);
/// assert!(out.is_empty() && !err.is_empty());
/// ```
#[must_use]
pub fn run_with<A>(args: impl IntoIterator<Item = A>, out: &mut dyn Write, err: &mut dyn Write, colour: bool) -> Status
where
    A: Into<OsString> + Clone,
{
    run_asking(args, &mut io::empty(), out, err, colour)
}

/// The same, with `input` for the answers of `cotterpin ask`.
#[must_use]
pub fn run_asking<A>(
    args: impl IntoIterator<Item = A>,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
    err: &mut dyn Write,
    colour: bool,
) -> Status
where
    A: Into<OsString> + Clone,
{
    run_to_end(args, input, out, err, (colour, Afterwards::Free))
}

fn run_to_end<A>(
    args: impl IntoIterator<Item = A>,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
    err: &mut dyn Write,
    (colour, afterwards): (bool, Afterwards),
) -> Status
where
    A: Into<OsString> + Clone,
{
    // Nothing reaches a terminal but through these.
    let (out, err) = (&mut Clean::new(out, false) as &mut dyn Write, &mut Clean::new(err, colour) as &mut dyn Write);
    let (mut for_a_program, mut writes) = (false, false);
    let done = match Args::try_parse_from(args) {
        Ok(mut args) => {
            find::find(&mut args.command);
            (for_a_program, writes) = (args.command.is_for_a_program(), args.command.writes());
            dispatch(args.command, input, out, err, (colour, afterwards))
        }
        Err(problem) if problem.use_stderr() => {
            complain(err, &problem.render().to_string());
            return Status::NotDone;
        }
        Err(help) => Ok((help.render().to_string(), Status::Settled)),
    };
    match done {
        Ok((text, status)) => print(out, err, (&text, writes), status),
        Err(messages) => {
            complain(err, &messages.shown(colour));
            match for_a_program {
                true => print(out, err, (&messages_json(&messages.as_data()), false), Status::NotDone),
                false => Status::NotDone,
            }
        }
    }
}

fn dispatch(
    command: Command,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
    err: &mut dyn Write,
    (colour, afterwards): (bool, Afterwards),
) -> Done {
    // What is told while all else is judged.
    let unjudged = Cell::new(false);
    let err = RefCell::new(err);
    let mut warn = |messages: &Messages| {
        unjudged.set(unjudged.get() || messages.any_error());
        complain(&mut **err.borrow_mut(), &messages.shown(colour));
    };
    let mut warn_in_brief = |messages: &Messages| {
        unjudged.set(unjudged.get() || messages.any_error());
        complain(&mut **err.borrow_mut(), &messages.in_brief(colour));
    };
    // Only on a terminal, as colour is.
    let mut progress = |text: &str| {
        if colour {
            complain(&mut **err.borrow_mut(), text);
        }
    };
    let done = match command {
        Command::Begin(args) => begin::begin(&args),
        Command::Log(args) => log::log(&args, afterwards),
        Command::Record(args) => record::record(&args, afterwards),
        Command::Confirm(args) => confirm::confirm(&args, afterwards),
        Command::Job(args) => job::job(&args),
        Command::Audit(args) => match round::projects_in(&args) {
            Some(below) => round::round(&args, &below, &mut progress),
            None => audit::audit(&args, &mut warn, afterwards),
        },
        Command::Next(args) => next::next(&args, &mut warn_in_brief),
        Command::Why(args) => why::why(&args, &mut warn_in_brief),
        Command::Packs(args) => packs::packs(&args),
        Command::Questions(args) => questions::questions(&args, &mut warn),
        Command::Since(args) => since::since(&args, &mut warn),
        Command::Ask(args) => ask::ask(&args, input, out, &mut warn),
        Command::Try(args) => try_pack::try_pack(&args, &mut warn),
        Command::Schema(args) => schema::schema(&args),
        Command::Completion(args) => complete::completion(&args),
        Command::Manual(args) => manual::manual(&args),
    };
    done.map(|(text, status)| (text, if unjudged.get() { Status::NotDone } else { status }))
}

/// A reader that has seen enough (`cotterpin audit | head`) closes the pipe:
/// that is no fault, and the verdict stands. Any other fault is one.
fn print(out: &mut dyn Write, err: &mut dyn Write, (text, written): (&str, bool), status: Status) -> Status {
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => status,
        Err(problem) if problem.kind() == io::ErrorKind::BrokenPipe => status,
        Err(problem) => {
            let done =
                if written { " What was to be written into the project is written: do not do it again." } else { "" };
            complain(err, &format!("The report could not be written: {problem}.{done}\n"));
            Status::NotDone
        }
    }
}

/// Messages go to the last stream there is; where it is closed nobody is left
/// to tell, and the exit status still says it.
fn complain(err: &mut dyn Write, text: &str) {
    let _: io::Result<()> = err.write_all(text.as_bytes()).and_then(|()| err.flush());
}
