//! How wide a reading's ± is, said in one way for all kinds of it.

use crate::kernel;
use crate::outcome::Spread;

/// The half width about a reading that holds its value with 95 in 100, as samples draw it: exact for a normal
/// distribution, two of its standard uncertainties being common practice for 1.96; for repeats the root of the squares of
/// both parts' own (Student's t for the scatter, 0.95 of the instrument's limits), which is exact where one of them is
/// nothing. Limits hold every value and are given as they are.
pub(crate) fn half_width(spread: &Spread) -> f64 {
    match *spread {
        Spread::Exact => 0.0,
        Spread::Limits(width) => width,
        Spread::Standard(width) => 2.0 * width,
        Spread::Repeats {
            mean_scatter,
            freedoms,
            limits,
        } => {
            let scatter = mean_scatter * kernel::student_quantile(0.975, freedoms.max(1));
            let instrument = 0.95 * limits;
            kernel::sqrt(scatter * scatter + instrument * instrument)
        }
    }
}
