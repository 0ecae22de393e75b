//! `cotterpin audit`: the whole report.

use super::args::{AuditArgs, AuditFormat};
use super::clock::today;
use super::load::{Loaded, load};
use super::messages::Messages;
use super::saved::{self, earlier};
use super::{Afterwards, Done, Status, WIDTH};
use cotterpin_engine::audit::{self, Audit};
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::history::{Saved, standing};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::report;
use cotterpin_engine::source::Sources;
use std::path::PathBuf;

/// `--by close:tail` asks what must be done before a zone closes.
pub(super) const CLOSE: &str = "close:";

pub(super) fn audit(args: &AuditArgs, warn: &mut dyn FnMut(&Messages), afterwards: Afterwards) -> Done {
    let before = before(args).map_err(Messages::one)?;
    let loaded = load(&args.project)?;
    warn(&loaded.warnings);
    let request = request(&loaded, args.on, args.by.as_deref())?;
    let Loaded { rules, record, .. } = &loaded;
    // The text names what is met and counts what does not apply; it gives reasons for neither.
    let brief = args.format == AuditFormat::Text && !args.save && args.save_to.is_none();
    let mut audit =
        if brief { audit::audit_in_brief(rules, record, &request) } else { audit::audit(rules, record, &request) };
    let mut said = loaded.warnings.clone();
    if !audit.was_evaluated() {
        let message = format!("no item of the packs concerns this aircraft on {}, so nothing was judged", audit.on);
        let help = "name packs that do in project.toml, or another day or hold point";
        let message = Diagnostic::warning("audit::nothing", message).help(help);
        warn(&Messages::one(message.clone()));
        said.add(&Sources::default(), vec![message]);
    }
    if let Some(path) = save(args, &audit).map_err(Messages::one)? {
        warn(&Messages::said(format!("The audit is saved in {}.", path.strip_prefix(".").unwrap_or(&path).display())));
    }
    let (status, mut said) = (Status::of(&audit), said.as_data());
    let mut standing = before.map(|before| standing(&before, &audit));
    if args.redact {
        let stand_ins = report::StandIns::of(rules, record);
        stand_ins.put_into(&mut audit);
        standing.iter_mut().for_each(|standing| stand_ins.put_into_standing(standing));
        said.iter_mut().for_each(|message| stand_ins.put_into_message(message));
    }
    let text = match args.format {
        AuditFormat::Text => report::text(&audit, WIDTH),
        AuditFormat::Json => report::audit_json(&audit, &said),
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

/// Saves the audit where that was asked for, and says where.
fn save(args: &AuditArgs, audit: &Audit) -> Result<Option<PathBuf>, Diagnostic> {
    let path = match &args.save_to {
        Some(path) => path.clone(),
        None if args.save => saved::place(&args.project.folder, &audit.on, args.replace)?,
        None => return Ok(None),
    };
    saved::keep(&Saved::of(audit), &path, args.replace)?;
    Ok(Some(path))
}

/// Audits on the day asked for, or today.
pub(super) fn judge(loaded: &Loaded, on: Option<Date>, by: Option<&str>) -> Result<Audit, Messages> {
    let request = request(loaded, on, by)?;
    Ok(audit::audit(&loaded.rules, &loaded.record, &request))
}

/// What is to be audited.
fn request(loaded: &Loaded, on: Option<Date>, by: Option<&str>) -> Result<audit::Request, Messages> {
    let on = day_to_judge(on)?;
    let closing = by.and_then(|by| by.strip_prefix(CLOSE)).map(str::to_owned);
    let by = by.filter(|_| closing.is_none()).map(str::to_owned);
    let (points, zones) = (&loaded.rules.hold_points, &loaded.rules.zones);
    known("hold point", by.as_deref(), &points.iter().map(|point| point.name.as_str()).collect::<Vec<_>>())?;
    known("zone", closing.as_deref(), &zones.iter().map(|zone| zone.name.as_str()).collect::<Vec<_>>())?;
    Ok(audit::Request { project: loaded.name.clone(), on, by, closing })
}

/// The day asked for, or today.
pub(super) fn day_to_judge(on: Option<Date>) -> Result<Date, Messages> {
    on.or_else(today).ok_or_else(|| {
        let message = Diagnostic::error("clock::unset", "the system clock says no usable date");
        Messages::one(message.help("give the day to judge: --on 2026-11-25"))
    })
}

/// A name given by `--by` must be one the packs know.
fn known(kind: &str, name: Option<&str>, known: &[&str]) -> Result<(), Messages> {
    let Some(name) = name.filter(|name| !known.contains(name)) else { return Ok(()) };
    let message = format!("the packs know no {kind} `{name}` (given by --by)");
    let message = Diagnostic::error("hold-point::unknown", message);
    Err(Messages::one(match nearest(name, known.iter().copied()) {
        Some(near) => message.help(format!("did you mean `{near}`?")),
        None => message.help(format!("they know {}", known.join(", "))),
    }))
}
