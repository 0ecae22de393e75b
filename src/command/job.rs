//! `cotterpin job`: a job of the builder's own, which no pack knows: what is to be done, how long it takes, what it waits
//! for; and that it is done.

use super::args::JobArgs;
use super::audit::day_to_judge;
use super::edit::{Step, quoted};
use super::messages::Messages;
use super::recording::{Project, Put, What, When, WrittenAt, said_before};
use super::{Done, Status, width};
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
    // One in other capitals is the same.
    let is_it = |job: &&Job| job.about.to_string().to_lowercase() == about.to_string().to_lowercase();
    let exact = project.record.jobs.iter().any(|job| job.about == about);
    let about = match project.record.jobs.iter().find(is_it) {
        Some(known) if !exact && matches!(known.about, JobSubject::Own(_)) => known.about.clone(),
        _ => about,
    };
    let mut page = Page::new(width());
    let there = project.record.jobs.iter().any(|job| job.about == about);
    let on = project.on;
    match End::of(args) {
        Some(end) => ended(&mut project, args, &about, (end, &mut page))?,
        None if args.on.is_some() => {
            let message = Diagnostic::error("job::on", "a day is said of a job that is done, or not needed");
            return Err(Messages::one(message.help("add --done or --not-needed, or leave --on out")));
        }
        None if there => changed(&mut project, args, &about, &mut page)?,
        None => to_do(&mut project, args, &about, &mut page)?,
    }
    let open = project.record.jobs.iter().filter(|job| job.is_own_and_open(on)).count();
    let many =
        if open == 1 { "1 job of your own is open".to_owned() } else { format!("{open} jobs of your own are open") };
    page.line(0, &format!("{many}: cotterpin next"));
    Ok((page.finish(), Status::Settled))
}

/// How a job comes to its end.
#[derive(Clone, Copy)]
enum End {
    Done,
    NotNeeded,
}

impl End {
    fn of(args: &JobArgs) -> Option<Self> {
        args.done.then_some(Self::Done).or_else(|| args.not_needed.then_some(Self::NotNeeded))
    }

    fn key(self) -> &'static str {
        match self {
            Self::Done => "done",
            Self::NotNeeded => "not_needed",
        }
    }
}

/// The lines of its file that the arguments come to, each with its key.
fn lines(project: &Project, args: &JobArgs) -> Result<Vec<(&'static str, String)>, Messages> {
    if let Some(Err(why)) = args.takes.as_deref().map(length_of_time) {
        let message = Diagnostic::error("job::takes", format!("{why} (given by --takes)"));
        return Err(Messages::one(message.help("write a time, such as --takes \"45 min\" or --takes 2h")));
    }
    let after: Vec<String> = args.after.iter().map(|before| quoted(&before_it(project, before))).collect();
    let lines = [
        ("takes", args.takes.as_deref().map(quoted)),
        ("by", args.by.as_deref().map(quoted)),
        ("zone", args.zone.as_deref().map(quoted)),
        ("after", (!after.is_empty()).then(|| format!("[{}]", after.join(", ")))),
        ("waits", waits(args)?),
    ];
    Ok(lines.into_iter().filter_map(|(key, value)| Some((key, value?))).collect())
}

/// A job that is to be done.
fn to_do(project: &mut Project, args: &JobArgs, about: &JobSubject, page: &mut Page) -> Result<(), Messages> {
    if let Some((last, [_, ..])) = args.words.split_last()
        && length_of_time(last).is_ok()
    {
        let message = Diagnostic::error("job::takes", format!("`{last}` reads as the time that it takes"));
        return Err(Messages::one(
            message.help(format!("write --takes {last}, or the job and its time in one pair of quotes")),
        ));
    }
    let lines = lines(project, args)?;
    let lines = std::iter::once(("about", quoted(&about.to_string()))).chain(lines);
    let lines: Vec<String> = lines.map(|(key, value)| format!("{key} = {value}")).collect();
    let text = format!("[[{JOB}]]\n{}\n", lines.join("\n"));
    let others = project.record.jobs.iter().max_by_key(|job| job.place);
    let file = others.map_or_else(|| FILE.to_owned(), |job| project.record.sources.place(job.place).file);
    let way = [Step::Key(JOB.to_owned())];
    let at = project.put_one(Put { way: &way, file: Some(&file), what: What::Records(&text) })?;
    wrote(page, &at);
    lines.iter().for_each(|line| page.verbatim(&format!("    {line}")));
    page.hanging(0, 2, &format!("When it is done: cotterpin job {} --done", shell_words(args)));
    for item in said_before(project, about) {
        let told = format!(
            "It was said of the whole aircraft that all is done ({item}). If it is not: cotterpin confirm {item} --not"
        );
        page.hanging(0, 2, &told);
    }
    Ok(())
}

