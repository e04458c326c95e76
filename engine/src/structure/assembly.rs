//! The whole matrix from its parts.

use super::axes::{Block, MemberBlocks};
use super::body::{Seat, carry_block};
use super::freedom::FREEDOMS;
use super::vector::{minus, plus, times};
use crate::kernel::ldlt::Pattern;
use crate::tape::Number;

/// Entries of a symmetric matrix over all freedoms of all nodes, six a node; entries at one place add up. An entry off
/// the diagonal stands for its mirror image too.
#[derive(Clone, Debug, Default)]
pub(super) struct Entries {
    places: Vec<(usize, usize)>,
    values: Vec<Number>,
}

/// Which freedoms are unknown, in the order of all freedoms.
#[derive(Clone, Debug)]
pub(super) struct Unknowns {
    /// For each freedom its place among the unknowns.
    places: Vec<Option<usize>>,
    /// For each unknown its freedom.
    freedoms: Vec<usize>,
}

impl Entries {
    /// Adds a member's matrix.
    pub(super) fn add_member(&mut self, blocks: &MemberBlocks, a: &Seat, b: &Seat) {
        self.add_own(&carry_block(blocks.a_a, a, a), a.leader);
        self.add_own(&carry_block(blocks.b_b, b, b), b.leader);
        let between = carry_block(blocks.a_b, a, b);
        for (i, row) in between.iter().enumerate() {
            for (j, value) in row.iter().enumerate() {
                self.push(FREEDOMS * a.leader + i, FREEDOMS * b.leader + j, *value);
            }
        }
    }

    /// Adds what belongs to single freedoms of one node: springs, or a point mass.
    pub(super) fn add_diagonal(&mut self, diagonal: [Option<Number>; FREEDOMS], seat: &Seat) {
        if seat.arm.is_some() {
            let mut block = [[Number::ZERO; FREEDOMS]; FREEDOMS];
            for (i, value) in diagonal.into_iter().enumerate() {
                block[i][i] = value.unwrap_or(Number::ZERO);
            }
            if diagonal.iter().any(Option::is_some) {
                self.add_own(&carry_block(block, seat, seat), seat.leader);
            }
            return;
        }
        for (i, value) in diagonal.into_iter().enumerate() {
            if let Some(value) = value {
                let at = FREEDOMS * seat.leader + i;
                self.push(at, at, value);
            }
        }
    }

    fn add_own(&mut self, block: &Block, node: usize) {
        for (i, row) in block.iter().enumerate() {
            for (j, value) in row.iter().enumerate().take(i + 1) {
                self.push(FREEDOMS * node + i, FREEDOMS * node + j, *value);
            }
        }
    }

    fn push(&mut self, row: usize, column: usize, value: Number) {
        self.places.push((row, column));
        self.values.push(value);
    }

    /// The part of the unknowns: places and values.
    pub(super) fn among(&self, unknowns: &Unknowns) -> (Pattern, Vec<Number>) {
        let mut places = Vec::new();
        let mut values = Vec::new();
        for ((row, column), value) in self.places.iter().zip(&self.values) {
            if let (Some(row), Some(column)) = (unknowns.places[*row], unknowns.places[*column]) {
                places.push((row, column));
                values.push(*value);
            }
        }
        let pattern = Pattern::new(unknowns.count(), places).expect("unknowns number the rows of their own matrix");
        (pattern, values)
    }

    /// Takes from each unknown's force what the given displacements of the other freedoms put on it.
    pub(super) fn take_given(&self, unknowns: &Unknowns, given: &[Option<Number>], forces: &mut [Number]) {
        for ((row, column), value) in self.places.iter().zip(&self.values) {
            for (here, there) in [(*row, *column), (*column, *row)] {
                if let (Some(unknown), Some(displacement)) = (unknowns.places[here], given[there]) {
                    forces[unknown] = minus(forces[unknown], times(*value, displacement));
                }
            }
        }
    }

    /// The forces on one freedom that hold these displacements: a row of K u.
    pub(super) fn force_on(&self, freedom: usize, displacements: &[Number]) -> Number {
        let mut sum = Number::ZERO;
        for ((row, column), value) in self.places.iter().zip(&self.values) {
            if *row == freedom {
                sum = plus(sum, times(*value, displacements[*column]));
            } else if *column == freedom {
                sum = plus(sum, times(*value, displacements[*row]));
            }
        }
        sum
    }
}

impl Unknowns {
    /// The freedoms for which this says so.
    pub(super) fn of(freedom_count: usize, is_unknown: impl Fn(usize) -> bool) -> Self {
        let freedoms: Vec<usize> = (0..freedom_count).filter(|freedom| is_unknown(*freedom)).collect();
        let mut places = vec![None; freedom_count];
        for (place, freedom) in freedoms.iter().enumerate() {
            places[*freedom] = Some(place);
        }
        Self { places, freedoms }
    }

    pub(super) fn count(&self) -> usize {
        self.freedoms.len()
    }

    pub(super) fn freedoms(&self) -> &[usize] {
        &self.freedoms
    }
}
