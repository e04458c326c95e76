//! Blocks spread over threads, results in the order of the blocks: any number of threads gives the same bytes.

use super::replay::Batch;
use crate::tape::stop::{is_stopped, stop_when};
use std::num::NonZero;
use std::rc::Rc;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread::{Builder, ScopedJoinHandle, available_parallelism, scope};

/// Below this work, in operations lane after lane, starting a thread costs more than it saves: about a millisecond.
const WORTH_A_THREAD: u64 = 1_000_000;

/// How many threads to use for so many samples of a batch: as many as the machine runs at once, one where there is little
/// to do. No result depends on it.
#[must_use]
pub fn threads_for(batch: &Batch, samples: usize) -> NonZero<usize> {
    let work = batch.cost().saturating_mul(samples as u64);
    if work < WORTH_A_THREAD {
        return NonZero::<usize>::MIN;
    }
    every_core()
}

/// As many threads as run at once.
#[must_use]
pub fn every_core() -> NonZero<usize> {
    available_parallelism().unwrap_or(NonZero::<usize>::MIN)
}

/// Does `work` for each of `blocks` numbers, on up to `threads` threads, and gives the results in their order. Each thread
/// makes a `state` of its own first (a [`super::Block`], say).
///
/// A thread's host (see [`crate::tape::stop_when`]) may only be asked on that thread: this one asks it, and the others
/// stop when it has stopped. What is stopped is no result. Work that panics takes this thread with it.
pub fn in_blocks<S, T: Send>(
    blocks: usize,
    threads: NonZero<usize>,
    state: impl Fn() -> S + Sync,
    work: impl Fn(&mut S, usize) -> T + Sync,
) -> Vec<T> {
    let shared = Shared {
        next: AtomicUsize::new(0),
        blocks,
        stopped: Arc::new(AtomicBool::new(false)),
    };
    let helpers = threads.get().min(blocks).saturating_sub(1);
    let mut done = scope(|scope| {
        let help = || {
            shared.obey();
            shared.work(&state, &work)
        };
        // A thread that does not start leaves its blocks to the others.
        let started: Vec<ScopedJoinHandle<'_, Vec<(usize, T)>>> = (0..helpers)
            .filter_map(|_| Builder::new().spawn_scoped(scope, help).ok())
            .collect();
        let mut done = shared.work(&state, &work);
        for helper in started {
            match helper.join() {
                Ok(more) => done.extend(more),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        done
    });
    done.sort_by_key(|(block, _)| *block);
    done.into_iter().map(|(_, result)| result).collect()
}

/// What the threads share: which block is next, and whether to stop.
struct Shared {
    next: AtomicUsize,
    blocks: usize,
    stopped: Arc<AtomicBool>,
}

impl Shared {
    /// Does blocks while there are any.
    fn work<S, T>(&self, state: &impl Fn() -> S, work: &impl Fn(&mut S, usize) -> T) -> Vec<(usize, T)> {
        let mut state = state();
        let mut done = Vec::new();
        loop {
            let block = self.next.fetch_add(1, Ordering::Relaxed);
            if block >= self.blocks {
                return done;
            }
            done.push((block, work(&mut state, block)));
            if is_stopped() {
                self.stopped.store(true, Ordering::Relaxed);
            }
        }
    }

    /// Makes this thread stop when the one with the host has stopped.
    fn obey(&self) {
        let stopped = Arc::clone(&self.stopped);
        stop_when(Rc::new(move || stopped.load(Ordering::Relaxed)));
    }
}
