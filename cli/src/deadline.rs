//! The clock that stops a script. The engine has none.

use std::cell::Cell;
use std::rc::Rc;
use std::time::{Duration, Instant};

/// What one run of a script may take.
const RUN: Duration = Duration::from_secs(10);
/// What the study may take that every run has: what the ± does to its checks.
const JUDGEMENT: Duration = Duration::from_secs(45);
/// What all runs of a study may take together that somebody asks for.
const STUDY: Duration = Duration::from_secs(180);

/// What a study may take for which somebody asks for so many samples.
const LONG_STUDY: Duration = Duration::from_secs(3600);

/// A clock shared with the language. What it stops is an error as a whole, so that a result never depends on it.
#[derive(Clone, Debug)]
pub(crate) struct Deadline {
    at: Rc<Cell<Instant>>,
    missed: Rc<Cell<bool>>,
    /// How many times the usual time it leaves.
    times: u32,
}

impl Deadline {
    /// For so many runs, each of which may take so many times the usual time.
    pub(crate) fn new(runs: usize, times: u32) -> Self {
        let runs = u32::try_from(runs.max(1)).unwrap_or(u32::MAX).min(360);
        Self {
            at: Rc::new(Cell::new(Instant::now() + RUN * runs * times)),
            missed: Rc::default(),
            times,
        }
    }

    /// Gives the judgement that follows a run its own time.
    pub(crate) fn judgement(&self) {
        self.at.set(Instant::now() + JUDGEMENT * self.times);
    }

    /// Gives the study that follows its own time.
    pub(crate) fn study(&self) {
        self.at.set(Instant::now() + STUDY * self.times);
    }

    /// Gives the study that follows the time of a long one.
    pub(crate) fn long_study(&self) {
        self.at.set(Instant::now() + LONG_STUDY * self.times);
    }

    /// Whether the time is over; remembered.
    pub(crate) fn is_over(&self) -> bool {
        let over = Instant::now() > self.at.get();
        if over {
            self.missed.set(true);
        }
        over
    }

    /// Whether anything was stopped.
    pub(crate) fn was_missed(&self) -> bool {
        self.missed.get()
    }
}
