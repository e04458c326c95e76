//! The rows of one thread: inputs in, results and departures out.

use super::instructions::Instructions;
use super::matrix::Groups;
use super::replay::Batch;
use super::rows::{LANES, Row};
use super::run::Running;
use super::single::Scratch;
use crate::tape::graph::Slot;
use crate::tape::stop::spend;

/// How many operations of a batch take the time of one lane after lane.
const FASTER: u64 = 16;

/// The rows of one thread, for up to [`LANES`] samples at a time.
#[derive(Clone, Debug)]
pub struct Block<'a> {
    batch: &'a Batch,
    instructions: Instructions,
    rows: Vec<Row>,
    /// NaN in the lanes that left.
    left: Row,
    scratch: Scratch,
    groups: Groups,
}

impl<'a> Block<'a> {
    pub(super) fn new(batch: &'a Batch, instructions: Instructions) -> Self {
        let (count, known) = batch.rows();
        // NaN, so that in a lane whose inputs are not put in nothing passes for a result.
        let mut rows = vec![Row::filled(f64::NAN); count];
        for (place, value) in known {
            rows[*place as usize] = Row::filled(*value);
        }
        Self {
            batch,
            instructions,
            rows,
            left: Row::filled(0.0),
            scratch: Scratch::default(),
            groups: Groups::default(),
        }
    }

    /// The [`LANES`] values of an input, to be filled; they stay until they are filled again. NaN at first: a lane whose
    /// inputs are not filled leaves. Empty for an input that is known, or that the tape does not have.
    pub fn input(&mut self, number: usize) -> &mut [f64] {
        match self.batch.input(number) {
            Some(place) => &mut self.rows[place as usize].0,
            None => &mut [],
        }
    }

    /// Replays the first `lanes` lanes; what stands in the others means nothing. Where the thread's host stops it
    /// (see [`crate::tape::stop_when`]), all lanes have left.
    pub fn run(&mut self, lanes: usize) {
        let lanes = lanes.min(LANES);
        let work = self.batch.cost().saturating_mul(lanes as u64) / FASTER;
        if self.batch.always_leaves() || spend(work) {
            self.left = Row::filled(f64::NAN);
            return;
        }
        self.left = Row::filled(0.0);
        self.instructions.with(Running {
            batch: self.batch,
            rows: &mut self.rows,
            left: &mut self.left,
            lanes,
            scratch: &mut self.scratch,
            groups: &mut self.groups,
        });
    }

    /// Whether a lane left the tape's path: there the script has to be run.
    #[must_use]
    pub fn left(&self, lane: usize) -> bool {
        self.left.0.get(lane).is_none_or(|mark| mark.is_nan())
    }

    /// The [`LANES`] values of a wanted slot. In a lane that left they mean nothing. Empty for a slot that was not wanted.
    #[must_use]
    pub fn lanes(&self, slot: Slot) -> &[f64] {
        match self.batch.wanted(slot) {
            Some(place) => &self.rows[place as usize].0,
            None => &[],
        }
    }
}
