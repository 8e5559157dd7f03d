//! Work on all cores, with results in order.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};
use std::thread;

/// `work` of 0 to `count - 1`, begun in that order, as many at once as there are cores; the results stand in order.
///
/// The calling thread works too: each more would keep memory of its own.
///
/// # Panics
/// Where `work` does.
pub(crate) fn map<T: Send>(count: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let made = Mutex::new(Vec::with_capacity(count));
    let take = || {
        while let Some(at) = Some(next.fetch_add(1, Ordering::Relaxed)).filter(|at| *at < count) {
            let result = work(at);
            made.lock().unwrap_or_else(PoisonError::into_inner).push((at, result));
        }
    };
    let workers = thread::available_parallelism().map_or(1, usize::from).min(count);
    thread::scope(|scope| {
        for _ in 1..workers {
            scope.spawn(take);
        }
        take();
    });
    let mut made = made.into_inner().unwrap_or_else(PoisonError::into_inner);
    made.sort_by_key(|(at, _)| *at);
    made.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_stand_in_order() {
        assert!(map(0, |at| at).is_empty());
        assert_eq!(map(1_000, |at| at * 2), (0..1_000).map(|at| at * 2).collect::<Vec<_>>());
    }
}
