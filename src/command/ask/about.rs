//! What `--about` names: the questions and words of a system, a list, a fact or an item.

use super::Messages;
use cotterpin_engine::audit::Audit;
use cotterpin_engine::diagnostic::{Diagnostic, nearest};
use cotterpin_engine::ir::Rules;
use std::collections::BTreeSet;

/// A name, or the first words of one; where none begins so, words in the middle of one.
pub(super) struct About<'a> {
    words: &'a str,
    /// Names begin so.
    begins: bool,
}

impl<'a> About<'a> {
    /// The name, if there is anything that it may mean.
    pub(super) fn of(rules: &Rules, name: &'a str) -> Result<Self, Messages> {
        let asked = rules.facts.iter().map(|fact| &*fact.name).chain(rules.lists.iter().map(|list| &*list.name));
        let items = rules.items.iter().map(|item| &*item.name);
        let names: BTreeSet<&str> = asked.chain(items).collect();
        let full = || rules.items.iter().any(|item| rules.full_name(item) == name);
        let about = Self { words: name, begins: true };
        if names.iter().any(|known| about.names(known)) || full() {
            return Ok(about);
        }
        let about = Self { words: name, begins: false };
        if names.iter().any(|known| about.names(known)) {
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

    /// Whether a name is this one, or begins with it, or has it among its words.
    fn names(&self, name: &str) -> bool {
        let follows = |rest: &str| rest.is_empty() || rest.starts_with(['.', '[']);
        if self.begins {
            return name.strip_prefix(self.words).is_some_and(follows);
        }
        let hyphenated = |text: &str| text.to_lowercase().replace(['_', '.', '[', ' '], "-");
        let (name, words) = (hyphenated(name), hyphenated(self.words));
        let words = words.trim_matches('-');
        !words.is_empty() && format!("-{name}-").contains(&format!("-{words}-"))
    }

    /// Whether an item is meant, by its name with its pack's or without.
    pub(super) fn is_item(&self, item: &str) -> bool {
        let name = item.rsplit_once('/').map_or(item, |(_, name)| name);
        self.names(name) || item == self.words
    }

    /// What is asked about it: what it names, and what the items that it names wait for.
    pub(super) fn asked<'f>(&self, audit: &'f Audit) -> BTreeSet<&'f str> {
        let findings = audit.findings.iter().filter(|finding| self.is_item(&finding.item));
        let waited_for = findings.flat_map(|finding| &finding.missing).map(|missing| missing.fact.as_str());
        let own = audit.questions.iter().map(|question| question.fact.as_str()).filter(|name| self.names(name));
        waited_for.chain(own).collect()
    }
}
