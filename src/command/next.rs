//! `cotterpin next`: the jobs for today; after the visit, what to close up.

use super::args::{Format, NextArgs};
use super::audit::{day_to_judge, judge};
use super::load::load;
use super::messages::Messages;
use super::{Done, Status, width};
use crate::surface::plan::planned;
use cotterpin_engine::{plan, report};

/// Ends with status 0 when there is a list, whatever is on it: it judges nothing.
pub(super) fn next(args: &NextArgs, warn: &mut dyn FnMut(&Messages)) -> Done {
    let loaded = load(&args.project)?;
    warn(&loaded.warnings);
    let on = day_to_judge(args.on)?;
    let text = if args.close_up {
        let audit = judge(&loaded, Some(on), None)?;
        let list = plan::close_up(loaded.rules(), loaded.record(), &audit, on);
        match args.format {
            Format::Text => report::close_up_text(&list, width()),
            Format::Json => report::close_up_json(&list, &loaded.warnings.as_data()),
        }
    } else {
        let plan = planned(&loaded.project, on, args.time, args.a_day);
        let plan = plan.map_err(|error| Messages::of(error.into_batches()))?;
        match args.format {
            Format::Text => plan.to_text(width()),
            Format::Json => plan.to_json(&loaded.warnings.as_data()),
        }
    };
    Ok((text, Status::Settled))
}
