//! The manual pages, in the form that `man` reads.

use super::args::{Args, ManualArgs};
use super::messages::Messages;
use super::{Done, Status};
use clap::CommandFactory;
use clap_mangen::Man;
use cotterpin_engine::diagnostic::{Diagnostic, did_you_mean};

/// Prints the page of the whole command, or of one of its commands.
pub(super) fn manual(args: &ManualArgs) -> Done {
    let mut whole = Args::command();
    whole.build();
    let command = match &args.command {
        None => whole,
        Some(name) => whole.find_subcommand(name).cloned().ok_or_else(|| {
            let known: Vec<&str> = whole.get_subcommands().map(clap::Command::get_name).collect();
            let help = did_you_mean(name, known.iter().copied());
            let message = Diagnostic::error("manual::unknown", format!("there is no command `{name}`"));
            Messages::one(message.help(help.unwrap_or_else(|| format!("they are {}", known.join(", ")))))
        })?,
    };
    let mut page = Vec::new();
    match Man::new(command).render(&mut page).map(|()| String::from_utf8(page)) {
        Ok(Ok(page)) => Ok((page, Status::Settled)),
        _ => Err(Messages::one(Diagnostic::error("manual::page", "the manual page cannot be written"))),
    }
}
