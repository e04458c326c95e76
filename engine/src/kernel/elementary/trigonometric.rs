//! Sine and cosine of an angle in radians.

/// Where an angle counts as far, in radians: up to here sine and cosine are straight-line code.
///
/// 2^20 quarter turns would still reduce exactly; a million radians is a rounder number.
pub const FAR_ANGLE: f64 = 1.0e6;

/// Sine of `x` radians, for every finite `x`; NaN for infinities and NaN. Within 1 ulp.
///
/// Up to [`FAR_ANGLE`] it is [`sin_near`]; beyond it branches to `libm::sin`, whose reduction is exact for any
/// size. In a loop that should become vector code call [`sin_lanes`], which gives the same bits.
#[inline(always)]
pub fn sin(x: f64) -> f64 {
    if x.abs() <= FAR_ANGLE { sin_near(x) } else { sin_far(x) }
}

/// Cosine of `x` radians; all that is said of [`sin`] holds.
#[inline(always)]
pub fn cos(x: f64) -> f64 {
    if x.abs() <= FAR_ANGLE { cos_near(x) } else { cos_far(x) }
}

/// Within this, in radians, no quarter turn is taken away from an angle: it stands for itself, to the bit.
const NEAR_ZERO: f64 = 0.785;

/// Whether none of the angles needs reducing.
#[inline(always)]
fn all_near_zero(angles: &[f64]) -> bool {
    let mut all = true;
    for angle in angles {
        all &= angle.abs() < NEAR_ZERO;
    }
    all
}

/// Sines of as many angles as both slices hold: the bits of [`sin`], as vector code.
#[inline(always)]
pub fn sin_lanes(angles: &[f64], sines: &mut [f64]) {
    let count = if angles.len() < sines.len() {
        angles.len()
    } else {
        sines.len()
    };
    let (angles, sines) = (&angles[..count], &mut sines[..count]);
    if all_near_zero(angles) {
        for lane in 0..count {
            sines[lane] = sine_near_zero(angles[lane]);
        }
        return;
    }
    let mut any_far = false;
    for lane in 0..count {
        any_far |= far(angles[lane]);
        sines[lane] = sin_near(angles[lane]);
    }
    if any_far {
        replace_far(angles, sines, sin_far);
    }
}

/// Cosines of as many angles as both slices hold: the bits of [`cos`], as vector code.
#[inline(always)]
pub fn cos_lanes(angles: &[f64], cosines: &mut [f64]) {
    let count = if angles.len() < cosines.len() {
        angles.len()
    } else {
        cosines.len()
    };
    let (angles, cosines) = (&angles[..count], &mut cosines[..count]);
    if all_near_zero(angles) {
        for lane in 0..count {
            cosines[lane] = cosine_polynomial(angles[lane], 0.0);
        }
        return;
    }
    let mut any_far = false;
    for lane in 0..count {
        any_far |= far(angles[lane]);
        cosines[lane] = cos_near(angles[lane]);
    }
    if any_far {
        replace_far(angles, cosines, cos_far);
    }
}

/// Sines and cosines of the same angles: the bits of [`sin`] and [`cos`], for little more than one of them.
#[inline(always)]
pub fn sin_cos_lanes<const N: usize>(angles: &[f64; N], sines: &mut [f64; N], cosines: &mut [f64; N]) {
    if all_near_zero(angles) {
        for lane in 0..N {
            sines[lane] = sine_near_zero(angles[lane]);
            cosines[lane] = cosine_polynomial(angles[lane], 0.0);
        }
        return;
    }
    let mut any_far = false;
    for lane in 0..N {
        let angle = angles[lane];
        any_far |= far(angle);
        let reduced = reduce(angle);
        let sine = in_quadrant(reduced.quarter_turns, &reduced);
        sines[lane] = if angle == 0.0 { angle } else { sine };
        cosines[lane] = in_quadrant(reduced.quarter_turns.wrapping_add(1), &reduced);
    }
    if any_far {
        replace_far(angles, sines, sin_far);
        replace_far(angles, cosines, cos_far);
    }
}

/// Does the far angles again.
#[cold]
#[inline(never)]
fn replace_far(angles: &[f64], values: &mut [f64], function: fn(f64) -> f64) {
    for (value, angle) in values.iter_mut().zip(angles).filter(|(_, angle)| far(**angle)) {
        *value = function(*angle);
    }
}

/// Sine for `|x|` up to [`FAR_ANGLE`], without a branch; beyond it the value means nothing.
#[inline(always)]
pub fn sin_near(x: f64) -> f64 {
    let reduced = reduce(x);
    let value = in_quadrant(reduced.quarter_turns, &reduced);
    if x == 0.0 { x } else { value }
}

