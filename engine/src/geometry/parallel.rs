//! From when on two directions count as parallel.

use crate::tape::Number;

/// The sine of the smallest angle at which two directions count as different: two lines at that angle part by a
/// nanometre a metre. Rounding alone makes about 10⁻¹⁶ of it, the best reading on a car 10⁻⁴, so nothing measured ever
/// falls between.
pub(super) const PARALLEL: Number = Number::constant(1e-9);
