//! `cotterpin next`: the jobs for today; after the visit, what to close up.

use super::args::{Format, NextArgs};
use super::audit::{day_to_judge, judge};
use super::load::load;
use super::messages::Messages;
use super::{Done, Status, WIDTH};
use cotterpin_engine::{plan, report};

/// Ends with status 0 when there is a list, whatever is on it: it judges nothing.
pub(super) fn next(args: &NextArgs, warn: &mut dyn FnMut(&Messages)) -> Done {
    let loaded = load(&args.project)?;
    warn(&loaded.warnings);
    let on = day_to_judge(args.on)?;
    let audit = judge(&loaded, Some(on), None)?;
    let (rules, record) = (&loaded.rules, &loaded.record);
    let text = if args.close_up {
        let list = plan::close_up(rules, record, &audit, on);
        match args.format {
            Format::Text => report::close_up_text(&list, WIDTH),
            Format::Json => report::close_up_json(&list, &loaded.warnings.as_data()),
        }
    } else {
        let request = plan::Request { on, time: args.time, a_day: args.a_day };
        let plan = plan::plan(rules, record, &audit, request);
        match args.format {
            Format::Text => report::next_text(&plan, WIDTH),
            Format::Json => report::next_json(&plan, &loaded.warnings.as_data()),
        }
    };
    Ok((text, Status::Settled))
}
