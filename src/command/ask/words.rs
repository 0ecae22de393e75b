//! A person's word about an item: asked of the one who answers, and of nobody else.

use super::Next;
use super::dialogue::Dialogue;
use super::whole::{Said, yes_or_no};
use crate::command::messages::Messages;
use crate::command::recording::{Project, Speaker, Word, confirmed, roles_asked};
use crate::command::width;
use cotterpin_engine::audit::{Audit, Finding, MissingKind};
use cotterpin_engine::ir::Item;
use cotterpin_engine::report::Page;
use cotterpin_engine::vocabulary::Verdict;

/// A word that is wanted.
#[derive(Clone)]
pub(super) struct Wanted {
    /// The item's full name.
    item: String,
    /// The record it is about.
    of: Option<String>,
    /// The role in which the one who answers can say it; nothing where it is somebody else's to say.
    role: Option<String>,
}

impl Wanted {
    /// The name under which it was asked.
    pub(super) fn key(&self) -> String {
        self.of.as_ref().map_or_else(|| self.item.clone(), |of| format!("{} of {of}", self.item))
    }

    /// Whether it is for the one who answers to say.
    pub(super) fn is_own(&self) -> bool {
        self.role.is_some()
    }

    /// The item's full name.
    pub(super) fn item(&self) -> &str {
        &self.item
    }
}

/// The words that open findings wait for.
pub(super) fn wanted(project: &Project, audit: &Audit, who: &Speaker) -> Vec<Wanted> {
    let waits = |finding: &&Finding| {
        finding.verdict == Verdict::NotShown
            && finding.missing.iter().any(|missing| missing.kind == MissingKind::Confirmation)
    };
    let wanted = audit.findings.iter().filter(waits).filter_map(|finding| {
        let item = item_of(project, &finding.item)?;
        let asked = roles_asked(&project.rules, item);
        let role = who.person.roles.iter().find(|role| asked.is_empty() || asked.contains(role));
        Some(Wanted { item: finding.item.clone(), of: finding.subject.clone(), role: role.cloned() })
    });
    wanted.collect()
}

fn item_of<'p>(project: &'p Project, name: &str) -> Option<&'p Item> {
    let items = project.rules.find_items(name).into_iter().filter_map(|id| project.rules.item(id));
    items.into_iter().find(|item| item.confirm)
}

/// Asks for one word.
pub(super) fn ask(
    project: &mut Project,
    talk: &mut Dialogue<'_>,
    number: usize,
    (wanted, who): (&Wanted, &Speaker),
) -> Result<Next, Messages> {
    let (Some(item), Some(role)) = (item_of(project, &wanted.item), wanted.role.clone()) else {
        return Ok(Next::Skipped);
    };
    let mut page = Page::new(width());
    let lead = format!("{number}. ");
    let question = item.ask.as_deref().unwrap_or(&item.title);
    page.hanging(0, lead.len(), &format!("{lead}{question}"));
    let of = wanted.of.as_ref().map_or_else(String::new, |of| format!(" of {of}"));
    page.hanging(lead.len(), lead.len(), &format!("{}{of}: the word of {}, yes or no", wanted.item, who.person.name));
    talk.say(&format!("\n{}", page.finish()));
    let holds = match yes_or_no(talk) {
        Said::Yes => true,
        Said::No => false,
        Said::Nothing => return Ok(Next::Skipped),
        Said::Back => return Ok(Next::Back),
        Said::Stop => return Ok(Next::Stop),
    };
    let word = Word {
        item: &wanted.item,
        of: wanted.of.as_deref(),
        who: &who.short,
        role: &role,
        on: None,
        holds,
        note: None,
    };
    let at = match confirmed(project, &word) {
        Ok(at) => at,
        // It stays open, and the others can be asked.
        Err(messages) => {
            talk.say(&messages.of_writing().shown(false));
            return Ok(Next::Skipped);
        }
    };
    let said = if holds { "it is so" } else { "it is not so" };
    talk.say(&format!("Written to {}, line {}: {} says that {said}.\n", at.file, at.line, who.short));
    Ok(Next::Answered)
}
