//! A slow, obvious reading of what the log shows, from the language's meaning
//! alone: it takes one possible course of events after the other and replays
//! it line by line. What is recorded besides the log (words, values, files,
//! leave) takes its place among the lines as a line that disturbs nothing.

use std::collections::{BTreeMap, BTreeSet};

/// Days are counted from 1 January 1970.
pub(super) type Day = i32;

/// One line of the log.
#[derive(Debug, Clone, Default)]
pub(super) struct Line {
    pub file: usize,
    pub first: Day,
    pub last: Day,
    pub minute: Option<u32>,
    pub event: &'static str,
    pub subject: String,
    pub who: usize,
    pub role: &'static str,
    pub points: Vec<&'static str>,
    pub visit: bool,
    pub zone: Option<String>,
    pub instrument: Option<usize>,
    /// Removed, and not to come back.
    pub good: bool,
    /// Refitted, with another one.
    pub another: bool,
    pub fit: Option<&'static str>,
}

/// What a need asks of the log.
#[derive(Debug, Clone)]
pub(super) struct Need {
    pub event: &'static str,
    pub subject: String,
    pub people: usize,
    pub roles: Vec<&'static str>,
    pub points: Vec<&'static str>,
}

/// What an item asks of people's words: a line `confirmed` or `confirmed not`
/// is about the ask whose name is its subject.
#[derive(Debug, Clone)]
pub(super) struct Ask {
    pub name: String,
    pub roles: Vec<&'static str>,
    /// The parts; none of them where it is about everything.
    pub about: Vec<String>,
}

/// A part, with the zone it is in if one is written beside it.
#[derive(Debug, Clone)]
pub(super) struct Part {
    pub name: String,
    pub zone: Option<String>,
    /// The builder's own, not a pack's.
    pub own: bool,
    /// The aircraft can be without it.
    pub left_off: bool,
}

/// `disturbing of also disturbs also`.
#[derive(Debug, Clone)]
pub(super) struct Disturbs {
    pub of: String,
    /// Only where the log names it, or opens it for the visit.
    pub itself: bool,
    pub also: Vec<String>,
}

/// The first and the last day that something may have been on.
pub(super) type Days = (Day, Day);

/// One calibration of an instrument.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Calibration {
    pub from: Days,
    pub until: Days,
    /// How it was found, before anybody adjusted it; nothing of one that stands
    /// with the instrument. `Some(None)` where nobody says.
    pub found_good: Option<Option<bool>>,
}

#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Instrument {
    /// It stands in the list of instruments.
    pub listed: bool,
    pub needs_none: bool,
    pub calibrations: Vec<Calibration>,
}

/// Which state of a part something tells of.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Of {
    Design,
    /// As fitted; of everything where no part is named.
    Fitted(Option<String>),
    Itself(String),
}

/// A recorded value, and what stands beside it. Each has its line.
#[derive(Debug, Clone)]
pub(super) struct Value {
    pub of: Of,
    /// It stands in a record of a list, which is of its part.
    pub in_list: bool,
    /// Whether what is recorded meets the need; nothing where it is too coarse to say.
    pub good: Option<bool>,
    /// A length as it is written; without one it is said by yes or no, or by a date.
    pub said: Option<&'static str>,
    /// The value is a date, the day it is of.
    pub own_day: Option<Days>,
    pub line: Moment,
    /// The file that the item asks for.
    pub evidence: Option<Moment>,
    pub leave: Option<Days>,
}

/// When something was recorded, and with what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moment {
    pub days: Option<Days>,
    pub minute: Option<u32>,
    pub instrument: Option<usize>,
}

/// What becomes of the item about a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Outcome {
    Met,
    Unmet,
    NotShown,
    NotApplicable,
}

/// What becomes of it in all courses: the outcomes without leave, and whether the leave falls in some.
#[derive(Debug, Clone, Default)]
pub(super) struct Fate {
    pub outcomes: BTreeSet<Outcome>,
    pub leave_falls: bool,
}

#[derive(Debug, Clone)]
pub(super) struct World {
    pub zones: Vec<String>,
    /// The second zone lies in the first.
    pub nested: bool,
    pub parts: Vec<Part>,
    pub disturbs: Vec<Disturbs>,
    /// Full names; the place is the short name's.
    pub people: Vec<&'static str>,
    pub instruments: Vec<Instrument>,
    pub lines: Vec<Line>,
    pub needs: Vec<Need>,
    pub asks: Vec<Ask>,
    pub values: Vec<Value>,
    pub today: Day,
}

