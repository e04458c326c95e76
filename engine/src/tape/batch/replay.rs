//! A tape made ready to be replayed on many samples at once.

use super::block::Block;
use super::clean::{Cleaned, clean};
use super::instructions::Instructions;
use super::layout::layout;
use super::line::{Name, Origin};
use super::rows::Place;
use super::step::{Step, reads_row, steps_of};
use super::unasked::asked;
use crate::tape::graph::{Graph, Slot, Tape};
use std::collections::BTreeMap;

/// A tape made ready to be replayed on many samples at once. Plain data: threads share one and make a [`Block`] each.
#[derive(Debug)]
pub struct Batch {
    steps: Vec<Step>,
    /// How many rows a block has.
    rows: usize,
    /// Rows that hold one known number.
    known: Vec<(Place, f64)>,
    /// The row of each input that is put in.
    inputs: BTreeMap<u32, Place>,
    /// The row of each wanted slot.
    wanted: BTreeMap<Slot, Place>,
    /// The closures that steps work on.
    bodies: Graph,
    /// Whether every lane leaves, whatever is put in.
    leaves: bool,
    cost: u64,
}

impl Batch {
    /// For these slots of a tape: every lane's bits, and whether it stays on the path, are those of
    /// [`Replay`](crate::tape::Replay).
    ///
    /// What the slots, the guards and the requirements do not rest on is left out, unless it could have no value where its
    /// arguments are ordinary numbers (a division, a root, …): there the script refuses, so the lane has to leave. (So a
    /// sum or product beyond the range of numbers, 1e308, goes unnoticed where nothing wanted rests on it.)
    #[must_use]
    pub fn new(tape: &Tape, wanted: &[Slot]) -> Self {
        Self::with_known(tape, wanted, &[])
    }

    /// As [`Batch::new`], with the inputs that are the same in every sample: what rests on them alone is calculated once,
    /// here. `known` is aligned with the tape's inputs; `None`, or none there, is an input that is put in.
    #[must_use]
    pub fn with_known(tape: &Tape, wanted: &[Slot], known: &[Option<f64>]) -> Self {
        let mut cleaned = clean(tape, wanted, known);
        if cleaned.leaves {
            cleaned.lines.clear();
        }
        let mut bodies = Graph::default();
        for body in tape.graph.bodies() {
            bodies.push_body(body.clone());
        }
        Self::of(&cleaned, bodies, tape.cost())
    }

    fn of(cleaned: &Cleaned, bodies: Graph, cost: u64) -> Self {
        let origins = &cleaned.origins;
        let is_known = |name: Name| matches!(origins[name as usize], Origin::Known(_));
        let layout = layout(cleaned, |line, position| {
            reads_row(line, position, is_known(line.arguments[position]))
        });
        let asked = asked(&cleaned.lines, origins.len());
        let mut steps = Vec::with_capacity(cleaned.lines.len());
        for (name, origin) in origins.iter().enumerate() {
            if matches!(origin, Origin::Input(_)) && asked[name] {
                steps.push(Step::Ask(layout.places[name]));
            }
        }
        for line in &cleaned.lines {
            steps_of(line, origins, &layout, &asked, &mut steps);
        }
        let place = |(slot, name): (&Slot, &Name)| (*slot, layout.places[*name as usize]);
        let wanted = cleaned.wanted.iter().map(place).collect();
        Self {
            steps,
            rows: layout.rows,
            known: layout.known,
            inputs: layout.inputs.into_iter().collect(),
            wanted,
            bodies,
            leaves: cleaned.leaves,
            cost,
        }
    }

    /// Rows for one thread to replay in.
    #[must_use]
    pub fn block(&self) -> Block<'_> {
        self.block_with(Instructions::best())
    }

    /// Rows for one thread, and the instructions to use: for tests, as the bits are the same.
    #[must_use]
    pub fn block_with(&self, instructions: Instructions) -> Block<'_> {
        Block::new(self, instructions)
    }

    /// How many steps there are, to see what cleaning does.
    #[must_use]
    pub fn len(&self) -> usize {
        self.steps.len()
    }

    /// Whether nothing is left to do.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.steps.is_empty()
    }

    pub(super) fn steps(&self) -> &[Step] {
        &self.steps
    }

    pub(super) fn bodies(&self) -> &Graph {
        &self.bodies
    }

    pub(super) fn rows(&self) -> (usize, &[(Place, f64)]) {
        (self.rows, &self.known)
    }

    pub(super) fn input(&self, number: usize) -> Option<Place> {
        self.inputs.get(&u32::try_from(number).ok()?).copied()
    }

    pub(super) fn wanted(&self, slot: Slot) -> Option<Place> {
        self.wanted.get(&slot).copied()
    }

    pub(super) const fn always_leaves(&self) -> bool {
        self.leaves
    }

    /// What one lane costs, in simple operations of a replay lane after lane.
    pub(super) const fn cost(&self) -> u64 {
        self.cost
    }
}