/// Other words about a job that is open; what they were stays beside them as a comment.
fn changed(project: &mut Project, args: &JobArgs, about: &JobSubject, page: &mut Page) -> Result<(), Messages> {
    let (file, row, job) = the_one(project, about)?;
    let (place, words) = (project.record.sources.place(job.place), shell_words(args));
    let ended = job.done.map(|on| ("done", on)).or_else(|| job.not_needed.map(|on| ("not needed", on)));
    let lines = lines(project, args)?;
    if ended.is_some() || lines.is_empty() {
        let message = format!("there is a job `{about}` already ({place})");
        let help = match ended {
            Some((how, on)) => format!("it was {how} on {on}; give the new one another name"),
            None => format!(
                "when it is done: cotterpin job {words} --done; to change it say what is otherwise, such as --by taxi; if it need not be done: --not-needed"
            ),
        };
        return Err(Messages::one(Diagnostic::error("job::twice", message).help(help)));
    }
    let ways: Vec<Vec<Step>> = lines.iter().map(|(key, _)| way(row, key)).collect();
    let puts: Vec<Put<'_>> = ways
        .iter()
        .zip(&lines)
        .map(|(way, (_, value))| Put { way, file: Some(&file), what: What::Value(value) })
        .collect();
    let at = project.put(&puts)?;
    at.iter().take(1).for_each(|at| wrote(page, at));
    page.hanging(4, 8, &about.to_string());
    lines.iter().for_each(|(key, value)| page.verbatim(&format!("    {key} = {value}")));
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

/// That a job is done, or need not be done.
fn ended(
    project: &mut Project,
    args: &JobArgs,
    about: &JobSubject,
    (end, page): (End, &mut Page),
) -> Result<(), Messages> {
    let on = match &args.on {
        Some(on) => When::past(on, project.on).map_err(Messages::one)?.toml,
        None => project.on.to_string(),
    };
    let (file, row, job) = the_one(project, about)?;
    let place = project.record.sources.place(job.place);
    for (day, how) in [(job.done, "done"), (job.not_needed, "not needed")] {
        if let Some(day) = day {
            let message = format!("`{about}` was {how} on {day} already ({place})");
            return Err(Messages::one(Diagnostic::error("job::done", message).help("look which one is meant")));
        }
    }
    let way = way(row, end.key());
    let at = project.put_one(Put { way: &way, file: Some(&file), what: What::Value(&on) })?;
    wrote(page, &at);
    page.hanging(4, 8, &format!("{about}: {} = {on}", end.key()));
    if matches!(end, End::Done) {
        page.hanging(0, 2, "What was worked on is told by the log alone: cotterpin log \"work done\" PART");
    }
    Ok(())
}

/// Where a job stands: its file, and its number among the jobs there.
fn the_one(project: &Project, about: &JobSubject) -> Result<(String, usize, Job), Messages> {
    let alike: Vec<&Job> = project.record.jobs.iter().filter(|job| job.about == *about).collect();
    let [job] = alike.as_slice() else {
        let places: Vec<String> = alike.iter().map(|job| project.record.sources.place(job.place).to_string()).collect();
        if places.is_empty() {
            return Err(Messages::one(no_such_job(project, about)));
        }
        let message = format!("there are {} jobs `{about}`: {}", places.len(), places.join(", "));
        return Err(Messages::one(Diagnostic::error("job::twice", message).help("give them names of their own first")));
    };
    let file = project.record.sources.place(job.place).file;
    let Some(row) = project.jobs_of(&file).iter().position(|job| job.as_ref() == Some(about)) else {
        let message = Diagnostic::error("job::place", format!("`{about}` cannot be found again in {file}"));
        return Err(Messages::one(message.help("write it there by hand")));
    };
    Ok((file, row, (*job).clone()))
}

fn no_such_job(project: &Project, about: &JobSubject) -> Diagnostic {
    let open = project.record.jobs.iter().filter(|job| job.is_own_and_open(project.on));
    let open: Vec<String> = open.map(|job| job.about.to_string()).collect();
    let help = did_you_mean(&about.to_string(), open.iter().map(String::as_str));
    let help = help.unwrap_or_else(|| match open.as_slice() {
        [] => "no job of your own is open".to_owned(),
        _ => format!("open are: {}", open.join("; ")),
    });
    Diagnostic::error("job::unknown", format!("there is no job `{about}`")).help(help)
}

fn way(row: usize, key: &str) -> Vec<Step> {
    vec![Step::Key(JOB.to_owned()), Step::Row(row), Step::Key(key.to_owned())]
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
