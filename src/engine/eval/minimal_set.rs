//! The smallest set that would decide a condition with several ways to come
//! out: branch and bound, with a budget.
//!
//! One part after the other is made to come out as wished. Where there is a
//! choice each way is tried in turn, and a way that already needs as much as
//! the best one found is left. A fact that one part would have to find true
//! and another false is no way at all.

use super::evaluate::Evaluation;
use super::missing::{MissingInput, Wants, settle};
use crate::ir::{ChoiceSet, Condition, ConditionId, Frame, InStore, Run};
use crate::quantity::Truth;

/// How many steps the search may take: enough for some ten choices of three.
const STEPS: u32 = 20_000;
/// How many parts one way may have: each is a call within the last.
const DEEPEST: u32 = 256;

/// Something wanted, and the words it may turn out to be.
type Wish = (MissingInput, ChoiceSet);

struct Search<'e, 'f> {
    evaluation: &'e Evaluation<'f>,
    frame: Frame,
    best: Option<Vec<Wish>>,
    steps: u32,
    depth: u32,
}

impl Evaluation<'_> {
    /// The smallest set by which `node` could become `wish`; what was found
    /// greedily if the budget runs out before there is a better one.
    pub(crate) fn smallest(
        &self,
        node: ConditionId,
        wish: bool,
        frame: &Frame,
        greedy: Vec<MissingInput>,
    ) -> Vec<MissingInput> {
        let mut search = Search { evaluation: self, frame: *frame, best: None, steps: 0, depth: 0 };
        search.next(&mut vec![(node, wish)], &mut Vec::new(), &mut Vec::new());
        let ran_out = search.steps >= STEPS;
        match search.best {
            Some(best) if !ran_out || best.len() < greedy.len() => {
                let mut found: Vec<MissingInput> = best.into_iter().map(|(input, _)| input).collect();
                settle(&mut found, 0);
                found
            }
            _ => greedy,
        }
    }
}

impl Search<'_, '_> {
    /// Goes on with what must still come out: first what leaves no choice,
    /// then the choices.
    fn next(
        &mut self,
        ahead: &mut Vec<(ConditionId, bool)>,
        choices: &mut Vec<(ConditionId, bool)>,
        so_far: &mut Vec<Wish>,
    ) {
        self.steps = if self.depth >= DEEPEST { STEPS } else { self.steps.saturating_add(1) };
        let enough = self.best.as_ref().is_some_and(|best| so_far.len() >= best.len());
        if enough || self.steps >= STEPS {
            return;
        }
        self.depth = self.depth.saturating_add(1);
        self.go_on(ahead, choices, so_far);
        self.depth = self.depth.saturating_sub(1);
    }

    fn go_on(
        &mut self,
        ahead: &mut Vec<(ConditionId, bool)>,
        choices: &mut Vec<(ConditionId, bool)>,
        so_far: &mut Vec<Wish>,
    ) {
        if let Some((node, wish)) = ahead.pop() {
            self.one(node, wish, ahead, choices, so_far);
            ahead.push((node, wish));
        } else if let Some((node, wish)) = choices.pop() {
            if let Some(Condition::And(parts) | Condition::Or(parts)) = self.condition(node) {
                for part in self.evaluation.program.arguments.get(parts) {
                    ahead.push((*part, wish));
                    self.next(ahead, choices, so_far);
                    ahead.pop();
                }
            }
            choices.push((node, wish));
        } else {
            self.best = Some(so_far.clone());
        }
    }

    fn condition(&self, node: ConditionId) -> Option<Condition> {
        self.evaluation.program.conditions.get(node).copied()
    }

    fn one(
        &mut self,
        node: ConditionId,
        wish: bool,
        ahead: &mut Vec<(ConditionId, bool)>,
        choices: &mut Vec<(ConditionId, bool)>,
        so_far: &mut Vec<Wish>,
    ) {
        let truth = self.evaluation.truth(node, &mut self.frame);
        if truth != Truth::Undecided {
            if truth == Truth::from(wish) {
                self.next(ahead, choices, so_far);
            }
            return;
        }
        match self.condition(node) {
            Some(Condition::Not(part)) => {
                ahead.push((part, !wish));
                self.next(ahead, choices, so_far);
                ahead.pop();
            }
            Some(Condition::And(parts)) if wish => self.all(parts, wish, ahead, choices, so_far),
            Some(Condition::Or(parts)) if !wish => self.all(parts, wish, ahead, choices, so_far),
            Some(Condition::And(_) | Condition::Or(_)) => {
                choices.push((node, wish));
                self.next(ahead, choices, so_far);
                choices.pop();
            }
            Some(condition) => self.leaf(node, condition, wish, ahead, choices, so_far),
            None => {}
        }
    }

    fn all(
        &mut self,
        parts: Run<ConditionId>,
        wish: bool,
        ahead: &mut Vec<(ConditionId, bool)>,
        choices: &mut Vec<(ConditionId, bool)>,
        so_far: &mut Vec<Wish>,
    ) {
        let before = ahead.len();
        ahead.extend(self.evaluation.program.arguments.get(parts).iter().rev().map(|part| (*part, wish)));
        self.next(ahead, choices, so_far);
        ahead.truncate(before);
    }

    fn leaf(
        &mut self,
        node: ConditionId,
        condition: Condition,
        wish: bool,
        ahead: &mut Vec<(ConditionId, bool)>,
        choices: &mut Vec<(ConditionId, bool)>,
        so_far: &mut Vec<Wish>,
    ) {
        let mut wants = Wants::default();
        self.evaluation.want(node, wish, &mut self.frame, &mut wants);
        settle(&mut wants, 0);
        // Nothing that could be recorded would help: this is no way.
        if wants.is_empty() {
            return;
        }
        let before = so_far.clone();
        if wants.all.into_iter().all(|one| add(so_far, one, allowed(condition, wish))) {
            self.next(ahead, choices, so_far);
        }
        *so_far = before;
    }
}

/// The words a fact may turn out to be for a condition to come out as wished.
fn allowed(condition: Condition, wish: bool) -> ChoiceSet {
    match condition {
        Condition::Words(_, words) if wish => words,
        Condition::Words(_, words) => words.others(),
        Condition::Absent(InStore::Words(_)) if wish => ChoiceSet::ABSENT,
        _ => ChoiceSet::ANYTHING,
    }
}

/// Adds something wanted; false if it would have to be two things at once.
fn add(so_far: &mut Vec<Wish>, input: MissingInput, words: ChoiceSet) -> bool {
    match so_far.iter_mut().find(|(known, _)| *known == input) {
        Some((_, so_far)) => {
            *so_far = so_far.and(words);
            !so_far.is_empty()
        }
        None => {
            so_far.push((input, words));
            true
        }
    }
}
