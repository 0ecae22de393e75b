//! What is recorded of one aircraft.

use super::entry::Entry;
use super::message::{Batch, ValueError, all};
use super::options::Options;
use super::rules::Rules;
use super::value::{Value, quoted};
use cotterpin_engine::audit::{self, Audit};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::{Draft, Header, NO_RECORD, Record, Refused, Stands};
use cotterpin_engine::report::{Message, StandIns};
use std::sync::OnceLock;

/// Everything recorded of one aircraft, against rules that say what can be recorded.
///
/// Whatever a program records is read as it would be from a file of the builder's: the same units, the same limits,
/// the same errors. A call that is refused changes nothing.
///
/// ```
/// use cotterpin::{Entry, Options, Pack, Project, Rules, Verdict, audit};
///
/// let manifest = "name='mine'\ntitle='Mine'\nedition='1'\nauthority='none'\nscope='a latch'";
/// let rules = r#"
///     hold-points  visit "Before the visit"
///     systems      cabin "Cabin"
///     fact cabin.latches : count ask "How many catches has the canopy?"
///     item cabin.latch "The canopy has a second catch"
///       need cabin.latches >= 2   by visit   basis own   cite common practice
/// "#;
/// let rules = Rules::new([Pack::new("mine", manifest, [("mine.checklist", rules)])])?;
/// let mut project = Project::new("shed", &rules);
/// assert!(project.set("cabin.latches", "two").is_err());
/// project.set("cabin.latches", 2)?;
/// let report = audit(&project, &Options::on("2026-11-25")?)?;
/// assert_eq!(report.findings[0].verdict, Verdict::Met);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Project {
    pub(super) rules: Rules,
    pub(super) draft: Draft,
    /// Files that hold what no file that was read holds.
    pub(super) not_read: Vec<String>,
    /// What was said when its files were read.
    pub(super) said: Vec<Batch>,
    /// The record checked as a whole, once somebody asks for it.
    finished: OnceLock<(Record, Vec<Diagnostic>)>,
}

impl Project {
    /// A project of which nothing is recorded yet.
    #[must_use]
    pub fn new(name: &str, rules: &Rules) -> Self {
        let mut sources = rules.checked.sources.clone();
        let header = Header::named(name, &mut sources);
        let (draft, _) = Draft::new(&[], &[], &header, &rules.checked, sources);
        Self::of(rules.clone(), draft, Vec::new())
    }

    /// A draft with nothing said of it yet.
    pub(super) fn of(rules: Rules, draft: Draft, not_read: Vec<String>) -> Self {
        Self { rules, draft, not_read, said: Vec::new(), finished: OnceLock::new() }
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.draft.header().name
    }

    /// An audit of it with stand-ins for what it records of people, and of which aircraft it is: serial numbers,
    /// registrations, addresses. The same has the same stand-in throughout.
    #[must_use]
    pub fn redacted(&self, audit: &Audit) -> Audit {
        let mut audit = audit.clone();
        StandIns::of(&self.rules.checked, self.draft.record()).put_into(&mut audit);
        audit
    }

    /// The rules that say what can be recorded.
    #[must_use]
    pub fn rules(&self) -> &Rules {
        &self.rules
    }

    /// Records a fact, in the place of what was recorded of it.
    ///
    /// # Errors
    /// There is no such fact, or it cannot be this: another unit, another kind, out of its limits.
    pub fn set(&mut self, fact: &str, value: impl Into<Value>) -> Result<(), ValueError> {
        let text = statement(fact, &value.into());
        self.state(fact, &text, Stands::Instead)
    }

    /// Makes a fact or a list unrecorded.
    ///
    /// # Errors
    /// There is no such fact or list.
    pub fn unset(&mut self, name: &str) -> Result<(), ValueError> {
        self.finished = OnceLock::new();
        self.draft.unset(&self.rules.checked, name).map_err(|message| ValueError::one(&message))
    }

    /// Records a list, in the place of what was recorded of it. It may have no record: that nobody
    /// says then that it is whole.
    ///
    /// # Errors
    /// There is no such list, or a record of it is not as it must be.
    pub fn set_list(&mut self, list: &str, records: impl IntoIterator<Item = Entry>) -> Result<(), ValueError> {
        let text = list_statement(list, records)?;
        self.state(list, &text, Stands::Instead)
    }

    /// Adds a record to its list, a line to the log, a word, leave, what is said of a job; or says that a list is whole.
    ///
    /// # Errors
    /// It is not as it must be.
    pub fn add(&mut self, entry: &Entry) -> Result<(), ValueError> {
        self.state(&entry.name(), &entry.toml(), stands(entry))
    }

    /// Names a person: a short name, the full name, and the roles in which the person speaks.
    ///
    /// # Errors
    /// No pack knows one of the roles, or what was said before is not the person's to say any more.
    pub fn set_person(&mut self, short: &str, name: &str, roles: &[&str]) -> Result<(), ValueError> {
        let roles = Value::from(roles.to_vec()).toml();
        let line = format!("[people]\n{} = {{ name = {}, roles = {roles} }}\n", quoted(short), quoted(name));
        self.head(&line)
    }

    /// Plans the day of a hold point; of the visit, a month will do: `2026-12`.
    ///
    /// # Errors
    /// There is no such hold point or no such day.
    pub fn set_planned(&mut self, hold_point: &str, day: impl Into<Value>) -> Result<(), ValueError> {
        let day = day.into().toml();
        let line = match hold_point {
            "visit" => format!("visit = {day}\n"),
            other => format!("[planned]\n{} = {day}\n", quoted(other)),
        };
        self.head(&line)
    }

