//! A record as it is gathered: from the builder's files, and from what a program
//! states afterwards. Both go through the same reader; what a program states is a
//! short text of its own, which overrides what the files say of the same fact or list.

use super::Record;
use super::country;
use super::finished::{Finished, finish};
use super::header::{Header, PROJECT, read_header};
use super::header_checks;
use super::job::JOB;
use super::keys::log::{LOG, SNAG};
use super::keys::whole::WHOLE;
use super::log::{DERIVED_LISTS, kept};
use super::read_before::{Before, PlainLogs, TakenOver};
use super::rows::twice;
use super::text::{FileText, Page, parse};
use super::unread::Unread;
use super::walk::Walk;
use crate::diagnostic::{Diagnostic, did_you_mean};
use crate::ir::{ENTRIES, FactId, ListId, Rules};
use crate::source::{SourceId, Sources};
use std::collections::{BTreeMap, BTreeSet};

/// What a program states is shown in places as a file of this folder.
const BY_PROGRAM: &str = "program";

/// What the statement of a list ends in that has no record.
pub const NO_RECORD: &str = " = []\n";

/// A record that can still be added to.
#[derive(Debug, Clone)]
pub struct Draft {
    header: Header,
    /// All files of the project, among which evidence is looked for.
    paths: Vec<String>,
    /// The builder's files.
    files: Vec<SourceId>,
    /// What a program stated, by name, in the order in which it began to.
    own: Vec<Own>,
    /// Facts and lists of the builder's files that a program took out.
    unset: BTreeSet<String>,
    /// What was said of it when a program changed it last.
    of_header: Vec<Diagnostic>,
    /// What has been gathered; what only all of it together tells is not in it yet.
    record: Record,
    unread: Unread,
}

/// What a program stated under one name.
#[derive(Debug, Clone)]
struct Own {
    name: String,
    source: SourceId,
    /// Whether its records come after those of the builder's files, not in their place.
    adds: bool,
}

/// How a statement stands to what was stated before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// In its place.
    Instead,
    /// After it.
    After,
}

/// Why a statement was not taken: what is wrong, and the texts it points into.
pub type Refused = Box<(Sources, Vec<Diagnostic>)>;

impl Draft {
    /// Gathers the builder's files; see [`read`](super::read()).
    pub fn new(
        files: &[FileText],
        paths: &[String],
        header: &Header,
        rules: &Rules,
        sources: Sources,
    ) -> (Self, Vec<Diagnostic>) {
        let (draft, messages, _) = Self::after(files, paths, header, rules, (sources, None, 1));
        (draft, messages)
    }

    /// The same where some of the logs are known from a reading before, and have not changed; with the logs that can be
    /// taken over from this one.
    pub(super) fn after(
        files: &[FileText],
        paths: &[String],
        header: &Header,
        rules: &Rules,
        (sources, before, workers): (Sources, Option<Before>, usize),
    ) -> (Self, Vec<Diagnostic>, PlainLogs) {
        let mut files: Vec<&FileText> = files.iter().filter(|file| file.name != PROJECT).collect();
        files.sort_by(|a, b| (&a.name, &a.bytes).cmp(&(&b.name, &b.bytes)));
        let mut walk = Walk::new(rules, paths);
        walk.record.sources = sources;
        walk.messages.extend(header_checks::take_over(header, rules, &mut walk.record));
        let (mut own, mut logs, mut taken_over) = (Vec::new(), PlainLogs::default(), TakenOver::default());
        let mut before = before.unwrap_or_default();
        let (mut texts, mut names) = (Vec::new(), BTreeMap::new());
        for file in files {
            let source = walk.record.sources.next();
            own.push(source);
            names.insert(source, file.name.as_str());
            let known = before.logs.remove(&file.name);
            if let Some((known, text)) = known.and_then(|known| Some((known, before.record.sources.file(known)?))) {
                walk.record.sources.add(file.name.clone(), text.text.clone());
                taken_over.add(known, source);
                logs.add(&file.name, source);
            } else {
                texts.extend(walk.added(file));
            }
        }
        for source in walk.texts(&texts, workers) {
            names.get(&source).into_iter().for_each(|name| logs.add(name, source));
        }
        taken_over.put_into(&mut walk.record, before.record);
        country::take_over(header, rules, &mut walk.record);
        let Walk { record, messages, unread, .. } = walk;
        let (header, paths) = (header.clone(), paths.to_vec());
        let draft = Self {
            header,
            paths,
            files: own,
            own: Vec::new(),
            unset: BTreeSet::new(),
            of_header: Vec::new(),
            record,
            unread,
        };
        (draft, messages, logs)
    }

