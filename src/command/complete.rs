//! Completion of what is typed: what the shell is told once, and the answer each time it asks.

use super::args::{Args, CompletionArgs, Shell};
use super::messages::Messages;
use super::{Done, Status};
use clap::CommandFactory;
use clap_complete::CompleteEnv;
use clap_complete::env::{Bash, EnvCompleter, Fish, Powershell, Zsh};
use cotterpin_engine::diagnostic::Diagnostic;
use std::env;
use std::ffi::OsString;

/// The shell asks for completions with this set in the environment.
const VARIABLE: &str = "COTTERPIN_COMPLETE";
const NAME: &str = "cotterpin";

/// Answers a shell that asks what could be typed next; whether it did.
pub(super) fn answered(args: impl IntoIterator<Item = OsString>) -> bool {
    let folder = env::current_dir().ok();
    let asked = CompleteEnv::with_factory(Args::command).var(VARIABLE).try_complete(args, folder.as_deref());
    asked.unwrap_or(true)
}

/// Prints what a shell has to be told once.
pub(super) fn completion(args: &CompletionArgs) -> Done {
    let shell: &dyn EnvCompleter = match args.shell {
        Shell::Bash => &Bash,
        Shell::Zsh => &Zsh,
        Shell::Fish => &Fish,
        Shell::Powershell => &Powershell,
    };
    let mut script = Vec::new();
    let written = shell.write_registration(VARIABLE, NAME, NAME, NAME, &mut script);
    match written.map(|()| String::from_utf8(script)) {
        Ok(Ok(script)) => Ok((script, Status::Settled)),
        _ => Err(Messages::one(Diagnostic::error("completion::script", "the script cannot be written"))),
    }
}
