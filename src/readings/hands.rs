//! Shares work among threads; no result depends on how many there are.

use std::panic::resume_unwind;
use std::thread;

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
