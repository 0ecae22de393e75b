//! Rules that are checked once for all projects of the same packs.

use crate::workers::held;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

/// Rules by the packs they are of; `V` is cheap to clone.
#[derive(Debug)]
pub struct RuleSets<V> {
    kept: Mutex<BTreeMap<Vec<String>, Kept<V>>>,
}

/// The rules of one set of packs: nothing until somebody has checked them.
type Kept<V> = Arc<Mutex<Option<V>>>;

impl<V> Default for RuleSets<V> {
    fn default() -> Self {
        Self { kept: Mutex::default() }
    }
}

impl<V: Clone> RuleSets<V> {
    /// The rules of these packs, which are made once; who asks meanwhile waits. Packs without a name by
    /// which another project could name the same ones are not kept.
    ///
    /// # Errors
    /// What the making comes to. It is not kept: the next who asks is told as well.
    pub fn get<E>(&self, packs: Option<Vec<String>>, make: impl FnOnce() -> Result<V, E>) -> Result<V, E> {
        let Some(packs) = packs else { return make() };
        let kept = Arc::clone(held(&self.kept).entry(packs).or_default());
        let mut kept = held(&kept);
        if let Some(rules) = &*kept {
            return Ok(rules.clone());
        }
        let rules = make()?;
        *kept = Some(rules.clone());
        Ok(rules)
    }
}

#[cfg(test)]
mod tests {
    use super::RuleSets;
    use std::sync::Arc;
    use std::sync::atomic::{AtomicUsize, Ordering};

    #[test]
    fn one_set_is_made_once_and_a_failure_again() {
        let sets: RuleSets<Arc<usize>> = RuleSets::default();
        let made = AtomicUsize::new(0);
        let named = |name: &str| Some(vec![name.to_owned()]);
        let make = || Ok::<_, ()>(Arc::new(made.fetch_add(1, Ordering::SeqCst)));
        assert_eq!(sets.get(named("us"), || Err("broken")), Err("broken"));
        std::thread::scope(|scope| {
            for _ in 0..4 {
                scope.spawn(|| assert_eq!(sets.get(named("us"), make), Ok(Arc::new(0))));
            }
        });
        assert_eq!(sets.get(named("ca"), make), Ok(Arc::new(1)));
        assert_eq!(sets.get(None, make), Ok(Arc::new(2)));
        assert_eq!(sets.get(None, make), Ok(Arc::new(3)));
    }
}
