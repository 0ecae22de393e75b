//! The open jobs: unmet and not-shown findings, open snags, the builder's own.

use super::job::{DoneBy, Due, Job, JobId, JobKind, Part, Takes, TimeSource, minutes_of};
use super::links::{Said, SaidId};
use super::{ASSUMED_JOB, CLOSE, VISIT, links};
use crate::audit::{Audit, Finding, FindingKind, Wants};
use crate::ir::{Arena, IdOf, Item, ItemId, Rules};
use crate::lapse::zone_of_entry;
use crate::project::{Entry, JobSubject, Record};
use crate::quantity::{Date, ExactInterval};
use crate::source::SharedText;
use crate::vocabulary::{Event, Verdict};
use std::collections::{BTreeMap, BTreeSet};

/// The list of snags that the log keeps.
const SNAGS: &str = "log.snags";

/// The list of openings that the log keeps.
pub(super) const OPENINGS: &str = "log.openings";

/// Everything that is at hand while jobs are gathered.
struct Aggregate<'a> {
    rules: &'a Rules,
    record: &'a Record,
    on: Date,
    /// What the builder said.
    entries: Arena<SaidId, &'a Said>,
    /// The same by item.
    said: BTreeMap<ItemId, Vec<SaidId>>,
}

/// All open jobs with their links, and what was left out.
pub(super) fn jobs(rules: &Rules, record: &Record, audit: &Audit, on: Date) -> (Arena<JobId, Job>, Vec<String>) {
    let entries: Arena<SaidId, &Said> = record.jobs.iter().collect();
    let mut said: BTreeMap<ItemId, Vec<SaidId>> = BTreeMap::new();
    for (at, entry) in entries.with_ids() {
        if let JobSubject::Item(name) = &entry.about {
            for id in rules.find_items(name) {
                said.entry(id).or_default().push(at);
            }
        }
    }
    let gather = Aggregate { rules, record, on, entries, said };
    let mut found: Vec<(Job, Vec<SaidId>)> = Vec::new();
    let snags = open_snags(record, on);
    let items = in_force(rules, on);
    let (of_snags, findings) = apart(rules, &items, audit, &snags);
    found.extend(gather.of_findings(&findings));
    found.extend(snags.iter().map(|(name, entries)| gather.of_snag(name, entries, of_snags.get(name.as_str()))));
    found.extend(gather.of_removed(audit));
    found.extend(gather.own());
    let (jobs, said): (Vec<Job>, Vec<Vec<SaidId>>) = found.into_iter().unzip();
    let mut jobs: Arena<JobId, Job> = jobs.into();
    links::link(rules, &gather.entries, &mut jobs, &said);
    (jobs, gather.notices(audit, &items))
}

/// The items by full name: of several wordings that of the day.
fn in_force(rules: &Rules, on: Date) -> BTreeMap<String, (ItemId, &Item)> {
    let holds = |item: &Item| item.from.is_none_or(|from| from <= on) && item.until.is_none_or(|until| on <= until);
    let mut items: Vec<(ItemId, &Item)> = rules.items_with_ids().collect();
    // The last of one name stays.
    items.sort_by_key(|(_, item)| holds(item));
    items.into_iter().map(|(id, item)| (rules.full_name(item), (id, item))).collect()
}

/// Open snags by name: found, and not cleared since.
#[must_use]
pub fn open_snags(record: &Record, on: Date) -> BTreeMap<String, Vec<&Entry>> {
    let of = |event: Event| record.log.iter().filter(move |entry| entry.event == event && entry.on.first <= on);
    let mut snags: BTreeMap<String, Vec<&Entry>> = BTreeMap::new();
    for found in of(Event::SnagFound) {
        let same = |cleared: &&Entry| match found.snag {
            Some(_) => cleared.snag == found.snag,
            // Without a number, by its part.
            None => cleared.snag.is_none() && cleared.subject == found.subject,
        };
        let cleared = of(Event::SnagCleared).filter(same).any(|cleared| !cleared.before(found));
        if !cleared {
            let number =
                found.snag.map_or_else(|| format!("of {}, without a number", found.subject), |n| n.to_string());
            snags.entry(format!("snag {number}")).or_default().push(found);
        }
    }
    snags
}

