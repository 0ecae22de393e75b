//! What can be written after `cotterpin`.

mod writing;

use crate::command::completed_names::Names;
use clap::{Args as Arguments, Parser, Subcommand, ValueEnum};
use clap_complete::ArgValueCompleter;
use cotterpin_engine::plan::minutes_of;
use cotterpin_engine::project::length_of_time;
use cotterpin_engine::quantity::Date;
use std::num::NonZeroUsize;
use std::path::PathBuf;
pub(in crate::command) use writing::{AskArgs, BeginArgs, ConfirmArgs, JobArgs, LogArgs, RecordArgs};

const STATUSES: &str = "Exit status: 0 nothing is unmet or not shown, 1 something is unmet, \
2 nothing is unmet but something is not shown, 3 it could not be done, or something recorded was not \
judged.\n\n\
The authority's inspector has the final say.";

const SINCE_STATUSES: &str = "Exit status: 0 nothing became worse, 1 something did, \
2 nothing became worse but something new is unmet or not shown, 3 it could not be done.\n\n\
The authority's inspector has the final say.";

/// Audit your own aircraft project before the authority's inspector visits.
#[derive(Debug, Parser)]
#[command(name = "cotterpin", bin_name = "cotterpin", version, after_help = STATUSES)]
pub(in crate::command) struct Args {
    #[command(subcommand)]
    pub(in crate::command) command: Command,
}

#[derive(Debug, Subcommand)]
pub(in crate::command) enum Command {
    /// Begin a project: a folder with project.toml, a log and a place for evidence.
    Begin(BeginArgs),
    /// Write one line of what was done, inspected, tested or found.
    Log(Box<LogArgs>),
    /// Record one fact, one record of a list, or one field of many records alike.
    Record(RecordArgs),
    /// Write a person's word: that something is so or is not, that a list or the log is whole.
    Confirm(ConfirmArgs),
    /// Write down a job of your own, which no pack knows, or that it is done.
    Job(JobArgs),
    /// Be asked the questions that would settle most; every answer is written at once.
    Ask(AskArgs),
    /// Set what is recorded of the aircraft against what the packs ask; in a folder of several projects, of them all.
    #[command(after_help = STATUSES)]
    Audit(AuditArgs),
    /// Show the jobs for today: what next, in which order, before what closes.
    Next(NextArgs),
    /// Show the whole reasoning of one item.
    Why(WhyArgs),
    /// Show the built-in packs: editions, counts, and what they rest on.
    Packs(PacksArgs),
    /// Show the questions not answered yet, as TOML to copy and fill in.
    Questions(QuestionsArgs),
    /// Show what changed since an audit that was saved.
    #[command(after_help = SINCE_STATUSES)]
    Since(SinceArgs),
    /// Run the worked examples of a pack.
    Try(TryArgs),
    /// Show the schema of an output that is for programs, or list them.
    Schema(SchemaArgs),
    /// Print what a shell is told once, so that it completes commands and the names of a project.
    #[command(after_help = COMPLETION_HELP)]
    Completion(CompletionArgs),
    /// Print the manual page, or that of one command.
    Manual(ManualArgs),
}

impl Command {
    /// Whether its output is for a program.
    pub(in crate::command) fn is_for_a_program(&self) -> bool {
        let format = match self {
            Self::Audit(args) => return args.format == AuditFormat::Json,
            Self::Next(args) => args.format,
            Self::Why(args) => args.format,
            Self::Questions(args) => args.format,
            Self::Since(args) => args.format,
            Self::Try(args) => args.format,
            Self::Packs(PacksArgs { one: None, format }) => *format,
            Self::Packs(PacksArgs { one: Some(OnePack::Show(args)), .. }) => {
                return args.format == PageFormat::Json;
            }
            Self::Begin(_) | Self::Log(_) | Self::Record(_) | Self::Confirm(_) | Self::Job(_) | Self::Ask(_) => {
                Format::Text
            }
            Self::Schema(_) | Self::Completion(_) | Self::Manual(_) => Format::Text,
        };
        format == Format::Json
    }

