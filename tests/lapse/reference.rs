//! A slow, obvious reading of what the log shows, from the language's meaning
//! alone: it takes one possible course of events after the other and replays
//! it line by line.

use std::collections::{BTreeMap, BTreeSet};

/// Days are counted from 1 January 1970.
pub(super) type Day = i32;

/// One line of the log.
#[derive(Debug, Clone)]
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
}

/// Until when an instrument is calibrated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Until {
    NoNeed,
    Between(Day, Day),
    Unknown,
}

#[derive(Debug, Clone)]
pub(super) struct World {
    pub zones: Vec<String>,
    pub parts: Vec<Part>,
    pub disturbs: Vec<(String, Vec<String>)>,
    /// Full names; the place is the short name's.
    pub people: Vec<&'static str>,
    pub instruments: Vec<Until>,
    pub lines: Vec<Line>,
    pub needs: Vec<Need>,
    pub asks: Vec<Ask>,
    pub today: Day,
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

    /// Whether a line of work disturbs a part.
    pub(super) fn disturbs(&self, line: &Line, part: &str) -> bool {
        let opened = match line.event {
            "work done" | "removed" | "refitted" | "adjusted" => false,
            "opened" => true,
            _ => return false,
        };
        // A zone that shares the first word of a part's name is no part.
        let a_part = opened && self.parts.iter().any(|p| p.name == line.subject);
        // What was worked on, or is disturbed as if it had been.
        let mut worked: BTreeSet<String> = BTreeSet::new();
        if !opened {
            worked.insert(line.subject.clone());
        }
        if opened && line.visit {
            let mut zones: Vec<&str> = Vec::new();
            zones.extend(line.zone.as_deref().or_else(|| self.zone_of(&line.subject)));
            zones.extend(self.zones.iter().filter(|zone| **zone == line.subject).map(String::as_str));
            let there = |p: &&Part| self.zone_of(&p.name).is_some_and(|zone| zones.contains(&zone));
            worked.extend(self.parts.iter().filter(there).map(|p| p.name.clone()));
        }
        loop {
            let before = worked.len();
            for (of, also) in &self.disturbs {
                let by_work = worked.iter().any(|name| in_line(name, of));
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

    /// Files whose days only ever step back.
    fn backwards(&self) -> BTreeSet<usize> {
        let files: BTreeSet<usize> = self.lines.iter().map(|line| line.file).collect();
        let only_back = |file: &usize| {
            let days: Vec<Day> = self.lines.iter().filter(|line| line.file == *file).map(|line| line.first).collect();
            days.windows(2).any(|two| two[0] > two[1]) && !days.windows(2).any(|two| two[0] < two[1])
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

    /// Replays one course of events and says of each need whether it is met.
    fn replay(&self, course: &[(Day, usize)], until: &[Until]) -> Vec<bool> {
        // Of each need: what stands in the log and counts, as person and points.
        let mut standing: Vec<Vec<(String, Vec<&str>)>> = vec![Vec::new(); self.needs.len()];
        for (day, at) in course.iter().filter(|(day, _)| *day <= self.today) {
            let line = &self.lines[*at];
            for (need, standing) in self.needs.iter().zip(&mut standing) {
                if self.disturbs(line, &need.subject) {
                    standing.clear();
                }
                let right_role = line.role != "adviser" && (need.roles.is_empty() || need.roles.contains(&line.role));
                let in_calibration = line.instrument.is_none_or(|at| match until[at] {
                    Until::NoNeed => true,
                    Until::Between(day_it_ends, _) => *day <= day_it_ends,
                    Until::Unknown => false,
                });
                if line.event == need.event && line.subject == need.subject && right_role && in_calibration {
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
            people.values().filter(|points| need.points.iter().all(|p| points.contains(p))).count() >= need.people
        };
        self.needs.iter().zip(&standing).map(met).collect()
    }

    /// Replays one course of events and says what each ask has last been told
    /// since something disturbed what it is about.
    fn replay_words(&self, course: &[(Day, usize)]) -> Vec<Option<bool>> {
        let mut told = vec![None; self.asks.len()];
        for (_, at) in course.iter().filter(|(day, _)| *day <= self.today) {
            let line = &self.lines[*at];
            let disturbs_some = ["work done", "removed", "refitted", "adjusted", "opened"].contains(&line.event);
            for (ask, told) in self.asks.iter().zip(&mut told) {
                let of_part = ask.about.iter().any(|part| self.disturbs(line, part));
                if of_part || ask.about.is_empty() && disturbs_some {
                    *told = None;
                }
                if line.subject == ask.name && ask.roles.contains(&line.role) {
                    match line.event {
                        "confirmed" => *told = Some(true),
                        "confirmed not" => *told = Some(false),
                        _ => {}
                    }
                } else if line.subject == ask.name && line.event == "confirmed not" && *told == Some(true) {
                    // Somebody who is not asked has doubted it: nothing is certain until one who is looks again.
                    *told = None;
                }
            }
        }
        told
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
    /// so, that it is not so, and nothing that still counts.
    pub(super) fn courses_of_words(&self, most: usize) -> Option<Vec<[usize; 3]>> {
        let mut counts = vec![[0; 3]; self.asks.len()];
        self.each_course(most, &mut |course, _| {
            for (count, told) in counts.iter_mut().zip(self.replay_words(course)) {
                count[told.map_or(2, |holds| usize::from(!holds))] += 1;
            }
        })?;
        Some(counts)
    }

    /// Every course of events that the days allow, unless there are too many.
    fn each_course(&self, most: usize, each: &mut impl FnMut(&[(Day, usize)], &[Until])) -> Option<()> {
        let mut days: Vec<Vec<Day>> = Vec::new();
        let marks = self.marks();
        for line in &self.lines {
            let of_line = marks.iter().copied().filter(|day| line.first <= *day && *day <= line.last);
            days.push(of_line.collect());
        }
        let ends: Vec<Vec<Until>> = self
            .instruments
            .iter()
            .map(|until| match *until {
                Until::Between(first, last) if first != last => {
                    marks.iter().filter(|d| first <= **d && **d <= last).map(|d| Until::Between(*d, *d)).collect()
                }
                other => vec![other],
            })
            .collect();
        let all = days
            .iter()
            .map(Vec::len)
            .chain(ends.iter().map(Vec::len))
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
            let until: Vec<Until> = ends.iter().map(|ends| ends[choose(ends.len())]).collect();
            let mut left: Vec<(Day, usize)> = chosen.iter().copied().zip(0..).collect();
            left.sort_unstable();
            self.orders(&mut Vec::new(), left, &backwards, &mut |course| {
                seen += 1;
                each(course, &until);
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
        ends.extend(self.instruments.iter().flat_map(|until| match *until {
            Until::Between(first, last) => vec![first, last],
            _ => Vec::new(),
        }));
        ends.iter().flat_map(|day| [*day - 1, *day, *day + 1]).collect()
    }

    /// Every order of the lines that their days, times and places allow.
    fn orders(
        &self,
        course: &mut Vec<(Day, usize)>,
        left: Vec<(Day, usize)>,
        backwards: &BTreeSet<usize>,
        each: &mut impl FnMut(&[(Day, usize)]),
    ) {
        let Some((day, _)) = left.first().copied() else { return each(course) };
        let today: Vec<(Day, usize)> = left.iter().copied().filter(|(other, _)| *other == day).collect();
        for next in &today {
            if today.iter().any(|other| self.first_of_day(other.1, next.1, backwards)) {
                continue;
            }
            course.push(*next);
            let rest = left.iter().copied().filter(|other| other != next).collect();
            self.orders(course, rest, backwards, each);
            course.pop();
        }
    }
}
