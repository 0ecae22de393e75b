//! Many projects at once: what each came to, made small, and what is open in
//! several of them; and rules that projects of the same packs share.

mod rule_sets;

pub use rule_sets::RuleSets;

use crate::audit::{Audit, Finding, REMINDER, Summary};
use crate::ir::Pack;
use crate::source::Place;
use crate::vocabulary::Verdict;
use serde::{Deserialize, Serialize};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// The audits of many projects on one day, made small.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Round {
    /// The audit date.
    pub on: String,
    /// What was looked at, as `--by` is written; none for all.
    pub by: Option<String>,
    /// A line for each project: those not judged first, then the nearest visit first, those without one last.
    pub projects: Vec<Line>,
    /// What is open, by item: that of most projects first, then what can end a visit.
    pub items: Vec<OpenItem>,
    /// The packs used: those of most projects first.
    pub packs: Vec<UsedPack>,
    /// The counts of all projects together.
    pub summary: Summary,
    /// The last word.
    pub reminder: &'static str,
}

/// One project of a round.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Line {
    /// Its folder, from the one that was looked into.
    pub folder: String,
    /// Its name, where that could be read.
    pub name: Option<String>,
    /// What it came to; nothing if it was not judged.
    pub came_to: Option<Counts>,
    /// Why it was not judged; or what of it was not.
    pub not_judged: Option<Fault>,
}

/// What a project came to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Counts {
    /// Its planned visit.
    pub visit: Option<String>,
    /// Its findings by verdict.
    pub summary: Summary,
    /// So many open findings can end the visit.
    pub can_end_the_visit: usize,
    /// So many things are probably not as meant.
    pub warnings: usize,
}

/// Why something was not judged.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fault {
    /// How many errors there are.
    pub errors: usize,
    /// A stable name of the first, such as `unit::mismatch`.
    pub code: String,
    /// The first, in one sentence without a full stop.
    pub first: String,
    /// Where that is.
    pub place: Option<Place>,
}

/// An item, or the word that a list is whole, that is open in some projects.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OpenItem {
    /// The item: `us/marks.height`; the list, or `log`, where it is about whether that is whole.
    pub item: String,
    /// What is so when it is met; of a list, what is asked.
    pub title: String,
    /// While it is open it can end a visit.
    pub stops_the_visit: bool,
    /// The places of projects in which it is unmet, of one record at least.
    pub unmet: Vec<usize>,
    /// The places of all others in which it is not shown.
    pub not_shown: Vec<usize>,
}

/// A pack, and how many projects use it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct UsedPack {
    /// Its name.
    pub name: String,
    /// Its edition.
    pub edition: String,
    /// The digest of its texts.
    pub digest: String,
    /// How many projects use it.
    pub projects: usize,
}

/// One project on its way into a round: its audit is gone already.
#[derive(Debug, Clone)]
pub struct Seen {
    line: Line,
    open: BTreeMap<Asked, Open>,
    packs: Vec<Texts>,
}

/// The name of an item, and its title: items of two packs that have one name are told apart.
type Asked = (String, String);

/// Name, edition and digest of a pack.
type Texts = (String, String, String);

/// How an item is open in one project.
#[derive(Debug, Clone, Copy, Default)]
struct Open {
    unmet: bool,
    stops_the_visit: bool,
}

impl Seen {
    /// Makes the audit of a project small.
    #[must_use]
    pub fn of(folder: String, audit: &Audit, warnings: usize, not_judged: Option<Fault>) -> Self {
        let mut open: BTreeMap<Asked, Open> = BTreeMap::new();
        for finding in audit.findings.iter().filter(|finding| is_open(finding)) {
            let one = open.entry((finding.item.clone(), finding.title.to_string())).or_default();
            one.unmet |= finding.verdict == Verdict::Unmet;
            one.stops_the_visit |= finding.stops_the_visit;
        }
        let counts = Counts {
            visit: audit.visit.as_ref().map(ToString::to_string),
            summary: audit.summary,
            can_end_the_visit: audit.findings.iter().filter(|one| is_open(one) && one.stops_the_visit).count(),
            warnings,
        };
        let texts = |pack: &Pack| (pack.name.to_string(), pack.edition.to_string(), pack.digest.to_string());
        let line = Line { folder, name: Some(audit.project.clone()), came_to: Some(counts), not_judged };
        Self { line, open, packs: audit.packs.iter().map(texts).collect() }
    }

