//! Quantiles of numbers that come in parts, in memory that does not grow.

use crate::kernel;

/// Up to so many numbers are kept, and quantiles are exact.
pub(super) const KEPT: usize = 1 << 16;
/// Beyond, numbers are only counted in so many cells, each of which held as many of the first ones.
const CELLS: usize = 1 << 12;

/// Equal parts of the range, each with the cell in which it starts.
const PARTS: usize = 1 << 13;

/// Numbers kept, or, when there are too many, counted.
#[derive(Clone, Debug)]
pub(super) enum Quantiles {
    /// All of them.
    Kept(Vec<f64>),
    /// How many lie in each cell.
    Counted(Cells),
}

/// Cells between edges that the first numbers set: a quantile is known to the width of a cell, which holds a four-thousandth
/// of all, and is taken on the straight line through it.
#[derive(Clone, Debug)]
pub(super) struct Cells {
    /// Rising; the first and the last are the smallest and the largest number.
    edges: Vec<f64>,
    counts: Vec<u64>,
    /// The cell of the smallest number in each of as many equal parts of the range: where to start looking.
    starts: Vec<u32>,
}

impl Default for Quantiles {
    fn default() -> Self {
        Self::Kept(Vec::new())
    }
}

impl Quantiles {
    /// Takes more numbers.
    pub(super) fn take(&mut self, numbers: &[f64]) {
        match self {
            Self::Kept(kept) if kept.len() + numbers.len() <= KEPT => kept.extend_from_slice(numbers),
            Self::Kept(kept) => {
                let mut all = std::mem::take(kept);
                all.extend_from_slice(numbers);
                *self = Self::Counted(Cells::new(all));
            }
            Self::Counted(cells) => numbers.iter().for_each(|number| cells.count(*number)),
        }
    }

    /// Whether quantiles are exact.
    pub(super) fn is_exact(&self) -> bool {
        matches!(self, Self::Kept(_))
    }

    /// The values below which these shares of the numbers lie (JCGM 101:2008, 7.7: of n values in rising order the one at
    /// place share·n); none of no numbers.
    pub(super) fn at<const COUNT: usize>(&mut self, shares: [f64; COUNT]) -> Option<[f64; COUNT]> {
        match self {
            Self::Kept(kept) => {
                kept.sort_by(f64::total_cmp);
                (!kept.is_empty()).then(|| shares.map(|share| kept[place(share, kept.len())]))
            }
            Self::Counted(cells) => Some(shares.map(|share| cells.at(share))),
        }
    }
}

#[allow(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share of a count"
)]
fn place(share: f64, count: usize) -> usize {
    (kernel::floor(share * count as f64) as usize).min(count - 1)
}

impl Cells {
    fn new(mut numbers: Vec<f64>) -> Self {
        numbers.sort_by(f64::total_cmp);
        let last = numbers.len() - 1;
        let edges: Vec<f64> = (0..=CELLS).map(|edge| numbers[edge * last / CELLS]).collect();
        let mut cells = Self {
            counts: vec![0; CELLS],
            starts: Vec::new(),
            edges,
        };
        cells.starts = cells.starts();
        numbers.iter().for_each(|number| cells.count(*number));
        cells
    }

    fn count(&mut self, number: f64) {
        let cell = self.cell(number);
        self.counts[cell] += 1;
        self.edges[0] = kernel::min(self.edges[0], number);
        self.edges[CELLS] = kernel::max(self.edges[CELLS], number);
    }

    /// The first cell whose upper edge lies above the number; the last one of a number beyond all.
    fn cell(&self, number: f64) -> usize {
        let part = self.part(number);
        let start = |part: usize, beyond: usize| self.starts.get(part).map_or(beyond, |start| *start as usize);
        let (low, high) = (start(part, 0), start(part + 1, CELLS - 1));
        let mut cell = low + self.edges[low + 1..=high].partition_point(|edge| *edge <= number);
        // Rounding may have put it into the next part.
        while cell + 1 < CELLS && self.edges[cell + 1] <= number {
            cell += 1;
        }
        while cell > 0 && self.edges[cell] > number {
            cell -= 1;
        }
        cell
    }

    /// In which of the equal parts of the inner range a number lies.
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "clamped to the number of parts"
    )]
    fn part(&self, number: f64) -> usize {
        let (low, high) = (self.edges[1], self.edges[CELLS - 1]);
        let share = (number - low) / (high - low) * PARTS as f64;
        // What is no number (a range of no width) counts as the first.
        kernel::max(0.0, kernel::min(PARTS as f64 - 1.0, kernel::floor(share))) as usize
    }

    #[allow(clippy::cast_precision_loss, reason = "a few thousand")]
    fn starts(&self) -> Vec<u32> {
        let (low, high) = (self.edges[1], self.edges[CELLS - 1]);
        let inner = &self.edges[1..CELLS];
        let start = |part: usize| {
            let number = low + (high - low) * (part as f64 / PARTS as f64);
            u32::try_from(inner.partition_point(|edge| *edge <= number)).unwrap_or(0)
        };
        (0..PARTS).map(start).collect()
    }

    #[allow(clippy::cast_precision_loss, reason = "far below 2^52")]
    fn at(&self, share: f64) -> f64 {
        let all: u64 = self.counts.iter().sum();
        let mut left = share * all as f64;
        for (cell, count) in self.counts.iter().enumerate() {
            let count = *count as f64;
            if left <= count && count > 0.0 {
                let (low, high) = (self.edges[cell], self.edges[cell + 1]);
                return low + (high - low) * (left / count);
            }
            left -= count;
        }
        self.edges[CELLS]
    }
}
