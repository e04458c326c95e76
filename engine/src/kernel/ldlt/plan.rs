//! What a factorisation can know from the places alone.

use super::Pattern;
use super::ordering::reverse_cuthill_mckee;
use std::ops::{Add, Range};

/// The order of elimination and the storage for a pattern, worked out once for any number of factors.
///
/// Row r of the reordered lower half is kept from its first entry that can be other than zero up to the diagonal, one
/// row after the other.
#[derive(Debug, Clone)]
pub struct Plan {
    pattern: Pattern,
    /// The unknown that is eliminated at each step.
    order: Vec<usize>,
    /// The first column kept in each row.
    first_column: Vec<usize>,
    /// Where each row begins in the storage; one more at the end.
    row_start: Vec<usize>,
    /// Where each of the pattern's values is added in the storage.
    targets: Vec<usize>,
}

impl Plan {
    /// Works out the order and the storage.
    pub fn new(pattern: Pattern) -> Plan {
        let order = reverse_cuthill_mckee(&pattern);
        let mut step = vec![0; pattern.size()];
        for (at, &unknown) in order.iter().enumerate() {
            step[unknown] = at;
        }
        let lower = |&(i, j): &(usize, usize)| (step[i].max(step[j]), step[i].min(step[j]));

        let mut first_column: Vec<usize> = (0..pattern.size()).collect();
        for (row, column) in pattern.entries().iter().map(lower) {
            first_column[row] = first_column[row].min(column);
        }
        let mut row_start = vec![0];
        for (row, first) in first_column.iter().enumerate() {
            row_start.push(row_start[row] + row - first + 1);
        }
        let places = pattern.entries().iter().map(lower);
        let targets = places
            .map(|(row, column)| row_start[row] + column - first_column[row])
            .collect();
        Plan {
            pattern,
            order,
            first_column,
            row_start,
            targets,
        }
    }

    /// The number of unknowns.
    pub fn size(&self) -> usize {
        self.pattern.size()
    }

    /// The places the plan was made for.
    pub fn pattern(&self) -> &Pattern {
        &self.pattern
    }

    /// The unknown that is eliminated at each step.
    pub fn order(&self) -> &[usize] {
        &self.order
    }

    #[inline(always)]
    pub(in crate::kernel) fn first_column(&self, row: usize) -> usize {
        self.first_column[row]
    }

    /// Where a row lies in the storage: from its first column to its diagonal.
    #[inline(always)]
    pub(in crate::kernel) fn row(&self, row: usize) -> Range<usize> {
        self.row_start[row]..self.row_start[row + 1]
    }

    /// How many numbers the storage holds.
    pub(super) fn storage(&self) -> usize {
        self.row_start[self.size()]
    }

    /// Adds up in the storage what stands at these of the pattern's places.
    #[inline(always)]
    pub(in crate::kernel) fn assemble<T: Copy + Add<Output = T>>(
        &self,
        places: Range<usize>,
        nothing: T,
        value_at: impl Fn(usize) -> T,
        storage: &mut [T],
    ) {
        storage.fill(nothing);
        for (place, &target) in places.clone().zip(&self.targets[places]) {
            storage[target] = storage[target] + value_at(place);
        }
    }
}
