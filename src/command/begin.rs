//! `cotterpin begin`: a folder that is a project.

use super::args::BeginArgs;
use super::day::days;
use super::edit::{Folder, parsed, quoted, settle, with_person};
use super::messages::Messages;
use super::{Done, Status, width};
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::files::shown;
use cotterpin_engine::project::freehand::{Freehand, unquoted};
use cotterpin_engine::project::keys::header::{COUNTRY, FORMAT, NAME, PACKS, PARTS, PEOPLE, VISIT};
use cotterpin_engine::project::{PROJECT, is_name};
use cotterpin_engine::quantity::DateRange;
use cotterpin_engine::report::Page;
use cotterpin_packs as packs;
use std::fs;
use std::path::{Component, Path, PathBuf};

pub(super) fn begin(args: &BeginArgs) -> Done {
    write(args).map_err(Messages::of_writing)
}

fn write(args: &BeginArgs) -> Done {
    let text = text(args).map_err(Messages::one)?;
    parsed(PROJECT, text.as_bytes())?;
    let there = || {
        let message = format!("`{}` is a project already; its {PROJECT} stays as it is", shown(&args.folder));
        Messages::one(
            Diagnostic::error("project::there", message).help("give another folder, or change the file by hand"),
        )
    };
    if fs::symlink_metadata(args.folder.join(PROJECT)).is_ok() {
        return Err(there());
    }
    // What stands in a project's folder is read as a part of it.
    if let Some(outer) = folders_above(&args.folder).find(|above| above.join(PROJECT).is_file()) {
        let message = format!("`{}` would lie in the project `{}`", shown(&args.folder), shown(&outer));
        let help = "begin it beside that project: no project can hold another";
        return Err(Messages::one(Diagnostic::error("project::inside", message).help(help)));
    }
    fs::create_dir_all(&args.folder).map_err(|problem| {
        let message = format!("`{}` cannot be made: {problem}", shown(&args.folder));
        Messages::one(Diagnostic::error("file::unwritable", message).help("give a folder that you may write to"))
    })?;
    settle(&args.folder);
    let folder = Folder::locked(&args.folder).map_err(Messages::one)?;
    // Somebody may have been quicker.
    if folder.has(PROJECT) {
        return Err(there());
    }
    for name in ["log", "evidence"] {
        folder.folder(name).map_err(Messages::one)?;
    }
    folder.create(PROJECT, text.as_bytes()).map_err(Messages::one)?;
    Ok((said(args), Status::Settled))
}

/// The folders that there are above one that may not be there yet, the nearest first, as the disk has them: `..` leads out
/// of one, a link perhaps into another.
fn folders_above(folder: &Path) -> impl Iterator<Item = PathBuf> + use<> {
    let mut plain = PathBuf::new();
    for step in std::path::absolute(folder).unwrap_or_else(|_| folder.to_owned()).components() {
        if step == Component::ParentDir {
            plain = plain.canonicalize().unwrap_or(plain);
            plain.pop();
        } else {
            plain.push(step);
        }
    }
    let above: Vec<PathBuf> = plain.ancestors().skip(1).map(Path::to_owned).collect();
    let nearest = above.into_iter().find_map(|above| above.canonicalize().ok());
    std::iter::successors(nearest, |inner| inner.parent().map(Path::to_owned))
}

/// The text of `project.toml`.
fn text(args: &BeginArgs) -> Result<String, Diagnostic> {
    let name = args.name.clone().or_else(|| folder_name(&args.folder)).unwrap_or_else(|| "my aircraft".to_owned());
    let mut lines = vec![
        "# The project. Facts stand in the other .toml files of this folder, what was".to_owned(),
        "# done in log/, photographs and papers in evidence/.".to_owned(),
        format!("{FORMAT} = 1"),
        format!("{NAME} = {}", quoted(name.trim())),
    ];
    if let Some(country) = &args.country {
        lines.push(format!("{COUNTRY} = {}", quoted(&known_country(country)?)));
    }
    lines.push(format!("{PACKS} = [\"workmanship\"]"));
    match &args.visit {
        Some(visit) => lines.push(format!("{VISIT} = {}", day(visit)?)),
        None => {
            lines
                .push(format!("# {VISIT} = 2026-12-10   # the planned day, or \"2026-12\" for some day of that month"));
        }
    }
    lines.extend([
        String::new(),
        "# Who works on it: a short name, the whole name, and the role or roles (builder,".to_owned(),
        "# helper, adviser, licensed-engineer, inspector).".to_owned(),
        format!("[{PEOPLE}]"),
    ]);
    if args.who.is_none() {
        lines.push("# rosa = { name = \"Rosa Example\", role = \"builder\" }".to_owned());
    }
    lines.extend([
        String::new(),
        "# Parts of your own, below those that the packs know.".to_owned(),
        format!("[{PARTS}]"),
        "# \"controls.elevator.pushrod\" = { title = \"Elevator pushrod\", zone = \"tail\" }".to_owned(),
        String::new(),
    ]);
    let text = lines.join("\n");
    Ok(match &args.who {
        Some(who) => with_person(&text, &short_name(who)?, who.trim(), &["builder".to_owned()]),
        None => text,
    })
}

