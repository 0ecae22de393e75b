//! `cotterpin try`: runs the worked examples of a pack.

use super::args::{Format, TryArgs};
use super::load::with_built_in;
use super::messages::Messages;
use super::{Done, Status, width};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::read_pack;
use cotterpin_engine::ir::Rules;
use cotterpin_engine::lint::{self, ExampleResult};
use cotterpin_engine::report::{self, Page};
use cotterpin_engine::rules;
use cotterpin_packs as packs;
use cotterpin_packs::LIBRARY;
use std::path::Path;

/// Ends with status 0 when every example came out as written, 1 when one did
/// not, 3 when there was none to run.
pub(super) fn try_pack(args: &TryArgs, warn: &mut dyn FnMut(&Messages)) -> Done {
    let pack = read_pack(&args.folder).map_err(Messages::one)?;
    let name = pack.name.clone();
    let rules = load(pack)?;
    let mut warnings = Messages::default();
    warnings.add(&rules.sources, rules.warnings.clone());
    warn(&warnings);
    let results: Vec<ExampleResult> = lint::run_examples(&rules)
        .into_iter()
        .filter(|result| Path::new(&rules.sources.place(result.place).file).starts_with(&name))
        .collect();
    if results.is_empty() {
        let message = Diagnostic::error("pack::untried", format!("pack `{name}` has no worked example"));
        return Err(Messages::one(
            message.help("give each item one example that meets it and one that fails it: try \"...\" ... => met"),
        ));
    }
    let wrong = results.iter().any(|result| result.got != result.expected);
    let status = if wrong { Status::Unmet } else { Status::Settled };
    let text = match args.format {
        Format::Text => shown(&name, &rules, &results),
        Format::Json => {
            // It stands on top of those it builds on.
            let name = rules.packs.iter().last().map_or("", |pack| pack.name.as_str());
            report::try_json(&rules, name, &results, &warnings.as_data())
        }
    };
    Ok((text, status))
}

pub(super) fn load(pack: packs::PackText) -> Result<Rules, Messages> {
    let known = packs::built_in_names();
    let built_in: Vec<String> = pack.uses().into_iter().filter(|name| known.contains(&name.as_str())).collect();
    let mut messages = Messages::default();
    let Some(packs) = with_built_in(&built_in, vec![pack], &mut messages) else {
        return Err(messages);
    };
    rules::load_packs(&LIBRARY, &packs).map_err(|failed| {
        let (sources, found) = *failed;
        messages.add(&sources, found);
        messages
    })
}

fn shown(name: &str, rules: &Rules, results: &[ExampleResult]) -> String {
    let mut page = Page::new(width());
    let wrong: Vec<&ExampleResult> = results.iter().filter(|result| result.got != result.expected).collect();
    for result in &wrong {
        page.gap();
        let place = rules.sources.place(result.place);
        let (got, expected) = (result.got.word(), result.expected.word());
        page.hanging(0, 4, &format!("{}, example \"{}\" ({place}).", result.item, result.example));
        page.line(4, &format!("It was to be {expected}; it came out {got}."));
        for reason in &result.because {
            page.hanging(4, 8, &format!("Decided by: {}", reason.expression));
            for value in reason.leaves().into_iter().flat_map(|leaf| &leaf.values) {
                page.line(8, &format!("{}: {}", value.name, report::value(&value.value)));
            }
        }
    }
    for row in report::pack_rows(rules).iter().filter(|row| row.name == name) {
        page.gap();
        for item in &row.untried {
            page.hanging(0, 4, &format!("Untried: {item} lacks an example that meets it or one that fails it."));
        }
    }
    page.gap();
    let agreed = results.len().saturating_sub(wrong.len());
    page.line(0, &format!("Pack {name}: {agreed} of {} examples came out as written.", results.len()));
    page.finish()
}
