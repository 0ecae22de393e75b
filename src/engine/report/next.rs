//! The jobs for today, for a person: what fits the time, then everything that
//! is open in its order, then how it stands with the way to the visit.

use super::job::{Much, job, zone};
use super::phrases;
use super::wrap::Page;
use super::{days, job as jobs};
use crate::audit::Unanswered;
use crate::plan::{Besides, Chain, Job, JobId, Part, Plan, Sitting, TimeSource};
use crate::project::VISIT;
use std::collections::BTreeMap;

/// So many jobs are named that take longer than the time there is.
const LONGER: usize = 3;
/// So many things of a system are named.
const NAMED: usize = 2;

/// The whole plan, no line wider than `width` characters (at least 40).
#[must_use]
pub fn next_text(plan: &Plan, width: usize) -> String {
    let mut page = Page::new(width);
    heading(&mut page, plan);
    if let Some(one) = &plan.sitting {
        sitting(&mut page, plan, one);
    }
    let today = plan.sitting.as_ref().map_or(&[][..], |sitting| &sitting.jobs);
    let title = if today.is_empty() { "In this order" } else { "Everything else, in this order" };
    in_places(&mut page, plan, title, plan.jobs.ids().take(plan.ready).filter(|id| !today.contains(id)));
    let waiting = plan.jobs.ids().skip(plan.ready).filter(|id| !is_unanswered(plan, *id));
    let (answers, others): (Vec<JobId>, Vec<JobId>) = waiting.partition(|id| waits_for_answers(plan, *id));
    in_places(&mut page, plan, "Waiting: these cannot be begun today", others.into_iter());
    if !answers.is_empty() {
        page.heading("Jobs that come after answers");
        answers.iter().for_each(|id| after_answers(&mut page, plan, *id));
    }
    if plan.sitting.is_none() {
        besides(&mut page, plan);
    }
    orders(&mut page, plan);
    way(&mut page, plan);
    if !plan.notices.is_empty() {
        page.heading("Remarks");
        for notice in &plan.notices {
            page.hanging(2, 6, &phrases::sentence(notice));
        }
    }
    page.gap();
    page.line(0, plan.reminder);
    page.finish()
}

fn is_unanswered(plan: &Plan, id: JobId) -> bool {
    plan.jobs.get(id).is_some_and(|job| job.is_unanswered())
}

/// Whether answers are all that a job waits for.
fn waits_for_answers(plan: &Plan, id: JobId) -> bool {
    let Some(job) = plan.jobs.get(id) else { return false };
    let awaited = job.part.as_ref().is_some_and(|part| part.awaited);
    let kept = awaited || job.after_visit || !job.circle.is_empty();
    !kept && !job.after.is_empty() && job.after.iter().all(|one| is_unanswered(plan, *one))
}

/// A job, and the answers that it comes after.
fn after_answers(page: &mut Page, plan: &Plan, id: JobId) {
    let Some(job) = plan.jobs.get(id) else { return };
    let number = jobs::number(plan, id);
    let title = phrases::capital(&job.title);
    let title = title.trim_end_matches('.');
    page.hanging(2, 4, &format!("Job {number}. {title}: after {}.", jobs::others(plan, &job.after)));
}

fn heading(page: &mut Page, plan: &Plan) {
    page.line(0, &format!("What next for {}", plan.project));
    page.gap();
    page.labelled(0, 10, "Day", &days::in_words(plan.on));
    let visit = plan.visit.map_or_else(
        || "no day recorded".to_owned(),
        |visit| match visit.first == visit.last {
            true => format!("{}, {}", days::in_words(visit.first), days::from_now(visit.first, plan.on)),
            false => format!("{visit}, {} at the earliest", days::from_now(visit.first, plan.on)),
        },
    );
    page.labelled(0, 10, "Visit", &visit);
    page.labelled(0, 10, "Packs", &phrases::pack_names(&plan.packs));
    page.labelled(0, 10, "Open", &open(plan));
    if let Some(text) = phrases::unanswered(&plan.unanswered) {
        let listed = if plan.sitting.is_some() { "; without --time they are listed here" } else { "" };
        let due = plan.unanswered_by.as_deref().map(|by| phrases::hold_point(&plan.titles, by));
        let due = due.map_or_else(String::new, |due| format!("{due}, "));
        page.labelled(0, 10, "To say", &format!("{due}{text}; what the answers turn up may be work{listed}"));
    }
    let assumed = "assumed; write hours-per-day under [shed] in project.toml, or use --a-day";
    let a_day = days::hours(u64::from(plan.a_day));
    let a_day = if plan.a_day_assumed { format!("{a_day} of work, {assumed}") } else { format!("{a_day} of work") };
    page.labelled(0, 10, "A day", &a_day);
}