    /// A project that could not be judged.
    #[must_use]
    pub fn not_judged(folder: String, name: Option<String>, fault: Fault) -> Self {
        let line = Line { folder, name, came_to: None, not_judged: Some(fault) };
        Self { line, open: BTreeMap::new(), packs: Vec::new() }
    }
}

fn is_open(finding: &Finding) -> bool {
    matches!(finding.verdict, Verdict::Unmet | Verdict::NotShown)
}

/// A round that is being made. It comes out the same in whatever order projects are added.
#[derive(Debug, Clone, Default)]
pub struct Tally {
    lines: BTreeMap<usize, Line>,
    /// Each item with the numbers of the projects in which it is open, and whether it is unmet there.
    items: BTreeMap<Asked, (bool, BTreeMap<usize, bool>)>,
    packs: BTreeMap<Texts, usize>,
}

impl Tally {
    /// Adds the project of that number, which no other has.
    pub fn add(&mut self, number: usize, seen: Seen) {
        for (asked, open) in seen.open {
            let (stops, projects) = self.items.entry(asked).or_default();
            *stops |= open.stops_the_visit;
            projects.insert(number, open.unmet);
        }
        for pack in seen.packs {
            let projects = self.packs.entry(pack).or_default();
            *projects = projects.saturating_add(1);
        }
        self.lines.insert(number, seen.line);
    }

    /// The round of all that were added.
    #[must_use]
    pub fn round(self, on: String, by: Option<String>) -> Round {
        let mut lines: Vec<(usize, Line)> = self.lines.into_iter().collect();
        // The first day on which the visit may be: `2026-12` stands before `2026-12-10`.
        lines.sort_by_cached_key(|(number, line)| {
            let visit = line.came_to.as_ref().map(|counts| (counts.visit.is_none(), counts.visit.clone()));
            (visit, *number)
        });
        let places: BTreeMap<usize, usize> =
            lines.iter().enumerate().map(|(place, (number, _))| (*number, place)).collect();
        let items = self.items.into_iter().map(|((item, title), (stops_the_visit, projects))| {
            let of = |unmet: bool| {
                let those = projects.iter().filter(move |(_, is_unmet)| **is_unmet == unmet);
                let mut those: Vec<usize> = those.filter_map(|(number, _)| places.get(number).copied()).collect();
                those.sort_unstable();
                those
            };
            OpenItem { item, title, stops_the_visit, unmet: of(true), not_shown: of(false) }
        });
        let mut items: Vec<OpenItem> = items.collect();
        // By name where all else is the same: the sort keeps their order.
        items.sort_by_key(|one| (Reverse(one.projects()), !one.stops_the_visit, Reverse(one.unmet.len())));
        let packs = self.packs.into_iter();
        let mut packs: Vec<UsedPack> =
            packs.map(|((name, edition, digest), projects)| UsedPack { name, edition, digest, projects }).collect();
        packs.sort_by_key(|pack| Reverse(pack.projects));
        let projects: Vec<Line> = lines.into_iter().map(|(_, line)| line).collect();
        Round { on, by, summary: together(&projects), projects, items, packs, reminder: REMINDER }
    }
}

fn together(lines: &[Line]) -> Summary {
    let counts = lines.iter().filter_map(|line| line.came_to.as_ref());
    counts.map(|counts| counts.summary).fold(Summary::default(), |sum, one| Summary {
        met: sum.met.saturating_add(one.met),
        unmet: sum.unmet.saturating_add(one.unmet),
        not_shown: sum.not_shown.saturating_add(one.not_shown),
        not_applicable: sum.not_applicable.saturating_add(one.not_applicable),
        conceded: sum.conceded.saturating_add(one.conceded),
        set_aside: sum.set_aside.saturating_add(one.set_aside),
    })
}

impl OpenItem {
    /// In how many projects it is open.
    #[must_use]
    pub fn projects(&self) -> usize {
        self.unmet.len().saturating_add(self.not_shown.len())
    }
}

impl Round {
    /// What its projects that were judged came to.
    pub fn judged(&self) -> impl Iterator<Item = (&Line, &Counts)> {
        self.projects.iter().filter_map(|line| Some((line, line.came_to.as_ref()?)))
    }

    /// What was not judged: projects, and something of one that else was.
    pub fn not_judged(&self) -> impl Iterator<Item = (&Line, &Fault)> {
        self.projects.iter().filter_map(|line| Some((line, line.not_judged.as_ref()?)))
    }