type OfSnags<'a> = BTreeMap<&'a str, (&'a Finding, ItemId)>;

/// Open findings about open snags, and all other open findings. A snag is one job, not two.
fn apart<'a>(
    rules: &Rules,
    items: &BTreeMap<String, (ItemId, &Item)>,
    audit: &'a Audit,
    snags: &BTreeMap<String, Vec<&Entry>>,
) -> (OfSnags<'a>, Vec<(&'a Finding, ItemId)>) {
    let list = rules.list_by_name.get(SNAGS);
    let (mut of_snags, mut others) = (BTreeMap::new(), Vec::new());
    for finding in audit.findings.iter().filter(|f| matches!(f.verdict, Verdict::Unmet | Verdict::NotShown)) {
        let Some((id, item)) = items.get(&finding.item) else { continue };
        let snag = finding.subject.as_deref().filter(|_| item.each.is_some() && item.each.as_ref() == list);
        match snag.filter(|snag| snags.contains_key(*snag)) {
            Some(snag) => {
                of_snags.entry(snag).or_insert((finding, *id));
            }
            None => others.push((finding, *id)),
        }
    }
    (of_snags, others)
}

impl Aggregate<'_> {
    /// One job for the records of an item that are due alike; of its own what the builder spoke of by itself.
    fn of_findings(&self, findings: &[(&Finding, ItemId)]) -> Vec<(Job, Vec<SaidId>)> {
        type Key<'k> = (ItemId, &'k str, Option<&'k str>, (bool, bool), Vec<SaidId>);
        type Group<'f> = (ItemId, Vec<SaidId>, Vec<&'f Finding>);
        let mut by_key: BTreeMap<Key<'_>, IdOf<Group<'_>>> = BTreeMap::new();
        let mut groups: Arena<IdOf<Group<'_>>, Group<'_>> = Arena::default();
        for (finding, id) in findings {
            let entries = self.said.get(id).map_or(&[][..], Vec::as_slice);
            let about = |at: &&SaidId| {
                let subject = self.entries.get(**at).and_then(|entry| entry.subject.as_ref());
                subject.is_none() || subject == finding.subject.as_ref()
            };
            let mut said: Vec<SaidId> = entries.iter().filter(about).copied().collect();
            // What is said of one record goes before what is said of all.
            said.sort_by_key(|at| (self.entries.get(*at).is_none_or(|entry| entry.subject.is_none()), *at));
            let stays_open = self.stays_open(*id, finding);
            let work = matches!(finding.wants(), Wants::Work | Wants::Entry);
            let how = (stays_open, work);
            let key = (*id, finding.by.as_str(), finding.zone.as_deref(), how, said.clone());
            let group = *by_key.entry(key).or_insert_with(|| groups.push((*id, said, Vec::new())));
            if let Some((_, _, group)) = groups.get_mut(group) {
                group.push(finding);
            }
        }
        groups.iter().filter_map(|(id, said, group)| Some((self.of_group(*id, said, group)?, said.clone()))).collect()
    }

    fn of_group(&self, id: ItemId, said: &[SaidId], group: &[&Finding]) -> Option<Job> {
        let first = *group.first()?;
        let worst = group.iter().map(|finding| finding.verdict).min()?;
        let subjects: Vec<String> = group.iter().filter_map(|finding| finding.subject.clone()).collect();
        let job = self.begun(JobKind::Finding(worst), first.item.clone(), first.title.clone(), said);
        let zone = job.zone.clone().or_else(|| first.zone.clone().map(String::from));
        let by = job.due.as_ref().map_or_else(|| first.by.to_string(), |due| due.by.clone());
        let after_visit = self.stays_open(id, first);
        // Of several, the entry made last: its loss is the news. Days as text are in the order of days.
        let lapses = group.iter().flat_map(|finding| finding.lapses());
        let lapse = lapses.max_by(|a, b| a.shown.on.cmp(&b.shown.on).then_with(|| a.cmp(b))).cloned();
        let (item, records) = (self.rules.item(id), subjects.len().max(1));
        let job = Job {
            subjects,
            takes: self.takes(said, None, item.and_then(|item| item.takes.as_ref()), records),
            stops_the_visit: first.stops_the_visit,
            lapse,
            after_visit,
            wants: group.iter().map(|one| one.wants()).min().unwrap_or(Wants::Work),
            check: first.check.clone(),
            remedy: first.remedy.clone(),
            caution: first.caution.clone(),
            item: Some(id),
            ..job
        };
        Some(self.due(job, zone, Some(by)))
    }

    /// Whether it is about something that was opened for a visit still to come.
    fn stays_open(&self, id: ItemId, finding: &Finding) -> bool {
        let list = self.rules.list_by_name.get(OPENINGS);
        let of_list = self.rules.item(id).and_then(|item| item.each);
        let to_come = self.record.visit.is_none_or(|visit| self.on <= visit.last);
        let opened = |entry: &&Entry| entry.event == Event::Opened && Some(&entry.subject) == finding.subject.as_ref();
        let last = self.record.log.iter().filter(opened).filter(|entry| entry.on.first <= self.on);
        let last = last.max_by_key(|entry| (entry.on.last, entry.at, entry.place));
        to_come && of_list.is_some() && of_list.as_ref() == list && last.is_some_and(|entry| entry.for_visit)
    }

    fn of_snag(&self, name: &str, entries: &[&Entry], finding: Option<&(&Finding, ItemId)>) -> (Job, Vec<SaidId>) {
        let about = |entry: &Said| matches!(&entry.about, JobSubject::Snag(_)) && entry.about.to_string() == name;
        let said: Vec<SaidId> = self.entries.with_ids().filter(|(_, entry)| about(entry)).map(|(at, _)| at).collect();
        let note =
            |entry: &&Entry| entry.note.clone().unwrap_or_else(|| format!("A snag at {}", self.part(&entry.subject)));
        let notes: BTreeSet<String> = entries.iter().map(note).collect();
        let title = notes.into_iter().collect::<Vec<_>>().join("; ");
        let job = self.begun(JobKind::Snag, name.to_owned(), title.into(), &said);
        let logged = entries.iter().find_map(|entry| zone_of_entry(self.rules, self.record, entry)).map(str::to_owned);
        let zone = job.zone.clone().or(logged);
        let own = job.due.as_ref().map(|due| due.by.clone());
        let by = own
            .or_else(|| finding.map(|(finding, _)| finding.by.to_string()))
            .or_else(|| entries.iter().find_map(|entry| entry.by.clone()))
            .or_else(|| {
                self.rules.hold_points.iter().find(|point| point.name == VISIT).map(|point| point.name.to_string())
            });
        let item = finding.map(|(_, id)| *id);
        let of_pack = item.and_then(|id| self.rules.item(id)).and_then(|item| item.takes.as_ref());
        let job = Job {
            takes: self.takes(&said, entries.iter().find_map(|entry| entry.takes.as_ref()), of_pack, 1),
            stops_the_visit: finding.is_some_and(|(finding, _)| finding.stops_the_visit),
            check: finding.and_then(|(finding, _)| finding.check.clone()),
            remedy: finding.and_then(|(finding, _)| finding.remedy.clone()),
            caution: finding.and_then(|(finding, _)| finding.caution.clone()),
            done_by: entries.first().map(|entry| DoneBy::SnagCleared { part: entry.subject.clone(), snag: entry.snag }),
            item,
            ..job
        };
        (self.due(job, zone, by), said)
    }

    /// To put back what was taken off; what is off for the visit stays off until then.
    fn of_removed(&self, audit: &Audit) -> Vec<(Job, Vec<SaidId>)> {
        let removed = audit.findings.iter().filter(|finding| finding.kind == FindingKind::Removed);
        let job = |finding: &Finding| {
            let part = finding.subject.clone().unwrap_or_default();
            let name = format!("{} {part}", finding.item);
            let begun = self.begun(JobKind::Finding(finding.verdict), name, finding.title.clone(), &[]);
            let to_come = self.record.visit.is_none_or(|visit| self.on <= visit.last);
            let of_part = |entry: &&Entry| entry.event == Event::Removed && entry.subject == part;
            let last = self.record.log.iter().filter(of_part).filter(|entry| entry.on.first <= self.on);
            let last = last.max_by_key(|entry| (entry.on.last, entry.place));
            let after_visit = to_come && last.is_some_and(|entry| entry.for_visit);
            let zone = finding.zone.clone().map(String::from);
            let note = last.and_then(|entry| entry.note.clone());
            let done_by = Some(DoneBy::Refitted { part });
            let job = Job { after_visit, note, done_by, ..begun };
            (self.due(job, zone, Some(finding.by.to_string())), Vec::new())
        };
        removed.map(job).collect()
    }

    /// Jobs of the builder's own that are not done.
    fn own(&self) -> Vec<(Job, Vec<SaidId>)> {
        let mut jobs = Vec::new();
        for (at, entry) in self.entries.with_ids() {
            if let JobSubject::Own(name) = &entry.about
                && entry.is_own_and_open(self.on)
            {
                let said = vec![at];
                let title = entry.title.clone().unwrap_or_else(|| name.clone());
                let job = self.begun(JobKind::Own, entry.about.to_string(), title.into(), &said);
                let (zone, by) = (job.zone.clone(), job.due.as_ref().map(|due| due.by.clone()));
                let takes = self.takes(&said, None, None, 1);
                jobs.push((self.due(Job { takes, ..job }, zone, by), said));
            }
        }
        jobs
    }

    /// A job with what the builder said of it.
    fn begun(&self, kind: JobKind, name: String, title: SharedText, said: &[SaidId]) -> Job {
        let entries: Vec<&Said> = said.iter().filter_map(|at| self.entries.get(*at)).copied().collect();
        let by = entries.iter().find_map(|entry| entry.by.clone());
        let part = entries.iter().find_map(|entry| entry.waits.as_ref()).map(|waits| {
            let expected = waits.expected.map(|expected| expected.last);
            Part {
                part: waits.part.clone(),
                ordered: waits.ordered.map(|on| on.to_string()),
                expected,
                awaited: expected.is_none_or(|expected| expected > self.on),
            }
        });
        Job {
            name,
            kind,
            title,
            subjects: Vec::new(),
            zone: entries.iter().find_map(|entry| entry.zone.clone()),
            due: by.map(|by| Due { by, day: None, then: None }),
            closes: None,
            takes: Takes { minutes: ASSUMED_JOB, said: TimeSource::Assumed },
            stops_the_visit: false,
            after: Vec::new(),
            part,
            wants: Wants::Work,
            after_visit: false,
            circle: Vec::new(),
            blocks: 0,
            lapse: None,
            check: None,
            remedy: None,
            caution: None,
            note: None,
            done_by: None,
            item: None,
        }
    }

    /// The builder's word, then the log's, then the pack's for each record, then an assumption.
    fn takes(
        &self,
        said: &[SaidId],
        logged: Option<&ExactInterval>,
        pack: Option<&ExactInterval>,
        records: usize,
    ) -> Takes {
        let own = said.iter().filter_map(|at| self.entries.get(*at)).find_map(|entry| entry.takes.as_ref());
        if let Some(own) = own.or(logged) {
            return Takes { minutes: minutes_of(own), said: TimeSource::Builder };
        }
        match pack {
            Some(time) => {
                let minutes = std::iter::repeat_n(minutes_of(time), records).fold(0, u32::saturating_add);
                Takes { minutes, said: TimeSource::Pack }
            }
            None => Takes { minutes: ASSUMED_JOB, said: TimeSource::Assumed },
        }
    }

    /// With its place, and the days by which it must be done.
    fn due(&self, job: Job, zone: Option<String>, by: Option<String>) -> Job {
        let closes = zone.as_ref().and_then(|zone| self.record.closing.get(zone)).copied();
        let due = by.map(|by| {
            let day = closes.filter(|_| by == CLOSE).or_else(|| self.planned(&by));
            let then = if day.is_none() { self.first_after(&by) } else { None };
            Due { by, day, then }
        });
        Job { zone, due, closes, ..job }
    }

    /// The planned day of a hold point.
    fn planned(&self, by: &str) -> Option<Date> {
        let visit = self.record.visit.filter(|_| by == VISIT).map(|visit| visit.first);
        visit.or_else(|| self.record.planned.get(by).copied())
    }

    /// Of the hold points after one, that with the nearest planned day.
    fn first_after(&self, by: &str) -> Option<(String, Date)> {
        let later = self.rules.hold_points.iter().skip_while(|point| point.name != by).skip(1);
        later.filter_map(|point| Some((point.name.to_string(), self.planned(&point.name)?))).min_by_key(|(_, day)| *day)
    }

    fn part(&self, name: &str) -> String {
        let own = self.record.parts.get(name).map(|part| part.title.to_string());
        let known = || self.rules.subjects.iter().find(|part| part.name == name).map(|part| part.title.to_string());
        own.or_else(known).unwrap_or_else(|| name.to_owned())
    }

    /// What the builder said of jobs that is about nothing here.
    fn notices(&self, audit: &Audit, items: &BTreeMap<String, (ItemId, &Item)>) -> Vec<String> {
        let mut notices = Vec::new();
        let mut records: BTreeMap<ItemId, BTreeSet<&str>> = BTreeMap::new();
        for finding in &audit.findings {
            if let (Some((id, _)), Some(subject)) = (items.get(&finding.item), &finding.subject) {
                records.entry(*id).or_default().insert(subject);
            }
        }
        for entry in &self.record.jobs {
            let names = std::iter::once(&entry.about).chain(entry.after.iter().map(|(about, _)| about));
            for about in names {
                if let JobSubject::Item(name) = about
                    && self.rules.find_items(name).is_empty()
                {
                    let by = if *about == entry.about { "left out" } else { "not waited for" };
                    notices.push(format!("`{name}` is {by}: no pack in use has such an item."));
                }
            }
            if let (JobSubject::Item(name), Some(subject)) = (&entry.about, &entry.subject) {
                let ids = self.rules.find_items(name);
                let there = ids.iter().filter_map(|id| records.get(id)).any(|known| known.contains(subject.as_str()));
                if !ids.is_empty() && !there {
                    notices.push(format!("The job about {name} of {subject} fits no record and was left out."));
                }
            }
        }
        notices
    }
}