fn open(plan: &Plan) -> String {
    let work: Vec<&Job> = plan.jobs.iter().filter(|job| !job.is_unanswered()).collect();
    if work.is_empty() {
        return "no job that these packs and your own entries know of".to_owned();
    }
    let said = work.iter().filter(|job| job.takes.said != TimeSource::Assumed);
    let minutes: u64 = said.clone().map(|job| u64::from(job.takes.minutes)).sum();
    let all = format!("{}, {} of work", phrases::counted(work.len(), "job", "jobs"), days::hours(minutes));
    match work.len().saturating_sub(said.count()) {
        0 => all,
        unsaid => format!("{all}, and {unsaid} of which nobody said how long"),
    }
}

/// What is no job yet: the first of each system by their titles, under the hold point by which it is due.
fn besides(page: &mut Page, plan: &Plan) {
    if plan.besides.is_empty() {
        return;
    }
    page.heading("To look at, to say and to write down");
    // What comes after the visit is only counted, while there is something before it.
    let place = |name: &str| plan.titles.hold_points.iter().position(|(known, _)| known == name);
    let visit = place(VISIT);
    let (now, later): (Vec<&Besides>, Vec<&Besides>) =
        plan.besides.iter().partition(|one| visit.is_none() || place(&one.by) <= visit);
    let (now, later) = if now.is_empty() { (later, now) } else { (now, later) };
    let mut by = None;
    for one in now {
        if by != Some(&one.by) {
            if by.is_some() {
                page.gap();
            }
            page.line(0, &format!("{}:", phrases::titled(&plan.titles.hold_points, &one.by)));
            by = Some(&one.by);
        }
        let titles = one.unsaid.iter().map(|unsaid| phrases::in_short(&unsaid.item, &unsaid.title));
        let titles: Vec<String> = titles.take(NAMED).collect();
        let more = one.unsaid.len().saturating_sub(titles.len());
        let more = if more > 0 { format!("; and {more} more") } else { String::new() };
        page.hanging(
            2,
            4,
            &format!(
                "{}. {}{more}.",
                phrases::capital(phrases::titled(&plan.titles.systems, &one.system)),
                titles.join("; ")
            ),
        );
        page.hanging(4, 4, &format!("cotterpin ask --about {}", one.system));
    }
    let mut counts: Vec<(&str, usize)> = Vec::new();
    for one in later {
        match counts.iter_mut().find(|(by, _)| *by == &*one.by) {
            Some((_, count)) => *count = count.saturating_add(one.unsaid.len()),
            None => counts.push((&one.by, one.unsaid.len())),
        }
    }
    if !counts.is_empty() {
        let counts: Vec<String> =
            counts.iter().map(|(by, count)| format!("{} {count}", phrases::hold_point(&plan.titles, by))).collect();
        page.gap();
        page.line(0, &format!("Later: {}.", counts.join(", ")));
    }
}

/// What jobs wait for, each once with the jobs that wait for it.
fn orders(page: &mut Page, plan: &Plan) {
    let mut orders: BTreeMap<&Part, Vec<&str>> = BTreeMap::new();
    for job in plan.jobs.iter() {
        if let Some(part) = job.part.as_ref().filter(|part| part.awaited) {
            orders.entry(part).or_default().push(&job.name);
        }
    }
    if orders.is_empty() {
        return;
    }
    page.heading("On order, or waited for");
    for (part, jobs) in orders {
        let ordered = part.ordered.as_ref().map_or_else(String::new, |day| format!(", ordered {day}"));
        let expected = part.expected.map_or_else(
            || "no day is expected".to_owned(),
            |day| format!("expected {day}, {}", days::from_now(day, plan.on)),
        );
        page.hanging(2, 6, &format!("{}{ordered}, {expected}: for {}", part.part, jobs.join(", ")));
    }
}

fn sitting(page: &mut Page, plan: &Plan, sitting: &Sitting) {
    let time = days::hours(u64::from(sitting.time));
    if sitting.jobs.is_empty() {
        page.heading(&format!("For {time}"));
        let able = plan.jobs.iter().take(plan.ready);
        let shortest = able.filter(|job| job.after.is_empty()).map(|job| job.takes.minutes).min();
        page.line(
            0,
            &match shortest {
                None if plan.unanswered != Unanswered::default() => {
                    "No job that is known can be begun today. Answer questions: cotterpin ask.".to_owned()
                }
                None => "No open job can be begun today.".to_owned(),
                Some(shortest) => format!(
                    "No job that can be begun today fits; the shortest takes {}. Begin the first of the list below, \
                     and leave it so that nobody takes it for finished.",
                    days::hours(u64::from(shortest))
                ),
            },
        );
        return;
    }
    let count = phrases::counted(sitting.jobs.len(), "job", "jobs");
    page.heading(&format!("For {time}: {count}, {}", days::hours(u64::from(sitting.minutes))));
    places(page, plan, &sitting.jobs, Much::All);
    let able = plan.jobs.with_ids().take(plan.ready).filter(|(_, job)| job.after.is_empty() && !job.is_unanswered());
    let longer: Vec<(JobId, &Job)> = able.filter(|(_, job)| job.takes.minutes > sitting.time).collect();
    if longer.is_empty() {
        return;
    }
    page.gap();
    page.line(0, "Or begin one that takes longer, and leave it so that nobody takes it for finished:");
    for (id, job) in longer.iter().take(LONGER) {
        let takes = days::hours(u64::from(job.takes.minutes));
        page.hanging(2, 4, &format!("job {}, {}, {takes}", jobs::number(plan, *id), job.title.trim_end_matches('.')));
    }
    if let Some(more) = longer.len().checked_sub(LONGER).filter(|more| *more > 0) {
        page.line(2, &format!("and {more} more"));
    }
}

