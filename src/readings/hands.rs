//! Shares work among threads; no result depends on how many there are.

use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::{iter, thread};

/// No more threads than this.
const MOST: usize = 8;

/// So many threads for work that is worth so many.
pub(super) fn hands(worth: usize) -> usize {
    if worth < 2 { 1 } else { thread::available_parallelism().map_or(1, usize::from).min(worth).min(MOST) }
}

/// Does the same work on several threads, and gives what each gave.
pub(super) fn together<T: Send>(hands: usize, work: impl Fn() -> T + Sync) -> Vec<T> {
    thread::scope(|scope| {
        let others: Vec<_> = (1..hands).map(|_| scope.spawn(&work)).collect();
        let own = work();
        let join =
            |one: thread::ScopedJoinHandle<'_, T>| one.join().unwrap_or_else(|panic| resume_unwind(panic));
        [own].into_iter().chain(others.into_iter().map(join)).collect()
    })
}

/// What a function gives for each number below `count`, in their order, by several threads.
pub(super) fn in_order<T: Send>(hands: usize, count: usize, of: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let numbers = || iter::from_fn(|| Some(next.fetch_add(1, Ordering::Relaxed)).filter(|&at| at < count));
    let found = together(hands, || numbers().map(|at| (at, of(at))).collect::<Vec<_>>());
    let mut found: Vec<(usize, T)> = found.into_iter().flatten().collect();
    found.sort_unstable_by_key(|&(at, _)| at);
    found.into_iter().map(|(_, one)| one).collect()
}
