//! `cotterpin why`: one item's whole reasoning.

use super::args::{Format, WhyArgs};
use super::audit::judge;
use super::load::{Loaded, load};
use super::messages::Messages;
use super::{Done, Status, WIDTH};
use cotterpin_engine::audit::{Finding, REMOVED};
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::project::whole::LOG;
use cotterpin_engine::report;

/// Ends with status 0 when the reasoning was shown, whatever the verdict: it
/// answers a question about one item and judges no project.
pub(super) fn why(args: &WhyArgs, warn: &mut dyn FnMut(&Messages)) -> Done {
    let loaded = load(&args.project)?;
    warn(&loaded.warnings);
    let names = full_names(&loaded, &args.item)?;
    let audit = judge(&loaded, args.on, None)?;
    let findings: Vec<&Finding> = audit.findings.iter().filter(|finding| names.contains(&finding.item)).collect();
    if findings.is_empty() {
        return Err(Messages::one(not_judged(&loaded, &args.item, &audit.on)));
    }
    let text = match args.format {
        Format::Text => report::why(&audit, &findings, WIDTH),
        Format::Json => report::why_json(&audit, &args.item, &findings, &loaded.warnings.as_data()),
    };
    Ok((text, Status::Settled))
}

/// Why nothing is said of an item, or of a list.
fn not_judged(loaded: &Loaded, item: &str, on: &str) -> Diagnostic {
    let rules = &loaded.rules;
    if item == REMOVED {
        let message = format!("no part that the log tells of is off on {on}");
        return Diagnostic::error("item::not-judged", message)
            .help("each has been refitted since, or is gone for good");
    }
    if is_list(loaded, item) {
        let message = format!("nothing that is judged on {on} waits for the word that `{item}` is whole");
        return Diagnostic::error("item::not-judged", message)
            .help("either somebody has said so, or no item that may apply reads it");
    }
    let raised_for = rules.find_items(item).first().and_then(|id| rules.list(rules.item(*id)?.each?));
    let help = match raised_for {
        Some(list) => {
            format!("it is raised for each record of `{0}`, and there is none: see `cotterpin why {0}`", list.name)
        }
        None => "its wording may not be in force on that day".to_owned(),
    };
    Diagnostic::error("item::not-judged", format!("`{item}` was not judged on {on}")).help(help)
}

/// Whether it is a list, or the log, of which a finding may ask whether it is whole.
fn is_list(loaded: &Loaded, name: &str) -> bool {
    name == LOG || loaded.rules.list_by_name.contains_key(name)
}

/// The full names that were meant; several packs may know the same short one.
fn full_names(loaded: &Loaded, item: &str) -> Result<Vec<String>, Messages> {
    let rules = &loaded.rules;
    let named = rules.find_items(item);
    if named.is_empty() && (is_list(loaded, item) || item == REMOVED) {
        return Ok(vec![item.to_owned()]);
    }
    let all = rules.items.iter().map(|known| rules.full_name(known));
    if !named.is_empty() {
        let places = named.into_iter().filter_map(|id| rules.item(id));
        return Ok(places.map(|known| rules.full_name(known)).collect());
    }
    let full: Vec<String> = all.collect();
    let short = rules.items.iter().map(|known| known.name.as_str());
    let message = Diagnostic::error("item::unknown", format!("the packs of this project have no item `{item}`"));
    Err(Messages::one(match nearest(item, full.iter().map(String::as_str).chain(short)) {
        Some(near) => message.help(format!("did you mean `{near}`?")),
        None => message.help("`cotterpin audit` names every item"),
    }))
}
