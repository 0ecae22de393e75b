//! One requirement of a checked pack, and all that belongs to it.

use super::document::Cite;
use super::ids::{ConditionId, EvidenceId, FactId, HoldPointId, ItemId, ListId, NumberId, PackId, ZoneId};
use crate::quantity::{Date, Dimension, ExactInterval};
use crate::source::{SharedText, Span};
use crate::vocabulary::{Basis, Mark};
use serde::{Deserialize, Serialize};

/// Evidence an item asks for: any of the kinds, of the subject.
#[derive(Debug, Clone)]
pub struct Show {
    /// Kinds, as places in [`super::Rules::evidence`].
    pub kinds: Vec<EvidenceId>,
    /// A fact, list or part name; `None` in the record's own name for the
    /// record an item was raised for.
    pub subject: SharedText,
}

/// One requirement.
#[derive(Debug, Clone)]
pub struct Item {
    /// Its name, without the pack's.
    pub name: SharedText,
    /// The pack that declares it.
    pub pack: PackId,
    /// What is so when it is met.
    pub title: SharedText,
    /// Raised once per record of this list.
    pub each: Option<ListId>,
    /// What the item calls one record, as in `for each run in ...`.
    pub each_name: Option<SharedText>,
    /// The condition under which it applies, in the program.
    pub when: Option<ConditionId>,
    /// Everything that must hold, in the program.
    pub need: ConditionId,
    /// Values shown in the report: name and expression in the program.
    pub lets: Vec<Let>,
    /// Evidence that must be there.
    pub shows: Vec<Show>,
    /// The hold point, in [`super::Rules::hold_points`].
    pub by: HoldPointId,
    /// The zone, in [`super::Rules::zones`].
    pub zone: Option<ZoneId>,
    /// What kind of word it is.
    pub basis: Basis,
    /// Where it is written.
    pub cites: Vec<Cite>,
    /// How to find out.
    pub check: Option<SharedText>,
    /// What to do if it is not so.
    pub remedy: Option<SharedText>,
    /// What can hurt.
    pub caution: Option<SharedText>,
    /// The question to a person.
    pub ask: Option<SharedText>,
    /// An open finding can end the visit.
    pub stops_the_visit: bool,
    /// Nobody can concede it.
    pub no_concession: bool,
    /// Items that must be met before the job can be done.
    pub after: Vec<ItemId>,
    /// How long the job usually takes, in seconds; for one record where it is raised per record.
    pub takes: Option<ExactInterval>,
    /// First day on which it applies.
    pub from: Option<Date>,
    /// Last day on which it applies.
    pub until: Option<Date>,
    /// Whether the verdict depends on the day.
    pub uses_today: bool,
    /// Whether a person's confirmation is asked.
    pub confirm: bool,
    /// Other packs that want it away, each with its reason.
    pub set_aside: Vec<Aside>,
    /// What the item itself asks, without what other packs added, in the program.
    pub own_need: ConditionId,
    /// What kind of word the item itself is, before another pack made it more binding.
    pub own_basis: Basis,
    /// Needs that other packs added, each with its own word.
    pub added: Vec<Added>,
    /// Other packs that ask for the same, each with its own word; their sources
    /// stand at the end of `cites`, in this order.
    pub bound: Vec<Bound>,
    /// Where it is declared.
    pub place: Span,
    /// Its worked examples.
    pub examples: Vec<super::example::Example>,
    /// The facts it reads.
    pub reads: Vec<FactId>,
    /// The lists it reads.
    pub reads_lists: Vec<ListId>,
}

/// A need that another pack added to an item. It keeps its own basis and
/// sources: a kit's need under an item of law is still the kit's.
#[derive(Debug, Clone)]
pub struct Added {
    /// The pack that added it.
    pub pack: PackId,
    /// What must hold, in the program.
    pub need: ConditionId,
    /// What kind of word it is.
    pub basis: Basis,
    /// Where it is written.
    pub cites: Vec<Cite>,
    /// How to find out.
    pub check: Option<SharedText>,
    /// What to do if it is not so.
    pub remedy: Option<SharedText>,
    /// What can hurt.
    pub caution: Option<SharedText>,
    /// Where it stands.
    pub place: Span,
}

/// That another pack asks for the same as an item, and by what.
#[derive(Debug, Clone)]
pub struct Bound {
    /// The pack.
    pub pack: PackId,
    /// What kind of word it is.
    pub basis: Basis,
    /// Where it is written.
    pub cites: Vec<Cite>,
}

/// That another pack wants an item away.
#[derive(Debug, Clone)]
pub struct Aside {
    /// The pack.
    pub pack: PackId,
    /// Its reason.
    pub because: SharedText,
    /// What kind of word that is, if it says.
    pub basis: Option<Basis>,
    /// Where it is written, if it says.
    pub cites: Vec<Cite>,
}

/// Why an item that a pack wanted away stays open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NotSetAside {
    /// Nobody can concede the item.
    NoConcession,
    /// What the pack rests on binds less than the item, or a need that was added to it.
    BindsLess,
    /// Law and limitations are only relaxed by what is written somewhere.
    NotCited,
}

impl Item {
    /// The most binding word of all that it asks, and of what other packs added to it.
    #[must_use]
    pub fn strictest(&self) -> Basis {
        self.added.iter().map(|added| added.basis).fold(self.basis, Basis::min)
    }

    /// Why a pack that wants it away cannot have it so; `None` if it can.
    ///
    /// What relaxes an item binds at least as much, and where that is law or the
    /// aircraft's limitations it is written somewhere. The kit's own
    /// instruction, cited, also relaxes what only advises.
    #[must_use]
    pub fn not_set_aside(&self, aside: &Aside) -> Option<NotSetAside> {
        let (asks, says) = (self.strictest(), aside.basis.unwrap_or(Basis::Own));
        let cited = aside.cites.iter().any(|cite| cite.mark != Mark::CommonPractice);
        let kit_over_advice = says == Basis::Kit && cited && !asks.binds();
        if self.no_concession {
            Some(NotSetAside::NoConcession)
        } else if says > asks && !kit_over_advice {
            Some(NotSetAside::BindsLess)
        } else if asks.binds() && !cited {
            Some(NotSetAside::NotCited)
        } else {
            None
        }
    }

    /// Whether another pack has set it aside, and could.
    #[must_use]
    pub fn is_set_aside(&self) -> bool {
        self.set_aside.iter().any(|aside| self.not_set_aside(aside).is_none())
    }
}

/// A named value of an item.
#[derive(Debug, Clone)]
pub struct Let {
    /// Its name.
    pub name: SharedText,
    /// The numeric node.
    pub node: NumberId,
    /// Its dimension; `None` for a date.
    pub dimension: Option<Dimension>,
    /// The expression as written.
    pub place: Span,
}

impl Item {
    /// Where the item itself is written, without what other packs added to it.
    #[must_use]
    pub fn own_cites(&self) -> &[Cite] {
        let others: usize = self.bound.iter().map(|bound| bound.cites.len()).sum();
        self.cites.get(..self.cites.len().saturating_sub(others)).unwrap_or(&self.cites)
    }

    /// The mark of the weakest document the item itself cites: one paragraph
    /// remembered makes the whole item remembered, though another was read.
    /// Common practice only where no document is cited.
    #[must_use]
    pub fn rests_on(&self) -> Mark {
        let marks = self.own_cites().iter().map(|cite| cite.mark);
        marks.filter(|mark| *mark != Mark::CommonPractice).max().unwrap_or(Mark::CommonPractice)
    }
}
