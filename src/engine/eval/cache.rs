//! What was worked out before: a loop, or a lookup, that reads no record of a loop
//! around it comes to the same for every record that its item is raised for, and
//! whoever explains the outcome asks for it again.

use crate::ir::{ConditionId, NumberId};
use crate::quantity::{ExactInterval, Interval, Truth};
use std::collections::BTreeMap;
use std::sync::Mutex;

/// Outcomes over facts that stay as they are.
#[derive(Debug, Default)]
pub(crate) struct Cache(Mutex<Outcomes>);

/// Where an evaluation looks up what was worked out before; nowhere, if nobody keeps it.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Caches<'a> {
    /// What is the same on all days.
    pub(crate) of_all_days: Option<&'a Cache>,
    /// What is so on the day of the evaluation.
    pub(crate) of_day: Option<&'a Cache>,
}

/// Outcomes of each kind.
#[derive(Debug, Default)]
pub(crate) struct Outcomes {
    truths: BTreeMap<ConditionId, Truth>,
    intervals: BTreeMap<NumberId, Interval>,
    exact: BTreeMap<NumberId, ExactInterval>,
}

/// What can be kept.
pub(crate) trait Outcome: Clone {
    /// What comes to it.
    type Node: Copy + Ord;

    /// Those of its kind.
    fn among(outcomes: &mut Outcomes) -> &mut BTreeMap<Self::Node, Self>;
}

impl Outcome for Truth {
    type Node = ConditionId;

    fn among(outcomes: &mut Outcomes) -> &mut BTreeMap<ConditionId, Self> {
        &mut outcomes.truths
    }
}

impl Outcome for Interval {
    type Node = NumberId;

    fn among(outcomes: &mut Outcomes) -> &mut BTreeMap<NumberId, Self> {
        &mut outcomes.intervals
    }
}

impl Outcome for ExactInterval {
    type Node = NumberId;

    fn among(outcomes: &mut Outcomes) -> &mut BTreeMap<NumberId, Self> {
        &mut outcomes.exact
    }
}

impl Cache {
    /// The outcome of a node, worked out if nobody has asked for it yet.
    pub(crate) fn once<T: Outcome>(&self, node: T::Node, work_out: impl FnOnce() -> T) -> T {
        // It is not locked while something is worked out, which may ask for another node.
        let known = self.0.lock().ok().and_then(|mut all| T::among(&mut all).get(&node).cloned());
        known.unwrap_or_else(|| {
            let outcome = work_out();
            if let Ok(mut all) = self.0.lock() {
                T::among(&mut all).insert(node, outcome.clone());
            }
            outcome
        })
    }
}
