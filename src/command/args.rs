//! What can be written after `cotterpin`.

use super::completed_names::Names;
use clap::{Args as Arguments, Parser, Subcommand, ValueEnum};
use clap_complete::ArgValueCompleter;
use cotterpin_engine::plan::minutes_of;
use cotterpin_engine::project::length_of_time;
use cotterpin_engine::quantity::Date;
use std::num::NonZeroUsize;
use std::path::PathBuf;

const STATUSES: &str = "Exit status: 0 nothing is unmet or not shown, 1 something is unmet, \
2 nothing is unmet but something is not shown, 3 it could not be done, or something recorded was not \
judged.\n\n\
The authority's inspector has the final say.";

const SINCE_STATUSES: &str = "Exit status: 0 nothing became worse, 1 something did, \
2 nothing became worse but something new is unmet or not shown, 3 it could not be done.\n\n\
The authority's inspector has the final say.";

/// Audit your own aircraft project before the authority's inspector visits.
#[derive(Debug, Parser)]
#[command(name = "cotterpin", version, after_help = STATUSES)]
pub(super) struct Args {
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Begin a project: a folder with project.toml, a log and a place for evidence.
    Begin(BeginArgs),
    /// Write one line of what was done, inspected, tested or found.
    Log(Box<LogArgs>),
    /// Record one fact, one record of a list, or one field of many records alike.
    Record(RecordArgs),
    /// Write a person's word: that something is so or is not, that a list or the log is whole.
    Confirm(ConfirmArgs),
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
    pub(super) fn is_for_a_program(&self) -> bool {
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
            Self::Begin(_) | Self::Log(_) | Self::Record(_) | Self::Confirm(_) | Self::Ask(_) => Format::Text,
            Self::Schema(_) | Self::Completion(_) | Self::Manual(_) => Format::Text,
        };
        format == Format::Json
    }
}

/// Which project.
#[derive(Debug, Arguments)]
pub(super) struct ProjectArgs {
    /// The project's folder [default: this one, or one that it stands in].
    #[arg(value_name = "PROJECT", default_value = ".", hide_default_value = true)]
    pub(super) folder: PathBuf,
    /// Use the invented demo project instead.
    #[arg(long, conflicts_with = "folder")]
    pub(super) demo: bool,
}

#[derive(Debug, Arguments)]
pub(super) struct AuditArgs {
    #[command(flatten)]
    pub(super) project: ProjectArgs,
    /// Of a folder that holds projects, so many are audited at once [default: as many as there are cores].
    #[arg(long, value_name = "N")]
    pub(super) workers: Option<NonZeroUsize>,
    /// The day to judge, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = super::day::day)]
    pub(super) on: Option<Date>,
    /// Look only at what is due by this hold point or an earlier one; with
    /// close:ZONE, such as close:tail, at all that will be out of reach when
    /// that zone is closed.
    #[arg(long, value_name = "HOLD-POINT")]
    #[arg(add = ArgValueCompleter::new(Names::By))]
    pub(super) by: Option<String>,
    /// How to write the report.
    #[arg(long, value_enum, default_value_t = AuditFormat::Text)]
    pub(super) format: AuditFormat,
    /// With --format sarif: say of each finding whether it is new, changed or gone since an
    /// audit that was saved, named by its day or its file.
    #[arg(long, value_name = "DATE-OR-FILE")]
    pub(super) since: Option<String>,
    /// Put stand-ins for names of people, serial numbers, registrations and addresses.
    #[arg(long, conflicts_with = "saving")]
    pub(super) redact: bool,
    /// Save the audit in the project's folder audits, for `cotterpin since`.
    #[arg(long, group = "saving", conflicts_with = "demo")]
    pub(super) save: bool,
    /// Save the audit in this file.
    #[arg(long, value_name = "FILE", group = "saving")]
    pub(super) save_to: Option<PathBuf>,
    /// Replace the audit saved that day, or the file named; otherwise nothing is replaced.
    #[arg(long, requires = "saving")]
    pub(super) replace: bool,
}

#[derive(Debug, Arguments)]
pub(super) struct SinceArgs {
    /// A day, which takes the newest saved audit of that day or before; or the file of a saved audit.
    #[arg(value_name = "DATE-OR-FILE")]
    pub(super) when: String,
    #[command(flatten)]
    pub(super) project: ProjectArgs,
    /// The day to judge, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = super::day::day)]
    pub(super) on: Option<Date>,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
}