fn folder_name(folder: &Path) -> Option<String> {
    let named = folder.file_name().map(|name| name.to_string_lossy().into_owned());
    let whole = || fs::canonicalize(folder).ok()?.file_name().map(|name| name.to_string_lossy().into_owned());
    named.or_else(whole).filter(|name| !name.trim().is_empty())
}

fn known_country(given: &str) -> Result<String, Diagnostic> {
    // A country's pack is named by its two letters of ISO 3166-1.
    let countries: Vec<&str> = packs::built_in_names().into_iter().filter(|name| name.len() == 2).collect();
    let country = unquoted(given).to_lowercase();
    if countries.contains(&country.as_str()) {
        return Ok(country);
    }
    let known = format!("there are packs for {}", countries.join(", "));
    let message = format!("there is no pack for the country `{given}`");
    let other = "without --country the workmanship is asked alone, which is the same everywhere";
    Err(Diagnostic::error("project::country", message).help(match nearest(&country, countries.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? {known}; {other}"),
        None => format!("{known}; {other}"),
    }))
}

/// The planned visit.
fn visit(text: &str) -> Result<Freehand<DateRange>, Diagnostic> {
    days(text).map_err(|problem| {
        Diagnostic::error("value::date", format!("`{text}` is not taken as a date: {problem} (given by --visit)"))
            .help("write 2026-12-10, or 2026-12 for some day of that month")
    })
}

/// A day bare, a month or a year in quotes.
fn day(text: &str) -> Result<String, Diagnostic> {
    let range = visit(text)?.value;
    Ok(if range.first == range.last { range.first.to_string() } else { quoted(&range.to_string()) })
}

/// The first name, which is the short one.
fn short_name(name: &str) -> Result<String, Diagnostic> {
    let first = name.split_whitespace().next().unwrap_or("");
    let key: String = first.to_lowercase().chars().filter(|letter| letter.is_alphanumeric()).collect();
    if key.is_empty() {
        return Err(
            Diagnostic::error("person::name", "the builder's name is empty").help("write --who \"Rosa Example\"")
        );
    }
    if !is_name(["builder"], name) {
        let message = format!("`{}` is nobody's name", name.trim());
        return Err(Diagnostic::error("person::name", message).help("write the full name: --who \"Rosa Example\""));
    }
    Ok(key)
}

/// A folder's name as a shell takes it for one word.
fn as_typed(folder: &str) -> String {
    if folder.contains(char::is_whitespace) { format!("\"{folder}\"") } else { folder.to_owned() }
}

fn said(args: &BeginArgs) -> String {
    let mut page = Page::new(width());
    let folder = shown(&args.folder);
    page.line(0, &format!("Begun: {folder}, with {PROJECT}, log/ and evidence/."));
    if args.country.is_none() {
        page.line(0, "No country was given: what an authority asks is not looked at, workmanship alone is.");
    }
    if let Some(Ok(read)) = args.visit.as_deref().map(days)
        && let Some(strict) = read.strict
    {
        page.line(0, &format!("The visit: {strict}, read from {}.", args.visit.as_deref().unwrap_or("")));
    }
    page.gap();
    page.line(0, "Next:");
    let inside = if folder == "." { String::new() } else { format!("cd {}", as_typed(&folder)) };
    if !inside.is_empty() {
        page.line(4, &inside);
    }
    page.labelled(4, 28, "cotterpin ask", "answer the questions that settle most");
    let who = if args.who.is_some() { "" } else { " (name yourself in project.toml first)" };
    page.labelled(4, 28, "cotterpin log --subjects", &format!("what the log can be about{who}"));
    page.labelled(4, 28, "cotterpin log WHAT SUBJECT", "write down what you have done, inspected or found");
    page.labelled(4, 28, "cotterpin audit", "what is unmet, what is not shown, and why");
    page.labelled(4, 28, "cotterpin next --time 2h", "what to do with two hours");
    page.finish()
}
