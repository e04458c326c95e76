//! The largest value of a function on an interval.

/// Why there is no largest value.
#[derive(Debug, Clone, PartialEq)]
pub enum MaximumError<E> {
    /// The function is not finite at this point, or the point, an end of the interval, is not.
    NotFinite {
        /// The point.
        at: f64,
    },
    /// The function itself refused.
    Function(E),
}

/// Points of the scan, the ends included.
const SCAN_POINTS: u32 = 65;
/// Steps of the refinement: more than golden sections need for the last bits.
const MOST_STEPS: usize = 100;
/// (3 − √5)/2, the golden section.
const GOLDEN: f64 = 0.381_966_011_250_105_1;

/// Where `f` is largest between `lo` and `hi`, both included, and how large it is there.
///
/// Scans 65 evenly spaced points, then refines round the best (of equal ones the one nearest `lo`). So the largest peak
/// is found if it is wider than the spacing, 1/64 of the interval; a narrower one may be missed. The point is good to
/// about 1e-8 of the interval where the peak is round (the value to rounding), and to about 1e-12 where it is a corner.
///
/// Method of refinement: golden section with parabolic steps, R. P. Brent, Algorithms for Minimization without
/// Derivatives (1973), chapter 5. Between 70 and 170 calls.
///
/// # Errors
/// As [`MaximumError`] says.
pub fn maximum<E>(mut f: impl FnMut(f64) -> Result<f64, E>, lo: f64, hi: f64) -> Result<(f64, f64), MaximumError<E>> {
    let mut evaluate = |x: f64| {
        let value = if x.is_finite() {
            f(x).map_err(MaximumError::Function)?
        } else {
            f64::NAN
        };
        if value.is_finite() {
            Ok(value)
        } else {
            Err(MaximumError::NotFinite { at: x })
        }
    };
    let last = SCAN_POINTS - 1;
    let point = |i: u32| {
        let share = f64::from(i) / f64::from(last);
        if i == last { hi } else { lo * (1.0 - share) + hi * share }
    };
    let mut best = (0, lo, evaluate(lo)?);
    for i in 1..=last {
        let value = evaluate(point(i))?;
        if value > best.2 {
            best = (i, point(i), value);
        }
    }
    let (left, right) = (point(best.0.saturating_sub(1)), point((best.0 + 1).min(last)));
    refine(&mut evaluate, left, right, (best.1, best.2))
}

/// Brent's search between `left` and `right` (in either order), never giving less than the point it starts from.
fn refine<E>(
    evaluate: &mut impl FnMut(f64) -> Result<f64, MaximumError<E>>,
    left: f64,
    right: f64,
    start: (f64, f64),
) -> Result<(f64, f64), MaximumError<E>> {
    let (mut a, mut b) = if left < right { (left, right) } else { (right, left) };
    let tolerance = 1e-12 * (b - a) + 2.0 * f64::EPSILON * start.0.abs();
    // The best point, the second best, and the one before.
    let (mut x, mut second, mut third) = (start, start, start);
    let (mut step, mut step_before) = (0.0_f64, 0.0_f64);
    for _ in 0..MOST_STEPS {
        let middle = 0.5 * (a + b);
        if (x.0 - middle).abs() <= 2.0 * tolerance - 0.5 * (b - a) {
            break;
        }
        let parabolic = parabolic_step(x, second, third).filter(|new| {
            new.abs() < (0.5 * step_before).abs() && x.0 + new > a + tolerance && x.0 + new < b - tolerance
        });
        let rest = if x.0 < middle { b - x.0 } else { a - x.0 };
        (step_before, step) = match parabolic {
            Some(new) => (step, new),
            None => (rest, GOLDEN * rest),
        };
        let least = if step.abs() >= tolerance {
            step
        } else {
            tolerance.copysign(step)
        };
        let next = x.0 + least;
        let new = (next, evaluate(next)?);
        if new.1 >= x.1 {
            (a, b) = if new.0 >= x.0 { (x.0, b) } else { (a, x.0) };
            (third, second, x) = (second, x, new);
        } else {
            (a, b) = if new.0 < x.0 { (new.0, b) } else { (a, new.0) };
            if new.1 >= second.1 || second.0 == x.0 {
                (third, second) = (second, new);
            } else if new.1 >= third.1 || third.0 == x.0 || third.0 == second.0 {
                third = new;
            }
        }
    }
    Ok(if x.1 > start.1 { x } else { start })
}

/// From the best point to the top of the parabola through three, if they make one.
fn parabolic_step(x: (f64, f64), second: (f64, f64), third: (f64, f64)) -> Option<f64> {
    let r = (x.0 - second.0) * (x.1 - third.1);
    let q = (x.0 - third.0) * (x.1 - second.1);
    let numerator = (x.0 - third.0) * q - (x.0 - second.0) * r;
    let step = -numerator / (2.0 * (q - r));
    (step.is_finite() && step != 0.0).then_some(step)
}
