//! Many nights at once.

use rayon::ThreadPoolBuilder;
use rayon::prelude::*;

/// Carries out `count` independent pieces of work on `threads` threads, or on
/// all cores.
///
/// The results stand in the order of their index and do not depend on the
/// number of threads: nights run side by side, never a sum inside one. `done`
/// is called after each piece, from whichever thread did it.
pub fn in_parallel<T: Send>(
    count: usize,
    threads: Option<usize>,
    work: impl Fn(usize) -> T + Sync,
    done: impl Fn() + Sync,
) -> Vec<T> {
    let all = || {
        (0..count)
            .into_par_iter()
            .map(|index| {
                let result = work(index);
                done();
                result
            })
            .collect()
    };
    // A pool that cannot be had (no more threads allowed) is no reason to do nothing.
    match threads.map(|number| ThreadPoolBuilder::new().num_threads(number).build()) {
        Some(Ok(pool)) => pool.install(all),
        Some(Err(_)) | None => all(),
    }
}

#[cfg(test)]
mod tests {
    use super::in_parallel;
    use std::sync::atomic::{AtomicUsize, Ordering};

    #[test]
    fn results_stand_in_order_and_each_piece_is_reported_once() {
        let done = AtomicUsize::new(0);
        for threads in [None, Some(1), Some(2), Some(3)] {
            let results = in_parallel(
                100,
                threads,
                |i| i * i,
                || {
                    done.fetch_add(1, Ordering::Relaxed);
                },
            );
            assert_eq!(results, (0..100).map(|i| i * i).collect::<Vec<_>>());
        }
        assert_eq!(done.into_inner(), 400);
    }
}