/// Whether a line puts a part back that was off, and another one if it was gone for good.
#[derive(Clone, Copy, PartialEq)]
enum Back {
    No,
    Same,
    Another,
}

impl Line {
    /// The line as it disturbs: what puts a part back is a refit, whatever else is written with it.
    fn as_refit(&self, back: Back) -> Self {
        let work = ["work done", "adjusted", "snag cleared"].contains(&self.event);
        let event = if work || back == Back::No { self.event } else { "refitted" };
        Self { event, another: self.another || back == Back::Another, ..self.clone() }
    }
}

/// Parts that are off in a course of events, and what the refits do.
#[derive(Default)]
struct Off<'w> {
    /// By the part's own line: whether for good, and whether for the visit.
    off: BTreeMap<&'w str, (bool, bool)>,
    /// Removed for good since it was last refitted.
    good: BTreeSet<&'w str>,
}

impl<'w> Off<'w> {
    /// Takes a line in. Says what it does to the part besides what it is written for.
    fn take(&mut self, line: &'w Line) -> Back {
        let part = line.subject.as_str();
        if line.event == "removed" {
            self.off.insert(part, (line.good, line.visit));
            if line.good {
                self.good.insert(part);
            }
        } else if line.event == "refitted" || line.fit.is_some() {
            let was_off = self.off.remove(part).is_some();
            return match (was_off, self.good.remove(part)) {
                (false, _) => Back::No,
                (true, false) => Back::Same,
                (true, true) => Back::Another,
            };
        }
        Back::No
    }

    fn is_off(&self, part: &str) -> bool {
        // Where a part of it is still to come back, it is not all there.
        self.off.iter().any(|(other, (good, visit))| within(part, other) || !good && !visit && within(other, part))
    }

    /// Whether the aircraft is not all there, and is to be.
    fn something_is_off(&self) -> bool {
        self.off.values().any(|(good, visit)| !good && !visit)
    }

    fn is_gone(&self, part: &str) -> bool {
        self.off.iter().any(|(above, (good, _))| *good && within(part, above))
    }
}

fn words(name: &str) -> Vec<&str> {
    name.split('.').collect()
}

/// Whether `part` is `whole` or a part of it.
fn within(part: &str, whole: &str) -> bool {
    words(part).starts_with(&words(whole))
}

fn in_line(a: &str, b: &str) -> bool {
    within(a, b) || within(b, a)
}

impl World {
    pub(super) fn zone_of(&self, name: &str) -> Option<&str> {
        let mut at = words(name);
        while !at.is_empty() {
            let name = at.join(".");
            if let Some(zone) = self.parts.iter().find(|p| p.name == name).and_then(|p| p.zone.as_deref()) {
                return Some(zone);
            }
            at.pop();
        }
        None
    }

    /// Whether a part is off, or not all there; or one that stands for many, of which this is one.
    fn is_off(&self, off: &Off<'_>, part: &str) -> bool {
        let among = |one: &&Disturbs| one.itself && one.also.iter().any(|also| in_line(also, part));
        off.is_off(part) || self.disturbs.iter().filter(among).any(|one| off.is_off(&one.of))
    }

    /// Whether two zones are one, or one lies in the other.
    fn zones_meet(&self, a: &str, b: &str) -> bool {
        a == b || self.nested && self.zones.iter().any(|zone| zone == a) && self.zones.iter().any(|zone| zone == b)
    }

    /// Whether a line of work disturbs a part.
    pub(super) fn disturbs(&self, line: &Line, part: &str) -> bool {
        let opened = match line.event {
            "work done" | "removed" | "refitted" | "adjusted" | "snag cleared" => false,
            "opened" => true,
            // Nothing was touched; what was said of the part by looking at it is no longer sure.
            "snag found" => return in_line(&line.subject, part),
            _ => return false,
        };
        // A zone that shares the first word of a part's name is no part.
        let a_part = opened && self.parts.iter().any(|p| p.name == line.subject);
        // What was worked on, or is disturbed as if it had been.
        let mut worked: BTreeSet<String> = BTreeSet::new();
        if !opened {
            worked.insert(line.subject.clone());
        }
        if line.visit {
            let mut zones: Vec<&str> = Vec::new();
            let written = line.zone.as_deref();
            let within = |own: &&str| written.is_some_and(|written| self.zones_meet(written, own));
            zones.extend(written);
            // Where it is said to lie elsewhere, nobody knows which is right.
            zones.extend(self.zone_of(&line.subject).filter(|own| !within(own)));
            zones.extend(self.zones.iter().filter(|zone| **zone == line.subject).map(String::as_str));
            let there = |p: &&Part| {
                self.zone_of(&p.name).is_some_and(|zone| zones.iter().any(|open| self.zones_meet(open, zone)))
            };
            worked.extend(self.parts.iter().filter(there).map(|p| p.name.clone()));
        }
        let named = worked.clone();
        loop {
            let before = worked.len();
            for Disturbs { of, itself, also } in &self.disturbs {
                let by_work = if *itself { &named } else { &worked }.iter().any(|name| in_line(name, of));
                // What is opened is disturbed itself, with its parts, and nothing above it.
                if by_work || a_part && within(of, &line.subject) {
                    worked.extend(also.iter().cloned());
                }
            }
            if worked.len() == before {
                break;
            }
        }
        worked.iter().any(|name| in_line(name, part)) || a_part && within(part, &line.subject)
    }

