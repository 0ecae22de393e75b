//! `cotterpin audit`: the whole report.

use super::args::{AuditArgs, Format};
use super::clock::today;
use super::gather::{Gathered, gather};
use super::messages::Messages;
use super::{Done, Status, WIDTH};
use crate::audit::{self, Audit};
use crate::diagnostic::{Diagnostic, nearest};
use crate::measure::Date;
use crate::report;

pub(super) fn audit(args: &AuditArgs, warn: &mut dyn FnMut(&Messages)) -> Done {
    let gathered = gather(&args.project)?;
    warn(&gathered.warnings);
    let request = request(&gathered, args.on, args.by.as_deref())?;
    let Gathered { rules, record, sources, .. } = &gathered;
    let (text, status) = match args.format {
        // The text names what is met and counts what does not apply; it gives reasons for neither.
        Format::Text => {
            let audit = audit::audit_in_brief(rules, record, sources, &request);
            (report::text(&audit, WIDTH), Status::of(&audit))
        }
        Format::Json => {
            let audit = audit::audit(rules, record, sources, &request);
            (report::json(&audit), Status::of(&audit))
        }
    };
    Ok((text, status))
}

/// Audits on the day asked for, or today.
pub(super) fn judge(gathered: &Gathered, on: Option<Date>, by: Option<&str>) -> Result<Audit, Messages> {
    let request = request(gathered, on, by)?;
    Ok(audit::audit(&gathered.rules, &gathered.record, &gathered.sources, &request))
}

/// What is to be audited.
fn request(gathered: &Gathered, on: Option<Date>, by: Option<&str>) -> Result<audit::Request, Messages> {
    let Some(on) = on.or_else(today) else {
        let message = Diagnostic::error("clock::unset", "the system clock says no usable date");
        return Err(Messages::one(message.help("give the day to judge: --on 2026-11-25")));
    };
    if let Some(by) = by {
        known_hold_point(gathered, by)?;
    }
    Ok(audit::Request { project: gathered.name.clone(), on, by: by.map(str::to_owned) })
}

fn known_hold_point(gathered: &Gathered, by: &str) -> Result<(), Messages> {
    let known: Vec<&str> = gathered.rules.hold_points.iter().map(|point| point.name.as_str()).collect();
    if known.contains(&by) {
        return Ok(());
    }
    let message =
        Diagnostic::error("hold-point::unknown", format!("the packs know no hold point `{by}` (given by --by)"));
    Err(Messages::one(match nearest(by, known.iter().copied()) {
        Some(near) => message.help(format!("did you mean `{near}`?")),
        None => message.help(format!("they know {}", known.join(", "))),
    }))
}
