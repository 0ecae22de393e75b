//! What writing something changed in the audit, in a few lines: what is worse first.

use super::phrases;
use super::wrap::Page;
use crate::history::{Change, Changes, Class};
use crate::vocabulary::Verdict;

/// At most so many findings are named, and the others counted.
const MOST: usize = 10;

const INDENT: usize = 2;
const COLUMN: usize = 16;

/// The findings that have another verdict now, no line wider than `width` characters (at least 40).
#[must_use]
pub fn changed_text(changes: &Changes, width: usize) -> String {
    let mut page = Page::new(width);
    let (mut named, new, gone) = sorted(changes);
    // A few are worth their names; a question of what kind of aircraft it is asks for dozens, or drops them.
    let asked = or_counted(&mut named, new);
    let dropped = or_counted(&mut named, gone);
    if named.is_empty() && asked == 0 && dropped == 0 {
        page.line(0, "No finding changed.");
        return page.finish();
    }
    if !named.is_empty() {
        page.line(0, "In the audit:");
    }
    for change in named.iter().take(MOST) {
        let now = change.now.map_or(if is_of_list(change) { "settled" } else { "gone" }, phrases::verdict_within);
        let subject = change.subject.as_ref().map_or_else(String::new, |subject| format!(" of {subject}"));
        let was = change.was.map_or_else(String::new, |was| format!(", was {}", phrases::verdict_within(was)));
        let title = match change.title.trim_end_matches('.') {
            "" => "Somebody has to say that it is all there is",
            title => title,
        };
        let text = format!("{title} ({}{subject}{was})", change.item);
        page.labelled(INDENT, COLUMN, now, &text);
    }
    let more = named.get(MOST..).unwrap_or(&[]);
    let count = |verdict: Verdict| more.iter().filter(|change| change.now == Some(verdict)).count();
    if !more.is_empty() {
        let each = [Verdict::Unmet, Verdict::NotShown, Verdict::Conceded, Verdict::Met];
        let each = each.map(|verdict| (count(verdict), phrases::verdict_within(verdict)));
        let each: Vec<String> =
            each.into_iter().filter(|(n, _)| *n > 0).map(|(n, word)| format!("{n} {word}")).collect();
        page.hanging(INDENT, INDENT, &format!("and {} more: {}.", more.len(), each.join(", ")));
    }
    if asked > 0 {
        page.line(
            INDENT,
            &format!("{} now, and nothing shows them yet.", counted(asked, "more is asked", "more are asked")),
        );
    }
    if dropped > 0 {
        let text = counted(dropped, "does not concern this aircraft now", "do not concern this aircraft now");
        page.line(INDENT, &format!("{text}."));
    }
    page.finish()
}

/// The findings to name, what is worse first; those that are asked and were not, and are open; and those that are
/// asked no more.
fn sorted(changes: &Changes) -> (Vec<&Change>, Vec<&Change>, Vec<&Change>) {
    let away = |verdict: Option<Verdict>| matches!(verdict, None | Some(Verdict::NotApplicable | Verdict::SetAside));
    let (mut named, mut asked, mut dropped) = (Vec::new(), Vec::new(), Vec::new());
    for change in changes.findings.iter().filter(|change| change.was != change.now) {
        match (away(change.was), away(change.now)) {
            (true, true) => {}
            (true, false) if change.now == Some(Verdict::NotShown) => asked.push(change),
            (false, true) if is_of_list(change) => named.push(change),
            // What held and is not asked any more is worth a word.
            (false, true) if change.was != Some(Verdict::Met) => dropped.push(change),
            _ => named.push(change),
        }
    }
    named.sort_by_key(|change| (change.class != Class::Worse, change.now, !change.stops_the_visit));
    (named, asked, dropped)
}

/// Puts a few with those to name, and counts many.
fn or_counted<'a>(named: &mut Vec<&'a Change>, some: Vec<&'a Change>) -> usize {
    if named.len().saturating_add(some.len()) > MOST {
        return some.len();
    }
    named.extend(some);
    0
}

/// Whether it asks for the word that a list, or the log, is whole: no item has a name without its pack's.
fn is_of_list(change: &Change) -> bool {
    !change.item.contains('/')
}

fn counted(n: usize, one: &str, many: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {many}") }
}
