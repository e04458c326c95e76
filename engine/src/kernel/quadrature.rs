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
/// In each panel the parts of the sixth and the seventh degree are taken by two sums of weight × Legendre polynomial ×
/// value, which are zero for every polynomial of lower degree. A smooth function leaves next to nothing there. Beside the
/// integral of |f|, a bend leaves some 1e-4, a step some 1e-3 of its height, a pole more than 6e-2 (measured on poles
/// all over an interval). What leaves more than a thousandth is refused: its third digit may be wrong.
#[derive(Clone, Debug)]
pub struct Settling {
    parts: [[f64; 2]; 2 * PAIRS.len()],
    at: usize,
    sums: [f64; 2],
    unrest: f64,
    size: f64,
}

/// How much of the integral of |f| may be left in the highest degrees.
const SETTLED: f64 = 1e-3;

impl Default for Settling {
    fn default() -> Self {
        let mut parts = [[0.0; 2]; 2 * PAIRS.len()];
        for (pair, (x, _)) in PAIRS.into_iter().enumerate() {
            let [even, odd] = legendre(x);
            parts[PAIRS.len() - 1 - pair] = [even, -odd];
            parts[PAIRS.len() + pair] = [even, odd];
        }
        Self {
            parts,
            at: 0,
            sums: [0.0; 2],
            unrest: 0.0,
            size: 0.0,
        }
    }
}

impl Settling {
    /// Takes the next weight × value, in the order of the rule.
    pub fn add(&mut self, share: f64) {
        let [even, odd] = self.parts[self.at];
        self.sums[0] += even * share;
        self.sums[1] += odd * share;
        self.size += share.abs();
        self.at += 1;
        if self.at == self.parts.len() {
            self.unrest += super::max(self.sums[0].abs(), self.sums[1].abs());
            (self.at, self.sums) = (0, [0.0; 2]);
        }
    }

    /// Whether the integral of what was added can be believed.
    #[must_use]
    pub fn is_settled(&self) -> bool {
        self.unrest <= SETTLED * self.size
    }
}

/// The Legendre polynomials of degree 6 and 7, by their recurrence (Abramowitz and Stegun, 22.7.10).
fn legendre(x: f64) -> [f64; 2] {
    let (mut before, mut here) = (1.0, x);
    for degree in 1..7 {
        let n = f64::from(degree);
        (before, here) = (here, ((2.0 * n + 1.0) * x * here - n * before) / (n + 1.0));
    }
    [before, here]
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
