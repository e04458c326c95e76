//! Student's t distribution.

use super::normal_quantile;
use crate::kernel::{cos, exp, root, sin, sqrt};
use std::convert::Infallible;

/// Beyond this many degrees of freedom the quantile is taken from its series about the normal one.
const SERIES_FROM: u32 = 10_000;
/// Far more than the continued fraction ever takes.
const MOST_TERMS: u32 = 10_000;

/// The number that a variable of Student's t distribution is below with probability `p`.
///
/// ∓∞ for p = 0 and 1; NaN outside of them and for no degrees of freedom. Relative error below 1e-12 (for p above ½
/// that of `1 − p` comes on top). One and two degrees of freedom have closed forms; up to 10,000 the tail's
/// probability, a continued fraction of the incomplete beta function (M. Abramowitz and I. A. Stegun, Handbook of
/// Mathematical Functions, 26.5.8 and 26.7.1), is inverted by [`root`]; beyond, the asymptotic series 26.7.5 there is
/// exact to rounding.
pub fn student_quantile(p: f64, degrees_of_freedom: u32) -> f64 {
    let tail = if p < 0.5 { p } else { 1.0 - p };
    if degrees_of_freedom == 0 || tail.is_nan() || tail < 0.0 {
        return f64::NAN;
    }
    let sign = if p < 0.5 { -1.0 } else { 1.0 };
    let magnitude = match degrees_of_freedom {
        _ if tail == 0.0 => f64::INFINITY,
        _ if tail == 0.5 => 0.0,
        1 => cauchy(tail),
        2 => (1.0 - 2.0 * tail) * sqrt(0.5 / (tail * (1.0 - tail))),
        SERIES_FROM.. => series(tail, f64::from(degrees_of_freedom)),
        _ => inverse(tail, degrees_of_freedom),
    };
    sign * magnitude
}

/// One degree of freedom: the cotangent of π times the tail's probability, by the smaller of two angles.
fn cauchy(tail: f64) -> f64 {
    use std::f64::consts::PI;
    if tail < 0.25 {
        cos(PI * tail) / sin(PI * tail)
    } else {
        sin(PI * (0.5 - tail)) / cos(PI * (0.5 - tail))
    }
}

/// Abramowitz and Stegun 26.7.5, with x the normal quantile.
fn series(tail: f64, n: f64) -> f64 {
    let x = -normal_quantile(tail);
    let z = x * x;
    let terms = [
        (z + 1.0) / 4.0,
        ((5.0 * z + 16.0) * z + 3.0) / 96.0,
        (((3.0 * z + 19.0) * z + 17.0) * z - 15.0) / 384.0,
        ((((79.0 * z + 776.0) * z + 1482.0) * z - 1920.0) * z - 945.0) / 92160.0,
    ];
    let mut sum = 0.0;
    for term in terms.into_iter().rev() {
        sum = (sum + term) / n;
    }
    x + x * sum
}

/// Where the tail of the given probability begins, for three degrees of freedom or more.
fn inverse(tail: f64, degrees_of_freedom: u32) -> f64 {
    let t = Student::new(degrees_of_freedom);
    let found = if tail < 0.25 {
        let mut high = 2.0;
        while t.tail(high) > tail {
            high *= 2.0;
        }
        root(|x| Ok::<f64, Infallible>(t.tail(x) - tail), 0.0, high)
    } else {
        // From the middle, so that small quantiles keep their relative accuracy. Half of all lies within ±1.
        root(|x| Ok::<f64, Infallible>(t.centre(x) - (0.5 - tail)), 0.0, 1.0)
    };
    found.unwrap_or(f64::NAN)
}

/// The distribution with ν degrees of freedom.
struct Student {
    n: f64,
    /// Γ(ν/2 + ½) / (Γ(ν/2) √π)
    gamma_ratio: f64,
}

impl Student {
    fn new(degrees_of_freedom: u32) -> Student {
        // From Γ(1)/(Γ(½)√π) = 1/π or Γ(3/2)/(Γ(1)√π) = ½ upwards, by Γ(a + 1) = a Γ(a).
        let (mut a, mut ratio) = if degrees_of_freedom % 2 == 1 {
            (0.5, std::f64::consts::FRAC_1_PI)
        } else {
            (1.0, 0.5)
        };
        let n = f64::from(degrees_of_freedom);
        while a < 0.5 * n - 0.25 {
            ratio *= (a + 0.5) / a;
            a += 1.0;
        }
        Student { n, gamma_ratio: ratio }
    }

    /// The probability above `t`, which is not negative.
    fn tail(&self, t: f64) -> f64 {
        if t * t > 3.0 {
            let a = 0.5 * self.n;
            0.5 * self.front(t) / a * fraction(a, 0.5, self.n / (self.n + t * t))
        } else {
            0.5 - self.centre(t)
        }
    }

    /// The probability between 0 and `t`, which is not negative.
    fn centre(&self, t: f64) -> f64 {
        if t * t > 3.0 {
            0.5 - self.tail(t)
        } else {
            0.5 * self.front(t) / 0.5 * fraction(0.5, 0.5 * self.n, t * t / (self.n + t * t))
        }
    }

    /// `x^a (1 − x)^b / B(a, b)` with a = ν/2, b = ½, x = ν/(ν + t²).
    fn front(&self, t: f64) -> f64 {
        let power = exp(-0.5 * self.n * libm::log1p(t * t / self.n));
        power * sqrt(t * t / (self.n + t * t)) * self.gamma_ratio
    }
}

/// The continued fraction of the incomplete beta function: `I_x(a, b) = x^a (1 − x)^b / (a B(a, b)) · fraction`.
///
/// Abramowitz and Stegun 26.5.8, by W. J. Lentz's method (Applied Optics 15(3), 1976). Fast for x below (a + 1)/(a + b
/// + 2).
fn fraction(a: f64, b: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let keep_off_zero = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut c = 1.0;
    let mut d = 1.0 / keep_off_zero(1.0 - (a + b) * x / (a + 1.0));
    let mut result = d;
    for term in 1..=MOST_TERMS {
        let m = f64::from(term);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let mut change = 1.0;
        for coefficient in [even, odd] {
            d = 1.0 / keep_off_zero(1.0 + coefficient * d);
            c = keep_off_zero(1.0 + coefficient / c);
            change = c * d;
            result *= change;
        }
        if (change - 1.0).abs() <= f64::EPSILON {
            break;
        }
    }
    result
}