    /// Whether it has written something once its output is shown.
    pub(in crate::command) fn writes(&self) -> bool {
        match self {
            Self::Begin(_) | Self::Record(_) | Self::Confirm(_) | Self::Job(_) | Self::Ask(_) => true,
            Self::Log(args) => args.subjects.is_none(),
            Self::Audit(args) => args.save || args.save_to.is_some(),
            _ => false,
        }
    }
}

/// Which project.
#[derive(Debug, Arguments)]
pub(in crate::command) struct ProjectArgs {
    /// The project's folder [default: this one, or one that it stands in].
    #[arg(value_name = "PROJECT", default_value = ".", hide_default_value = true)]
    pub(in crate::command) folder: PathBuf,
    /// Use the invented demo project instead.
    #[arg(long, conflicts_with = "folder")]
    pub(in crate::command) demo: bool,
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct AuditArgs {
    #[command(flatten)]
    pub(in crate::command) project: ProjectArgs,
    /// Of a folder that holds projects, so many are audited at once [default: as many as there are cores].
    #[arg(long, value_name = "N")]
    pub(in crate::command) workers: Option<NonZeroUsize>,
    /// The day to judge, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = crate::command::day::day)]
    pub(in crate::command) on: Option<Date>,
    /// Look at what is due by this hold point or an earlier one [default: the visit while it lies ahead, then the next
    /// one that is planned; in a folder of several projects, any]. With close:ZONE, such as close:tail, at all that
    /// will be out of reach when that zone is closed.
    #[arg(long, value_name = "HOLD-POINT")]
    #[arg(add = ArgValueCompleter::new(Names::By))]
    pub(in crate::command) by: Option<String>,
    /// Show the whole report, not its first page.
    #[arg(long)]
    pub(in crate::command) full: bool,
    /// How to write the report.
    #[arg(long, value_enum, default_value_t = AuditFormat::Text)]
    pub(in crate::command) format: AuditFormat,
    /// With --format sarif: say of each finding whether it is new, changed or gone since an
    /// audit that was saved, named by its day or its file.
    #[arg(long, value_name = "DATE-OR-FILE")]
    pub(in crate::command) since: Option<String>,
    /// Put stand-ins for names of people, serial numbers, registrations and addresses.
    #[arg(long, conflicts_with = "saving")]
    pub(in crate::command) redact: bool,
    /// Save the audit in the project's folder audits, for `cotterpin since`.
    #[arg(long, group = "saving", conflicts_with = "demo")]
    pub(in crate::command) save: bool,
    /// Save the audit in this file.
    #[arg(long, value_name = "FILE", group = "saving")]
    pub(in crate::command) save_to: Option<PathBuf>,
    /// Replace the audit saved that day, or the file named; otherwise nothing is replaced.
    #[arg(long, requires = "saving")]
    pub(in crate::command) replace: bool,
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct SinceArgs {
    /// A day, which takes the newest saved audit of that day or before; or the file of a saved audit.
    #[arg(value_name = "DATE-OR-FILE")]
    pub(in crate::command) when: String,
    #[command(flatten)]
    pub(in crate::command) project: ProjectArgs,
    /// The day to judge, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = crate::command::day::day)]
    pub(in crate::command) on: Option<Date>,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(in crate::command) format: Format,
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct NextArgs {
    #[command(flatten)]
    pub(in crate::command) project: ProjectArgs,
    /// The day, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = crate::command::day::day)]
    pub(in crate::command) on: Option<Date>,
    /// The time there is today, such as 3h or "45 min": what fits is shown first.
    #[arg(long, value_name = "TIME", value_parser = time, conflicts_with = "close_up")]
    pub(in crate::command) time: Option<u32>,
    /// Working time of an ordinary day [default: what project.toml says as
    /// hours-per-day under shed, else 3h].
    #[arg(long, value_name = "TIME", value_parser = time_of_a_day, conflicts_with = "close_up")]
    pub(in crate::command) a_day: Option<u32>,
    /// Instead, what to close and inspect again after the visit.
    #[arg(long)]
    pub(in crate::command) close_up: bool,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(in crate::command) format: Format,
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct WhyArgs {
    /// The item, `us/marks.height` or `marks.height` alone; the number that the audit shows; or the first word, such as
    /// fuel. Or a fact, or a part: what is recorded or logged of it, and what asks about it.
    #[arg(add = ArgValueCompleter::new(Names::Items))]
    pub(in crate::command) item: String,
    #[command(flatten)]
    pub(in crate::command) project: ProjectArgs,
    /// The day to judge, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = crate::command::day::day)]
    pub(in crate::command) on: Option<Date>,
    /// Of a number: the hold point that the audit was asked for.
    #[arg(long, value_name = "HOLD-POINT")]
    #[arg(add = ArgValueCompleter::new(Names::By))]
    pub(in crate::command) by: Option<String>,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(in crate::command) format: Format,
}

#[derive(Debug, Arguments)]
#[command(args_conflicts_with_subcommands = true)]
pub(in crate::command) struct PacksArgs {
    /// Show one pack instead.
    #[command(subcommand)]
    pub(in crate::command) one: Option<OnePack>,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(in crate::command) format: Format,
}

#[derive(Debug, Subcommand)]
pub(in crate::command) enum OnePack {
    /// Show all that one pack asks, item by item, with its sources.
    Show(ShowArgs),
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct ShowArgs {
    /// A built-in pack such as us, or the folder of a pack of your own.
    #[arg(value_name = "PACK")]
    pub(in crate::command) pack: String,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = PageFormat::Text)]
    pub(in crate::command) format: PageFormat,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::command) enum PageFormat {
    /// For a person.
    Text,
    /// One file to read in a browser or to print.
    Html,
    /// For a program.
    Json,
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct QuestionsArgs {
    #[command(flatten)]
    pub(in crate::command) project: ProjectArgs,
    /// Only questions whose name begins with this word, such as fuel.
    #[arg(long)]
    #[arg(add = ArgValueCompleter::new(Names::Systems))]
    pub(in crate::command) system: Option<String>,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(in crate::command) format: Format,
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct SchemaArgs {
    /// Which, such as audit.
    #[arg(value_name = "NAME")]
    pub(in crate::command) name: Option<String>,
}

const COMPLETION_HELP: &str = "In bash, in zsh and in fish, at each start:

    source <(cotterpin completion bash)
    source <(cotterpin completion zsh)
    cotterpin completion fish | source

In PowerShell, in $PROFILE:

    cotterpin completion powershell | Out-String | Invoke-Expression";

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::command) enum Shell {
    Bash,
    Zsh,
    Fish,
    Powershell,
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct CompletionArgs {
    /// Which shell.
    #[arg(value_name = "SHELL", value_enum)]
    pub(in crate::command) shell: Shell,
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct ManualArgs {
    /// Which command, such as audit.
    #[arg(value_name = "COMMAND")]
    pub(in crate::command) command: Option<String>,
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct TryArgs {
    /// The pack's folder, the one with pack.toml in it.
    #[arg(value_name = "PACK-FOLDER")]
    pub(in crate::command) folder: PathBuf,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(in crate::command) format: Format,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::command) enum Format {
    /// For a person.
    Text,
    /// For a program.
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::command) enum AuditFormat {
    /// For a person.
    Text,
    /// For a program: all there is to say.
    Json,
    /// SARIF 2.1.0, for programs that show what others found.
    Sarif,
    /// JUnit XML, for programs that show how tests came out.
    Junit,
    /// A table, for a spreadsheet (RFC 4180).
    Csv,
}

/// A time in whole minutes, at least one.
fn time(text: &str) -> Result<u32, String> {
    let time = length_of_time(text).map_err(|why| format!("{why}; write a time such as 3h or \"45 min\""))?.value;
    if time.as_point().is_none() {
        return Err("one time is expected, such as 3h or \"45 min\"".to_owned());
    }
    Ok(minutes_of(&time))
}

fn time_of_a_day(text: &str) -> Result<u32, String> {
    let minutes = time(text)?;
    if minutes > 24 * 60 { Err("a day has 24 h".to_owned()) } else { Ok(minutes) }
}
