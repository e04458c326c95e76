//! The angle of a direction in the plane.

use super::exact::{two_product, two_sum};
use super::inverse_trigonometric::arctangent_polynomial;
use super::roots::scales_of;

/// Angle in [-π, π] from the x axis to the point (x, y), in radians. Within 1 ulp.
///
/// Zeros and infinities as IEEE 754 has them: `atan2(±0, +x) = ±0`, `atan2(±0, -x) = ±π` (also for x = ±0),
/// `atan2(±∞, +∞) = ±π/4`, `atan2(±∞, -∞) = ±3π/4`; a finite point over an infinite one counts as zero.
///
/// The quotient of the smaller by the larger coordinate is reduced as in FDLIBM's `s_atan.c`, but with the rounding
/// error of the reduction and of the division carried along: four results in a thousand are not the nearest number,
/// where FDLIBM's own `e_atan2.c` has a hundred and eighty.
#[inline(always)]
pub fn atan2(y: f64, x: f64) -> f64 {
    const PI: (f64, f64) = (std::f64::consts::PI, 1.2246467991473532e-16);
    const HALF_PI: (f64, f64) = (std::f64::consts::FRAC_PI_2, 6.123233995736766e-17);

    let steep = y.abs() > x.abs();
    let leftward = x.is_sign_negative();
    let wedge = wedge(y.abs(), x.abs(), steep);

    // The angle is base ± wedge.
    let flat_base = if leftward { PI } else { (0.0, 0.0) };
    let base = (
        if steep { HALF_PI.0 } else { flat_base.0 },
        if steep { HALF_PI.1 } else { flat_base.1 },
    );
    let sign = if steep ^ leftward { -1.0 } else { 1.0 };

    let (anchor, anchor_error) = two_sum(base.0, sign * wedge.anchor.0);
    let (sum, sum_error) = two_sum(anchor, sign * wedge.from_anchor);
    let rest = (base.1 + sign * wedge.anchor.1) + sign * wedge.correction;
    (sum + (sum_error + (anchor_error + rest))).copysign(y)
}

/// An angle between 0 and π/4 as `anchor.0 + anchor.1 + from_anchor + correction`, in falling order of size.
struct Wedge {
    anchor: (f64, f64),
    from_anchor: f64,
    correction: f64,
}

/// The angle whose tangent is the smaller of two numbers, neither negative, over the larger.
#[inline(always)]
fn wedge(y: f64, x: f64, steep: bool) -> Wedge {
    const ATAN_HALF: (f64, f64) = (0.4636476090008061, 2.2698777452961687e-17);
    const ATAN_ONE: (f64, f64) = (std::f64::consts::FRAC_PI_4, 3.061616997868383e-17);
    const NEGLIGIBLE: f64 = f64::from_bits((1023 - 60) << 52); // below it an angle equals its tangent

    let both_infinite = (y == f64::INFINITY) & (x == f64::INFINITY);
    let shorter = if steep { x } else { y };
    let longer = if steep { y } else { x };
    let shorter = if both_infinite { 1.0 } else { shorter };
    let longer = if both_infinite | (longer == 0.0) { 1.0 } else { longer };
    let quotient = shorter / longer;

    let (scale, _) = scales_of(longer);
    let (n, d) = (shorter * scale, longer * scale);
    let (small, medium) = (quotient < 0.4375, quotient < 0.6875);
    let numerator = if medium { (n + n) - d } else { n - d }; // exact where it is used
    let numerator = if small { n } else { numerator };
    let (denominator, denominator_error) = two_sum(if medium { d + d } else { d }, n);
    let denominator = if small { d } else { denominator };
    let denominator_error = if small { 0.0 } else { denominator_error };
    let t = numerator / denominator;
    let (product, product_error) = two_product(t, denominator);
    let t_error = (((numerator - product) - product_error) - t * denominator_error) / denominator;

    let anchor = (
        if medium { ATAN_HALF.0 } else { ATAN_ONE.0 },
        if medium { ATAN_HALF.1 } else { ATAN_ONE.1 },
    );
    let negligible = quotient < NEGLIGIBLE;
    Wedge {
        anchor: (if small { 0.0 } else { anchor.0 }, if small { 0.0 } else { anchor.1 }),
        from_anchor: if negligible { quotient } else { t },
        correction: if negligible {
            0.0
        } else {
            t_error * (1.0 - t * t) - t * arctangent_polynomial(t)
        },
    }
}