    /// Whether a line undoes a value that is a state of something, as it puts a part back.
    fn undoes(&self, line: &Line, of: &Of, back: Back) -> bool {
        let line = &line.as_refit(back);
        // What is opened for the visit is only looked at, but for the very part that is opened.
        let as_if_opened = Line { visit: false, ..line.clone() };
        match of {
            Of::Design => false,
            Of::Fitted(Some(part)) => line.event != "snag found" && self.disturbs(&as_if_opened, part),
            Of::Fitted(None) => match line.event {
                "work done" | "removed" | "refitted" | "adjusted" | "snag cleared" => true,
                "opened" => !line.visit || self.parts.iter().any(|part| part.name == line.subject),
                _ => false,
            },
            Of::Itself(part) => {
                let changes = ["work done", "adjusted", "snag cleared"].contains(&line.event);
                (changes || line.another) && in_line(&line.subject, part)
            }
        }
    }

    /// Files whose days step back as often as on, or oftener.
    pub(super) fn backwards(&self) -> BTreeSet<usize> {
        let files: BTreeSet<usize> = self.lines.iter().map(|line| line.file).collect();
        let only_back = |file: &usize| {
            let days: Vec<Day> = self.lines.iter().filter(|line| line.file == *file).map(|line| line.first).collect();
            let back = days.windows(2).filter(|two| two[0] > two[1]).count();
            back > 0 && back >= days.windows(2).filter(|two| two[0] < two[1]).count()
        };
        files.into_iter().filter(only_back).collect()
    }

    /// Whether line `a` is known to come before line `b` when both are of one
    /// day that is known to the day.
    fn first_of_day(&self, a: usize, b: usize, backwards: &BTreeSet<usize>) -> bool {
        let (one, two) = (&self.lines[a], &self.lines[b]);
        if one.first != one.last || two.first != two.last {
            return false;
        }
        match (one.minute, two.minute) {
            (Some(x), Some(y)) if x != y => x < y,
            (Some(_), None) | (None, Some(_)) => false,
            _ => one.file == two.file && a < b && !backwards.contains(&one.file),
        }
    }

    /// Whether an instrument was good on a day, whatever the order within a day.
    fn was_good(instrument: &Instrument, on: Day) -> bool {
        let found = |good: bool| {
            instrument.calibrations.iter().filter(move |one| one.found_good == Some(Some(good))).map(|one| one.from.0)
        };
        let calibrated = instrument.calibrations.iter().any(|one| one.from.0 <= on && on <= one.until.0);
        // Found out of tolerance, and not surely good between the two.
        let undone = found(false).any(|bad| on <= bad && !found(true).any(|good| on < good && good < bad));
        instrument.listed && (instrument.needs_none || calibrated) && !undone
    }

