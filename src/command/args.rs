//! What can be written after `cotterpin`.

use crate::measure::Date;
use clap::{Args as Arguments, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

const STATUSES: &str = "Exit status: 0 nothing is unmet or not shown, 1 something is unmet, \
2 nothing is unmet but something is not shown, 3 it could not be done.\n\n\
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
    /// Set what is recorded of the aircraft against what the packs ask.
    #[command(after_help = STATUSES)]
    Audit(AuditArgs),
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
}

/// Which project.
#[derive(Debug, Arguments)]
pub(super) struct ProjectArgs {
    /// The project's folder, the one with project.toml in it.
    #[arg(value_name = "PROJECT", default_value = ".")]
    pub(super) folder: PathBuf,
    /// Use the invented demo project instead.
    #[arg(long, conflicts_with = "folder")]
    pub(super) demo: bool,
}

#[derive(Debug, Arguments)]
pub(super) struct AuditArgs {
    #[command(flatten)]
    pub(super) project: ProjectArgs,
    /// The day to judge, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub(super) on: Option<Date>,
    /// Look only at what is due by this hold point or an earlier one; with
    /// close:ZONE, such as close:tail, at all that will be out of reach when
    /// that zone is closed.
    #[arg(long, value_name = "HOLD-POINT")]
    pub(super) by: Option<String>,
    /// How to write the report.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
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
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub(super) on: Option<Date>,
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
}

#[derive(Debug, Arguments)]
pub(super) struct WhyArgs {
    /// The item: `us/marks.height`, or `marks.height` alone.
    pub(super) item: String,
    #[command(flatten)]
    pub(super) project: ProjectArgs,
    /// The day to judge, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub(super) on: Option<Date>,
}

#[derive(Debug, Arguments)]
pub(super) struct PacksArgs {
    /// How to write it.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
}

#[derive(Debug, Arguments)]
pub(super) struct QuestionsArgs {
    #[command(flatten)]
    pub(super) project: ProjectArgs,
    /// Only questions whose name begins with this word, such as fuel.
    #[arg(long)]
    pub(super) system: Option<String>,
}

#[derive(Debug, Arguments)]
pub(super) struct TryArgs {
    /// The pack's folder, the one with pack.toml in it.
    #[arg(value_name = "PACK-FOLDER")]
    pub(super) folder: PathBuf,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For a person, at 80 columns.
    Text,
    /// For a program.
    Json,
}

fn day(text: &str) -> Result<Date, String> {
    Date::parse(text).map_err(|problem| format!("{problem}; write a day such as 2026-11-25"))
}
