//! How a number moves: the central 95 % of its samples.

/// How a number moves with the readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Standard uncertainty to first order (JCGM 100:2008, 5.1.2). Near a kink (the root of nearly nothing) a derivative
    /// says nothing; where first order gives more than twice what the samples show, it is theirs: a quarter of the
    /// interval, as for a normal distribution.
    pub std_uncertainty: f64,
    /// Below it lie 2.5 % of the samples.
    pub low: f64,
    /// The middle sample.
    pub median: f64,
    /// Above it lie 2.5 % of the samples.
    pub high: f64,
    /// In how many samples the step is there.
    pub present: usize,
}

/// The central 95 % of samples: 2.5 % lie below the lower end, 2.5 % above the upper (JCGM 101:2008, 7.7). `None` for a
/// number that does not move.
pub(crate) fn interval(mut samples: Vec<f64>, std_uncertainty: f64) -> Option<Interval> {
    samples.sort_by(f64::total_cmp);
    let outside = samples.len() / 40;
    let last = samples.len().checked_sub(1)?;
    if samples[0] == samples[last] {
        return None;
    }
    let (low, high) = (samples[outside], samples[last - outside]);
    Some(Interval {
        std_uncertainty: trusted(std_uncertainty, low, high),
        low,
        median: samples[last / 2],
        high,
        present: samples.len(),
    })
}

/// First order, unless it says more than twice what the samples show.
fn trusted(first_order: f64, low: f64, high: f64) -> f64 {
    // 95 % of a normal distribution lie within 2 × 1.96 standard deviations.
    let sampled = (high - low) / 3.92;
    if first_order > 2.0 * sampled {
        sampled
    } else {
        first_order
    }
}