    /// Replays one course of events and says of each need whether it is met.
    fn replay(&self, course: &[(Day, usize)], instruments: &[Instrument]) -> Vec<bool> {
        // Of each need: what stands in the log and counts, as person and points.
        let mut standing: Vec<Vec<(String, Vec<&str>)>> = vec![Vec::new(); self.needs.len()];
        let mut off = Off::default();
        for (day, at) in course.iter().filter(|(day, _)| *day <= self.today) {
            let line = &self.lines[*at];
            let disturbing = line.as_refit(off.take(line));
            for (need, standing) in self.needs.iter().zip(&mut standing) {
                if self.disturbs(&disturbing, &need.subject) {
                    standing.clear();
                }
                let right_role = line.role != "adviser" && (need.roles.is_empty() || need.roles.contains(&line.role));
                let in_calibration = line.instrument.is_none_or(|at| Self::was_good(&instruments[at], *day));
                let fitted = !self.is_off(&off, &need.subject);
                if line.event == need.event && line.subject == need.subject && right_role && in_calibration && fitted {
                    let name = self.people[line.who].to_lowercase();
                    let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
                    standing.push((name, line.points.clone()));
                }
            }
        }
        let met = |(need, standing): (&Need, &Vec<(String, Vec<&str>)>)| {
            let mut people: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
            for (name, points) in standing {
                people.entry(name).or_default().extend(points.iter().copied());
            }
            let enough = people.values().filter(|points| need.points.iter().all(|p| points.contains(p))).count();
            enough >= need.people && !self.is_off(&off, &need.subject)
        };
        self.needs.iter().zip(&standing).map(met).collect()
    }

    /// Replays one course of events and says what each ask has last been told
    /// since something disturbed what it is about. Nothing in the first place
    /// where the aircraft is without all that it is about.
    fn replay_words(&self, course: &[(Day, usize)]) -> Vec<Option<Option<bool>>> {
        let course: Vec<&Line> =
            course.iter().filter(|(day, _)| *day <= self.today).map(|(_, at)| &self.lines[*at]).collect();
        let mut at_end = Off::default();
        for line in &course {
            at_end.take(line);
        }
        self.asks.iter().map(|ask| self.replay_word(&course, ask, &at_end)).collect()
    }

    fn replay_word(&self, course: &[&Line], ask: &Ask, at_end: &Off<'_>) -> Option<Option<bool>> {
        let about: Vec<&String> = ask.about.iter().filter(|part| !at_end.is_gone(part)).collect();
        if about.is_empty() && !ask.about.is_empty() {
            return None;
        }
        let (mut told, mut off) = (None, Off::default());
        for line in course {
            let disturbing = line.as_refit(off.take(line));
            let of_part = about.iter().any(|part| self.disturbs(&disturbing, part));
            let of_all =
                ["work done", "removed", "refitted", "adjusted", "opened", "closed", "snag cleared", "snag found"];
            if of_part || ask.about.is_empty() && of_all.contains(&disturbing.event) {
                told = None;
            }
            if line.subject != ask.name {
                continue;
            }
            let asked = ask.roles.contains(&line.role);
            match line.event {
                _ if about.iter().any(|part| self.is_off(&off, part)) => {}
                _ if ask.about.is_empty() && off.something_is_off() => {}
                "confirmed" if asked => told = Some(true),
                "confirmed not" if asked => told = Some(false),
                // Somebody who is not asked has doubted it: nothing is certain until one who is looks again.
                "confirmed not" if told == Some(true) => told = None,
                _ => {}
            }
        }
        let whole = !ask.about.is_empty() || !at_end.something_is_off();
        Some(told.filter(|_| whole && !about.iter().any(|part| self.is_off(at_end, part))))
    }

    /// The lines that stand for what is recorded beside the log, each with what
    /// it is a state of, behind those of the log.
    fn lines_of_values(&self) -> Vec<(Line, &Of)> {
        // Without a day it may have been before everything.
        let long_ago = self.lines.iter().map(|line| line.first).min().unwrap_or(self.today) - 1_000;
        let mut lines = Vec::new();
        for value in &self.values {
            let line = |(moment, event): (Moment, &'static str), file: usize| {
                let (first, last) = moment.days.unwrap_or((long_ago, long_ago));
                let (minute, instrument) = (moment.minute, moment.instrument);
                // In a file of its own: only times tell what came first on a day.
                Line { file, first, last, minute, instrument, event, ..Line::default() }
            };
            let leave = |days| (Moment { days: Some(days), minute: None, instrument: None }, "recorded");
            let evidence = value.evidence.map(|moment| (moment, "recorded"));
            let named = value.own_day.map(|days| (Moment { days: Some(days), minute: None, ..value.line }, "named"));
            let written = (named.is_none() || value.line.days.is_some()).then_some((value.line, "recorded"));
            for moment in [written, named, evidence, value.leave.map(leave)].into_iter().flatten() {
                lines.push((line(moment, 1_000 + lines.len()), &value.of));
            }
        }
        lines
    }

