//! `cotterpin since`: what changed since an audit that was saved.

use super::args::{Format, SinceArgs};
use super::audit::{CLOSE, judge};
use super::load::load;
use super::messages::Messages;
use super::saved::earlier;
use super::{Done, Status, width};
use cotterpin_engine::history::compare;
use cotterpin_engine::report;

/// Ends with status 0 when nothing became worse, 1 when something did, 2 when
/// nothing did but something new is unmet or not shown.
pub(super) fn since(args: &SinceArgs, warn: &mut dyn FnMut(&Messages)) -> Done {
    let (saved, kept) = earlier(&args.when, &args.project).map_err(Messages::one)?;
    let loaded = load(&args.project)?;
    warn(&loaded.warnings);
    // What was left out then is left out now, as long as there is such a hold point.
    let rules = loaded.rules();
    let known = |by: &&String| match by.strip_prefix(CLOSE) {
        Some(zone) => rules.zones.iter().any(|known| known.name == zone),
        None => rules.hold_points.iter().any(|point| point.name == **by),
    };
    let by = saved.by.as_ref().filter(known);
    let audit = judge(&loaded, args.on, by.map(String::as_str))?;
    let changes = compare(&saved, &audit);
    let text = match args.format {
        Format::Text => report::since_text(&changes, &kept, width()),
        Format::Json => report::since_json(&changes, &kept, &loaded.warnings.as_data()),
    };
    let status = match changes.exit_status() {
        0 => Status::Settled,
        1 => Status::Unmet,
        _ => Status::NotShown,
    };
    Ok((text, status))
}
