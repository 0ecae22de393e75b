//! What to do next.

use super::message::ValueError;
use super::options::Options;
use super::project::{Project, audit};
use cotterpin_engine::plan;
use cotterpin_engine::quantity::Date;
use cotterpin_engine::report::{self, Message};

/// The open jobs of a project: first those that can be begun, in the order to do them, then those that wait.
///
/// ```
/// use cotterpin::{Options, Pack, Project, Rules, plan};
///
/// let rules = Rules::new(Pack::built_in(&["workmanship"])?)?;
/// let plan = plan(&Project::new("shed", &rules), &Options::on("2026-11-25")?, Some(60))?;
/// assert!(plan.jobs().iter().all(|job| job.minutes > 0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Plan(plan::Plan);

/// An open job.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Job {
    /// `us/marks.height`, `snag 14`, `own: fit wheel spats`.
    pub name: String,
    /// What is so when it is done.
    pub title: String,
    /// The records it is about.
    pub subjects: Vec<String>,
    /// Where.
    pub zone: Option<String>,
    /// The nearest day by which it must be done: that of its hold point, or of the closing of its zone.
    pub last_day: Option<Date>,
    /// How long it takes, in minutes.
    pub minutes: u32,
    /// Nobody said how long it takes.
    pub minutes_assumed: bool,
    /// No work is known: it waits for an answer or a word that nobody has given yet.
    pub unanswered: bool,
    /// It can end the visit.
    pub stops_the_visit: bool,
    /// The names of open jobs that come before it.
    pub after: Vec<String>,
    /// It can be begun.
    pub ready: bool,
    /// It fits into the time that was asked for.
    pub fits: bool,
    /// How to find out.
    pub check: Option<String>,
    /// What to do, or what to do if it is not so.
    pub remedy: Option<String>,
    /// What can hurt.
    pub caution: Option<String>,
}

impl Plan {
    /// The jobs in order.
    #[must_use]
    pub fn jobs(&self) -> Vec<Job> {
        let plan = &self.0;
        let fits = |id| plan.sitting.as_ref().is_some_and(|sitting| sitting.jobs.contains(&id));
        let name = |id| plan.jobs.get(id).map(|job: &plan::Job| job.name.clone());
        let told = plan.jobs.with_ids().enumerate().map(|(at, (id, job))| Job {
            name: job.name.clone(),
            title: job.title.to_string(),
            subjects: job.subjects.clone(),
            zone: job.zone.clone(),
            last_day: job.last_day(),
            minutes: job.takes.minutes,
            minutes_assumed: job.takes.said == plan::TimeSource::Assumed,
            unanswered: job.is_unanswered(),
            stops_the_visit: job.stops_the_visit,
            after: job.after.iter().filter_map(|id| name(*id)).collect(),
            ready: at < plan.ready,
            fits: fits(id),
            check: job.check.as_ref().map(ToString::to_string),
            remedy: job.remedy.as_ref().map(ToString::to_string),
            caution: job.caution.as_ref().map(ToString::to_string),
        });
        told.collect()
    }

    /// What to do next, for a person, in lines no longer than `width`.
    #[must_use]
    pub fn to_text(&self, width: usize) -> String {
        report::next_text(&self.0, width)
    }

    /// The same for a program, by the schema `next`, with what was said of the project and its packs.
    #[must_use]
    pub fn to_json(&self, messages: &[Message]) -> String {
        report::next_json(&self.0, messages)
    }

    /// What was left out, and why.
    #[must_use]
    pub fn notices(&self) -> &[String] {
        &self.0.notices
    }
}

/// Plans the open jobs of a project on a day, whatever their hold points; `minutes` is the time there is for one sitting.
///
/// # Errors
/// The record as a whole is wrong.
pub fn plan(project: &Project, options: &Options, minutes: Option<u32>) -> Result<Plan, ValueError> {
    planned(project, options.day(), minutes, None)
}

/// The same with the working minutes of a day, if somebody says how many.
pub(crate) fn planned(project: &Project, on: Date, time: Option<u32>, a_day: Option<u32>) -> Result<Plan, ValueError> {
    let record = project.record()?;
    let audit = audit(project, &Options::from(on))?;
    Ok(Plan(plan::plan(&project.rules.checked, record, &audit, plan::Request { on, time, a_day })))
}
