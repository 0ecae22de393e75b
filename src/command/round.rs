//! `cotterpin audit` of a folder that is no project and holds some: a line for
//! each, and what is open in several.

use super::args::{AuditArgs, AuditFormat, ProjectArgs};
use super::audit::{day_to_judge, options, refused};
use super::load::load_with;
use super::messages::Messages;
use super::packs_in::packs_in;
use super::{Done, Status, width};
use crate::Rules;
use crate::surface::project::audit_in_outline;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::{Below, MOST_FOLDERS_DEEP, is_meant_as_project, projects_below, shown};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::report::{self, Message, thousands};
use cotterpin_engine::round::{Fault, Line, Round, RuleSets, Seen, Tally};
use cotterpin_engine::source::Sources;
use cotterpin_engine::workers::each_of;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// Says how far it is, on one line that is written over.
pub(super) type Progress<'a> = &'a mut dyn FnMut(&str);

/// The projects in a folder that is none itself.
pub(super) fn projects_in(args: &AuditArgs) -> Option<Below> {
    let folder = &args.project.folder;
    let looks = !args.project.demo && folder.is_dir() && !is_meant_as_project(folder);
    looks.then(|| projects_below(folder)).filter(|below| !below.projects.is_empty())
}

pub(super) fn round(args: &AuditArgs, below: &Below, progress: Progress<'_>) -> Done {
    refuse_saving(args, below.projects.len())?;
    refuse_of_one(args)?;
    let on = day_to_judge(args.on)?;
    let sets = RuleSets::default();
    let mut tally = Tally::default();
    let (all, mut done) = (below.projects.len(), 0usize);
    let helps = Mutex::new(BTreeSet::new());
    // Those of one folder may share a pack that lies there.
    let allowed: Vec<PathBuf> = packs_in().into_iter().chain([args.project.folder.clone()]).collect();
    let audit = |inner: &Path| seen(args, on, inner, (&sets, &allowed, &helps));
    each_of(below.projects.iter().map(|path| &**path), workers(args, all), audit, |number, seen| {
        tally.add(number, seen);
        done = done.saturating_add(1);
        progress(&format!("\r{}", how_far(done, all)));
    });
    progress(&format!("\r{}\r", " ".repeat(how_far(all, all).len())));
    for (number, (path, why)) in (all..).zip(&below.shut) {
        let message = format!("the folder cannot be looked into: {why}");
        tally.add(number, Seen::not_judged(shown(path), None, plain("file::unreadable", message)));
    }
    let round = tally.round(on.to_string(), args.by.clone());
    let helps = helps.into_inner().unwrap_or_else(PoisonError::into_inner);
    unknown_everywhere(&round, helps.into_iter().next())?;
    let said: Vec<Message> = below.too_deep.iter().map(|path| too_deep(path)).collect();
    let text = match args.format {
        AuditFormat::Json => report::round_json(&round, &said),
        _ => report::round_text(&round, &said, width()),
    };
    Ok((text, Status::of_number(round.exit_status())))
}

fn how_far(done: usize, all: usize) -> String {
    format!("{} of {} projects", thousands(done), thousands(all))
}

/// As many as the machine has cores for, if nobody says.
fn workers(args: &AuditArgs, projects: usize) -> usize {
    let cores = || std::thread::available_parallelism().map_or(1, usize::from);
    args.workers.map_or_else(cores, usize::from).min(projects)
}

/// What all projects share: their rules, where packs may lie besides, and what is to be done about a hold point that none
/// knows.
type Shared<'a> = (&'a RuleSets<Rules>, &'a [PathBuf], &'a Mutex<BTreeSet<String>>);

/// One project: its audit is made small here, and its texts go with it.
fn seen(args: &AuditArgs, on: Date, inner: &Path, (sets, allowed, helps): Shared<'_>) -> Seen {
    let project = ProjectArgs { folder: args.project.folder.join(inner), demo: false };
    let folder = shown(inner);
    let failed = |name: Option<String>, messages: &Messages| {
        let fault = messages.fault().unwrap_or_else(|| plain("project::unreadable", "it cannot be read".to_owned()));
        Seen::not_judged(folder.clone(), name, fault)
    };
    let loaded = match load_with(&project, allowed, sets) {
        Ok(loaded) => loaded,
        Err((name, messages)) => return failed(name, &messages),
    };
    let name = Some(loaded.project.name().to_owned());
    let judged = audit_in_outline(&loaded.project, &options(on, args.by.as_deref())).map_err(refused);
    let audit = match judged {
        Ok(audit) => audit,
        Err(messages) => {
            helps.lock().unwrap_or_else(PoisonError::into_inner).extend(messages.helps());
            return failed(name, &messages);
        }
    };
    if !audit.was_evaluated() {
        let message = format!("no item of its packs concerns it on {on}");
        return Seen::not_judged(folder, name, plain("audit::nothing", message));
    }
    Seen::of(folder, &audit, loaded.warnings.warnings(), loaded.warnings.fault())
}

fn plain(code: &str, first: String) -> Fault {
    Fault { errors: 1, code: code.to_owned(), first, place: None }
}

fn too_deep(path: &Path) -> Message {
    let message = format!("{} was not looked into, nor any other folder that lies as deep", shown(path));
    let help = format!("projects are looked for {MOST_FOLDERS_DEEP} folders deep: audit that folder by itself");
    Message::of(&Diagnostic::warning("project::too-deep", message).help(help), &Sources::default())
}

/// A saved audit is one project's.
fn refuse_saving(args: &AuditArgs, projects: usize) -> Result<(), Messages> {
    let option = match (args.save, &args.save_to) {
        (true, _) => "--save",
        (false, Some(_)) => "--save-to",
        (false, None) => return Ok(()),
    };
    let folder = shown(&args.project.folder);
    let holds = if projects == 1 { "a project".to_owned() } else { format!("{} projects", thousands(projects)) };
    let message = format!("{option} keeps the audit of one project, and `{folder}` is none: it holds {holds}");
    Err(Messages::one(Diagnostic::error("saved::many", message).help("give the folder of the project to save")))
}

/// What only the audit of one project can be.
fn refuse_of_one(args: &AuditArgs) -> Result<(), Messages> {
    let option = match args.format {
        AuditFormat::Sarif => "--format sarif",
        AuditFormat::Junit => "--format junit",
        AuditFormat::Csv => "--format csv",
        AuditFormat::Text | AuditFormat::Json if args.redact => "--redact",
        AuditFormat::Text | AuditFormat::Json => return Ok(()),
    };
    let message = format!("{option} is of the audit of one project, and `{}` is none", shown(&args.project.folder));
    let help = "give the folder of one project; of many there is text and --format json";
    Err(Messages::one(Diagnostic::error("audit::many", message).help(help)))
}

/// A hold point that the packs of no project know is mistyped; one that some know leaves out the others.
fn unknown_everywhere(round: &Round, help: Option<String>) -> Result<(), Messages> {
    const UNKNOWN: &str = "hold-point::unknown";
    let unknown = |line: &Line| line.not_judged.as_ref().is_some_and(|fault| fault.code == UNKNOWN);
    match round.not_judged().next() {
        Some((_, fault)) if round.projects.iter().all(unknown) => {
            let message = Diagnostic::error(UNKNOWN, fault.first.clone());
            let no_packs = || "no project here has packs that do; `cotterpin packs show us` has some".to_owned();
            Err(Messages::one(message.help(help.unwrap_or_else(no_packs))))
        }
        _ => Ok(()),
    }
}