    /// Of each value: what becomes of its item in all courses of events; and how many courses there are.
    pub(super) fn courses_of_values(&self, most: usize) -> Option<(Vec<Fate>, usize)> {
        let recorded = self.lines_of_values();
        let of_log = self.lines.len();
        let states: Vec<&Of> = recorded.iter().map(|(_, of)| *of).collect();
        // Of the lines for a day that a value names: whether another stands before it for the day it was written.
        let mut written_too = vec![false; recorded.len()];
        let mut at = 0;
        for value in &self.values {
            let written = value.own_day.is_some() && value.line.days.is_some();
            written_too.get_mut(at + 1).into_iter().for_each(|next| *next = written);
            at += 1 + usize::from(written) + usize::from(value.evidence.is_some()) + usize::from(value.leave.is_some());
        }
        let mut all = self.clone();
        all.lines.extend(recorded.iter().map(|(line, _)| line.clone()));
        // What each line undoes, also as one that puts another part in.
        let undoes = |back: Back| -> Vec<Vec<bool>> {
            let of_line = |line| states.iter().map(|of| self.undoes(line, of, back)).collect();
            self.lines.iter().map(of_line).collect()
        };
        let undoes = [undoes(Back::No), undoes(Back::Same), undoes(Back::Another)];
        let mut fates = vec![Fate::default(); self.values.len()];
        let mut seen = 0;
        all.each_course(most, &mut |course, instruments| {
            seen += 1;
            let mut stands = vec![false; states.len()];
            let mut off = Off::default();
            for (day, at) in course.iter().filter(|(day, at)| *day <= all.today || *at >= of_log) {
                let line = &all.lines[*at];
                if *at < of_log {
                    let back = off.take(line) as usize;
                    for (stands, undone) in stands.iter_mut().zip(&undoes[back][*at]) {
                        *stands &= !undone;
                    }
                    continue;
                }
                let at = at - of_log;
                // Of a day that a value names and the day on which it was written, the earlier one counts.
                let on = |at: usize| course.iter().find(|(_, other)| *other == at + of_log).map(|(day, _)| *day);
                let is_named = |at: usize| recorded.get(at).is_some_and(|(line, _)| line.event == "named");
                let partner_first = match line.event {
                    "named" if written_too[at] => on(at - 1).is_some_and(|written| written <= *day),
                    "recorded" if is_named(at + 1) && written_too[at + 1] => {
                        on(at + 1).is_some_and(|named| named < *day)
                    }
                    _ => false,
                };
                if partner_first {
                    continue;
                }
                let fitted = !matches!(states[at], Of::Fitted(Some(part)) if self.is_off(&off, part));
                let good = line.instrument.is_none_or(|at| Self::was_good(&instruments[at], *day));
                // Of a day to come that the value itself names, what is asked of it decides.
                let at = if line.event == "named" && written_too[at] { at - 1 } else { at };
                stands[at] = fitted && good && (*day <= all.today || line.event == "named");
            }
            self.tell(&stands, &off, &mut fates);
        })?;
        Some((fates, seen))
    }

    /// What one course comes to, for the item about each value.
    fn tell(&self, stands: &[bool], off: &Off<'_>, fates: &mut [Fate]) {
        let mut stands = stands.iter();
        for (value, fate) in self.values.iter().zip(fates) {
            let (part, fitted) = match &value.of {
                Of::Design => (None, false),
                Of::Fitted(part) => (part.as_deref(), true),
                Of::Itself(part) => (Some(part.as_str()), false),
            };
            let is_off = fitted && part.is_some_and(|part| self.is_off(off, part));
            let mut next = |there: bool| !there || *stands.next().expect("one for each") && !is_off;
            let undated = value.line.days.is_none() && value.own_day.is_none();
            let holds = next(true) && !(undated && value.line.instrument.is_some());
            if value.own_day.is_some() && value.line.days.is_some() {
                // It is told by the line before it.
                next(true);
            }
            let shown = next(value.evidence.is_some());
            fate.leave_falls |= !next(value.leave.is_some());
            fate.outcomes.insert(match (holds, value.good) {
                _ if part.is_some_and(|part| off.is_gone(part)) => Outcome::NotApplicable,
                (true, Some(true)) if shown => Outcome::Met,
                (true, Some(false)) => Outcome::Unmet,
                _ => Outcome::NotShown,
            });
        }
    }

    /// Of each need: in how many courses of events it is met, and of how many.
    /// `None` where there are too many courses to go through.
    pub(super) fn courses(&self, most: usize) -> Option<Vec<(usize, usize)>> {
        let mut counts = vec![(0, 0); self.needs.len()];
        self.each_course(most, &mut |course, until| {
            for (count, met) in counts.iter_mut().zip(self.replay(course, until)) {
                count.0 += usize::from(met);
                count.1 += 1;
            }
        })?;
        Some(counts)
    }

