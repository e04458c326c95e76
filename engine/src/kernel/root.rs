//! A root between two points where a function has opposite signs.

/// Why there is no root.
#[derive(Debug, Clone, PartialEq)]
pub enum RootError<E> {
    /// The function has the same sign at both ends.
    NoSignChange {
        /// Its value at the first end.
        low: f64,
        /// Its value at the second end.
        high: f64,
    },
    /// The function is not finite at this point, or the point, an end of the interval, is not.
    NotFinite {
        /// The point.
        at: f64,
    },
    /// The function itself refused.
    Function(E),
}

/// How the interval must shrink: by half in as many steps, or the next step halves it.
const STEPS_TO_HALVE: usize = 3;

/// The point between `lo` and `hi` where `f` changes sign, to the last bit.
///
/// Ends where `f` is exactly zero, or where no number lies between the two points that hold the sign change, and gives
/// the one of them with the smaller `|f|`. (Beside a root at zero, where numbers lie ever closer, it ends at 2^-120 of
/// the interval.) A jump through zero counts as a root.
///
/// Method: inverse quadratic interpolation where it is safe, else bisection: T. R. Chandrupatla, "A new hybrid
/// quadratic/bisection algorithm for finding the zero of a nonlinear function without using derivatives", Advances in
/// Engineering Software 28 (1997); besides, an interval that three steps did not halve is halved. About ten calls for a
/// smooth function, never more than some five hundred.
///
/// # Errors
/// As [`RootError`] says.
pub fn root<E>(mut f: impl FnMut(f64) -> Result<f64, E>, lo: f64, hi: f64) -> Result<f64, RootError<E>> {
    let mut evaluate = |x: f64| {
        let value = if x.is_finite() {
            f(x).map_err(RootError::Function)?
        } else {
            f64::NAN
        };
        if value.is_finite() {
            Ok(value)
        } else {
            Err(RootError::NotFinite { at: x })
        }
    };
    let mut bracket = Bracket::new((lo, evaluate(lo)?), (hi, evaluate(hi)?))?;
    let smallest = (hi - lo).abs() * f64::from_bits((1023 - 120) << 52);
    let mut goal = 0.5 * bracket.width();
    let mut steps = 0;
    while let Some(x) = bracket.next_point(steps >= STEPS_TO_HALVE) {
        if bracket.width() <= smallest {
            break;
        }
        bracket.take((x, evaluate(x)?));
        let halved = bracket.width() <= goal;
        steps = if halved { 0 } else { steps + 1 };
        goal = if halved { 0.5 * bracket.width() } else { goal };
    }
    Ok(bracket.best())
}

/// Two points with opposite signs of the function, and the one before them.
struct Bracket {
    /// The newest point and its value.
    newest: (f64, f64),
    /// The other end of the sign change.
    opposite: (f64, f64),
    /// The point that left the bracket last.
    before: (f64, f64),
}

impl Bracket {
    fn new<E>(low: (f64, f64), high: (f64, f64)) -> Result<Bracket, RootError<E>> {
        let same_sign = (low.1 > 0.0 && high.1 > 0.0) || (low.1 < 0.0 && high.1 < 0.0);
        if same_sign {
            return Err(RootError::NoSignChange {
                low: low.1,
                high: high.1,
            });
        }
        Ok(Bracket {
            newest: high,
            opposite: low,
            before: low,
        })
    }

    fn width(&self) -> f64 {
        (self.newest.0 - self.opposite.0).abs()
    }

    /// The end where the function is smaller; of two equal ones the newest.
    fn best(&self) -> f64 {
        if self.opposite.1.abs() < self.newest.1.abs() {
            self.opposite.0
        } else {
            self.newest.0
        }
    }

    /// A point strictly between the ends, if there is one and the search is not over.
    fn next_point(&self, halve: bool) -> Option<f64> {
        let ((a, fa), (b, fb)) = (self.newest, self.opposite);
        if fa == 0.0 || fb == 0.0 {
            return None;
        }
        let inside = |x: f64| (x > a && x < b) || (x > b && x < a);
        let middle = 0.5 * a + 0.5 * b;
        let guess = if halve { middle } else { a + self.fraction() * (b - a) };
        // A guess that rounds to an end steps to its neighbour: most likely the root lies just there.
        let beside_a = if b > a { a.next_up() } else { a.next_down() };
        let beside_b = if b > a { b.next_down() } else { b.next_up() };
        let guess = if guess == a { beside_a } else { guess };
        let guess = if guess == b { beside_b } else { guess };
        [guess, middle, beside_a].into_iter().find(|&x| inside(x))
    }

    /// Where to look next, as a share of the way from the newest point to its opposite.
    fn fraction(&self) -> f64 {
        let ((a, fa), (b, fb), (c, fc)) = (self.newest, self.opposite, self.before);
        let xi = (a - b) / (c - b);
        let phi = (fa - fb) / (fc - fb);
        // Chandrupatla's region in which inverse quadratic interpolation is monotonic between the ends.
        let safe = phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi;
        let fraction = (fa / (fb - fa)) * (fc / (fb - fc)) + ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb));
        if safe && fraction > 0.0 && fraction < 1.0 {
            fraction
        } else {
            0.5
        }
    }

    fn take(&mut self, point: (f64, f64)) {
        let replaces_newest = (point.1 > 0.0) == (self.newest.1 > 0.0) && point.1 != 0.0;
        if replaces_newest {
            self.before = self.newest;
        } else {
            self.before = self.opposite;
            self.opposite = self.newest;
        }
        self.newest = point;
    }
}
