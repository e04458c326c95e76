//! Choice between numbers and the whole number below: exact.

/// The smaller of two numbers; NaN if either is.
///
/// Of two equal numbers the second is given, which matters only for `0.0` and `-0.0`.
#[inline(always)]
pub fn min(a: f64, b: f64) -> f64 {
    if (a < b) | a.is_nan() { a } else { b }
}

/// The larger of two numbers; NaN if either is.
///
/// Of two equal numbers the second is given, which matters only for `0.0` and `-0.0`.
#[inline(always)]
pub fn max(a: f64, b: f64) -> f64 {
    if (a > b) | a.is_nan() { a } else { b }
}

/// The largest whole number not above `x`. Exact; keeps the sign of zero, infinities and NaN.
///
/// Written out because the standard function is a call per number where the instruction set has no rounding.
#[inline(always)]
pub fn floor(x: f64) -> f64 {
    // From 2^52 on every number is whole; below, adding and taking away 2^52 rounds to a whole number.
    const WHOLE_FROM: f64 = 4_503_599_627_370_496.0;
    let magnitude = x.abs();
    let rounded = ((magnitude + WHOLE_FROM) - WHOLE_FROM).copysign(x);
    let below = rounded - if rounded > x { 1.0 } else { 0.0 };
    if magnitude < WHOLE_FROM { below } else { x }
}
