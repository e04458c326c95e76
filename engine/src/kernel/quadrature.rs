//! The integral of a function over an interval by a fixed rule.

/// Panels of equal width.
const PANELS: u32 = 16;

/// Points of the rule on [-1, 1], in pairs ±x, and their weights: M. Abramowitz and I. A. Stegun, Handbook of
/// Mathematical Functions, table 25.4, n = 8 (to 15 decimals there; here from the roots of the Legendre polynomial to
/// the last bit).
const PAIRS: [(f64, f64); 4] = [
    (0.1834346424956498, 0.362683783378362),
    (0.525532409916329, 0.31370664587788727),
    (0.7966664774136267, 0.22238103445337448),
    (0.9602898564975363, 0.10122853629037626),
];

/// Points and weights of the integral from `a` to `b`: the sum of weight × value over them, in this order.
///
/// The rule is fixed, so a derivative under the integral is the same sum over derivatives. It is composite
/// Gauss–Legendre, 16 panels of 8 points: exact for polynomials up to degree 15 in each panel, and to rounding for
/// functions as smooth as a sine of some ten periods. A kink or jump inside a panel costs accuracy (an error of about
/// the jump times a hundredth of the interval at worst). The ends are no points. With `b` below `a` the weights are
/// negative.
pub fn quadrature(a: f64, b: f64) -> impl Iterator<Item = (f64, f64)> {
    let half_width = (b - a) / f64::from(2 * PANELS);
    (0..PANELS).flat_map(move |panel| {
        let share = f64::from(2 * panel + 1) / f64::from(2 * PANELS);
        let middle = a * (1.0 - share) + b * share;
        let left = PAIRS
            .into_iter()
            .rev()
            .map(move |(x, weight)| (middle - half_width * x, half_width * weight));
        let right = PAIRS
            .into_iter()
            .map(move |(x, weight)| (middle + half_width * x, half_width * weight));
        left.chain(right)
    })
}

/// The integral of `f` from `a` to `b` by [`quadrature`].
///
/// # Errors
/// The first that `f` gives.
pub fn integral<E>(mut f: impl FnMut(f64) -> Result<f64, E>, a: f64, b: f64) -> Result<f64, E> {
    let mut sum = 0.0;
    for (x, weight) in quadrature(a, b) {
        sum += weight * f(x)?;
    }
    Ok(sum)
}
