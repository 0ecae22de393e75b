//! `cotterpin questions`: what the packs ask and the project does not say yet.

use super::args::{Format, QuestionsArgs};
use super::load::load;
use super::messages::Messages;
use super::{Done, Status};
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::report;
use std::collections::BTreeSet;

pub(super) fn questions(args: &QuestionsArgs, warn: &mut dyn FnMut(&Messages)) -> Done {
    let loaded = load(&args.project)?;
    warn(&loaded.warnings);
    if let Some(system) = &args.system {
        known_system(loaded.rules(), system)?;
    }
    let (name, rules, record) = (loaded.project.name(), loaded.rules(), loaded.record());
    let system = args.system.as_deref();
    let text = match args.format {
        Format::Text => report::questions_text(rules, record, system),
        Format::Json => report::questions_json((name, rules, record), system, &loaded.warnings.as_data()),
    };
    Ok((text, Status::Settled))
}

/// A word given by `--system` must begin a question of the packs.
fn known_system(rules: &Rules, system: &str) -> Result<(), Messages> {
    let names = rules.facts.iter().map(|fact| &fact.name).chain(rules.lists.iter().map(|list| &list.name));
    let known: BTreeSet<&str> = names.filter_map(|name| name.split('.').next()).collect();
    if known.contains(system) {
        return Ok(());
    }
    let message =
        Diagnostic::error("system::unknown", format!("no question begins with `{system}` (given by --system)"));
    Err(Messages::one(match nearest(system, known.iter().copied()) {
        Some(near) => message.help(format!("did you mean `{near}`?")),
        None => message.help(format!("they begin with {}", known.into_iter().collect::<Vec<_>>().join(", "))),
    }))
}
