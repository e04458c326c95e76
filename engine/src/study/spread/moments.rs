//! Mean and standard deviation of numbers that come in parts.

use crate::kernel;

/// Count, mean and sum of squared deviations.
///
/// Source: T. F. Chan, G. H. Golub, R. J. LeVeque, "Algorithms for computing the sample variance", The American Statistician
/// 37(3), 1983: parts are joined by their means, so that nothing cancels.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Moments {
    pub(super) count: u64,
    pub(super) mean: f64,
    squares: f64,
}

impl Moments {
    /// Of these numbers.
    pub(super) fn of(numbers: &[f64]) -> Self {
        let count = numbers.len();
        if count == 0 {
            return Self::default();
        }
        #[allow(clippy::cast_precision_loss, reason = "far below 2^52")]
        let mean = numbers.iter().fold(0.0, |sum, number| sum + number) / count as f64;
        Self {
            count: count as u64,
            mean,
            squares: numbers
                .iter()
                .fold(0.0, |sum, number| sum + (number - mean) * (number - mean)),
        }
    }

    /// Of both.
    #[allow(clippy::cast_precision_loss, reason = "far below 2^52")]
    pub(super) fn and(self, other: Self) -> Self {
        if self.count == 0 || other.count == 0 {
            return if self.count == 0 { other } else { self };
        }
        let (here, there) = (self.count as f64, other.count as f64);
        let apart = other.mean - self.mean;
        Self {
            count: self.count + other.count,
            mean: self.mean + apart * (there / (here + there)),
            squares: self.squares + other.squares + apart * apart * (here * there / (here + there)),
        }
    }

    /// The sample's standard deviation; 0 of fewer than two numbers.
    #[allow(clippy::cast_precision_loss, reason = "far below 2^52")]
    pub(super) fn deviation(self) -> f64 {
        if self.count < 2 {
            return 0.0;
        }
        kernel::sqrt(self.squares / (self.count - 1) as f64)
    }
}
