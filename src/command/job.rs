//! `cotterpin job`: a job of the builder's own, which no pack knows: what is to be done, how long it takes, what it waits
//! for; and that it is done.

use super::args::JobArgs;
use super::audit::day_to_judge;
use super::edit::{Step, quoted};
use super::messages::Messages;
use super::recording::{Project, Put, What, When, WrittenAt};
use super::{Done, Status, WIDTH};
use cotterpin_engine::diagnostic::{Diagnostic, did_you_mean};
use cotterpin_engine::project::{JOB, Job, JobSubject, length_of_time};
use cotterpin_engine::report::Page;

/// Where they stand if none is written yet.
const FILE: &str = "jobs.toml";

pub(super) fn job(args: &JobArgs) -> Done {
    write(args).map_err(Messages::of_writing)
}

fn write(args: &JobArgs) -> Done {
    let mut project = Project::open(&args.place.project, day_to_judge(None)?)?;
    let name = args.words.join(" ");
    // As it stands in the file, or without what begins it there.
    let name = name.trim().strip_prefix("own:").unwrap_or(&name);
    let about = JobSubject::parse(&format!("own: {name}"));
    if matches!(&about, JobSubject::Own(name) if name.is_empty()) {
        let message = Diagnostic::error("job::name", "what is to be done?");
        return Err(Messages::one(message.help("say it in your own words: cotterpin job \"hang the left wing\"")));
    }
    let mut page = Page::new(WIDTH);
    if args.done {
        done(&mut project, args, &about, &mut page)?;
    } else {
        to_do(&mut project, args, &about, &mut page)?;
    }
    let open = project.record.jobs.iter().filter(|job| is_open(job)).count();
    let many =
        if open == 1 { "1 job of your own is open".to_owned() } else { format!("{open} jobs of your own are open") };
    page.line(0, &format!("{many}: cotterpin next"));
    Ok((page.finish(), Status::Settled))
}

fn is_open(job: &Job) -> bool {
    matches!(job.about, JobSubject::Own(_)) && job.done.is_none()
}

/// A job that is to be done.
fn to_do(project: &mut Project, args: &JobArgs, about: &JobSubject, page: &mut Page) -> Result<(), Messages> {
    if let Some(there) = project.record.jobs.iter().find(|job| job.about == *about) {
        let place = project.record.sources.place(there.place);
        let message = format!("there is a job `{about}` already ({place})");
        let help = match &there.done {
            Some(on) => format!("it was done on {on}; give the new one another name"),
            None => format!("when it is done: cotterpin job {} --done", shell_words(args)),
        };
        return Err(Messages::one(Diagnostic::error("job::twice", message).help(help)));
    }
    if let Some(Err(why)) = args.takes.as_deref().map(length_of_time) {
        let message = Diagnostic::error("job::takes", format!("{why} (given by --takes)"));
        return Err(Messages::one(message.help("write a time, such as --takes \"45 min\" or --takes 2h")));
    }
    let after: Vec<String> = args.after.iter().map(|before| quoted(&before_it(project, before))).collect();
    let lines: Vec<(&str, Option<String>)> = vec![
        ("about", Some(quoted(&about.to_string()))),
        ("takes", args.takes.as_deref().map(quoted)),
        ("by", args.by.as_deref().map(quoted)),
        ("zone", args.zone.as_deref().map(quoted)),
        ("after", (!after.is_empty()).then(|| format!("[{}]", after.join(", ")))),
        ("waits", waits(args)?),
    ];
    let lines: Vec<String> = lines.into_iter().filter_map(|(key, value)| Some(format!("{key} = {}", value?))).collect();
    let text = format!("[[{JOB}]]\n{}\n", lines.join("\n"));
    let others = project.record.jobs.iter().max_by_key(|job| job.place);
    let file = others.map_or_else(|| FILE.to_owned(), |job| project.record.sources.place(job.place).file);
    let way = [Step::Key(JOB.to_owned())];
    let at = project.put_one(Put { way: &way, file: Some(&file), what: What::Records(&text) })?;
    wrote(page, &at);
    lines.iter().for_each(|line| page.verbatim(&format!("    {line}")));
    page.hanging(0, 2, &format!("When it is done: cotterpin job {} --done", shell_words(args)));
    Ok(())
}