fn in_places(page: &mut Page, plan: &Plan, title: &str, which: impl Iterator<Item = JobId>) {
    let jobs: Vec<JobId> = which.collect();
    if !jobs.is_empty() {
        page.heading(title);
        places(page, plan, &jobs, Much::Short);
    }
}

/// Jobs with the name of the place wherever it changes.
fn places(page: &mut Page, plan: &Plan, jobs: &[JobId], much: Much) {
    let mut here = None;
    for id in jobs {
        let there = plan.jobs.get(*id).map(|job| job.zone.as_deref());
        if there != here {
            page.gap();
            page.line(0, &format!("{}:", zone(plan, there.flatten())));
            here = there;
        }
        job(page, plan, *id, much);
    }
}

/// The chain to the visit, and whether it still fits.
fn way(page: &mut Page, plan: &Plan) {
    let Some(chain) = &plan.chain else { return };
    page.heading("The way to the visit");
    let all = phrases::counted(chain.all_jobs, "job is", "jobs are");
    let (work, in_all) = (days::hours(chain.all_minutes), days::days(chain.all_days));
    match chain.all_minutes {
        0 => page.line(0, &format!("{all} due by the visit.")),
        _ => page.line(0, &format!("{all} due by the visit: {work} of work, {in_all} for one person.")),
    }
    if !chain.jobs.is_empty() {
        page.line(0, &longest(chain));
        for id in &chain.jobs {
            let name = plan.jobs.get(*id).map_or("", |job| job.name.as_str());
            let time = plan.jobs.get(*id).map_or(0, |job| job.takes.minutes);
            page.hanging(2, 6, &format!("job {}, {name}, {}", jobs::number(plan, *id), days::hours(u64::from(time))));
        }
    }
    for sentence in fits(plan, chain) {
        page.line(0, &sentence);
    }
}

fn longest(chain: &Chain) -> String {
    let (time, until) = (days::hours(chain.minutes), days::days(chain.days));
    let time = if chain.minutes == 0 { String::new() } else { format!("{time} of work, ") };
    let wait = if chain.begins_with_part { ", the wait before its first job included" } else { "" };
    match chain.jobs.len() {
        1 => format!("Finishes last: {time}done after {until}{wait}."),
        many => format!("The longest chain has {many} jobs, {time}done after {until}{wait}:"),
    }
}

fn fits(plan: &Plan, chain: &Chain) -> Vec<String> {
    let mut said = Vec::new();
    let open = plan.unanswered.questions.saturating_add(plan.unanswered.words).saturating_add(plan.unanswered.lists);
    match chain.days_left {
        None => said.push("No day is recorded for the visit, so nobody can say whether that fits.".to_owned()),
        Some(left) if left <= 0 => {
            said.push("The visit leaves no working day. Finish what is open, or ask for a later day.".to_owned());
        }
        Some(left) => {
            let left = u64::try_from(left).unwrap_or(0);
            let there = days::days(left);
            if chain.days > left {
                said.push(format!(
                    "The chain does not fit: it needs {}, and the visit leaves {there}. Move the visit, work longer \
                     days, or get help.",
                    days::days(chain.days)
                ));
            } else if chain.all_days > left {
                said.push(format!(
                    "The chain fits, but all the work together does not: it needs {} for one person, and the \
                     visit leaves {there}.",
                    days::days(chain.all_days)
                ));
            } else if open > chain.all_jobs {
                said.push(format!(
                    "Whether all of it fits cannot be said yet: {open} answers are open, and may turn up work. The \
                     visit leaves {there}."
                ));
            } else {
                said.push(format!("As far as these times are right, it fits: the visit leaves {there}."));
            }
        }
    }
    if chain.unknown_parts > 0 {
        let jobs = phrases::counted(chain.unknown_parts, "job waits", "jobs wait");
        said.push(format!("{jobs} for something with no expected day; that wait is not in these figures."));
    }
    if chain.without_time > 0 {
        let jobs = phrases::counted(chain.without_time, "job", "jobs");
        said.push(format!("Of {jobs} nobody said how long: no time is counted for them."));
    }
    if chain.in_circles > 0 {
        let jobs = phrases::counted(chain.in_circles, "job hangs", "jobs hang");
        said.push(format!("{jobs} in a circle or behind one, and has no place in a chain."));
    }
    said
}
