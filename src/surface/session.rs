//! A project that stays judged while it changes.

use super::entry::Entry;
use super::message::{Batch, ValueError};
use super::options::Options;
use super::project::{Project, list_statement, refused, stands, statement, told};
use super::rules::Rules;
use super::value::Value;
use cotterpin_engine::audit::{Audit, Changed, Finding};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::{Refused, Stands};
use cotterpin_engine::report::Message;
use cotterpin_engine::session;
use std::sync::Arc;

/// A project with its findings: a change goes in, the findings that are others now come out, each with what it was.
///
/// It owns what it needs, so it can live in the state of a server. A fact that the log does not bear on costs what
/// reads it; any other change costs the project.
///
/// ```
/// use cotterpin::{Options, Pack, Project, Rules, Session, Verdict};
///
/// let rules = Rules::new(Pack::built_in(&["workmanship"])?)?;
/// let mut session = Session::new(Project::new("shed", &rules), &Options::on("2026-11-25")?)?;
/// let before = session.findings().count();
/// let changed = session.set("elt.present", true)?;
/// assert!(changed.iter().all(|one| one.before != one.now) && before > 0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug)]
pub struct Session {
    rules: Rules,
    inner: session::Session,
    not_read: Vec<String>,
    /// What was said when the project's files were read.
    said: Vec<Batch>,
}

/// The findings that are others now, or why the change was not taken.
type Answer = Result<Vec<Changed>, ValueError>;

impl Session {
    /// Judges a project.
    ///
    /// # Errors
    /// As for [`audit`](crate::audit()).
    pub fn new(project: Project, options: &Options) -> Result<Self, ValueError> {
        let request = options.request(&project.rules, project.name(), project.record()?)?;
        let Project { rules, draft, not_read, said, .. } = project;
        let (checked, readers) = (Arc::clone(&rules.checked), rules.readers());
        let inner = session::Session::new(checked, readers, draft, request).map_err(refused)?;
        Ok(Self { rules, inner, not_read, said })
    }

    /// Every finding as it stands, in no order that means anything.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        self.inner.findings()
    }

    /// The whole audit, in order, with its counts, questions and notices.
    ///
    /// # Errors
    /// As for [`audit`](crate::audit()).
    pub fn audit(&self) -> Result<Audit, ValueError> {
        self.inner.audit(&self.not_read).map_err(refused)
    }

    /// The project as it stands.
    #[must_use]
    pub fn project(&self) -> Project {
        let mut project = Project::of(self.rules.clone(), self.inner.draft().clone(), self.not_read.clone());
        project.said.clone_from(&self.said);
        project
    }

    /// As [`Project::warnings`].
    #[must_use]
    pub fn warnings(&self) -> Vec<Message> {
        told(&self.said, self.inner.warnings(), &self.inner.draft().record().sources)
    }

    /// As [`Project::set`].
    ///
    /// # Errors
    /// As there.
    pub fn set(&mut self, fact: &str, value: impl Into<Value>) -> Answer {
        self.inner.state(fact, &statement(fact, &value.into()), Stands::Instead).map_err(refused)
    }

    /// As [`Project::unset`].
    ///
    /// # Errors
    /// As there.
    pub fn unset(&mut self, name: &str) -> Answer {
        self.inner.unset(name).map_err(refused)
    }

    /// As [`Project::set_list`].
    ///
    /// # Errors
    /// As there.
    pub fn set_list(&mut self, list: &str, records: impl IntoIterator<Item = Entry>) -> Answer {
        let text = list_statement(list, records)?;
        self.inner.state(list, &text, Stands::Instead).map_err(refused)
    }

    /// As [`Project::add`].
    ///
    /// # Errors
    /// As there.
    pub fn add(&mut self, entry: &Entry) -> Answer {
        self.inner.state(&entry.name(), &entry.toml(), stands(entry)).map_err(refused)
    }

    /// Any other change of the project: people, planned days, files; several at once; or another project of the same
    /// rules in its place.
    ///
    /// # Errors
    /// What the change refuses, what would be wrong with the record, or that the project is of other rules: those that
    /// were loaded once more are others. Then all is as it was.
    pub fn change(&mut self, change: impl FnOnce(&mut Project) -> Result<(), ValueError>) -> Answer {
        let mut project = self.project();
        change(&mut project)?;
        let Project { rules, draft, not_read, said, .. } = project;
        // What it holds is found by its place among the names of its rules.
        if !Arc::ptr_eq(&rules.checked, &self.rules.checked) {
            let message = Diagnostic::error("session::rules", "the project was made with other rules than the session");
            let help = "make it with the rules of the session's project, or begin a session with it";
            return Err(ValueError::one(&message.help(help)));
        }
        let put = |known: &mut _| -> Result<(), Refused> {
            *known = draft;
            Ok(())
        };
        let changed = self.inner.change(put).map_err(refused)?;
        (self.not_read, self.said) = (not_read, said);
        Ok(changed)
    }

    /// Another day, hold point or zone.
    ///
    /// # Errors
    /// As for [`audit`](crate::audit()).
    pub fn ask(&mut self, options: &Options) -> Answer {
        let request = options.request(&self.rules, &self.inner.request().project, self.inner.draft().record())?;
        self.inner.ask(request).map_err(refused)
    }
}
