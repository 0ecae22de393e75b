//! The same for each of many, several at once.

use std::panic::resume_unwind;
use std::sync::mpsc::{SyncSender, sync_channel};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::thread::{self, ScopedJoinHandle};

/// No machine that judges projects does more at once.
const MOST: usize = 256;

/// Does the same with each of many, by so many workers at once, of which none is begun for nothing. What comes of each is told with its number, from 0, as
/// soon as it is there; nothing else of it is kept, and no worker is further ahead than one outcome.
///
/// ```
/// let mut squares = [0; 4];
/// cotterpin_engine::workers::each_of([1, 2, 3, 4], 2, |n| n * n, |number, square| squares[number] = square);
/// assert_eq!(squares, [1, 4, 9, 16]);
/// ```
pub fn each_of<W, R: Send>(
    work: W,
    workers: usize,
    come_to: impl Fn(W::Item) -> R + Sync,
    mut told: impl FnMut(usize, R),
) where
    W: IntoIterator<IntoIter: Send>,
{
    let work = work.into_iter();
    let workers = workers.min(work.size_hint().1.unwrap_or(MOST)).min(MOST);
    let queue = Mutex::new(work.enumerate());
    let next = || held(&queue).next();
    if workers > 1 {
        thread::scope(|scope| {
            let (send, outcomes) = sync_channel(1);
            let mut begun = Vec::new();
            for _ in 0..workers {
                let (send, next, come_to): (SyncSender<_>, _, _) = (send.clone(), &next, &come_to);
                let work = move || {
                    while let Some((number, one)) = next() {
                        if send.send((number, come_to(one))).is_err() {
                            return;
                        }
                    }
                };
                // Where no more threads can be had, those there are do it.
                match thread::Builder::new().spawn_scoped(scope, work) {
                    Ok(worker) => begun.push(worker),
                    Err(_) => break,
                }
            }
            drop(send);
            outcomes.iter().for_each(|(number, outcome)| told(number, outcome));
            // Who panics does so for whoever asked, with the same words.
            let ended: Vec<_> = begun.into_iter().map(ScopedJoinHandle::join).collect();
            if let Some(why) = ended.into_iter().find_map(Result::err) {
                resume_unwind(why);
            }
        });
    }
    // One worker is this one, and so it is where no thread could be had.
    while let Some((number, one)) = next() {
        told(number, come_to(one));
    }
}

/// Does one thing beside another, if a thread can be had, and else before it.
///
/// ```
/// let (sum, product) = cotterpin_engine::workers::both(|| 2 + 3, || 2 * 3);
/// assert_eq!((sum, product), (5, 6));
/// ```
pub fn both<A: Send, B>(beside: impl Fn() -> A + Sync, here: impl FnOnce() -> B) -> (A, B) {
    thread::scope(|scope| match thread::Builder::new().spawn_scoped(scope, &beside) {
        Ok(begun) => {
            let other = here();
            (begun.join().unwrap_or_else(|why| resume_unwind(why)), other)
        }
        Err(_) => (beside(), here()),
    })
}

/// What a lock keeps. Nothing is ever left half done under one.
pub(crate) fn held<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::each_of;
    use std::collections::BTreeMap;
    use std::sync::atomic::{AtomicUsize, Ordering};

    #[test]
    fn each_is_done_once_whatever_the_workers() {
        for workers in [0, 1, 2, 7, 100, usize::MAX] {
            let (at_once, most) = (AtomicUsize::new(0), AtomicUsize::new(0));
            let mut told = BTreeMap::new();
            let come_to = |n: usize| {
                most.fetch_max(at_once.fetch_add(1, Ordering::SeqCst) + 1, Ordering::SeqCst);
                std::thread::yield_now();
                at_once.fetch_sub(1, Ordering::SeqCst);
                n + 1
            };
            each_of(0..50, workers, come_to, |number, outcome| assert_eq!(told.insert(number, outcome), None));
            assert_eq!(told, (0..50).map(|n| (n, n + 1)).collect::<BTreeMap<_, _>>());
            assert!(most.into_inner() <= workers.max(1), "{workers}");
        }
        each_of(0..0, 3, |n| n, |_, _: usize| panic!("there is nothing"));
    }

    #[test]
    fn who_panics_does_so_with_the_same_words() {
        for workers in [1, 2, 9] {
            let panicking = || each_of(0..5, workers, |n| assert!(n != 3, "not {n}"), |_, ()| {});
            let why = std::panic::catch_unwind(panicking).expect_err("it panics");
            assert_eq!(why.downcast_ref::<String>().map(String::as_str), Some("not 3"), "{workers}");
        }
    }

    #[test]
    fn no_thread_is_begun_for_nothing() {
        let threads = std::sync::Mutex::new(std::collections::BTreeSet::new());
        let seen = |_| {
            std::thread::sleep(std::time::Duration::from_millis(5));
            threads.lock().expect("a set").insert(format!("{:?}", std::thread::current().id()));
        };
        each_of(0..3, usize::MAX, seen, |_, ()| {});
        // Nor where nobody knows how many there will be.
        each_of((0..900).filter(|n| n % 3 == 0), usize::MAX, seen, |_, ()| {});
        assert!(threads.lock().expect("a set").len() <= 3 + super::MOST);
    }
}