/// The part that it waits for; whether it is ordered nobody has said.
fn waits(args: &JobArgs) -> Result<Option<String>, Messages> {
    let day = |written: &str| When::read(written).map(|(when, _)| when.toml).map_err(Messages::one);
    let expected = args.expected.as_deref().map(day).transpose()?;
    let expected = expected.map_or_else(String::new, |day| format!(", expected = {day}"));
    Ok(args.waits_for.as_ref().map(|part| format!("{{ for = {}{expected} }}", quoted(part))))
}

/// What comes before it: an item or a snag as it is called, or a job of one's own with or without `own:`.
fn before_it(project: &Project, name: &str) -> String {
    let is_there = |own: &JobSubject| project.record.jobs.iter().any(|job| job.about == *own);
    match JobSubject::parse(name) {
        JobSubject::Item(item) => {
            let own = JobSubject::Own(item);
            if is_there(&own) { own.to_string() } else { name.to_owned() }
        }
        other => other.to_string(),
    }
}

/// That a job is done.
fn done(project: &mut Project, args: &JobArgs, about: &JobSubject, page: &mut Page) -> Result<(), Messages> {
    let on = match &args.on {
        Some(on) => When::past(on, project.on).map_err(Messages::one)?.toml,
        None => project.on.to_string(),
    };
    let open: Vec<String> =
        project.record.jobs.iter().filter(|job| is_open(job)).map(|job| job.about.to_string()).collect();
    let Some(job) = project.record.jobs.iter().find(|job| job.about == *about) else {
        let help = did_you_mean(&about.to_string(), open.iter().map(String::as_str));
        let help = help.unwrap_or_else(|| match open.as_slice() {
            [] => "no job of your own is open".to_owned(),
            _ => format!("open are: {}", open.join("; ")),
        });
        return Err(Messages::one(Diagnostic::error("job::unknown", format!("there is no job `{about}`")).help(help)));
    };
    let place = project.record.sources.place(job.place);
    let alike = project.record.jobs.iter().filter(|other| other.about == *about);
    let places: Vec<String> = alike.map(|other| project.record.sources.place(other.place).to_string()).collect();
    if places.len() > 1 {
        let message = format!("there are {} jobs `{about}`: {}", places.len(), places.join(", "));
        return Err(Messages::one(Diagnostic::error("job::twice", message).help("give them names of their own first")));
    }
    if let Some(day) = job.done {
        let message = format!("`{about}` was done on {day} already ({place})");
        return Err(Messages::one(Diagnostic::error("job::done", message).help("look which one is meant")));
    }
    let Some(row) = project.jobs_of(&place.file).iter().position(|job| job.as_ref() == Some(about)) else {
        let message = Diagnostic::error("job::place", format!("`{about}` cannot be found again in {}", place.file));
        return Err(Messages::one(message.help("write done = and the day there by hand")));
    };
    let way = [Step::Key(JOB.to_owned()), Step::Row(row), Step::Key("done".to_owned())];
    let at = project.put_one(Put { way: &way, file: Some(&place.file), what: What::Value(&on) })?;
    wrote(page, &at);
    page.hanging(4, 8, &format!("{about}: done = {on}"));
    Ok(())
}

fn wrote(page: &mut Page, at: &WrittenAt) {
    page.line(0, &format!("Written to {}, line {}:", at.file, at.line));
}

/// The words as they can be typed again, in any shell; where that cannot be, where they go.
fn shell_words(args: &JobArgs) -> String {
    let words = args.words.join(" ");
    let is_plain = !words.contains(['"', '\\', '$', '`', '!', '%']);
    if is_plain { format!("\"{words}\"") } else { "NAME".to_owned() }
}