    /// Names a part of the builder's own: `controls.elevator.pushrod`.
    ///
    /// # Errors
    /// It stands below no part that is known, or almost has the name of one.
    pub fn set_part(&mut self, name: &str, title: &str) -> Result<(), ValueError> {
        self.head(&format!("[parts]\n{} = {{ title = {} }}\n", quoted(name), quoted(title)))
    }

    /// Says that a file is there, for evidence that is named: its path from the project's folder. An empty one shows nothing.
    pub fn add_file(&mut self, path: &str, bytes: &[u8]) {
        let mut paths = self.draft.paths().to_vec();
        let path = path.trim_start_matches("./").to_owned();
        let blank = bytes.iter().all(u8::is_ascii_whitespace);
        if !blank && !paths.contains(&path) {
            paths.push(path);
            self.finished = OnceLock::new();
            self.draft.set_paths(&self.rules.checked, paths);
        }
    }

    /// What is probably not as meant in what is recorded.
    #[must_use]
    pub fn warnings(&self) -> Vec<Message> {
        let (record, messages) = self.finished();
        let before: Vec<Message> = self.said.iter().flat_map(|(sources, found)| all(found, sources)).collect();
        let now = all(messages, &record.sources).into_iter().filter(|one| !before.contains(one)).collect();
        [before, now].concat()
    }

    /// Files that hold what no file that was read holds.
    pub(super) fn pass_over(&mut self, files: Vec<String>) {
        if let Some((record, _)) = self.finished.get_mut() {
            record.not_read.clone_from(&files);
        }
        self.not_read = files;
    }

    pub(super) fn finished(&self) -> &(Record, Vec<Diagnostic>) {
        self.finished.get_or_init(|| {
            let (mut record, messages) = self.draft.finished(&self.rules.checked);
            record.not_read.clone_from(&self.not_read);
            (record, messages)
        })
    }

    /// What was said when its files were read, for who draws the texts.
    #[cfg(feature = "command")]
    pub(crate) fn said(&self) -> &[Batch] {
        &self.said
    }

    /// The record as it was read, right or wrong.
    #[cfg(feature = "command")]
    pub(crate) fn as_read(&self) -> &Record {
        &self.finished().0
    }

    /// The record, checked as a whole.
    pub(crate) fn record(&self) -> Result<&Record, ValueError> {
        let (record, messages) = self.finished();
        if messages.iter().any(Diagnostic::stops) {
            return Err(ValueError::of(messages, &record.sources));
        }
        Ok(record)
    }

    fn state(&mut self, name: &str, text: &str, stands: Stands) -> Result<(), ValueError> {
        self.finished = OnceLock::new();
        let stated = self.draft.state(&self.rules.checked, name, text, stands);
        stated.map(|_| ()).map_err(refused)
    }

    fn head(&mut self, line: &str) -> Result<(), ValueError> {
        self.finished = OnceLock::new();
        self.draft.head(&self.rules.checked, &header_text(self.name(), line)).map(|_| ()).map_err(refused)
    }
}

/// How an entry stands to those before it.
pub(super) fn stands(entry: &Entry) -> Stands {
    if entry.is_single() { Stands::Instead } else { Stands::After }
}

/// What a fact is, as a file says it.
pub(super) fn statement(fact: &str, value: &Value) -> String {
    format!("{} = {}\n", quoted(fact), value.toml())
}

/// The records of a list, as a file has them.
pub(super) fn list_statement(list: &str, records: impl IntoIterator<Item = Entry>) -> Result<String, ValueError> {
    let mut text = String::new();
    for record in records {
        if record.list() != Some(list) {
            let message = Diagnostic::error("record::form", format!("an entry given for `{list}` is no record of it"));
            return Err(ValueError::one(&message.help(format!("make it with Entry::record({list:?})"))));
        }
        text.push_str(&record.toml());
    }
    Ok(if text.is_empty() { format!("{}{NO_RECORD}", quoted(list)) } else { text })
}

/// A header of nothing but a name and one line.
pub(super) fn header_text(name: &str, line: &str) -> String {
    format!("name = {}\npacks = [\"-\"]\n{line}", quoted(name))
}

#[expect(clippy::boxed_local, reason = "the engine refuses in a box")]
pub(super) fn refused(refused: Refused) -> ValueError {
    ValueError::of_all(vec![*refused])
}

/// Judges a project: every finding with its reasons and places.
///
/// # Errors
/// The packs know no such hold point or zone, or the record as a whole is wrong: a snag is cleared that nobody found.
pub fn audit(project: &Project, options: &Options) -> Result<Audit, ValueError> {
    let request = options.request(&project.rules, project.name())?;
    Ok(audit::audit(&project.rules.checked, project.record()?, &request))
}

/// The same in less time: findings that are met or do not apply come without reasons, sources, remedy and caution, for
/// a report that has no room for them.
#[cfg(feature = "command")]
pub(crate) fn audit_in_brief(project: &Project, options: &Options) -> Result<Audit, ValueError> {
    let request = options.request(&project.rules, project.name())?;
    Ok(audit::audit_in_brief(&project.rules.checked, project.record()?, &request))
}

/// The same for one of many: no finding has more than its verdict.
#[cfg(feature = "command")]
pub(crate) fn audit_in_outline(project: &Project, options: &Options) -> Result<Audit, ValueError> {
    let request = options.request(&project.rules, project.name())?;
    Ok(audit::audit_in_outline(&project.rules.checked, project.record()?, &request))
}
