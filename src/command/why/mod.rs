//! `cotterpin why`: one item's whole reasoning, or what a fact or a part comes to.

mod reads;

use super::args::{Format, WhyArgs};
use super::audit::{day_to_judge, judge, judge_due};
use super::load::{Loaded, load};
use super::messages::Messages;
use super::{Done, Status, width};
use cotterpin_engine::audit::{Audit, Finding, REMINDER, REMOVED};
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::project::whole::LOG;
use cotterpin_engine::quantity::Date;
use cotterpin_engine::report::{self, Page};
use cotterpin_engine::vocabulary::Verdict;

/// Ends with status 0 when the reasoning was shown, whatever the verdict: it
/// answers a question about one item and judges no project.
pub(super) fn why(args: &WhyArgs, warn: &mut dyn FnMut(&Messages)) -> Done {
    let loaded = load(&args.project)?;
    warn(&loaded.warnings);
    let number = args.item.parse::<usize>().ok();
    let on = day_to_judge(args.on)?;
    // A number is of what the audit looks at; a name may be of anything.
    let audit = match number {
        Some(_) => judge_due(&loaded, Some(on), args.by.as_deref())?,
        None => judge(&loaded, Some(on), None)?,
    };
    let findings: Vec<&Finding> = match number {
        Some(number) => numbered(&audit, number)?,
        None => match named(&loaded, (&audit, on), &args.item, args.format == Format::Text)? {
            Named::These(findings) => findings,
            Named::Another(told) => return Ok((told, Status::Settled)),
            Named::OneOf(items) => return Ok((several(&audit, &args.item, &items), Status::Settled)),
        },
    };
    let text = match args.format {
        Format::Text => report::why(&audit, &findings, width()),
        Format::Json => report::why_json(&audit, &args.item, &findings, &loaded.warnings.as_data()),
    };
    Ok((text, Status::Settled))
}

/// The findings that `cotterpin audit` shows under a number.
fn numbered(audit: &Audit, number: usize) -> Result<Vec<&Finding>, Messages> {
    let findings = report::findings_numbered(audit, number);
    if findings.is_empty() {
        let message = format!("the audit of {} has no finding with the number {number}", audit.on);
        let help = "`cotterpin audit` numbers what is open; what is settled has no number any more";
        return Err(Messages::one(Diagnostic::error("item::number", message).help(help)));
    }
    Ok(findings)
}

/// What a name stands for.
enum Named<'a> {
    These(Vec<&'a Finding>),
    /// No item, but a fact or a part: what that comes to.
    Another(String),
    /// The full names of items, one of which may be meant.
    OneOf(Vec<String>),
}

/// A person sees which one was taken for a name that is nearly right; a program does not look.
fn named<'a>(loaded: &Loaded, (audit, on): (&'a Audit, Date), item: &str, nearly: bool) -> Result<Named<'a>, Messages> {
    let names = match full_names(loaded, item) {
        Ok(names) => names,
        Err(unknown) if !nearly => return Err(unknown),
        Err(unknown) => {
            if let Some(told) = reads::told(loaded, (audit, on), item) {
                return Ok(Named::Another(told));
            }
            let alike = alike(loaded, item);
            match alike.as_slice() {
                [] => return Err(unknown),
                [_] => alike,
                _ => return Ok(Named::OneOf(alike)),
            }
        }
    };
    let findings: Vec<&Finding> = audit.findings.iter().filter(|finding| names.contains(&finding.item)).collect();
    if findings.is_empty() {
        let item = names.first().map_or(item, String::as_str);
        return Err(Messages::one(not_judged(loaded, item, &audit.on)));
    }
    Ok(Named::These(findings))
}

/// The items whose name begins or ends with these words, or else the one whose name is nearly this.
fn alike(loaded: &Loaded, item: &str) -> Vec<String> {
    let rules = loaded.rules();
    let (begins, ends) = (format!("{item}."), format!(".{item}"));
    let mut found: Vec<String> = Vec::new();
    for known in rules.items.iter().filter(|known| known.name.starts_with(&begins) || known.name.ends_with(&ends)) {
        let full = rules.full_name(known);
        if !found.contains(&full) {
            found.push(full);
        }
    }
    if !found.is_empty() {
        return found;
    }
    let full: Vec<String> = rules.items.iter().map(|known| rules.full_name(known)).collect();
    let short = rules.items.iter().map(|known| known.name.as_str());
    let near = nearest(item, full.iter().map(String::as_str).chain(short));
    let mut found: Vec<String> = near
        .map(|near| rules.find_items(near))
        .into_iter()
        .flatten()
        .filter_map(|id| rules.item(id))
        .map(|known| rules.full_name(known))
        .collect();
    found.dedup();
    found
}

/// The findings of items with their verdicts, what is open first.
fn several(audit: &Audit, item: &str, items: &[String]) -> String {
    let mut page = Page::new(width());
    page.line(0, &format!("Several items are of `{item}`. Ask for one of them by its name:"));
    verdicts(audit.findings.iter().filter(|finding| items.contains(&finding.item)).collect(), &mut page);
    page.finish()
}

/// The verdicts of findings, what is open first, each item once for each; and who has the final say.
fn verdicts(mut found: Vec<&Finding>, page: &mut Page) {
    found.sort_by_key(|finding| finding.verdict);
    let mut told: Vec<(&str, Verdict)> = Vec::new();
    for finding in found {
        let key = (finding.item.as_str(), finding.verdict);
        if !told.contains(&key) {
            told.push(key);
            page.labelled(2, 16, report::verdict(finding.verdict), &format!("{}  {}", finding.item, finding.title));
        }
    }
    page.gap();
    page.line(0, REMINDER);
}

/// Why nothing is said of an item, or of a list.
fn not_judged(loaded: &Loaded, item: &str, on: &str) -> Diagnostic {
    let rules = loaded.rules();
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
    name == LOG || loaded.rules().list_by_name.contains_key(name)
}

/// The full names that were meant; several packs may know the same short one.
fn full_names(loaded: &Loaded, item: &str) -> Result<Vec<String>, Messages> {
    let rules = loaded.rules();
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
        None => message.help("`cotterpin audit --full` names every item"),
    }))
}