#[derive(Debug, Arguments)]
pub(super) struct NextArgs {
    #[command(flatten)]
    pub(super) project: ProjectArgs,
    /// The day, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = super::day::day)]
    pub(super) on: Option<Date>,
    /// The time there is today, such as 3h or "45 min": what fits is shown first.
    #[arg(long, value_name = "TIME", value_parser = time, conflicts_with = "close_up")]
    pub(super) time: Option<u32>,
    /// Working time of an ordinary day [default: what project.toml says as
    /// hours-per-day under shed, else 3h].
    #[arg(long, value_name = "TIME", value_parser = time_of_a_day, conflicts_with = "close_up")]
    pub(super) a_day: Option<u32>,
    /// Instead, what to close and inspect again after the visit.
    #[arg(long)]
    pub(super) close_up: bool,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
}

#[derive(Debug, Arguments)]
pub(super) struct WhyArgs {
    /// The item, `us/marks.height` or `marks.height` alone; the number that the audit shows; or the first word, such as
    /// fuel.
    #[arg(add = ArgValueCompleter::new(Names::Items))]
    pub(super) item: String,
    #[command(flatten)]
    pub(super) project: ProjectArgs,
    /// The day to judge, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = super::day::day)]
    pub(super) on: Option<Date>,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
}

#[derive(Debug, Arguments)]
#[command(args_conflicts_with_subcommands = true)]
pub(super) struct PacksArgs {
    /// Show one pack instead.
    #[command(subcommand)]
    pub(super) one: Option<OnePack>,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
}

#[derive(Debug, Subcommand)]
pub(super) enum OnePack {
    /// Show all that one pack asks, item by item, with its sources.
    Show(ShowArgs),
}

#[derive(Debug, Arguments)]
pub(super) struct ShowArgs {
    /// A built-in pack such as us, or the folder of a pack of your own.
    #[arg(value_name = "PACK")]
    pub(super) pack: String,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = PageFormat::Text)]
    pub(super) format: PageFormat,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum PageFormat {
    /// For a person, at 80 columns.
    Text,
    /// One file to read in a browser or to print.
    Html,
    /// For a program.
    Json,
}

#[derive(Debug, Arguments)]
pub(super) struct QuestionsArgs {
    #[command(flatten)]
    pub(super) project: ProjectArgs,
    /// Only questions whose name begins with this word, such as fuel.
    #[arg(long)]
    #[arg(add = ArgValueCompleter::new(Names::Systems))]
    pub(super) system: Option<String>,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
}

#[derive(Debug, Arguments)]
pub(super) struct SchemaArgs {
    /// Which, such as audit.
    #[arg(value_name = "NAME")]
    pub(super) name: Option<String>,
}

const COMPLETION_HELP: &str = "In bash, in zsh and in fish, at each start:

    source <(cotterpin completion bash)
    source <(cotterpin completion zsh)
    cotterpin completion fish | source

In PowerShell, in $PROFILE:

    cotterpin completion powershell | Out-String | Invoke-Expression";

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Shell {
    Bash,
    Zsh,
    Fish,
    Powershell,
}

#[derive(Debug, Arguments)]
pub(super) struct CompletionArgs {
    /// Which shell.
    #[arg(value_name = "SHELL", value_enum)]
    pub(super) shell: Shell,
}

#[derive(Debug, Arguments)]
pub(super) struct ManualArgs {
    /// Which command, such as audit.
    #[arg(value_name = "COMMAND")]
    pub(super) command: Option<String>,
}

#[derive(Debug, Arguments)]
pub(super) struct TryArgs {
    /// The pack's folder, the one with pack.toml in it.
    #[arg(value_name = "PACK-FOLDER")]
    pub(super) folder: PathBuf,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
}

#[derive(Debug, Arguments)]
pub(super) struct BeginArgs {
    /// The folder to begin in; it is made if it is not there.
    #[arg(value_name = "FOLDER")]
    pub(super) folder: PathBuf,
    /// The country whose authority visits, such as us; leave it out where no pack covers it.
    #[arg(long)]
    pub(super) country: Option<String>,
    /// What reports shall call the project [default: the folder's name].
    #[arg(long)]
    pub(super) name: Option<String>,
    /// The planned visit: 2026-12-10, or 2026-12 for some day of that month.
    #[arg(long, value_name = "DATE")]
    pub(super) visit: Option<String>,
    /// The builder's name.
    #[arg(long, value_name = "NAME")]
    pub(super) who: Option<String>,
}

