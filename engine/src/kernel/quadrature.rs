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
/// the jump times a hundredth of the interval at worst); see [`Settling`] for what is refused. The ends are no points. With `b` below `a` the weights are
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

/// Watches whether an integral by [`quadrature`] settles, from the values that the rule asks for anyway.
///
/// In each panel the parts of degree 4 to 7 are taken by sums of weight × Legendre polynomial × value; the highest two
/// are what the rule hardly holds. Beside the integral of |f| they are next to nothing in a smooth function, some 1e-4
/// in one that bends, some 1e-3 of the height of a step, more than 6e-2 in a pole (measured on poles all over an
/// interval). Above a hundredth an integral is refused; above a thousandth too, unless the parts fall off with their
/// degree as those of a smooth function do.
///
/// A pole goes unnoticed where all else makes a hundred times as much of the integral.
#[derive(Clone, Debug)]
pub struct Settling {
    /// Degree 4 to 7 at each point of a panel.
    parts: [[f64; 4]; 2 * PAIRS.len()],
    at: usize,
    sums: [f64; 4],
    /// The larger part of degree 4 and 5, and that of degree 6 and 7, over all panels.
    lower: f64,
    highest: f64,
    size: f64,
}

impl Default for Settling {
    fn default() -> Self {
        let mut parts = [[0.0; 4]; 2 * PAIRS.len()];
        for (pair, (x, _)) in PAIRS.into_iter().enumerate() {
            parts[PAIRS.len() - 1 - pair] = legendre(-x);
            parts[PAIRS.len() + pair] = legendre(x);
        }
        Self {
            parts,
            at: 0,
            sums: [0.0; 4],
            lower: 0.0,
            highest: 0.0,
            size: 0.0,
        }
    }
}

impl Settling {
    /// Takes the next weight and value, in the order of the rule. `terms` is the size of what the value is the sum or
    /// the difference of: what only rounding leaves of it is no unrest.
    pub fn add(&mut self, weight: f64, value: f64, terms: f64) {
        let share = weight * value;
        for (sum, part) in self.sums.iter_mut().zip(self.parts[self.at]) {
            *sum += part * share;
        }
        self.size += weight.abs() * super::max(value.abs(), terms);
        self.at += 1;
        if self.at == self.parts.len() {
            let [fourth, fifth, sixth, seventh] = self.sums.map(f64::abs);
            self.lower += super::max(fourth, fifth);
            self.highest += super::max(sixth, seventh);
            (self.at, self.sums) = (0, [0.0; 4]);
        }
    }

    /// Whether the integral of what was added can be believed.
    #[must_use]
    pub fn is_settled(&self) -> bool {
        let falls_off = self.highest <= 0.1 * self.lower;
        self.highest <= 1e-3 * self.size || falls_off && self.highest <= 1e-2 * self.size
    }
}

/// The Legendre polynomials of degree 4 to 7, by their recurrence (Abramowitz and Stegun, 22.7.10).
fn legendre(x: f64) -> [f64; 4] {
    let mut all = [1.0, x, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0];
    let mut n = 1.0;
    for degree in 2..all.len() {
        all[degree] = ((2.0 * n + 1.0) * x * all[degree - 1] - n * all[degree - 2]) / (n + 1.0);
        n += 1.0;
    }
    [all[4], all[5], all[6], all[7]]
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
