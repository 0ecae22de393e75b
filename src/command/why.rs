//! `cotterpin why`: one item's whole reasoning.

use super::args::WhyArgs;
use super::audit::judge;
use super::load::{Loaded, load};
use super::messages::Messages;
use super::{Done, Status, WIDTH};
use crate::audit::Finding;
use crate::diagnostic::{Diagnostic, nearest};
use crate::report;

/// Ends with status 0 when the reasoning was shown, whatever the verdict: it
/// answers a question about one item and judges no project.
pub(super) fn why(args: &WhyArgs, warn: &mut dyn FnMut(&Messages)) -> Done {
    let loaded = load(&args.project)?;
    warn(&loaded.warnings);
    let names = full_names(&loaded, &args.item)?;
    let audit = judge(&loaded, args.on, None)?;
    let findings: Vec<&Finding> = audit.findings.iter().filter(|finding| names.contains(&finding.item)).collect();
    if findings.is_empty() {
        let message = format!("`{}` was not judged on {}", args.item, audit.on);
        let help = "its wording may not be in force on that day, or the list it is raised for may be empty";
        return Err(Messages::one(Diagnostic::error("item::not-judged", message).help(help)));
    }
    Ok((report::why(&audit, &findings, WIDTH), Status::Settled))
}

/// The full names that were meant; several packs may know the same short one.
fn full_names(loaded: &Loaded, item: &str) -> Result<Vec<String>, Messages> {
    let rules = &loaded.rules;
    let named = rules.find_items(item);
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
