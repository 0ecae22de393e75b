//! What can be written after the commands that write into a project.

use crate::command::completed_names::Names;
use clap::Args as Arguments;
use clap_complete::ArgValueCompleter;
use cotterpin_engine::quantity::Date;
use std::path::PathBuf;

/// Which project, where the words themselves say what to write.
#[derive(Debug, Arguments)]
pub(in crate::command) struct ProjectOption {
    /// The project's folder [default: this one, or one that it stands in].
    #[arg(long, value_name = "FOLDER", default_value = ".", hide_default_value = true)]
    pub(in crate::command) project: PathBuf,
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct BeginArgs {
    /// The folder to begin in; it is made if it is not there.
    #[arg(value_name = "FOLDER")]
    pub(in crate::command) folder: PathBuf,
    /// The country whose authority visits, such as us; leave it out where no pack covers it.
    #[arg(long)]
    pub(in crate::command) country: Option<String>,
    /// What reports shall call the project [default: the folder's name].
    #[arg(long)]
    pub(in crate::command) name: Option<String>,
    /// The planned visit: 2026-12-10, or 2026-12 for some day of that month.
    #[arg(long, value_name = "DATE")]
    pub(in crate::command) visit: Option<String>,
    /// The builder's name.
    #[arg(long, value_name = "NAME")]
    pub(in crate::command) who: Option<String>,
}

const LOG_HELP: &str = "WHAT is one of: work done, inspected, tested, measured, removed, refitted, adjusted, \
opened, closed, snag found, snag cleared.

