//! What `--about` names: the questions and words of a system, a list, a fact or an item.

use super::Messages;
use cotterpin_engine::audit::Audit;
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::ir::Rules;
use std::collections::BTreeSet;

/// A name, or the first words of one.
pub(super) struct About<'a>(&'a str);

impl<'a> About<'a> {
    /// The name, if there is anything that it may mean.
    pub(super) fn of(rules: &Rules, name: &'a str) -> Result<Self, Messages> {
        let asked = rules.facts.iter().map(|fact| &*fact.name).chain(rules.lists.iter().map(|list| &*list.name));
        let items = rules.items.iter().map(|item| &*item.name);
        let names: BTreeSet<&str> = asked.chain(items).collect();
        let about = Self(name);
        let full = || rules.items.iter().any(|item| rules.full_name(item) == name);
        if names.iter().any(|known| about.begins(known)) || full() {
            return Ok(about);
        }
        let first: BTreeSet<&str> = names.iter().filter_map(|known| known.split('.').next()).collect();
        let message = Diagnostic::error("ask::about", format!("nothing is asked about `{name}` (given by --about)"));
        Err(Messages::one(match nearest(name, names.iter().chain(&first).copied()) {
            Some(near) => message.help(format!("did you mean `{near}`?")),
            None => {
                message.help(format!("what is asked begins with {}", first.into_iter().collect::<Vec<_>>().join(", ")))
            }
        }))
    }

    /// Whether a name is this one, or begins with it.
    fn begins(&self, name: &str) -> bool {
        name.strip_prefix(self.0).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
    }

    /// Whether an item is meant, by its name with its pack's or without.
    pub(super) fn is_item(&self, item: &str) -> bool {
        let name = item.rsplit_once('/').map_or(item, |(_, name)| name);
        self.begins(name) || item == self.0
    }

    /// What is asked about it: what it names, and what the items that it names wait for.
    pub(super) fn asked<'f>(&self, audit: &'f Audit) -> BTreeSet<&'f str> {
        let findings = audit.findings.iter().filter(|finding| self.is_item(&finding.item));
        let waited_for = findings.flat_map(|finding| &finding.missing).map(|missing| missing.fact.as_str());
        let own = audit.questions.iter().map(|question| question.fact.as_str()).filter(|name| self.begins(name));
        waited_for.chain(own).collect()
    }
}
