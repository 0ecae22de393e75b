//! `cotterpin confirm`: a person's word, written in one go: that an item is so or is not, that
//! the records of a list are all there are, that the log tells all work.

use super::args::ConfirmArgs;
use super::audit::day_to_judge;
use super::messages::Messages;
use super::recording::{
    Project, Speaker, Target, When, Word, WrittenAt, by_another, changed, confirmed, denies_a_fault, doubt, entries,
    roles_asked, speaker, whole_list, whole_log,
};
use super::{Afterwards, Done, Status, width};
use cotterpin_engine::diagnostic::{Diagnostic, did_you_mean, nearest};
use cotterpin_engine::ir::{Item, ListId};
use cotterpin_engine::project::{Header, Whole, WholeLog};
use cotterpin_engine::report::{self, Page};
use cotterpin_engine::vocabulary::Verdict;

/// Ends with status 0 when it was written.
pub(super) fn confirm(args: &ConfirmArgs, afterwards: Afterwards) -> Done {
    write(args, afterwards).map_err(Messages::of_writing)
}

fn write(args: &ConfirmArgs, afterwards: Afterwards) -> Done {
    let mut project = Project::open(&args.place.project, day_to_judge(None)?)?;
    let before = project.standing();
    let mut page = Page::new(width());
    match Target::of(&project, &args.name) {
        Some(Target::List(id) | Target::Whole(id)) => list(&mut project, args, id, &mut page)?,
        Some(Target::WholeLog) => log(&mut project, args, &mut page)?,
        Some(Target::Fact(_) | Target::Field(..)) => {
            let message = format!("`{}` is a fact: it is recorded, not confirmed", args.name);
            let help = format!("cotterpin record {} VALUE", args.name);
            return Err(Messages::one(Diagnostic::error("confirm::fact", message).help(help)));
        }
        None => item(&mut project, args, &mut page)?,
    }
    let now = project.outline();
    let text = page.finish() + &changed(before.as_ref(), now.as_ref());
    afterwards.done_with((project, before, now));
    Ok((text, Status::Settled))
}

/// That a list is whole can be said, or not said; there is no word that it is not.
fn plainly(args: &ConfirmArgs, what: &str, said: Option<String>) -> Result<(), Messages> {
    let refused =
        |message: String, help: &str| Err(Messages::one(Diagnostic::error("confirm::whole", message).help(help)));
    match said {
        Some(place) if args.not => {
            let help = "record what is missing, which undoes that word; or take the line out";
            return refused(format!("{what} is called whole at {place}"), help);
        }
        None if args.not => {
            return refused(format!("{what} is not whole as long as nobody says so"), "record what is missing instead");
        }
        _ => {}
    }
    if args.of.is_some() || !args.note.is_empty() || args.on.is_some() {
        return refused(format!("that {what} is whole is said of today, without a note"), "leave the rest out");
    }
    Ok(())
}

/// What cannot be read may be one of them.
fn all_is_known(project: &Project) -> Result<(), Messages> {
    if project.judged() {
        return Ok(());
    }
    let message = "not everything that is written can be read, so nobody can say that this is all";
    Err(Messages::one(Diagnostic::error("confirm::whole", message).help("mend first what `cotterpin audit` names")))
}

fn list(project: &mut Project, args: &ConfirmArgs, id: ListId, page: &mut Page) -> Result<(), Messages> {
    let said = match project.record.whole.get(&id) {
        Some(Whole::Said { word, .. }) => Some(project.record.sources.place(word.place).to_string()),
        _ => None,
    };
    plainly(args, &format!("`{}`", args.name), said)?;
    all_is_known(project)?;
    let records = project.record_names(id);
    let ask = project.rules.list(id).map_or_else(String::new, |list| list.ask.to_string());
    if records.is_empty() {
        let message = format!("`{}` has no records", args.name);
        let help = format!("if there is none: cotterpin record {} none", args.name);
        return Err(Messages::one(Diagnostic::error("confirm::whole", message).help(help)));
    }
    let who = speaker(&project.header, args.who.as_deref(), args.role.as_deref()).map_err(Messages::one)?;
    let at = whole_list(project, id, &who.short)?;
    wrote(page, &at, &format!("{} says that these are all: {}", named(&who), records.join("; ")));
    page.hanging(4, 8, &format!("The question: {ask}"));
    Ok(())
}

fn log(project: &mut Project, args: &ConfirmArgs, page: &mut Page) -> Result<(), Messages> {
    let said = match &project.record.whole_log {
        Some(WholeLog::Said { word, .. }) => Some(project.record.sources.place(word.place).to_string()),
        _ => None,
    };
    plainly(args, "the log", said)?;
    all_is_known(project)?;
    let who = speaker(&project.header, args.who.as_deref(), args.role.as_deref()).map_err(Messages::one)?;
    let entries = entries(project).map_err(Messages::one)?;
    let on = project.on;
    let at = whole_log(project, &who.short)?;
    let counted = if entries == 1 { "1 entry tells".to_owned() } else { format!("{entries} entries tell") };
    wrote(page, &at, &format!("{} says that {counted} all work that was done up to {on}.", named(&who)));
    Ok(())
}

