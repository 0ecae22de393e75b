//! A project that stays judged: a change goes in, the findings that it changed come out.

use crate::audit::{Audit, Changed, Finding, Judge, Readers, Request, Standing, audit};
use crate::diagnostic::Diagnostic;
use crate::ir::Rules;
use crate::project::{Draft, Record, Refused, Stands};
use crate::quantity::Date;
use self_cell::self_cell;
use std::sync::Arc;

/// What a judge borrows.
#[derive(Debug)]
struct Held {
    rules: Arc<Rules>,
    record: Record,
}

self_cell!(
    /// A judge with the rules and the record it judges.
    struct Bound {
        owner: Held,
        #[covariant]
        dependent: Judge,
    }

    impl {Debug}
);

impl Bound {
    fn to(rules: &Arc<Rules>, record: Record, on: Date) -> Self {
        let held = Held { rules: Arc::clone(rules), record };
        Self::new(held, |held| Judge::new(&held.rules, &held.record, on))
    }
}

/// Rules and a record, judged, with every finding as it stands.
#[derive(Debug)]
pub struct Session {
    rules: Arc<Rules>,
    readers: Arc<Readers>,
    draft: Draft,
    request: Request,
    bound: Bound,
    standing: Standing,
    warnings: Vec<Diagnostic>,
}

/// What a change came to: the findings that are others now.
pub type Answer = Result<Vec<Changed>, Refused>;

impl Session {
    /// Judges a draft for the first time. `readers` are those of the rules.
    ///
    /// # Errors
    /// What is wrong with the record; then nothing is judged.
    pub fn new(rules: Arc<Rules>, readers: Arc<Readers>, draft: Draft, request: Request) -> Result<Self, Refused> {
        let (record, warnings) = finished(&draft, &rules)?;
        let bound = Bound::to(&rules, record, request.on);
        let standing = Standing::new(bound.borrow_dependent(), &readers, &request);
        Ok(Self { rules, readers, draft, request, bound, standing, warnings })
    }

    /// The draft with all changes.
    #[must_use]
    pub fn draft(&self) -> &Draft {
        &self.draft
    }

    /// What is audited.
    #[must_use]
    pub fn request(&self) -> &Request {
        &self.request
    }

    /// All findings as they stand, in no order that means anything.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        self.standing.findings()
    }

    /// What is to be said of the record as it is.
    #[must_use]
    pub fn warnings(&self) -> &[Diagnostic] {
        &self.warnings
    }

    /// The whole audit, in its order, with questions and notices; `not_read` are files that were not read and hold
    /// what no file that was read holds.
    ///
    /// # Errors
    /// What is wrong with the record.
    pub fn audit(&self, not_read: &[String]) -> Result<Audit, Refused> {
        let (mut record, _) = finished(&self.draft, &self.rules)?;
        record.not_read = not_read.to_vec();
        Ok(audit(&self.rules, &record, &self.request))
    }

    /// Takes one statement in, as [`Draft::state`] does. A fact that nothing else bears on costs what reads it.
    ///
    /// # Errors
    /// What is wrong with the statement, or with the record that it would make; then all is as it was.
    pub fn state(&mut self, name: &str, text: &str, stands: Stands) -> Answer {
        let rules = Arc::clone(&self.rules);
        let Some(fact) = rules.fact_by_name.get(name).copied().filter(|_| stands == Stands::Instead) else {
            return self.change(|draft| draft.state(&rules, name, text, stands).map(|_| ()));
        };
        let shown_before = self.is_shown(name);
        let warnings = self.draft.state(&rules, name, text, stands)?;
        let recorded = self.draft.fact(fact).cloned();
        let place = recorded.as_ref().map(|one| self.draft.record().sources.place(one.place)).unwrap_or_default();
        let alone = warnings.is_empty()
            && !shown_before
            && !self.is_shown(name)
            && self.bound.with_dependent_mut(|_, judge| judge.set_fact(fact, recorded, place));
        if alone {
            return Ok(self.standing.fact_changed(self.bound.borrow_dependent(), &self.readers, fact));
        }
        self.rebind()
    }

    /// Makes a fact or a list unrecorded.
    ///
    /// # Errors
    /// There is no fact or list of that name, or the record would be wrong without it; then all is as it was.
    pub fn unset(&mut self, name: &str) -> Answer {
        let rules = Arc::clone(&self.rules);
        let Some(fact) = rules.fact_by_name.get(name).copied() else {
            return self.change(|draft| draft.unset(&rules, name).map_err(|message| by_itself(draft, message)));
        };
        let shown_before = self.is_shown(name);
        self.draft.unset(&rules, name).map_err(|message| by_itself(&self.draft, message))?;
        let alone = !shown_before
            && self.bound.with_dependent_mut(|_, judge| judge.set_fact(fact, None, crate::source::Place::default()));
        if alone {
            return Ok(self.standing.fact_changed(self.bound.borrow_dependent(), &self.readers, fact));
        }
        self.rebind()
    }

    /// Any other change of the draft; all is judged anew.
    ///
    /// # Errors
    /// What the change refuses, or what would be wrong with the record; then all is as it was.
    pub fn change(&mut self, change: impl FnOnce(&mut Draft) -> Result<(), Refused>) -> Answer {
        let before = self.draft.clone();
        if let Err(refused) = change(&mut self.draft).and_then(|()| finished(&self.draft, &self.rules).map(|_| ())) {
            self.draft = before;
            return Err(refused);
        }
        self.rebind()
    }

    /// Another day, hold point or zone.
    ///
    /// # Errors
    /// What is wrong with the record.
    pub fn ask(&mut self, request: Request) -> Answer {
        self.request = request;
        self.rebind()
    }

    /// Whether evidence belongs to a fact.
    fn is_shown(&self, name: &str) -> bool {
        self.draft.record().evidence.iter().any(|evidence| evidence.subject == name)
    }

    fn rebind(&mut self) -> Answer {
        let (record, warnings) = finished(&self.draft, &self.rules)?;
        self.warnings = warnings;
        self.bound = Bound::to(&self.rules, record, self.request.on);
        Ok(self.standing.all_changed(self.bound.borrow_dependent(), &self.readers, &self.request))
    }
}

/// The record that a draft comes to, with its warnings.
fn finished(draft: &Draft, rules: &Rules) -> Result<(Record, Vec<Diagnostic>), Refused> {
    let (record, messages) = draft.finished(rules);
    if messages.iter().any(Diagnostic::is_error) {
        Err(Box::new((record.sources, messages)))
    } else {
        Ok((record, messages))
    }
}

fn by_itself(draft: &Draft, message: Diagnostic) -> Refused {
    Box::new((draft.record().sources.clone(), vec![message]))
}