const LOG_HELP: &str = "WHAT is one of: work done, inspected, tested, measured, removed, refitted, adjusted, \
opened, closed, snag found, snag cleared.

    cotterpin log inspected controls.elevator \"pins seen\" --who tomas
    cotterpin log snag found engine.hoses \"chafed at the clamp\" --takes \"45 min\"
    cotterpin log snag cleared --snag 1
    cotterpin log --take-back";

#[derive(Debug, Arguments)]
#[command(after_help = LOG_HELP)]
pub(super) struct LogArgs {
    /// What was done, what with, and a note in your own words.
    #[arg(value_names = ["WHAT", "SUBJECT", "NOTE"], num_args = 0..)]
    #[arg(add = ArgValueCompleter::new(Names::Log))]
    pub(super) words: Vec<String>,
    /// The project's folder [default: this one, or one that it stands in].
    #[arg(long, value_name = "FOLDER", default_value = ".", hide_default_value = true)]
    pub(super) project: PathBuf,
    /// Who: a short name from [people] of project.toml [default: the builder].
    #[arg(long, value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Who))]
    pub(super) who: Option<String>,
    /// In which role, for somebody who has several.
    #[arg(long)]
    #[arg(add = ArgValueCompleter::new(Names::Roles))]
    pub(super) role: Option<String>,
    /// When: 2026-09-01, 2026-09, 2026, or 2026-09-01T14:30 [default: today].
    #[arg(long, value_name = "DATE")]
    pub(super) on: Option<String>,
    /// What was looked at, with commas between: assembly,locking.
    #[arg(long, value_delimiter = ',')]
    pub(super) points: Vec<String>,
    /// How it was put together: trial, temporary or final.
    #[arg(long)]
    pub(super) fit: Option<String>,
    /// The instrument used.
    #[arg(long)]
    pub(super) instrument: Option<String>,
    /// What it was opened or removed for: visit, or for good.
    #[arg(long = "for", value_name = "PURPOSE")]
    pub(super) purpose: Option<String>,
    /// Another one was fitted in its place.
    #[arg(long)]
    pub(super) another: bool,
    /// The number of the snag; one that is found gets the next free number.
    #[arg(long, value_name = "NUMBER")]
    pub(super) snag: Option<u32>,
    /// How long clearing the snag will take, such as "45 min".
    #[arg(long, value_name = "TIME")]
    pub(super) takes: Option<String>,
    /// The hold point by which the snag must be cleared.
    #[arg(long, value_name = "HOLD-POINT")]
    #[arg(add = ArgValueCompleter::new(Names::HoldPoints))]
    pub(super) by: Option<String>,
    /// Where on the aircraft.
    #[arg(long)]
    #[arg(add = ArgValueCompleter::new(Names::Zones))]
    pub(super) zone: Option<String>,
    /// A file of the project that shows it; may be given several times.
    #[arg(long, value_name = "FILE")]
    pub(super) evidence: Vec<String>,
    /// Declare SUBJECT as a part of your own, with this title.
    #[arg(long, value_name = "TITLE")]
    pub(super) part: Option<String>,
    /// Declare the short name given by --who as this person, in the role given by --role.
    #[arg(long, value_name = "NAME", requires = "who")]
    pub(super) person: Option<String>,
    /// List the subjects known, or those that begin with PREFIX, and write nothing.
    #[arg(long, value_name = "PREFIX", num_args = 0..=1, default_missing_value = "")]
    pub(super) subjects: Option<String>,
    /// Take the last line written by this command back.
    #[arg(long, conflicts_with_all = ["words", "subjects"])]
    pub(super) take_back: bool,
}

const RECORD_HELP: &str = "    cotterpin record fuel.flow_test.rate 18.4 gal/h --instrument \"kitchen scale\"
    cotterpin record fuel.tanks name=left capacity=\"20 gal\"
    cotterpin record \"fuel.tanks[left].capacity\" 21 gal
    cotterpin record fasteners.joints.pinned yes --all-but \"left belt anchor\"
    cotterpin record fuel.tanks none";