fn item(project: &mut Project, args: &ConfirmArgs, page: &mut Page) -> Result<(), Messages> {
    let (name, item) = asked(project, &args.name)?;
    let of = record(project, args, &item)?;
    let who = who(project, args, &roles_asked(&project.rules, &item))?;
    let on = args.on.as_deref().map(|on| When::past(on, project.on)).transpose().map_err(Messages::one)?;
    let note = note(args)?;
    if let Some(other) = by_another(&note, &who.short, &project.header) {
        let message = format!("the note names `{other}`, and the word would be that of {}", who.short);
        let help = format!("add --who {other}; or leave the name out of the note");
        return Err(Messages::one(Diagnostic::error("confirm::who", message).help(help)));
    }
    let word = Word {
        item: &name,
        of: of.as_deref(),
        who: &who.short,
        role: who.role(),
        on: on.as_ref().map(|when| when.toml.as_str()),
        holds: !args.not,
        note: Some(note.as_str()).filter(|note| !note.trim().is_empty()),
    };
    let at = confirmed(project, &word)?;
    let of_record = of.as_ref().map_or_else(String::new, |of| format!("{of}: "));
    let yes = if args.not { "No" } else { "Yes" };
    let question = item.ask.as_deref().unwrap_or(&item.title);
    wrote(page, &at, &format!("{of_record}{} {yes}.", asked_back(question)));
    page.hanging(4, 8, &format!("Said by {}.", named(&who)));
    if let Some(note) = word.note {
        page.hanging(4, 8, &format!("Note: {note}"));
    }
    let full = project.rules.full_name(&item);
    doubts(project, (&full, of.as_deref()), args.not, page);
    Ok(())
}

/// The question as it was put.
fn asked_back(question: &str) -> String {
    if question.ends_with('?') { question.to_owned() } else { format!("{}:", question.trim_end_matches('.')) }
}

fn wrote(page: &mut Page, at: &WrittenAt, text: &str) {
    page.line(0, &format!("Written to {}, line {}:", at.file, at.line));
    page.hanging(4, 8, text);
}

fn named(who: &Speaker) -> String {
    let granted = if who.granted { ", because --who was not given" } else { "" };
    format!("{} ({}), {}{granted}", who.short, who.person.name, who.role())
}

/// The note; a yes or no in its place is what was meant to be said.
fn note(args: &ConfirmArgs) -> Result<String, Messages> {
    let said = args.note.join(" ");
    let first = said.split(|letter: char| !letter.is_alphanumeric() && letter != '\'').find(|word| !word.is_empty());
    let first = first.map(str::to_lowercase);
    let begins_so = first.as_deref().is_some_and(|word| NO.contains(&word)) && !denies_a_fault(&said);
    let is_no = begins_so || doubt(&said).is_some();
    if !args.not && is_no {
        let message = format!("is it not so? without --not this would be a yes, with the note \"{said}\"");
        let help = format!("cotterpin confirm {} --not \"{said}\"; if it is, begin the note with ok:", args.name);
        return Err(Messages::one(Diagnostic::error("confirm::no", message).help(help)));
    }
    let plain_yes = ["yes", "y", "true", "ja", "oui", "si"].contains(&said.trim().to_lowercase().as_str());
    if args.not && plain_yes {
        let message = "yes and --not cannot both be meant";
        return Err(Messages::one(Diagnostic::error("confirm::no", message).help("leave one of them out")));
    }
    Ok(if plain_yes { String::new() } else { said })
}

/// Words with which a no begins.
const NO: [&str; 22] = [
    "no", "not", "n", "nope", "never", "none", "false", "nein", "non", "isn't", "doesn't", "don't", "didn't", "can't",
    "cannot", "won't", "wasn't", "weren't", "fails", "failed", "fault", "wrong",
];

/// The item that is meant, and its name as it is written; somebody must be asked for a word about it.
fn asked(project: &Project, name: &str) -> Result<(String, Item), Messages> {
    let rules = &project.rules;
    let items: Vec<&Item> = rules.find_items(name).into_iter().filter_map(|id| rules.item(id)).collect();
    let Some(first) = items.first() else {
        return Err(Messages::one(unknown(project, name)));
    };
    let mut packs: Vec<String> = items.iter().map(|item| rules.full_name(item)).collect();
    packs.dedup();
    if packs.len() > 1 {
        let message = format!("`{name}` is an item of several packs");
        return Err(Messages::one(
            Diagnostic::error("confirm::two-items", message).help(format!("write {}", packs.join(" or "))),
        ));
    }
    match items.iter().find(|item| item.confirm) {
        Some(item) => Ok((name.to_owned(), (*item).clone())),
        None => {
            let message = format!("`{name}` does not rest on anybody's word");
            let help = format!("`cotterpin why {}` says what would show it", rules.full_name(first));
            Err(Messages::one(Diagnostic::error("confirm::unasked", message).help(help)))
        }
    }
}

