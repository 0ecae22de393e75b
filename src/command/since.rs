//! `cotterpin since`: what changed since an audit that was saved.

use super::args::{Format, SinceArgs};
use super::audit::{CLOSE, judge};
use super::load::load;
use super::messages::Messages;
use super::saved::{FOLDER, on_or_before, read, saved_audits};
use super::{Done, Status, WIDTH};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::history::{Saved, compare};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::report;
use std::path::Path;

/// Ends with status 0 when nothing became worse, 1 when something did, 2 when
/// nothing did but something new is unmet or not shown.
pub(super) fn since(args: &SinceArgs, warn: &mut dyn FnMut(&Messages)) -> Done {
    let (saved, kept) = earlier(args).map_err(Messages::one)?;
    let loaded = load(&args.project)?;
    warn(&loaded.warnings);
    // What was left out then is left out now, as long as there is such a hold point.
    let rules = &loaded.rules;
    let known = |by: &&String| match by.strip_prefix(CLOSE) {
        Some(zone) => rules.zones.iter().any(|known| known.name == zone),
        None => rules.hold_points.iter().any(|point| point.name == **by),
    };
    let by = saved.by.as_ref().filter(known);
    let audit = judge(&loaded, args.on, by.map(String::as_str))?;
    let changes = compare(&saved, &audit);
    let text = match args.format {
        Format::Text => report::since_text(&changes, &kept, WIDTH),
        Format::Json => report::since_json(&changes, &kept, &loaded.warnings.as_data()),
    };
    let status = match changes.exit_status() {
        0 => Status::Settled,
        1 => Status::Unmet,
        _ => Status::NotShown,
    };
    Ok((text, status))
}

/// The saved audit that was meant, and where it was found.
fn earlier(args: &SinceArgs) -> Result<(Saved, String), Diagnostic> {
    let Ok(day) = Date::parse(&args.when) else {
        if looks_like_a_day(&args.when) {
            return Err(Diagnostic::error("saved::day", format!("`{}` is no day of the calendar", args.when))
                .help("write a day such as 2026-11-25, or the file of a saved audit"));
        }
        let kept = args.when.clone();
        return Ok((read(Path::new(&kept), &kept)?, kept));
    };
    if args.project.demo {
        let message = "the demo project has no folder with saved audits";
        return Err(Diagnostic::error("saved::none", message)
            .help("save one with `cotterpin audit --demo --save-to FILE`, and give that file"));
    }
    let folder = &args.project.folder;
    let all = saved_audits(folder)?;
    let Some(name) = on_or_before(&all, day) else {
        return Err(none(&args.when, &all.iter().map(|known| known.file.as_str()).collect::<Vec<_>>()));
    };
    let kept = format!("{FOLDER}/{name}");
    Ok((read(&folder.join(FOLDER).join(name), &kept)?, kept))
}

/// Digits and hyphens only, as in 2026-11 or 2026-02-30.
fn looks_like_a_day(text: &str) -> bool {
    text.starts_with(|first: char| first.is_ascii_digit())
        && text.chars().all(|letter| letter.is_ascii_digit() || letter == '-')
}

fn none(day: &str, known: &[&str]) -> Diagnostic {
    let message = format!("there is no saved audit of {day} or before");
    let help = match known {
        [] => format!("{FOLDER}/ has none yet; `cotterpin audit --save` saves one"),
        _ => format!("{FOLDER}/ has {}; `cotterpin audit --save` saves one of today", known.join(", ")),
    };
    Diagnostic::error("saved::none", message).help(help)
}
