//! `cotterpin ask`: one question at a time, those first that decide most of what
//! applies, then those that most findings wait for. Every answer is written at once, into the file where its like is;
//! `back` takes the answer before out again, and asks anew.

mod about;
mod dialogue;
mod records;
mod whole;
mod words;

use super::args::{AskArgs, ProjectArgs};
use super::audit::day_to_judge;
use super::load::load;
use super::messages::Messages;
use super::recording::{
    Beside, Project, Put, Target, What, Written, after_work, answering, beside, form, left_behind, toml,
};
use super::{Done, Status, width};
use about::About;
use cotterpin_engine::audit::{Audit, Finding, MissingCause, Question, next_hold_point};
use cotterpin_engine::project::is_to_come;
use cotterpin_engine::report::{self, Page};
use cotterpin_engine::source::SharedText;
use cotterpin_engine::vocabulary::Verdict;
use dialogue::{Dialogue, Reply};
use std::collections::BTreeSet;
use std::io::{BufRead, Write};
use words::Wanted;

/// What came of one question.
enum Next {
    Answered,
    Skipped,
    /// The one before is to be asked again.
    Back,
    Stop,
}

/// What came of all of them.
#[derive(Default)]
struct Count {
    answered: BTreeSet<String>,
    left: BTreeSet<String>,
}

impl Count {
    /// Notes what came of a question.
    fn note(&mut self, asked: String, answered: bool) {
        self.forget(&asked);
        if answered {
            self.answered.insert(asked)
        } else {
            self.left.insert(asked)
        };
    }

    /// It is to be asked again.
    fn forget(&mut self, asked: &str) {
        self.left.remove(asked);
        self.answered.remove(asked);
    }
}

/// Ends with status 0, however many were answered.
pub(super) fn ask(
    args: &AskArgs,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
    warn: &mut dyn FnMut(&Messages),
) -> Done {
    let loaded = load(&ProjectArgs { folder: args.folder.clone(), demo: false })?;
    warn(&loaded.warnings);
    let about = args.about.as_deref().map(|name| About::of(loaded.rules(), name).map_err(Messages::of_writing));
    let about = about.transpose()?;
    let mut project = Project::open(&args.folder, day_to_judge(args.on)?)?;
    let mut talk = Dialogue::new(input, out);
    let mut count = Count::default();
    if let Err(messages) = interview((args, about.as_ref()), &mut project, &mut talk, &mut count) {
        if count.answered.is_empty() {
            return Err(messages.of_writing());
        }
        talk.say(&format!("Answered before this happened: {}; that is written.\n", count.answered.len()));
        return Err(messages);
    }
    Ok((summary(&project, &count), Status::Settled))
}

