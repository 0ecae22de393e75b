//! What is recorded of one aircraft.

use super::entry::Entry;
use super::message::{Batch, ValueError, all};
use super::options::Options;
use super::rules::Rules;
use super::value::{Value, quoted};
use cotterpin_engine::audit::{self, Audit};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::{may_show, pack_folders, plain_path};
use cotterpin_engine::project::keys::header::{HOLD_POINTS, VISIT};
use cotterpin_engine::project::{Draft, Header, NO_RECORD, Record, Refused, Stands};
use cotterpin_engine::report::{Message, StandIns};
use cotterpin_engine::source::Sources;
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
    /// A project of which nothing is recorded yet, by the name that reports shall give it; of one without a name it is
    /// warned.
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

    /// Records a fact, in the place of what was recorded of it and of what showed that.
    ///
    /// # Errors
    /// There is no such fact, or it cannot be this: another unit, another kind, out of its limits.
    pub fn set(&mut self, fact: &str, value: impl Into<Value>) -> Result<(), ValueError> {
        let text = statement(fact, &value.into());
        self.state(fact, &text, Stands::Instead)
    }

    /// Makes a fact or a list unrecorded. Of entries (`log`, `confirmed`, `concession`, `deferred`, `job`) and of the
    /// words that lists are `whole`, it takes back those that this program added, and leaves those of files.
    ///
    /// # Errors
    /// There is no such fact or list, or something else would be wrong without it.
    pub fn unset(&mut self, name: &str) -> Result<(), ValueError> {
        let unset = |draft: &mut Draft, rules: &Rules| {
            draft.unset(&rules.checked, name).map_err(|message| ValueError::one(&message))
        };
        self.change((name, ""), unset)
    }

    /// Records a list, in the place of what was recorded of it. It may have no record: that nobody
    /// says then that it is whole. The log, words, leave and jobs are no lists: [`add`](Self::add) adds them one by one.
    ///
    /// # Errors
    /// There is no such list, the log keeps it, or a record of it is not as it must be.
    pub fn set_list(&mut self, list: &str, records: impl IntoIterator<Item = Entry>) -> Result<(), ValueError> {
        let text = list_statement(list, records)?;
        self.state(list, &text, Stands::Instead)
    }

    /// Adds a record to its list, a line to the log, a word, leave, what is said of a job; or says that a list is whole.
    /// What hangs on another entry comes after it: a snag is found before it is cleared.
    ///
    /// # Errors
    /// It is not as it must be, or does not fit what is recorded already.
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
            VISIT => format!("{VISIT} = {day}\n"),
            other => format!("[{HOLD_POINTS}]\n{} = {day}\n", quoted(other)),
        };
        self.head(&line)
    }

    /// Names a part of the builder's own: `controls.elevator.pushrod`. Of one that almost has the name of a part that
    /// is known it is warned.
    ///
    /// # Errors
    /// It stands below no part that is known, or a pack names it already.
    pub fn set_part(&mut self, name: &str, title: &str) -> Result<(), ValueError> {
        if self.rules.checked.subjects.iter().any(|part| part.name == name) {
            let message = Diagnostic::error("project::twice", format!("`{name}` is a part that a pack names already"));
            return Err(ValueError::one(&message.help("log work on it under this name as it is")));
        }
        self.head(&format!("[parts]\n{} = {{ title = {} }}\n", quoted(name), quoted(title)))
    }

    /// Says that a file is there, for evidence that is named: its path from the project's folder, with `/`. As among the
    /// files of a project, one of nothing but blanks and a copy of what the project says show nothing, nor does one
    /// under a hidden name, in the folder of a pack, or on a path with `..`. A file that is given again is another one.
    pub fn add_file(&mut self, path: &str, bytes: &[u8]) {
        let path = plain_path(path);
        let mut paths = self.draft.paths().to_vec();
        paths.retain(|known| *known != path);
        let texts: Vec<&[u8]> = self.draft.texts().map(str::as_bytes).collect();
        if may_show(&path, bytes, &pack_folders(self.draft.header()), &texts) {
            paths.push(path);
        }
        paths.sort();
        if paths != self.draft.paths() {
            self.finished = OnceLock::new();
            self.draft.set_paths(&self.rules.checked, paths);
        }
    }

    /// What is probably not as meant in what is recorded.
    #[must_use]
    pub fn warnings(&self) -> Vec<Message> {
        let (record, messages) = self.finished();
        told(&self.said, messages, &record.sources)
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
        let state = |draft: &mut Draft, rules: &Rules| {
            draft.state(&rules.checked, name, text, stands).map(|_| ()).map_err(refused)
        };
        self.change((name, text), state)
    }

    /// Changes what stands under a name by a text; what would make the record wrong as a whole is not taken.
    fn change(
        &mut self,
        (name, text): (&str, &str),
        change: impl FnOnce(&mut Draft, &Rules) -> Result<(), ValueError>,
    ) -> Result<(), ValueError> {
        let before = self.draft.may_not_fit(name, text).then(|| self.draft.clone());
        self.finished = OnceLock::new();
        change(&mut self.draft, &self.rules)?;
        let Some(before) = before else { return Ok(()) };
        let wrong = self.record().err();
        wrong.map_or(Ok(()), |wrong| {
            (self.draft, self.finished) = (before, OnceLock::new());
            Err(wrong)
        })
    }

    fn head(&mut self, line: &str) -> Result<(), ValueError> {
        self.finished = OnceLock::new();
        self.draft.head(&self.rules.checked, &header_text(line)).map(|_| ()).map_err(refused)
    }
}

/// What was said when files were read, and what is to be said of the record as it is now.
pub(super) fn told(said: &[Batch], now: &[Diagnostic], sources: &Sources) -> Vec<Message> {
    let before: Vec<Message> = said.iter().flat_map(|(sources, found)| all(found, sources)).collect();
    let now = all(now, sources).into_iter().filter(|one| !before.contains(one)).collect();
    [before, now].concat()
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

/// A header of nothing but what it must have, and one line. Its name is not looked at.
fn header_text(line: &str) -> String {
    format!("name = \"-\"\npacks = [\"-\"]\n{line}")
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
    let record = project.record()?;
    let request = options.request(&project.rules, project.name(), record)?;
    Ok(audit::audit(&project.rules.checked, record, &request))
}

/// The same in less time: findings that are met or do not apply come without reasons, sources, remedy and caution, for
/// a report that has no room for them.
#[cfg(feature = "command")]
pub(crate) fn audit_in_brief(project: &Project, options: &Options) -> Result<Audit, ValueError> {
    let record = project.record()?;
    let request = options.request(&project.rules, project.name(), record)?;
    Ok(audit::audit_in_brief(&project.rules.checked, record, &request))
}

/// The same for one of many: no finding has more than its verdict.
#[cfg(feature = "command")]
pub(crate) fn audit_in_outline(project: &Project, options: &Options) -> Result<Audit, ValueError> {
    let record = project.record()?;
    let request = options.request(&project.rules, project.name(), record)?;
    Ok(audit::audit_in_outline(&project.rules.checked, record, &request))
}