    /// The record with what only all of it together tells, and what is to be said of that.
    #[must_use]
    pub fn finished(&self, rules: &Rules) -> (Record, Vec<Diagnostic>) {
        let Finished { record, mut messages, .. } =
            finish(self.record.clone(), &self.paths, &self.header, rules, &self.unread);
        messages.extend(self.of_header.iter().cloned());
        if self.header.name.trim().is_empty() {
            let message = Diagnostic::warning("project::no-name", "the project has no name");
            messages.push(message.help("give it one, as reports shall call it"));
        }
        (record, messages)
    }

    /// The same for good.
    pub(super) fn into_finished(self, rules: &Rules, paths: &[String]) -> Finished {
        finish(self.record, paths, &self.header, rules, &self.unread)
    }

    /// What has been gathered so far; nothing of it is judged.
    #[must_use]
    pub fn record(&self) -> &Record {
        &self.record
    }

    /// What `project.toml` says, with what a program changed.
    #[must_use]
    pub fn header(&self) -> &Header {
        &self.header
    }

    /// Takes a statement in: a short TOML text about one fact, one list, or entries
    /// of one kind; `name` is that of what it is about. Warnings are given back.
    ///
    /// # Errors
    /// What is wrong with it; the draft is then as it was.
    pub fn state(&mut self, rules: &Rules, name: &str, text: &str, stands: Stands) -> Result<Vec<Diagnostic>, Refused> {
        if stands == Stands::Instead && is_entry(name) {
            let message = Diagnostic::error("record::form", format!("`{name}` is no fact and no list"));
            let help = format!("add its entries one by one; unset `{name}` takes back those that a program added");
            return Err(Box::new((self.record.sources.clone(), vec![message.help(help)])));
        }
        let known = self.own.iter().position(|own| own.name == name);
        let before = known.and_then(|at| self.own.get(at)).map(|own| own.source);
        let mut sources = std::mem::take(&mut self.record.sources);
        let old = before.and_then(|id| sources.file(id)).map(|file| file.text.clone());
        // A list that was said to have no record is written in one piece.
        let stands = if old.as_ref().is_some_and(|old| old.ends_with(NO_RECORD)) { Stands::Instead } else { stands };
        let begins = match (&old, stands) {
            (Some(old), Stands::After) => old.len(),
            _ => 0,
        };
        let whole = match &old {
            Some(old) if begins > 0 => format!("{old}{text}"),
            _ => text.to_owned(),
        };
        let source = match before {
            Some(source) => {
                sources.renew(source, whole);
                source
            }
            None => sources.add(format!("{BY_PROGRAM}/{name}"), whole),
        };
        let (delta, mut messages) = self.walked(rules, &parse(source, begins, text), sources);
        let added = delta.lists.iter().filter(|_| stands == Stands::After);
        let known_rows = |id: &ListId| self.record.lists.get(id).map_or(&[][..], |rows| rows.rows.as_slice());
        messages.extend(added.filter_map(|(id, rows)| twice(rules.list(*id)?, known_rows(id), &rows.rows)));
        let Record { sources, .. } = &delta;
        if messages.iter().any(Diagnostic::is_error) {
            let refused = Box::new((sources.clone(), messages));
            let mut sources = delta.sources;
            match (before, old) {
                (Some(source), Some(old)) => sources.renew(source, old),
                _ => sources.forget_last(),
            }
            self.record.sources = sources;
            return Err(refused);
        }
        if stands == Stands::Instead {
            self.record.evidence.retain(|evidence| Some(evidence.place.source) != before);
            self.record.forget_not_taken_in(name);
        }
        match known.and_then(|at| self.own.get_mut(at)) {
            Some(own) => own.adds &= stands == Stands::After,
            None => self.own.push(Own { name: name.to_owned(), source, adds: stands == Stands::After }),
        }
        self.merge(rules, delta, stands);
        Ok(messages)
    }