fn interview(
    (args, about): (&AskArgs, Option<&About<'_>>),
    project: &mut Project,
    talk: &mut Dialogue<'_>,
    count: &mut Count,
) -> Result<(), Messages> {
    let who = answering(&project.header, args.who.as_deref());
    if let (Some(_), Err(unknown)) = (&args.who, &who) {
        return Err(Messages::one(unknown.clone()));
    }
    let limit = args.questions.unwrap_or(usize::MAX);
    let mut asked: Vec<Asking> = Vec::new();
    // What each answer wrote, so that going back takes it out again: what nobody says any more counts no more.
    let mut wrote: Vec<Vec<Written>> = Vec::new();
    let mut deciding = false;
    // The place of the next question among those that were asked; behind them where it is a new one.
    let mut place = 0usize;
    while place < limit {
        let audit = project.audit_of_open();
        let before = asked.get(place).cloned();
        let again = before.is_some();
        let (asking, others) = match before {
            Some(before) => (Some(before), 0),
            None => {
                let wanted = who.as_ref().map_or_else(|_| Vec::new(), |who| words::wanted(project, &audit, who));
                next(about, project, &audit, &asked, wanted)
            }
        };
        let Some(asking) = asking else {
            talk.say(if asked.is_empty() { "There is no question that an answer here would settle.\n" } else { "" });
            if others > 0 {
                talk.say(&of_others(others));
            }
            break;
        };
        if asked.is_empty() {
            talk.say("An answer, ? for don't know, an empty line for not yet, back for the one before, stop to end.\n");
        }
        if !again {
            let decides = matches!(&asking, Asking::Value(question) if question.decides > 0);
            if deciding && !decides {
                talk.say(&decided(project, &audit));
            }
            deciding = decides;
            asked.push(asking.clone());
        }
        let number = place.saturating_add(1);
        let next = match (&asking, &who) {
            (Asking::Word(wanted), Ok(who)) => words::ask(project, talk, number, (wanted, who))?,
            (Asking::Word(_), Err(_)) => Next::Skipped,
            (Asking::Value(question), _) => match Target::of(project, &question.fact) {
                Some(target) => {
                    let missing = || audit.findings.iter().flat_map(|finding| &finding.missing);
                    let why = missing().find(|missing| missing.fact == question.fact).map(|missing| &missing.why);
                    talk.say(&shown(
                        project,
                        number,
                        question,
                        target,
                        if again { Why::Again } else { Why::Open(why) },
                    ));
                    match target {
                        Target::List(id) => records::ask(project, talk, id)?,
                        Target::Whole(id) => records::ask_whole(project, talk, id)?,
                        Target::WholeLog => whole::ask_log(project, talk)?,
                        Target::Fact(_) | Target::Field(..) => value(project, talk, target)?,
                    }
                }
                None => Next::Skipped,
            },
        };
        place = match next {
            Next::Answered | Next::Skipped => {
                count.note(asking.key(), matches!(next, Next::Answered));
                wrote.truncate(place);
                wrote.push(project.written());
                number
            }
            Next::Back if place == 0 => {
                talk.say("This is the first question.\n");
                place
            }
            Next::Back => {
                let before = place.saturating_sub(1);
                // Records that were given before somebody went back stay.
                project.written();
                asked.get(before).into_iter().for_each(|asking| count.forget(&asking.key()));
                talk.say(&taken_out(project, &wrote.pop().unwrap_or_default())?);
                before
            }
            Next::Stop => break,
        };
        // An editor may have been at it meanwhile.
        project.refresh()?;
    }
    Ok(())
}

/// Takes out what an answer wrote, and says so.
fn taken_out(project: &mut Project, written: &[Written]) -> Result<String, Messages> {
    let files: Vec<&str> = written.iter().map(Written::file).collect();
    Ok(match project.take_out(written)? {
        Some(file) => format!("{file} has changed since: what was answered stays there until a new answer.\n"),
        None if files.is_empty() => String::new(),
        None => format!("Taken out of {}: what was answered there.\n", files.join(" and ")),
    })
}

/// The hold point as far as an audit looks, and that in words.
fn due(project: &Project, audit: &Audit) -> (Option<SharedText>, String) {
    let by = next_hold_point(&project.rules, &project.record, project.on);
    let before = by.as_deref().map_or_else(String::new, |by| format!(" {}", report::hold_point(&audit.titles, by)));
    (by, before)
}

/// Says that what decides most of what applies has been asked, and what is left.
fn decided(project: &Project, audit: &Audit) -> String {
    let (by, before) = due(project, audit);
    let behind = audit.behind();
    let open = |finding: &&Finding| matches!(finding.verdict, Verdict::Unmet | Verdict::NotShown);
    let open = audit.findings.iter().filter(open).filter(|finding| audit.is_due(finding, by.as_deref()));
    let (later, first): (Vec<&Finding>, Vec<&Finding>) = open.partition(|finding| behind.waits(finding));
    let mut page = Page::new(width());
    let after = if later.is_empty() { String::new() } else { format!(", and {} that come after them", later.len()) };
    page.line(0, "");
    page.line(
        0,
        &format!(
            "That decides most of what applies to {}. Left are {} to see to{before}{after}: `cotterpin next` lists them. \
             What follows are details; answer on, or stop.",
            project.header.name,
            first.len()
        ),
    );
    page.finish()
}

/// What is asked next.
#[derive(Clone)]
enum Asking {
    Value(Question),
    Word(Wanted),
}

impl Asking {
    fn key(&self) -> String {
        match self {
            Self::Value(question) => question.fact.clone(),
            Self::Word(wanted) => wanted.key(),
        }
    }
}

/// The first question that can be asked and has not been: those first that decide what applies or that several findings
/// wait for, then words, which are a yes or no. And how many words are somebody else's to say.
fn next(
    about: Option<&About<'_>>,
    project: &Project,
    audit: &Audit,
    asked: &[Asking],
    wanted: Vec<Wanted>,
) -> (Option<Asking>, usize) {
    let asked: BTreeSet<String> = asked.iter().map(Asking::key).collect();
    let of_these = about.map(|about| about.asked(audit));
    let is_of_these = |name: &str| of_these.as_ref().is_none_or(|these| these.contains(name));
    let open = audit.questions.iter().filter(|question| !asked.contains(&question.fact) && is_of_these(&question.fact));
    let open: Vec<&Question> = open.filter(|question| Target::of(project, &question.fact).is_some()).collect();
    // A record that was left half done is finished before anybody says that these are all.
    let of_list = |first: &&Question| {
        let record = format!("{}[", first.fact);
        open.iter().copied().find(|question| question.fact.starts_with(&record))
    };
    let value = open.first().copied().map(|first| of_list(&first).unwrap_or(first)).cloned();
    let is_of_these = |wanted: &Wanted| about.is_none_or(|about| about.is_item(wanted.item()));
    let (own, others): (Vec<Wanted>, Vec<Wanted>) = wanted.into_iter().filter(is_of_these).partition(Wanted::is_own);
    let word = own.into_iter().find(|wanted| !asked.contains(&wanted.key()));
    let asking = match (value, word) {
        (Some(question), Some(_)) if question.settles > 1 || question.decides > 0 => Some(Asking::Value(question)),
        (_, Some(word)) => Some(Asking::Word(word)),
        (value, None) => value.map(Asking::Value),
    };
    (asking, others.len())
}

/// Says whose words are wanted besides.
fn of_others(others: usize) -> String {
    let counted = if others == 1 { "1 word is".to_owned() } else { format!("{others} words are") };
    format!("\n{counted} somebody else's to say. Sit down with them: cotterpin ask --who NAME\n")
}

/// Asks for one value until it can be read, or nobody answers.
fn value(project: &mut Project, talk: &mut Dialogue<'_>, target: Target) -> Result<Next, Messages> {
    let (Some(fact), Some(way)) = (target.fact(project).cloned(), target.way(project)) else {
        return Ok(Next::Skipped);
    };
    let file = target.file(project);
    let name = target.name(project);
    loop {
        let answer = match talk.reply() {
            Reply::Stop => return Ok(Next::Stop),
            Reply::Back => return Ok(Next::Back),
            Reply::Skip | Reply::Unknown => return Ok(Next::Skipped),
            Reply::Text(answer) => answer,
        };
        if is_to_come(&answer) {
            talk.say("Left open: answer it when it is there.\n");
            return Ok(Next::Skipped);
        }
        let value = match toml(&project.rules, &fact, &answer) {
            Ok(value) => value,
            Err(why) => {
                talk.say(&format!("{why}\n"));
                continue;
            }
        };
        let dated = beside(project, target, &value.toml, &Beside::default())?;
        let left = left_behind(project, target, &value.toml, &Beside::default());
        match project.put_one(Put { way: &way, file: file.as_deref(), what: What::Value(&dated) }) {
            Ok(written) => {
                let key = fact.name.rsplit('.').next().unwrap_or(&fact.name);
                talk.say(&format!("Written to {}, line {}: {key} = {dated}\n", written.file, written.line));
                let after = after_work(project, target, &Beside::default());
                left.iter().chain(&after).for_each(|line| talk.say(&format!("{line}\n")));
                talk.say(&value.taken_for(&answer).map_or_else(String::new, |said| format!("{said}\n")));
                return Ok(Next::Answered);
            }
            Err(messages) => {
                talk.say(&messages.of_writing().shown(false));
                // Another program was at it, and the record may stand elsewhere now.
                if target.way(project).as_ref() != Some(&way) || target.name(project) != name {
                    return Ok(Next::Skipped);
                }
            }
        }
    }
}

/// Why something is asked.
enum Why<'a> {
    /// It is open, for this cause.
    Open(Option<&'a MissingCause>),
    /// Somebody went back to it.
    Again,
}

/// A question with all that helps to answer it.
fn shown(project: &Project, number: usize, question: &Question, target: Target, why: Why<'_>) -> String {
    let mut page = Page::new(width());
    let lead = format!("{number}. ");
    let indent = lead.len();
    let mut text = String::from("\n");
    let ask = if target == Target::WholeLog { "Does the log tell all work that was done?" } else { &question.ask };
    page.hanging(0, indent, &format!("{lead}{ask}"));
    let form = target.fact(project).map(|fact| form(&project.rules, fact));
    let form = form.unwrap_or_else(|| match target {
        Target::Whole(_) | Target::WholeLog => "is the list complete?".to_owned(),
        _ => "a list".to_owned(),
    });
    page.hanging(indent, indent, &format!("{}: {form}", question.fact));
    if let Some(example) = &question.example {
        page.line(indent, &format!("For example: {example}"));
    }
    if let Some((recorded, place)) = target.recorded(project) {
        let why = match why {
            Why::Again => String::new(),
            Why::Open(Some(MissingCause::TooCoarse(_)) | None) => ", which is too coarse".to_owned(),
            Why::Open(Some(why)) => format!(", {}", report::why_missing(why)),
        };
        page.line(
            indent,
            &format!(
                "Recorded as {recorded} ({place}){why}. A new answer takes its place; the old one stays as a comment."
            ),
        );
    }
    text.push_str(&page.finish());
    text
}

fn summary(project: &Project, count: &Count) -> String {
    let mut page = Page::new(width());
    let audit = project.audit_of_open();
    page.line(0, "");
    page.line(0, &format!("Answered: {}. Left open: {}.", count.answered.len(), count.left.len()));
    let (by, before) = due(project, &audit);
    let count = |verdict| {
        let due = audit.findings.iter().filter(|finding| audit.is_due(finding, by.as_deref()));
        due.filter(|finding| finding.verdict == verdict).count()
    };
    let (unmet, open) = (count(Verdict::Unmet), count(Verdict::NotShown));
    page.line(0, &format!("Unmet now{before}: {unmet}. Not shown: {open}. `cotterpin audit` says which, and why."));
    page.finish()
}
