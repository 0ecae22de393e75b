//! `cotterpin audit`: its first page, or the whole report.

use super::args::{AuditArgs, AuditFormat};
use super::clock::{no_date, today};
use super::load::{Loaded, load};
use super::messages::Messages;
use super::saved::{self, earlier};
use super::{Afterwards, Done, Status, width};
use crate::surface::project::audit_in_brief;
use crate::{Audit, Options, ValueError, audit as audit_of, render};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::shown;
use cotterpin_engine::history::{Saved, standing};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::source::Sources;
use cotterpin_engine::{plan, report};
use std::path::PathBuf;

/// `--by close:tail` asks what must be done before a zone closes.
pub(super) const CLOSE: &str = "close:";

pub(super) fn audit(args: &AuditArgs, warn: &mut dyn FnMut(&Messages), afterwards: Afterwards) -> Done {
    let before = before(args).map_err(Messages::one)?;
    let loaded = load(&args.project)?;
    warn(&loaded.warnings);
    let on = day_to_judge(args.on)?;
    // Held against an audit that was saved, it looks at the same.
    let options = match (&args.by, &before) {
        (None, Some(_)) => options(on, None),
        (by, _) => due(on, by.as_deref()),
    };
    // The text names what is met and counts what does not apply; it gives reasons for neither.
    let judge = if args.format == AuditFormat::Text { audit_in_brief } else { audit_of };
    let mut audit = judge(&loaded.project, &options).map_err(refused)?;
    let mut said = loaded.warnings.clone();
    if !audit.was_evaluated() {
        let message = format!("no item of the packs concerns this aircraft on {}, so nothing was judged", audit.on);
        let help = "name packs that do in project.toml, or another day or hold point";
        let message = Diagnostic::warning("audit::nothing", message).help(help);
        warn(&Messages::one(message.clone()));
        said.add(&Sources::default(), vec![message]);
    }
    if let Some(path) = save(args, &loaded, on)? {
        warn(&Messages::said(format!("The audit is saved in {}.", shown(path.strip_prefix(".").unwrap_or(&path)))));
    }
    let (status, mut said) = (Status::of(&audit), said.as_data());
    let mut standing = before.map(|before| standing(&before, &audit));
    if args.redact {
        let stand_ins = report::StandIns::of(loaded.rules(), loaded.record());
        stand_ins.put_into(&mut audit);
        standing.iter_mut().for_each(|standing| stand_ins.put_into_standing(standing));
        said.iter_mut().for_each(|message| stand_ins.put_into_message(message));
    }
    let text = match args.format {
        AuditFormat::Text if args.full || args.by.as_deref().is_some_and(|by| by.starts_with(CLOSE)) => {
            render::text(&audit, width())
        }
        AuditFormat::Text => {
            let request = plan::Request { on, time: None, a_day: None };
            // What a plan tells of the builder's own has no stand-ins.
            let plan = (!args.redact).then(|| plan::plan(loaded.rules(), loaded.record(), &audit, request));
            report::page(&audit, plan.as_ref(), width())
        }
        AuditFormat::Json => render::json(&audit, &said),
        AuditFormat::Sarif => report::sarif(&audit, standing.as_ref()),
        AuditFormat::Junit => report::junit(&audit),
        AuditFormat::Csv => report::csv(&audit),
    };
    afterwards.done_with((audit, loaded));
    Ok((text, status))
}

/// The saved audit against which each finding is to be held, if any.
fn before(args: &AuditArgs) -> Result<Option<Saved>, Diagnostic> {
    let Some(when) = &args.since else { return Ok(None) };
    if args.format != AuditFormat::Sarif {
        let message = "only --format sarif says of each finding how it stands since an audit that was saved";
        return Err(Diagnostic::error("saved::format", message)
            .help(format!("add --format sarif, or see what changed: cotterpin since {when}")));
    }
    let (saved, kept) = earlier(when, &args.project)?;
    if saved.by != args.by {
        let looked_at =
            |by: &Option<String>| by.as_ref().map_or_else(|| "everything".to_owned(), |by| format!("--by {by}"));
        let message = format!(
            "`{kept}` looked at {}, this audit looks at {}: what only one of them looks at would be new or gone",
            looked_at(&saved.by),
            looked_at(&args.by)
        );
        return Err(
            Diagnostic::error("saved::scope", message).help("look at the same with --by, or name another audit")
        );
    }
    Ok(Some(saved))
}

/// So many others may save at the same time.
const MOST_TRIES: usize = 1000;

/// Saves an audit of everything, or of what was asked for, where that was asked for, and says where.
fn save(args: &AuditArgs, loaded: &Loaded, on: Date) -> Result<Option<PathBuf>, Messages> {
    if args.save_to.is_none() && !args.save {
        return Ok(None);
    }
    let audit = Saved::of(&judge(loaded, Some(on), args.by.as_deref())?);
    if let Some(path) = &args.save_to {
        saved::keep(&audit, path, args.replace).map_err(Messages::one)?;
        return Ok(Some(path.clone()));
    }
    let mut tried = 0usize;
    loop {
        let path = saved::place(&args.project.folder, &on.to_string(), args.replace).map_err(Messages::one)?;
        match saved::keep(&audit, &path, args.replace) {
            Ok(()) => return Ok(Some(path)),
            // Another one has taken the number meanwhile: each time one of them has got through.
            Err(taken) if taken.code == saved::THERE && tried < MOST_TRIES => tried = tried.saturating_add(1),
            Err(problem) => return Err(Messages::one(problem)),
        }
    }
}

/// Audits on the day asked for, or today.
pub(super) fn judge(loaded: &Loaded, on: Option<Date>, by: Option<&str>) -> Result<Audit, Messages> {
    audit_of(&loaded.project, &options(day_to_judge(on)?, by)).map_err(refused)
}

/// Audits on the day asked for, or today, what is due by a hold point, or else by the next one.
pub(super) fn judge_due(loaded: &Loaded, on: Option<Date>, by: Option<&str>) -> Result<Audit, Messages> {
    audit_of(&loaded.project, &due(day_to_judge(on)?, by)).map_err(refused)
}

/// What is to be audited where nobody says how far: what is due by the next hold point.
fn due(on: Date, by: Option<&str>) -> Options {
    match by {
        Some(_) => options(on, by),
        None => options(on, None).by_next(),
    }
}

/// What is to be audited.
pub(super) fn options(on: Date, by: Option<&str>) -> Options {
    let options = Options::from(on);
    match (by, by.and_then(|by| by.strip_prefix(CLOSE))) {
        (_, Some(zone)) => options.closing(zone),
        (Some(point), None) => options.by(point),
        (None, None) => options,
    }
}

pub(super) fn refused(error: ValueError) -> Messages {
    Messages::of(error.into_batches())
}

/// The day asked for, or today.
pub(super) fn day_to_judge(on: Option<Date>) -> Result<Date, Messages> {
    on.or_else(today).ok_or_else(|| Messages::one(no_date("give the day to judge: --on 2026-11-25")))
}
