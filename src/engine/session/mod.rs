//! A project that stays judged: a change goes in, the findings that it changed come out.

use crate::audit::{Audit, Changed, Finding, Judge, Reach, Readers, Request, Standing, audit};
use crate::diagnostic::Diagnostic;
use crate::ir::{FactId, Rules};
use crate::project::{Draft, Record, Recorded, Refused, Stands, whole_name};
use crate::quantity::Date;
use crate::source::Place;
use self_cell::self_cell;
use std::sync::Arc;

/// The lists of instruments and of their calibrations.
const INSTRUMENTS: &str = "measuring.";

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
        let fact = rules.fact_by_name.get(name).copied().filter(|_| stands == Stands::Instead);
        let before = fact.is_none().then(|| self.draft.clone());
        let (shown, said) = (self.is_shown(name), self.words());
        self.draft.state(&rules, name, text, stands)?;
        let reach = self.reach(name, said);
        if let (Some(fact), false) = (fact, shown || self.is_shown(name)) {
            let recorded = self.draft.fact(fact).cloned();
            let place = recorded.as_ref().map(|one| self.draft.record().sources.place(one.place)).unwrap_or_default();
            return self.fact_changed(fact, recorded, place);
        }
        let answer = self.rebind(if shown || self.is_shown(name) { &Reach::All } else { &reach });
        if let (Err(_), Some(before)) = (&answer, before) {
            self.draft = before;
        }
        answer
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
        let shown = self.is_shown(name);
        self.draft.unset(&rules, name).map_err(|message| by_itself(&self.draft, message))?;
        if shown { self.rebind(&Reach::All) } else { self.fact_changed(fact, None, Place::default()) }
    }

    /// A fact is another: what reads it is judged anew, and if the log bears on it, by a judge of its own.
    fn fact_changed(&mut self, fact: FactId, recorded: Option<Recorded>, place: Place) -> Answer {
        let alone = !self.bound.borrow_dependent().bears_on_none_until(fact);
        let reach = if alone { Reach::Fact(fact) } else { Reach::All };
        if self.bound.with_dependent_mut(|_, judge| judge.set_fact(fact, recorded, place)) {
            return Ok(self.standing.renew(self.bound.borrow_dependent(), &self.readers, &reach));
        }
        self.rebind(&reach)
    }

    /// What a statement about a list, an entry or a word can bear on. `said` is how much had been said before.
    fn reach(&self, name: &str, said: [usize; 3]) -> Reach {
        let record = self.draft.record();
        let list = name.strip_prefix(&whole_name("")).unwrap_or(name);
        if let Some(id) = self.rules.list_by_name.get(list) {
            // What was measured with an instrument, in any list or line, counts by its calibration.
            return if list.starts_with(INSTRUMENTS) { Reach::All } else { Reach::List(*id) };
        }
        let [confirmed, conceded, deferred] = said;
        let words = record.confirmations.iter().skip(confirmed).map(|one| one.item.clone());
        let leave = record.concessions.iter().skip(conceded).map(|one| one.item.clone());
        let deferrals = record.deferrals.iter().skip(deferred).map(|one| one.item.clone());
        match name {
            "log" => Reach::Log,
            "confirmed" | "concession" | "deferred" => Reach::Items(words.chain(leave).chain(deferrals).collect()),
            "job" => Reach::Items(Vec::new()),
            _ if list == "log" => Reach::Log,
            _ => Reach::All,
        }
    }

    fn words(&self) -> [usize; 3] {
        let record = self.draft.record();
        [record.confirmations.len(), record.concessions.len(), record.deferrals.len()]
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
        // Another project may have come in its place.
        self.request.project.clone_from(&self.draft.header().name);
        self.rebind(&Reach::All)
    }

    /// Another day, hold point or zone.
    ///
    /// # Errors
    /// What is wrong with the record.
    pub fn ask(&mut self, request: Request) -> Answer {
        self.request = request;
        self.standing.look(&self.rules, &self.request);
        self.rebind(&Reach::All)
    }

    /// Whether evidence belongs to a fact.
    fn is_shown(&self, name: &str) -> bool {
        self.draft.record().evidence.iter().any(|evidence| evidence.subject == name)
    }

    fn rebind(&mut self, reach: &Reach) -> Answer {
        let (record, warnings) = finished(&self.draft, &self.rules)?;
        self.warnings = warnings;
        self.bound = Bound::to(&self.rules, record, self.request.on);
        Ok(self.standing.renew(self.bound.borrow_dependent(), &self.readers, reach))
    }
}

/// The record that a draft comes to, with its warnings.
fn finished(draft: &Draft, rules: &Rules) -> Result<(Record, Vec<Diagnostic>), Refused> {
    let (record, messages) = draft.finished(rules);
    if messages.iter().any(Diagnostic::stops) {
        Err(Box::new((record.sources, messages)))
    } else {
        Ok((record, messages))
    }
}

fn by_itself(draft: &Draft, message: Diagnostic) -> Refused {
    Box::new((draft.record().sources.clone(), vec![message]))
}