/// Cosine for `|x|` up to [`FAR_ANGLE`], without a branch; beyond it the value means nothing.
#[inline(always)]
pub fn cos_near(x: f64) -> f64 {
    let reduced = reduce(x);
    in_quadrant(reduced.quarter_turns.wrapping_add(1), &reduced)
}

#[inline(always)]
fn far(angle: f64) -> bool {
    (angle.abs() > FAR_ANGLE) | angle.is_nan()
}

#[cold]
#[inline(never)]
fn sin_far(x: f64) -> f64 {
    libm::sin(x)
}

#[cold]
#[inline(never)]
fn cos_far(x: f64) -> f64 {
    libm::cos(x)
}

/// An angle less a whole number of quarter turns: `high + low`, at most about π/4 in size.
struct Reduced {
    /// The number of quarter turns taken away; only its two lowest bits count.
    quarter_turns: u64,
    high: f64,
    low: f64,
}

/// Takes the nearest whole number of quarter turns away from `x`.
///
/// π/2 is split in parts of 33 bits (FDLIBM `e_rem_pio2.c`), so that 2^20 times the first three is exact; what
/// is left out is below 2^-150 a turn.
#[inline(always)]
fn reduce(x: f64) -> Reduced {
    const TWO_OVER_PI: f64 = std::f64::consts::FRAC_2_PI;
    const HALF_PI_1: f64 = 1.5707963267341256;
    const HALF_PI_2: f64 = 6.077100506303966e-11;
    const HALF_PI_3: f64 = 2.0222662487111665e-21;
    const HALF_PI_4: f64 = 8.4784276603689e-32;
    // 1.5 · 2^52: adding it rounds to a whole number, which the lowest bits then hold.
    const TO_WHOLE: f64 = 6_755_399_441_055_744.0;

    let shifted = x * TWO_OVER_PI + TO_WHOLE;
    let turns = shifted - TO_WHOLE;
    let first = x - turns * HALF_PI_1; // exact
    let (second, second_error) = difference(first, turns * HALF_PI_2);
    let (third, third_error) = difference(second, turns * HALF_PI_3);
    let rest = (second_error + third_error) - turns * HALF_PI_4;
    let high = third + rest;
    let low = (third - high) + rest;
    Reduced {
        quarter_turns: shifted.to_bits(),
        high,
        low,
    }
}

/// `a - b` and its rounding error.
#[inline(always)]
fn difference(a: f64, b: f64) -> (f64, f64) {
    super::exact::two_sum(a, -b)
}

/// Sine of the reduced angle plus `quarter_turns` quarter turns.
#[inline(always)]
fn in_quadrant(quarter_turns: u64, reduced: &Reduced) -> f64 {
    let sine = sine_polynomial(reduced.high, reduced.low);
    let cosine = cosine_polynomial(reduced.high, reduced.low);
    let magnitude = if quarter_turns & 1 == 0 { sine } else { cosine };
    // Bit 1 says whether we are in the half turn where the sign is the other one.
    f64::from_bits(magnitude.to_bits() ^ ((quarter_turns & 2) << 62))
}

/// Sine of an angle that stands for itself; of a zero the same zero.
#[inline(always)]
fn sine_near_zero(x: f64) -> f64 {
    let sine = sine_polynomial(x, 0.0);
    if x == 0.0 { x } else { sine }
}

/// Sine of `x + y` for `|x| ≤ π/4` and `y` far smaller: FDLIBM `k_sin.c`.
#[inline(always)]
fn sine_polynomial(x: f64, y: f64) -> f64 {
    const S1: f64 = -0.16666666666666632;
    const S2: f64 = 0.00833333333332249;
    const S3: f64 = -0.0001984126982985795;
    const S4: f64 = 2.7557313707070068e-06;
    const S5: f64 = -2.5050760253406863e-08;
    const S6: f64 = 1.58969099521155e-10;

    let z = x * x;
    let w = z * z;
    let r = S2 + z * (S3 + z * S4) + z * w * (S5 + z * S6);
    let v = z * x;
    x - ((z * (0.5 * y - v * r) - y) - v * S1)
}

/// Cosine of `x + y` for `|x| ≤ π/4` and `y` far smaller: FreeBSD msun `k_cos.c`, after FDLIBM.
#[inline(always)]
fn cosine_polynomial(x: f64, y: f64) -> f64 {
    const C1: f64 = 0.0416666666666666;
    const C2: f64 = -0.001388888888887411;
    const C3: f64 = 2.480158728947673e-05;
    const C4: f64 = -2.7557314351390663e-07;
    const C5: f64 = 2.087572321298175e-09;
    const C6: f64 = -1.1359647557788195e-11;

    let z = x * x;
    let w = z * z;
    let r = z * (C1 + z * (C2 + z * C3)) + w * w * (C4 + z * (C5 + z * C6));
    let half = 0.5 * z;
    let one_less = 1.0 - half;
    one_less + (((1.0 - one_less) - half) + (z * r - x * y))
}
