//! The names the packs know, and what to say to one they do not.

use super::elsewhere::Elsewhere;
use crate::diagnostic::{did_you_mean, near_sibling, nearest};
use crate::ir::{Fact, FactId, List, ListId, Rules};
use crate::source::SharedText;
use std::cell::OnceCell;
use std::collections::BTreeSet;

/// What a dotted name may be; more than one at once.
#[derive(Clone, Copy)]
pub(super) struct NameUse<'r> {
    pub(super) fact: Option<(FactId, &'r Fact)>,
    pub(super) list: Option<(ListId, &'r List)>,
}

impl NameUse<'_> {
    /// Whether it is neither a fact nor a list.
    pub(super) fn nothing(self) -> bool {
        self.fact.is_none() && self.list.is_none()
    }
}

/// What to say to a name that is none of those the packs know; they are told after `lead`.
pub(super) fn nearest_or_all(name: &str, known: &[&str], lead: &str) -> String {
    did_you_mean(name, known.iter().copied()).unwrap_or_else(|| match known {
        [] => "the packs know none".to_owned(),
        known => format!("{lead} {}", known.join(", ")),
    })
}

/// Every name of a set of packs.
pub(super) struct Names<'r> {
    rules: &'r Rules,
    /// Gathered once somebody asks for one.
    groups: OnceCell<BTreeSet<&'r str>>,
    /// The same.
    elsewhere: OnceCell<Elsewhere>,
}

impl<'r> Names<'r> {
    pub(super) fn new(rules: &'r Rules) -> Self {
        Self { rules, groups: OnceCell::new(), elsewhere: OnceCell::new() }
    }

    fn gathered(&self) -> &BTreeSet<&'r str> {
        self.groups.get_or_init(|| {
            let parts = self.rules.subjects.iter().map(|part| part.name.as_str());
            let recorded = self.rules.fact_by_name.keys().chain(self.rules.list_by_name.keys());
            let above = |name: &'r str| name.match_indices('.').filter_map(|(at, _)| name.get(..at));
            // Gathered in one go: most of them come in order.
            recorded.map(SharedText::as_str).chain(parts.clone()).flat_map(above).chain(parts).collect()
        })
    }

    /// What the name is.
    pub(super) fn find(&self, name: &str) -> NameUse<'r> {
        let fact = self.rules.fact_by_name.get(name).and_then(|id| Some((*id, self.rules.fact(*id)?)));
        let list = self.rules.list_by_name.get(name).and_then(|id| Some((*id, self.rules.list(*id)?)));
        NameUse { fact, list }
    }

    /// Whether other names begin with it, or it is a part that can be inspected.
    pub(super) fn is_group(&self, name: &str) -> bool {
        self.gathered().contains(name)
    }

    /// What is unknown about a name, and what to do. A table can only have
    /// been meant for a group or a list.
    pub(super) fn unknown(&self, name: &str, is_table: bool) -> (String, String) {
        if name.is_empty() {
            let help = "write the name of a fact of the packs before the `=`";
            return ("what is recorded here has no name".to_owned(), help.to_owned());
        }
        if let [first, more @ ..] = self.elsewhere.get_or_init(|| Elsewhere::of(self.rules)).knows(name).as_slice() {
            let packs = more.iter().fold(format!("`{first}`"), |packs, pack| format!("{packs} or `{pack}`"));
            let what = if is_table { "group of facts" } else { "fact" };
            let message = format!("none of the packs in use knows a {what} `{name}`");
            let help = format!("it belongs to the built-in pack {packs}: name that in project.toml, or take this out");
            return (message, help);
        }
        if let Some(full) = self.shared(name) {
            let message = format!("`{name}` is a name in more than one pack");
            let help = format!("say of which: {}", full.join(" or "));
            return (message, help);
        }
        if is_table {
            let near = near(name, &self.groups().chain(self.lists()).collect::<Vec<_>>());
            let message = format!("no pack knows a group of facts `{name}`");
            let help = near.map_or_else(
                || "nothing in it was read; look the name up among the facts of the packs".to_owned(),
                |near| format!("did you mean `{near}`? nothing under `{name}` was read"),
            );
            return (message, help);
        }
        let near = near(name, &self.facts().chain(self.lists()).chain(self.groups()).collect::<Vec<_>>());
        let help = near.or_else(|| self.same_ending(name)).map_or_else(
            || "look the name up among the facts of the packs".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        (format!("no pack knows a fact `{name}`"), help)
    }

    /// How the builder writes a name, or what is in a group, that several packs have.
    fn shared(&self, name: &str) -> Option<Vec<String>> {
        let in_it = |full: &&str| {
            let Some((_, own)) = full.split_once('/') else { return false };
            own == name || own.strip_prefix(name).is_some_and(|rest| rest.starts_with('.'))
        };
        let full: BTreeSet<&str> = self.facts().chain(self.lists()).filter(in_it).collect();
        let written = |full: &&str| {
            let (pack, own) = full.split_once('/').unwrap_or(("", full));
            let (first, rest) = own.split_once('.').map_or((own, ""), |(first, rest)| (first, rest));
            if rest.is_empty() { format!("\"{pack}/{first}\"") } else { format!("\"{pack}/{first}\".{rest}") }
        };
        (!full.is_empty()).then(|| full.iter().map(written).collect())
    }

    /// The first few names inside a group, for a message.
    pub(super) fn inside(&self, group: &str) -> String {
        let inside = |name: &&str| name.strip_prefix(group).is_some_and(|rest| rest.starts_with('.'));
        let mut names: Vec<&str> = self.facts().chain(self.lists()).filter(inside).collect();
        names.sort_unstable();
        let more = if names.len() > 3 { ", ..." } else { "" };
        let few: Vec<String> = names.iter().take(3).map(|name| format!("`{name}`")).collect();
        format!("{}{more}", few.join(", "))
    }

    fn facts(&self) -> impl Iterator<Item = &'r str> {
        self.rules.fact_by_name.keys().map(SharedText::as_str)
    }

    fn groups(&self) -> impl Iterator<Item = &'r str> {
        self.gathered().iter().copied()
    }

    fn lists(&self) -> impl Iterator<Item = &'r str> {
        self.rules.list_by_name.keys().map(SharedText::as_str)
    }

    /// The only fact elsewhere with the same last word.
    fn same_ending(&self, name: &str) -> Option<&'r str> {
        let last = name.rsplit('.').next();
        let mut hits = self.facts().filter(|fact| fact.rsplit('.').next() == last);
        let first = hits.next();
        if hits.next().is_some() { None } else { first }
    }
}

/// The nearest of the known names. Those in the same group come first: it is
/// the last word then that was mistyped.
fn near<'r>(name: &str, known: &[&'r str]) -> Option<&'r str> {
    let known = || known.iter().copied();
    near_sibling(name, known()).or_else(|| nearest(name, known()))
}