#[derive(Debug, Arguments)]
#[command(after_help = RECORD_HELP)]
pub(super) struct RecordArgs {
    /// A fact, a list, a field of one record, LIST[RECORD].FIELD, or of all: LIST.FIELD.
    #[arg(value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Facts))]
    pub(super) name: String,
    /// The value with its unit; for a record FIELD=VALUE, several; for a list without records: none.
    #[arg(value_name = "VALUE", num_args = 0.., allow_negative_numbers = true)]
    pub(super) value: Vec<String>,
    /// The project's folder [default: this one, or one that it stands in].
    #[arg(long, value_name = "FOLDER", default_value = ".", hide_default_value = true)]
    pub(super) project: PathBuf,
    /// When it was so: 2026-09-01, 2026-09, 2026, or 2026-09-01T14:30
    /// [default: now, where work on a part undoes it].
    #[arg(long, value_name = "DATE")]
    pub(super) on: Option<String>,
    /// The instrument it was measured with.
    #[arg(long)]
    pub(super) instrument: Option<String>,
    /// A file of the project that shows it; may be given several times.
    #[arg(long, value_name = "FILE")]
    pub(super) evidence: Vec<String>,
    /// All records of the list are alike in it.
    #[arg(long, conflicts_with = "all_but")]
    pub(super) all: bool,
    /// All are alike but this one; may be given several times.
    #[arg(long, value_name = "RECORD")]
    pub(super) all_but: Vec<String>,
    /// Who says that there is none: a short name from [people] of project.toml [default: the builder].
    #[arg(long, value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Who))]
    pub(super) who: Option<String>,
}

const CONFIRM_HELP: &str = "    cotterpin confirm plate.legible
    cotterpin confirm controls.second-look --who kim
    cotterpin confirm plate.legible --not \"the serial number is worn\"
    cotterpin confirm fuel.tanks
    cotterpin confirm log

Whoever is named has to have said so: it stands in the project with the name.";

#[derive(Debug, Arguments)]
#[command(after_help = CONFIRM_HELP)]
pub(super) struct ConfirmArgs {
    /// An item that asks for a person's word; a list, to say that its records are all; or log.
    #[arg(value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Words))]
    pub(super) name: String,
    /// A note in your own words.
    #[arg(value_name = "NOTE", num_args = 0..)]
    pub(super) note: Vec<String>,
    /// The project's folder [default: this one, or one that it stands in].
    #[arg(long, value_name = "FOLDER", default_value = ".", hide_default_value = true)]
    pub(super) project: PathBuf,
    /// The record it is about, where the item is asked of each.
    #[arg(long, value_name = "RECORD")]
    pub(super) of: Option<String>,
    /// It is not so.
    #[arg(long)]
    pub(super) not: bool,
    /// Who says it: a short name from [people] of project.toml [default: the builder].
    #[arg(long, value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Who))]
    pub(super) who: Option<String>,
    /// In which role, for somebody who has several.
    #[arg(long)]
    #[arg(add = ArgValueCompleter::new(Names::Roles))]
    pub(super) role: Option<String>,
    /// When it was said: 2026-09-01, 2026-09, 2026, or 2026-09-01T14:30 [default: now].
    #[arg(long, value_name = "DATE")]
    pub(super) on: Option<String>,
}

#[derive(Debug, Arguments)]
pub(super) struct AskArgs {
    /// The project's folder [default: this one, or one that it stands in].
    #[arg(value_name = "PROJECT", default_value = ".", hide_default_value = true)]
    pub(super) folder: PathBuf,
    /// Who answers, for the words that are that person's to say: a short name from [people] of
    /// project.toml [default: the builder].
    #[arg(long, value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Who))]
    pub(super) who: Option<String>,
    /// Ask so many questions at most.
    #[arg(long, value_name = "N")]
    pub(super) questions: Option<usize>,
    /// Ask only questions whose name begins with this word, such as fuel.
    #[arg(long)]
    #[arg(add = ArgValueCompleter::new(Names::Systems))]
    pub(super) system: Option<String>,
    /// The day to judge, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = super::day::day)]
    pub(super) on: Option<Date>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For a person, at 80 columns.
    Text,
    /// For a program.
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum AuditFormat {
    /// For a person, at 80 columns.
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