    /// A statement read by itself, against people and parts that are known.
    fn walked(
        &self,
        rules: &Rules,
        (page, said): &(Option<Page<'_>>, Vec<Diagnostic>),
        sources: Sources,
    ) -> (Record, Vec<Diagnostic>) {
        let mut walk = Walk::new(rules, &self.paths);
        walk.record.sources = sources;
        walk.record.people.clone_from(&self.record.people);
        walk.record.parts.clone_from(&self.record.parts);
        walk.messages.extend(said.iter().cloned());
        if let Some(page) = page {
            walk.page(page);
        }
        (walk.record, walk.messages)
    }

    fn merge(&mut self, rules: &Rules, delta: Record, stands: Stands) {
        let record = &mut self.record;
        record.sources = delta.sources;
        for (id, recorded) in delta.facts {
            // What showed another value does not show this one.
            rules.fact(id).into_iter().for_each(|fact| shown_no_more(record, &fact.name));
            record.facts.insert(id, recorded);
        }
        for (id, rows) in delta.lists {
            match record.lists.get_mut(&id) {
                Some(known) if stands == Stands::After => known.rows.extend(rows.rows),
                _ => {
                    rules.list(id).into_iter().for_each(|list| shown_no_more(record, &list.name));
                    record.lists.insert(id, rows);
                }
            }
        }
        record.whole.extend(delta.whole);
        record.whole_log = delta.whole_log.or(record.whole_log.take());
        record.evidence.extend(delta.evidence);
        record.confirmations.extend(delta.confirmations);
        record.concessions.extend(delta.concessions);
        record.deferrals.extend(delta.deferrals);
        record.log.extend(delta.log);
        record.jobs.extend(delta.jobs);
    }

    /// Makes a fact or a list unrecorded, with what shows it and the word that the list is whole. Of entries, such as
    /// `log` or `confirmed`, and of the words that lists are `whole`, it takes back those that a program added.
    ///
    /// # Errors
    /// There is no fact or list of that name, or the log keeps it.
    pub fn unset(&mut self, rules: &Rules, name: &str) -> Result<(), Diagnostic> {
        if DERIVED_LISTS.contains(&name) {
            return Err(kept(name));
        }
        if is_entry(name) || name == WHOLE {
            let words = whole_name("");
            self.take_back(|own| own == name || name == WHOLE && own.starts_with(&words));
            self.reread(rules);
            return Ok(());
        }
        let fact = rules.fact_by_name.get(name).copied();
        let list = rules.list_by_name.get(name).copied();
        if fact.is_none() && list.is_none() {
            let known = rules.fact_by_name.keys().chain(rules.list_by_name.keys());
            let help = did_you_mean(name, known.map(crate::source::SharedText::as_str));
            let message = Diagnostic::error("fact::unknown", format!("no pack knows a fact `{name}`"));
            return Err(
                message.help(help.unwrap_or_else(|| "look the name up among the facts of the packs".to_owned()))
            );
        }
        self.unset.insert(name.to_owned());
        self.take_back(|own| own == name || list.is_some() && own == whole_name(name));
        unrecorded(&mut self.record, rules, name);
        Ok(())
    }

    /// Forgets what a program stated under some names, without looking at what it had come to.
    fn take_back(&mut self, is_meant: impl Fn(&str) -> bool) {
        for own in self.own.iter().filter(|own| is_meant(&own.name)) {
            self.record.sources.renew(own.source, "");
        }
        self.own.retain(|own| !is_meant(&own.name));
    }

    /// Whether a text under a name can make the record wrong although each entry is as it must be: snags, jobs, and how
    /// many entries there are.
    #[must_use]
    pub fn may_not_fit(&self, name: &str, text: &str) -> bool {
        let record = &self.record;
        let hangs_together = || record.whole_log.is_some() || record.log.iter().any(|line| line.snag.is_some());
        match name {
            JOB | WHOLE => true,
            LOG => text.contains(SNAG) || hangs_together(),
            _ => name == whole_name(LOG),
        }
    }

    /// The texts of the builder's files, that of `project.toml` among them.
    pub fn texts(&self) -> impl Iterator<Item = &str> {
        let sources = std::iter::once(self.header.place.source).chain(self.files.iter().copied());
        sources.filter_map(|id| self.record.sources.file(id)).map(|file| &*file.text)
    }

    /// The fact as it is recorded.
    #[must_use]
    pub fn fact(&self, id: FactId) -> Option<&super::Recorded> {
        self.record.facts.get(&id)
    }

    /// Other files, among which evidence is looked for; all is read once more.
    pub fn set_paths(&mut self, rules: &Rules, paths: Vec<String>) {
        self.paths = paths;
        self.reread(rules);
    }

    /// The paths among which evidence is looked for.
    #[must_use]
    pub fn paths(&self) -> &[String] {
        &self.paths
    }

    /// Changes what `project.toml` says: people, parts and planned days of `text` come in
    /// the place of those that were known, or beside them. All is read once more.
    ///
    /// # Errors
    /// What is wrong with it; the draft is then as it was.
    pub fn head(&mut self, rules: &Rules, text: &str) -> Result<Vec<Diagnostic>, Refused> {
        let mut sources = self.record.sources.clone();
        let file = FileText { name: format!("{BY_PROGRAM}/{PROJECT}"), bytes: text.as_bytes().to_vec() };
        let (read, mut messages) = read_header(&file, &mut sources);
        let Some(read) = read else { return Err(Box::new((sources, messages))) };
        let mut header = self.header.clone();
        header.visit = read.visit.or(header.visit);
        header.planned.extend(read.planned);
        header.closing.extend(read.closing);
        header.people.extend(read.people);
        header.parts.extend(read.parts);
        header.a_day = read.a_day.or(header.a_day);
        messages.extend(header_checks::take_over(&header, rules, &mut Record::default()));
        if messages.iter().any(Diagnostic::is_error) {
            return Err(Box::new((sources, messages)));
        }
        let before = std::mem::replace(&mut self.header, header);
        let kept = std::mem::replace(&mut self.record.sources, sources);
        let said = self.reread(rules);
        if said.iter().any(Diagnostic::is_error) {
            // Somebody spoke in a role that the person no longer has.
            let sources = std::mem::replace(&mut self.record.sources, kept);
            self.header = before;
            self.reread(rules);
            return Err(Box::new((sources, said)));
        }
        self.of_header.clone_from(&messages);
        Ok(messages)
    }

    /// Reads every text once more: what it says may be another thing now.
    fn reread(&mut self, rules: &Rules) -> Vec<Diagnostic> {
        let mut walk = Walk::new(rules, &self.paths);
        walk.record.sources = std::mem::take(&mut self.record.sources);
        walk.messages.extend(header_checks::take_over(&self.header, rules, &mut walk.record));
        let texts = |walk: &Walk<'_>, id: SourceId| walk.record.sources.file(id).map(|file| file.text.clone());
        for id in &self.files {
            let Some(text) = texts(&walk, *id) else { continue };
            if !walk.plain_log(*id, &text)
                && let (Some(page), _) = parse(*id, 0, &text)
            {
                walk.page(&page);
            }
        }
        country::take_over(&self.header, rules, &mut walk.record);
        for name in &self.unset {
            unrecorded(&mut walk.record, rules, name);
        }
        let Walk { record, mut messages, unread, .. } = walk;
        (self.record, self.unread) = (record, unread);
        for own in self.own.clone() {
            let Some(text) = self.record.sources.file(own.source).map(|file| file.text.clone()) else { continue };
            let sources = std::mem::take(&mut self.record.sources);
            let (delta, said) = self.walked(rules, &parse(own.source, 0, &text), sources);
            messages.extend(said);
            if !own.adds {
                self.record.forget_not_taken_in(&own.name);
            }
            self.merge(rules, delta, if own.adds { Stands::After } else { Stands::Instead });
        }
        messages
    }
}

/// Whether entries stand under a name, each for itself: lines of the log, words, leave, jobs.
fn is_entry(name: &str) -> bool {
    name == LOG || ENTRIES.contains(&name)
}

/// Takes a fact or a list out of a record, with what shows it and the word that it is whole.
fn unrecorded(record: &mut Record, rules: &Rules, name: &str) {
    record.forget_not_taken_in(name);
    rules.fact_by_name.get(name).map(|id| record.facts.remove(id));
    if let Some(id) = rules.list_by_name.get(name) {
        record.lists.remove(id);
        record.whole.remove(id);
    }
    shown_no_more(record, name);
}

/// Takes out what shows a fact, or a list and its records.
fn shown_no_more(record: &mut Record, name: &str) {
    record.evidence.retain(|evidence| {
        evidence.subject.strip_prefix(name).is_none_or(|rest| !rest.is_empty() && !rest.starts_with('['))
    });
}

/// The name under which the word stands that a list is whole.
#[must_use]
pub fn whole_name(list: &str) -> String {
    format!("whole/{list}")
}
