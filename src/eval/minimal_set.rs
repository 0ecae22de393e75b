//! The smallest set that would decide a condition with several ways to come
//! out: branch and bound, with a budget.
//!
//! One part after the other is made to come out as wished. Where there is a
//! choice each way is tried in turn, and a way that already needs as much as
//! the best one found is left. A fact that one part would have to find true
//! and another false is no way at all.

use super::evaluate::Evaluation;
use super::missing::{Wanting, Wants, settle};
use crate::ir::{Condition, Frame, Store};
use crate::quantity::Truth;

/// How many steps the search may take: enough for some ten choices of three.
const STEPS: u32 = 20_000;
/// How many parts one way may have: each is a call within the last.
const DEEPEST: u32 = 256;

/// Something wanted, and the words it may turn out to be.
type Wish = (Wanting, u64);

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
    pub(crate) fn smallest(&self, node: u32, wish: bool, frame: &Frame, greedy: Vec<Wanting>) -> Vec<Wanting> {
        let mut search = Search { evaluation: self, frame: *frame, best: None, steps: 0, depth: 0 };
        search.next(&mut vec![(node, wish)], &mut Vec::new(), &mut Vec::new());
        let ran_out = search.steps >= STEPS;
        match search.best {
            Some(best) if !ran_out || best.len() < greedy.len() => {
                let mut found: Vec<Wanting> = best.into_iter().map(|(wanting, _)| wanting).collect();
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
    fn next(&mut self, ahead: &mut Vec<(u32, bool)>, choices: &mut Vec<(u32, bool)>, so_far: &mut Vec<Wish>) {
        self.steps = if self.depth >= DEEPEST { STEPS } else { self.steps.saturating_add(1) };
        let enough = self.best.as_ref().is_some_and(|best| so_far.len() >= best.len());
        if enough || self.steps >= STEPS {
            return;
        }
        self.depth = self.depth.saturating_add(1);
        self.go_on(ahead, choices, so_far);
        self.depth = self.depth.saturating_sub(1);
    }

    fn go_on(&mut self, ahead: &mut Vec<(u32, bool)>, choices: &mut Vec<(u32, bool)>, so_far: &mut Vec<Wish>) {
        if let Some((node, wish)) = ahead.pop() {
            self.one(node, wish, ahead, choices, so_far);
            ahead.push((node, wish));
        } else if let Some((node, wish)) = choices.pop() {
            if let Some(Condition::And { start, len } | Condition::Or { start, len }) = self.condition(node) {
                for part in self.evaluation.program.arguments(start, len) {
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

    fn condition(&self, node: u32) -> Option<Condition> {
        self.evaluation.program.conditions.get(node as usize).copied()
    }

    fn one(
        &mut self,
        node: u32,
        wish: bool,
        ahead: &mut Vec<(u32, bool)>,
        choices: &mut Vec<(u32, bool)>,
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
            Some(Condition::And { start, len }) if wish => self.all(start, len, wish, ahead, choices, so_far),
            Some(Condition::Or { start, len }) if !wish => self.all(start, len, wish, ahead, choices, so_far),
            Some(Condition::And { .. } | Condition::Or { .. }) => {
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
        start: u32,
        len: u32,
        wish: bool,
        ahead: &mut Vec<(u32, bool)>,
        choices: &mut Vec<(u32, bool)>,
        so_far: &mut Vec<Wish>,
    ) {
        let before = ahead.len();
        ahead.extend(self.evaluation.program.arguments(start, len).iter().rev().map(|part| (*part, wish)));
        self.next(ahead, choices, so_far);
        ahead.truncate(before);
    }

    fn leaf(
        &mut self,
        node: u32,
        condition: Condition,
        wish: bool,
        ahead: &mut Vec<(u32, bool)>,
        choices: &mut Vec<(u32, bool)>,
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
fn allowed(condition: Condition, wish: bool) -> u64 {
    match condition {
        Condition::Words(_, words) if wish => words,
        Condition::Words(_, words) => !words,
        Condition::Absent(Store::Words, _) if wish => crate::ir::ABSENT_WORD,
        _ => u64::MAX,
    }
}

/// Adds something wanted; false if it would have to be two things at once.
fn add(so_far: &mut Vec<Wish>, wanting: Wanting, words: u64) -> bool {
    match so_far.iter_mut().find(|(known, _)| *known == wanting) {
        Some((_, so_far)) => {
            *so_far &= words;
            *so_far != 0
        }
        None => {
            so_far.push((wanting, words));
            true
        }
    }
}