    /// As [`Audit::exit_status`], of all projects: 3 if something of one was not judged.
    #[must_use]
    pub fn exit_status(&self) -> u8 {
        if self.not_judged().next().is_some() || self.projects.is_empty() {
            return 3;
        }
        match (self.summary.unmet, self.summary.not_shown) {
            (0, 0) => 0,
            (0, _) => 2,
            (_, _) => 1,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Fault, Open, Seen, Tally};
    use crate::audit::{Audit, REMINDER, Summary, Titles};

    fn audit(name: &str, visit: Option<&str>, summary: Summary) -> Audit {
        Audit {
            project: name.to_owned(),
            on: "2026-11-25".to_owned(),
            visit: visit.map(str::to_owned),
            by: None,
            closing: None,
            packs: Vec::new(),
            summary,
            findings: Vec::new(),
            later: Vec::new(),
            questions: Vec::new(),
            notices: Vec::new(),
            recorded: 0,
            titles: Titles::default(),
            reminder: REMINDER,
        }
    }

    fn seen(name: &str, visit: Option<&str>, open: &[(&str, bool, bool)]) -> Seen {
        let unmet = open.iter().filter(|(_, unmet, _)| *unmet).count();
        let summary = Summary { unmet, not_shown: open.len().saturating_sub(unmet), ..Summary::default() };
        let mut seen = Seen::of(format!("in/{name}"), &audit(name, visit, summary), 0, None);
        for (item, unmet, stops_the_visit) in open {
            let open = Open { unmet: *unmet, stops_the_visit: *stops_the_visit };
            seen.open.insert(((*item).to_owned(), format!("Title of {item}")), open);
        }
        seen
    }

    fn fault() -> Fault {
        Fault { errors: 2, code: "fact::unknown".into(), first: "there is no such fact".into(), place: None }
    }

    #[test]
    fn the_order_in_which_projects_are_added_is_nowhere_seen() {
        let all = [
            seen("ada", Some("2026-12-10"), &[("p/both", false, false), ("p/one", true, false)]),
            seen("bo", None, &[("p/both", true, false), ("p/stops", false, true)]),
            Seen::not_judged("in/cy".into(), None, fault()),
            seen("di", Some("2026-12"), &[("p/stops", false, true)]),
        ];
        let round = |order: [usize; 4]| {
            let mut tally = Tally::default();
            order.iter().for_each(|number| tally.add(*number, all[*number].clone()));
            tally.round("2026-11-25".into(), None)
        };
        let first = round([0, 1, 2, 3]);
        for order in [[3, 2, 1, 0], [2, 0, 3, 1], [1, 3, 0, 2]] {
            assert_eq!(first, round(order));
        }
        let folders: Vec<&str> = first.projects.iter().map(|line| line.folder.as_str()).collect();
        assert_eq!(folders, ["in/cy", "in/di", "in/ada", "in/bo"]);
        let items: Vec<(&str, &[usize], &[usize])> =
            first.items.iter().map(|one| (one.item.as_str(), &*one.unmet, &*one.not_shown)).collect();
        let expected: [(&str, &[usize], &[usize]); 3] =
            [("p/stops", &[], &[1, 3]), ("p/both", &[3], &[2]), ("p/one", &[2], &[])];
        assert_eq!(items, expected);
        assert_eq!((first.summary.unmet, first.summary.not_shown, first.exit_status()), (2, 3, 3));
    }

    #[test]
    fn the_status_is_that_of_the_worst_project() {
        let status = |all: &[Seen]| {
            let mut tally = Tally::default();
            all.iter().enumerate().for_each(|(number, one)| tally.add(number, one.clone()));
            tally.round("2026-11-25".into(), None).exit_status()
        };
        let (settled, shown) = (seen("a", None, &[]), seen("b", None, &[("p/x", false, false)]));
        let unmet = seen("c", None, &[("p/x", true, false)]);
        let broken = Seen::not_judged("d".into(), None, fault());
        let part = Seen::of("e".into(), &audit("e", None, Summary::default()), 0, Some(fault()));
        assert_eq!(status(std::slice::from_ref(&settled)), 0);
        assert_eq!(status(&[settled.clone(), shown.clone()]), 2);
        assert_eq!(status(&[settled.clone(), unmet.clone(), shown]), 1);
        assert_eq!(status(&[unmet.clone(), broken]), 3);
        assert_eq!(status(&[unmet, part]), 3);
        assert_eq!(status(&[]), 3);
    }
}
