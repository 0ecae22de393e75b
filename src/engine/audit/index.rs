//! One fact changed: only the items that read it are judged again.

use super::judge::{Judge, Judged};
use crate::ir::{Arena, FactId, ItemId, Rules, Run, Runs};
use crate::project::Recorded;

/// From each fact to the items that read it, built once for a set of rules.
///
/// An editor that audits on every save, or a program that turns one fact about
/// and watches the verdicts, pays for what depends on that fact and no more.
///
/// ```
/// use cotterpin_engine::audit::{Index, Judge};
/// use cotterpin_engine::vocabulary::Verdict;
/// use cotterpin_engine::quantity::{Date, Exact, ExactInterval};
/// use cotterpin_engine::project::{Record, Recorded, Value};
/// use cotterpin_lang::packs::PackText;
/// use cotterpin_engine::rules::{Prebuilt, load_packs};
///
/// let pack = PackText {
///     name: "mine".into(),
///     manifest: "name='mine'\ntitle='Mine'\nedition='1'\nauthority='none'\nscope='a latch'".into(),
///     files: vec![("mine.checklist".into(), r#"
///         hold-points  visit "Before the visit"
///         systems      cabin "Cabin"
///         fact cabin.latches : count ask "How many catches has the canopy?"
///         item cabin.latch "The canopy has a second catch"
///           need cabin.latches >= 2   by visit   basis own   cite common practice
///     "#.into())],
/// };
/// let rules = load_packs(&Prebuilt::empty(), &[pack]).map_err(|_| "the pack has mistakes")?;
/// let record = Record::default();
/// let mut judge = Judge::new(&rules, &record, Date::parse("2026-11-25").map_err(|_| "no date")?);
/// let index = Index::new(&rules);
/// let latches = rules.fact_by_name["cabin.latches"];
/// let two = Recorded {
///     value: Value::Number(ExactInterval::point(Exact::from_int(2))),
///     text: "2".into(),
///     read_as: None,
///     unit: None,
///     taken: None,
///     place: rules.facts.first().ok_or("no fact")?.place,
/// };
/// let judged = index.changed(&mut judge, latches, Some(&two));
/// assert_eq!(judged[0].verdict, Verdict::Met);
/// assert_eq!(index.changed(&mut judge, latches, None)[0].verdict, Verdict::NotShown);
/// # Ok::<(), &str>(())
/// ```
#[derive(Debug, Clone)]
pub struct Index {
    /// The items of each fact.
    readers: Arena<FactId, Run<ItemId>>,
    items: Runs<ItemId>,
}

impl Index {
    /// Builds the index; linear in what the items read.
    #[must_use]
    pub fn new(rules: &Rules) -> Self {
        let mut pairs: Vec<(FactId, ItemId)> =
            rules.items_with_ids().flat_map(|(id, item)| item.reads.iter().map(move |fact| (*fact, id))).collect();
        // By fact, and the items of a fact in the order of the packs.
        pairs.sort_unstable();
        pairs.dedup();
        let (mut readers, mut items) = (Arena::default(), Runs::default());
        let mut pairs = pairs.into_iter().peekable();
        for _ in &rules.facts {
            let fact = readers.next();
            let of_fact = std::iter::from_fn(|| pairs.next_if(|(of, _)| *of == fact));
            readers.push(items.push(of_fact.map(|(_, item)| item)));
        }
        Self { readers, items }
    }

    /// The items that read a fact, in the order of the packs.
    #[must_use]
    pub fn readers(&self, fact: FactId) -> &[ItemId] {
        self.readers.get(fact).map_or(&[], |run| self.items.get(*run))
    }

    /// Records a fact in the judge's bound facts (`None`: it is recorded no
    /// longer) and judges the items in force that read it. The verdicts on all
    /// other items stand as they were. The record itself is not changed.
    pub fn changed<'a>(&self, judge: &mut Judge<'a>, fact: FactId, recorded: Option<&Recorded>) -> Vec<Judged<'a>> {
        let rules = judge.rules;
        judge.facts_mut().set(rules, fact, recorded);
        let readers = self.readers(fact);
        let mut judged = Vec::with_capacity(readers.len());
        for id in readers {
            judge.judge_into(*id, &mut judged);
        }
        judged
    }
}