    cotterpin log inspected controls.elevator \"pins seen\" --who tomas
    cotterpin log snag found engine.hoses \"chafed at the clamp\" --takes \"45 min\"
    cotterpin log snag cleared --snag 1
    cotterpin log --take-back";

#[derive(Debug, Arguments)]
#[command(after_help = LOG_HELP)]
pub(in crate::command) struct LogArgs {
    /// What was done, what with, and a note in your own words.
    #[arg(value_names = ["WHAT", "SUBJECT", "NOTE"], num_args = 0..)]
    #[arg(add = ArgValueCompleter::new(Names::Log))]
    pub(in crate::command) words: Vec<String>,
    #[command(flatten)]
    pub(in crate::command) place: ProjectOption,
    /// Who: a short name from [people] of project.toml [default: the builder].
    #[arg(long, value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Who))]
    pub(in crate::command) who: Option<String>,
    /// In which role, for somebody who has several.
    #[arg(long)]
    #[arg(add = ArgValueCompleter::new(Names::Roles))]
    pub(in crate::command) role: Option<String>,
    /// When: 2026-09-01, 2026-09, 2026, or 2026-09-01T14:30 [default: today].
    #[arg(long, value_name = "DATE")]
    pub(in crate::command) on: Option<String>,
    /// What was looked at, with commas between: assembly,locking.
    #[arg(long, value_delimiter = ',')]
    pub(in crate::command) points: Vec<String>,
    /// How it was put together: trial, temporary or final.
    #[arg(long)]
    pub(in crate::command) fit: Option<String>,
    /// The instrument used.
    #[arg(long)]
    pub(in crate::command) instrument: Option<String>,
    /// What it was opened or removed for: visit, or for good.
    #[arg(long = "for", value_name = "PURPOSE")]
    pub(in crate::command) purpose: Option<String>,
    /// Another one was fitted in its place.
    #[arg(long)]
    pub(in crate::command) another: bool,
    /// The number of the snag; one that is found gets the next free number.
    #[arg(long, value_name = "NUMBER")]
    pub(in crate::command) snag: Option<u32>,
    /// How long clearing the snag will take, such as "45 min".
    #[arg(long, value_name = "TIME")]
    pub(in crate::command) takes: Option<String>,
    /// The hold point by which the snag must be cleared.
    #[arg(long, value_name = "HOLD-POINT")]
    #[arg(add = ArgValueCompleter::new(Names::HoldPoints))]
    pub(in crate::command) by: Option<String>,
    /// Where on the aircraft.
    #[arg(long)]
    #[arg(add = ArgValueCompleter::new(Names::Zones))]
    pub(in crate::command) zone: Option<String>,
    /// A file of the project that shows it; may be given several times.
    #[arg(long, value_name = "FILE")]
    pub(in crate::command) evidence: Vec<String>,
    /// Declare SUBJECT as a part of your own, with this title.
    #[arg(long, value_name = "TITLE")]
    pub(in crate::command) part: Option<String>,
    /// Declare the short name given by --who as this person, in the role given by --role.
    #[arg(long, value_name = "NAME", requires = "who")]
    pub(in crate::command) person: Option<String>,
    /// List the subjects known, or those with TEXT in their name or title, and write nothing.
    #[arg(long, value_name = "TEXT", num_args = 0..=1, default_missing_value = "")]
    pub(in crate::command) subjects: Option<String>,
    /// Take the last line written by this command back.
    #[arg(long, conflicts_with_all = ["words", "subjects"])]
    pub(in crate::command) take_back: bool,
}

const RECORD_HELP: &str = "    cotterpin record fuel.flow_test.rate 18.4 gal/h --instrument \"kitchen scale\"
    cotterpin record fuel.tanks name=left capacity=\"20 gal\"
    cotterpin record \"fuel.tanks[left].capacity\" 21 gal
    cotterpin record fasteners.joints.pinned yes --all-but \"left belt anchor\"
    cotterpin record fuel.tanks none";

#[derive(Debug, Arguments)]
#[command(after_help = RECORD_HELP)]
pub(in crate::command) struct RecordArgs {
    /// A fact, a list, a field of one record, LIST[RECORD].FIELD, or of all: LIST.FIELD.
    #[arg(value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Facts))]
    pub(in crate::command) name: String,
    /// The value with its unit; for a record FIELD=VALUE, several; for a list without records: none.
    #[arg(value_name = "VALUE", num_args = 0.., allow_negative_numbers = true)]
    pub(in crate::command) value: Vec<String>,
    #[command(flatten)]
    pub(in crate::command) place: ProjectOption,
    /// When it was so: 2026-09-01, 2026-09, 2026, or 2026-09-01T14:30
    /// [default: now, where work on a part undoes it].
    #[arg(long, value_name = "DATE")]
    pub(in crate::command) on: Option<String>,
    /// The instrument it was measured with.
    #[arg(long)]
    pub(in crate::command) instrument: Option<String>,
    /// A file of the project that shows it; may be given several times.
    #[arg(long, value_name = "FILE")]
    pub(in crate::command) evidence: Vec<String>,
    /// All records of the list are alike in it.
    #[arg(long, conflicts_with = "all_but")]
    pub(in crate::command) all: bool,
    /// All are alike but this one; may be given several times.
    #[arg(long, value_name = "RECORD")]
    pub(in crate::command) all_but: Vec<String>,
    /// Who says that there is none: a short name from [people] of project.toml [default: the builder].
    #[arg(long, value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Who))]
    pub(in crate::command) who: Option<String>,
}

const JOB_HELP: &str = "    cotterpin job \"hang the left wing\" --takes 4h --by visit
    cotterpin job \"fit the transponder\" --waits-for transponder --expected 2026-12-20
    cotterpin job \"hang the left wing\" --done";

#[derive(Debug, Arguments)]
#[command(after_help = JOB_HELP)]
pub(in crate::command) struct JobArgs {
    /// What is to be done, in your own words.
    #[arg(value_name = "JOB", num_args = 1.., required = true)]
    pub(in crate::command) words: Vec<String>,
    #[command(flatten)]
    pub(in crate::command) place: ProjectOption,
    /// How long it will take, such as 4h or "45 min".
    #[arg(long, value_name = "TIME")]
    pub(in crate::command) takes: Option<String>,
    /// The hold point by which it must be done, such as visit, taxi or first-flight.
    #[arg(long, value_name = "HOLD-POINT")]
    #[arg(add = ArgValueCompleter::new(Names::HoldPoints))]
    pub(in crate::command) by: Option<String>,
    /// Where on the aircraft.
    #[arg(long)]
    #[arg(add = ArgValueCompleter::new(Names::Zones))]
    pub(in crate::command) zone: Option<String>,
    /// What must be done before it: another job of yours, an item, or "snag 14"; may be given several times.
    #[arg(long, value_name = "JOB")]
    pub(in crate::command) after: Vec<String>,
    /// What it waits for, such as a part on order.
    #[arg(long, value_name = "PART")]
    pub(in crate::command) waits_for: Option<String>,
    /// When that is expected.
    #[arg(long, value_name = "DATE", requires = "waits_for")]
    pub(in crate::command) expected: Option<String>,
    /// The job is done.
    #[arg(long, conflicts_with_all = ["takes", "by", "zone", "after", "waits_for"])]
    pub(in crate::command) done: bool,
    /// It need not be done after all; it stays in the file, and no list has it.
    #[arg(long, conflicts_with_all = ["takes", "by", "zone", "after", "waits_for", "done"])]
    pub(in crate::command) not_needed: bool,
    /// When it was done, or was found not to be needed [default: today].
    #[arg(long, value_name = "DATE", conflicts_with_all = ["takes", "by", "zone", "after", "waits_for"])]
    pub(in crate::command) on: Option<String>,
}

const CONFIRM_HELP: &str = "    cotterpin confirm plate.legible
    cotterpin confirm ready.second-person --who kim
    cotterpin confirm plate.legible --not \"the serial number is worn\"
    cotterpin confirm fuel.tanks
    cotterpin confirm log

Whoever is named has to have said so: it stands in the project with the name.";

#[derive(Debug, Arguments)]
#[command(after_help = CONFIRM_HELP)]
pub(in crate::command) struct ConfirmArgs {
    /// An item that asks for a person's word; a list, to say that its records are all; or log.
    #[arg(value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Words))]
    pub(in crate::command) name: String,
    /// A note in your own words.
    #[arg(value_name = "NOTE", num_args = 0..)]
    pub(in crate::command) note: Vec<String>,
    #[command(flatten)]
    pub(in crate::command) place: ProjectOption,
    /// The record it is about, where the item is asked of each.
    #[arg(long, value_name = "RECORD")]
    pub(in crate::command) of: Option<String>,
    /// It is not so.
    #[arg(long)]
    pub(in crate::command) not: bool,
    /// Who says it: a short name from [people] of project.toml [default: the builder].
    #[arg(long, value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Who))]
    pub(in crate::command) who: Option<String>,
    /// In which role, for somebody who has several.
    #[arg(long)]
    #[arg(add = ArgValueCompleter::new(Names::Roles))]
    pub(in crate::command) role: Option<String>,
    /// When it was said: 2026-09-01, 2026-09, 2026, or 2026-09-01T14:30 [default: now].
    #[arg(long, value_name = "DATE")]
    pub(in crate::command) on: Option<String>,
}

#[derive(Debug, Arguments)]
pub(in crate::command) struct AskArgs {
    /// The project's folder [default: this one, or one that it stands in].
    #[arg(value_name = "PROJECT", default_value = ".", hide_default_value = true)]
    pub(in crate::command) folder: PathBuf,
    /// Who answers, for the words that are that person's to say: a short name from [people] of
    /// project.toml [default: the builder].
    #[arg(long, value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Who))]
    pub(in crate::command) who: Option<String>,
    /// Ask so many questions at most.
    #[arg(long, value_name = "N")]
    pub(in crate::command) questions: Option<usize>,
    /// Ask only about this: a system such as fuel, or a list, a fact or an item by its name.
    #[arg(long, value_name = "NAME")]
    #[arg(add = ArgValueCompleter::new(Names::Systems))]
    pub(in crate::command) about: Option<String>,
    /// The day to judge, as year-month-day [default: today].
    #[arg(long, value_name = "DATE", value_parser = crate::command::day::day)]
    pub(in crate::command) on: Option<Date>,
}