fn unknown(project: &Project, name: &str) -> Diagnostic {
    let rules = &project.rules;
    let asking = || rules.items.iter().filter(|item| item.confirm);
    let full: Vec<String> = asking().map(|item| rules.full_name(item)).collect();
    let short = asking().map(|item| item.name.as_str());
    let lists = rules.list_by_name.keys().map(cotterpin_engine::source::SharedText::as_str);
    let message =
        Diagnostic::error("confirm::unknown", format!("no pack of this project asks for a word about `{name}`"));
    let tail: Vec<&str> = asking()
        .map(|item| item.name.as_str())
        .filter(|known| known.starts_with(&format!("{name}.")) || known.rsplit('.').next() == Some(name))
        .take(6)
        .collect();
    message.help(match nearest(name, full.iter().map(String::as_str).chain(short).chain(lists)) {
        Some(near) => format!("did you mean `{near}`?"),
        None if !tail.is_empty() => format!("did you mean {}?", tail.join(" or ")),
        None => "`cotterpin ask` asks for each word that is wanted".to_owned(),
    })
}

/// The record that is spoken of, where the item is raised for each.
fn record(project: &Project, args: &ConfirmArgs, item: &Item) -> Result<Option<String>, Messages> {
    let refused =
        |message: String, help: String| Err(Messages::one(Diagnostic::error("confirm::of", message).help(help)));
    let Some(id) = item.each else {
        return match &args.of {
            Some(of) => refused(format!("`{}` is not about one `{of}`", args.name), "leave --of out".to_owned()),
            None => Ok(None),
        };
    };
    let list = project.rules.list(id).map_or("", |list| list.name.as_str());
    let known = project.record_names(id);
    match &args.of {
        Some(of) if known.contains(of) => Ok(Some(of.clone())),
        Some(of) => {
            let help = did_you_mean(of, known.iter().map(String::as_str))
                .unwrap_or_else(|| format!("they are {}", known.join("; ")));
            refused(format!("`{list}` has no record `{of}`"), help)
        }
        None if known.is_empty() => refused(
            format!("`{}` is asked of each record of `{list}`, and there is none", args.name),
            format!("record one first: cotterpin record {list} ..."),
        ),
        None => refused(
            format!("`{}` is asked of each record of `{list}`: of which one?", args.name),
            format!("add --of with one of {}", known.join("; ")),
        ),
    }
}

/// Who says it: somebody whose word is asked, unless it is a doubt, which anybody may raise.
fn who(project: &Project, args: &ConfirmArgs, roles: &[String]) -> Result<Speaker, Messages> {
    let anybody = roles.is_empty() || args.not;
    // In a role that is asked for, where the person named has one.
    let best = |header: &Header, who: &str| -> Option<String> {
        let (_, person) = header.people.iter().find(|(short, person)| *short == who || person.name == who)?;
        let asked = person.roles.iter().find(|role| roles.contains(role));
        asked.or_else(|| person.roles.first().filter(|_| !anybody)).cloned()
    };
    let role = args.role.clone().or_else(|| args.who.as_deref().and_then(|who| best(&project.header, who)));
    let who = speaker(&project.header, args.who.as_deref(), role.as_deref()).map_err(Messages::one)?;
    if anybody || roles.iter().any(|role| role == who.role()) {
        return Ok(who);
    }
    let able: Vec<String> = project
        .header
        .people
        .iter()
        .filter_map(|(short, person)| {
            let role = person.roles.iter().find(|role| roles.contains(role))?;
            Some(format!("{short} ({role})"))
        })
        .collect();
    let message = format!("`{}` is for {} to say, and {} is {}", args.name, roles.join(" or "), who.short, who.role());
    let help = match able.as_slice() {
        [] => format!(
            "project.toml names nobody in that role under [people]; add whoever it is: sam = {{ name = \"...\", role = \"{}\" }}",
            roles.first().map_or("", String::as_str)
        ),
        able if args.who.is_none() => {
            let options: Vec<String> = able.iter().map(|named| format!("--who {named}")).collect();
            format!("only if that person has said so to you, write {}", options.join(" or "))
        }
        able => {
            format!("ask whoever it is for: {}", able.join(" or "))
        }
    };
    Err(Messages::one(Diagnostic::error("confirm::role", message).help(help)))
}

/// Why it is not met for all that, if it is not.
fn doubts(project: &Project, (item, of): (&str, Option<&str>), not: bool, page: &mut Page) {
    if not || !project.judged() {
        return;
    }
    let findings = project.findings_of(item);
    let finding = findings.iter().find(|one| one.subject.as_deref() == of);
    let open = finding.filter(|one| matches!(one.verdict, Verdict::NotShown | Verdict::Unmet));
    for missing in open.iter().flat_map(|one| &one.missing) {
        let why = report::why_missing(&missing.why);
        page.hanging(4, 4, &format!("Still open: {}: {why}.", missing.ask.trim_end_matches(['.', '?'])));
    }
}