    /// Of each ask: in how many courses of events it was last told that it is
    /// so, that it is not so, and nothing that still counts; and in how many
    /// the aircraft is without what it is about.
    pub(super) fn courses_of_words(&self, most: usize) -> Option<Vec<[usize; 4]>> {
        let mut counts = vec![[0; 4]; self.asks.len()];
        self.each_course(most, &mut |course, _| {
            for (count, told) in counts.iter_mut().zip(self.replay_words(course)) {
                count[told.map_or(3, |told| told.map_or(2, |holds| usize::from(!holds)))] += 1;
            }
        })?;
        Some(counts)
    }

    /// Every course of events that the days allow, unless there are too many.
    fn each_course(&self, most: usize, each: &mut impl FnMut(&[(Day, usize)], &[Instrument])) -> Option<()> {
        let marks = self.marks();
        let of = |(first, last): Days| -> Vec<Day> {
            if first == last { vec![first] } else { marks.range(first..=last).copied().collect() }
        };
        let days: Vec<Vec<Day>> = self.lines.iter().map(|line| of((line.first, line.last))).collect();
        // The first day, the last day and the finding of each calibration, in a row.
        let calibrations = || self.instruments.iter().flat_map(|instrument| &instrument.calibrations);
        let ends: Vec<Vec<Day>> = calibrations().flat_map(|one| [of(one.from), of(one.until)]).collect();
        let found: Vec<usize> = calibrations().map(|one| if one.found_good == Some(None) { 2 } else { 1 }).collect();
        let all = days
            .iter()
            .chain(&ends)
            .map(Vec::len)
            .chain(found.iter().copied())
            .try_fold(1usize, |all, some| all.checked_mul(some).filter(|all| *all <= most))?;
        let backwards = self.backwards();
        let mut seen = 0;
        for mut number in 0..all {
            let mut choose = |from: usize| {
                let chosen = number % from;
                number /= from;
                chosen
            };
            let chosen: Vec<Day> = days.iter().map(|days| days[choose(days.len())]).collect();
            let mut ends = ends.iter().map(|ends| ends[choose(ends.len())]).collect::<Vec<_>>().into_iter();
            let mut found = found.iter().map(|found| choose(*found));
            let mut instruments = self.instruments.clone();
            for one in instruments.iter_mut().flat_map(|instrument| &mut instrument.calibrations) {
                let mut end = || ends.next().map(|day| (day, day)).expect("two for each");
                (one.from, one.until) = (end(), end());
                let choice = found.next() == Some(1);
                one.found_good = one.found_good.map(|found| Some(found.unwrap_or(choice)));
            }
            let mut left: Vec<(Day, usize)> = chosen.iter().copied().zip(0..).collect();
            left.sort_unstable();
            self.orders(&mut Vec::new(), left, &backwards, &mut |course| {
                seen += 1;
                if seen <= most {
                    each(course, &instruments);
                }
                seen <= most
            });
            if seen > most {
                return None;
            }
        }
        Some(())
    }

    /// Days that can matter: the ends of everything, and the days beside them.
    fn marks(&self) -> BTreeSet<Day> {
        let mut ends = vec![self.today];
        ends.extend(self.lines.iter().flat_map(|line| [line.first, line.last]));
        let calibrations = self.instruments.iter().flat_map(|instrument| &instrument.calibrations);
        ends.extend(calibrations.flat_map(|one| [one.from.0, one.from.1, one.until.0, one.until.1]));
        ends.iter().flat_map(|day| [*day - 1, *day, *day + 1]).collect()
    }

    /// Every order of the lines that their days, times and places allow, until `each` has enough.
    fn orders(
        &self,
        course: &mut Vec<(Day, usize)>,
        left: Vec<(Day, usize)>,
        backwards: &BTreeSet<usize>,
        each: &mut impl FnMut(&[(Day, usize)]) -> bool,
    ) -> bool {
        let Some((day, _)) = left.first().copied() else { return each(course) };
        let today: Vec<(Day, usize)> = left.iter().copied().filter(|(other, _)| *other == day).collect();
        for next in &today {
            if today.iter().any(|other| self.first_of_day(other.1, next.1, backwards)) {
                continue;
            }
            course.push(*next);
            let rest = left.iter().copied().filter(|other| other != next).collect();
            let on = self.orders(course, rest, backwards, each);
            course.pop();
            if !on {
                return false;
            }
        }
        true
    }
}
