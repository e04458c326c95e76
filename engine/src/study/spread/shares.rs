//! Each reading's share of a result's variance, from the samples themselves.
//!
//! The share is the first-order index S = Var(E(y|x))/Var(y): by how much less y would vary, on average, were x known exactly.
//! The samples are sorted into cells by the reading's value; the variance between the cells' means is that of E(y|x),
//! and what means of so few samples vary by chance is taken off; what is then no more than chance is nothing. Readings that act through one another leave a rest.
//!
//! Sources: I. M. Sobol', "Global sensitivity indices for nonlinear mathematical models and their Monte Carlo
//! estimates", Mathematics and Computers in Simulation 55, 2001; estimated from given data after E. Plischke, "An effective
//! algorithm for computing global sensitivity indices (EASI)" and the correlation-ratio estimate described there,
//! Reliability Engineering and System Safety 95, 2010.

use super::moments::Moments;
use crate::kernel;

/// Cells for one reading.
pub(super) const CELLS: usize = 64;
/// Outside this many standard uncertainties all is one cell: limits end at √3, few normal readings lie beyond.
const REACH: f64 = 2.4;

/// In which cell a reading lies that is so many standard uncertainties off.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "clamped to the number of cells"
)]
pub(super) fn cell(off: f64) -> u8 {
    let scaled = (off + REACH) / (2.0 * REACH) * CELLS as f64;
    kernel::max(0.0, kernel::min(CELLS as f64 - 1.0, kernel::floor(scaled))) as u8
}

/// Sums of one result by the cells of one reading.
#[derive(Clone, Debug)]
pub(super) struct ByCell {
    counts: [u32; CELLS],
    sums: [f64; CELLS],
}

impl Default for ByCell {
    fn default() -> Self {
        Self {
            counts: [0; CELLS],
            sums: [0.0; CELLS],
        }
    }
}

impl ByCell {
    /// Takes a result, counted from a value near all of them so that nothing cancels.
    pub(super) fn take(&mut self, cell: u8, beside: f64) {
        self.counts[usize::from(cell)] += 1;
        self.sums[usize::from(cell)] += beside;
    }

    /// The share, from 0 to 1; `all` are the moments of the same results about the same value.
    #[allow(clippy::cast_precision_loss, reason = "far below 2^52")]
    pub(super) fn share(&self, all: Moments, about: f64) -> f64 {
        let total = all.deviation() * all.deviation();
        if total <= 0.0 {
            return 0.0;
        }
        let count = all.count as f64;
        let mean = all.mean - about;
        let mut between = 0.0;
        let mut cells = 0.0;
        for (held, sum) in self.counts.iter().zip(&self.sums) {
            if *held > 0 {
                let held = f64::from(*held);
                let apart = sum / held - mean;
                between += held * apart * apart;
                cells += 1.0;
            }
        }
        // A cell's mean varies by chance by the variance that is left within over its count: in all (cells - 1)/n of it.
        let explained = between / (count - 1.0) / total;
        let chance = (cells - 1.0) / (count - 1.0);
        let share = (explained - chance) / (1.0 - chance);
        // Three standard deviations of what a reading without any effect would show.
        if share < 3.0 * kernel::sqrt(2.0 * (cells - 1.0)) / count {
            return 0.0;
        }
        kernel::min(1.0, share)
    }
}
