//! Exponential, natural logarithm, power.

const LN2_HIGH: f64 = 0.6931471803691238;
const LN2_LOW: f64 = 1.9082149292705877e-10;

/// e to the `x`, for every `x`: infinite above 709.78, 0 below -745.13.
///
/// x = k·ln 2 + r, a rational function of r, and two multiplications by powers of two so that neither overflows
/// before its time. Source: FDLIBM `e_exp.c`.
#[inline(always)]
pub fn exp(x: f64) -> f64 {
    const ONE_OVER_LN2: f64 = std::f64::consts::LOG2_E;
    const TO_WHOLE: f64 = 6_755_399_441_055_744.0; // 1.5 · 2^52
    const P1: f64 = 0.16666666666666602;
    const P2: f64 = -0.0027777777777015593;
    const P3: f64 = 6.613756321437934e-05;
    const P4: f64 = -1.6533902205465252e-06;
    const P5: f64 = 4.1381367970572385e-08;

    let x = if x > 710.0 { 710.0 } else { x };
    let x = if x < -746.0 { -746.0 } else { x };
    let shifted = x * ONE_OVER_LN2 + TO_WHOLE;
    let k = shifted - TO_WHOLE;
    let high = x - k * LN2_HIGH; // exact
    let low = k * LN2_LOW;
    let r = high - low;
    let z = r * r;
    let c = r - z * (P1 + z * (P2 + z * (P3 + z * (P4 + z * P5))));
    let y = 1.0 + ((r * c / (2.0 - c) - low) + high);

    // k + 2048, never negative, in two halves: each times its power of two is a normal number.
    let biased = shifted.to_bits().wrapping_sub(TO_WHOLE.to_bits()).wrapping_add(2048);
    let half = biased >> 1;
    let other_half = biased.wrapping_sub(half);
    y * power_of_two(half) * power_of_two(other_half)
}

/// Natural logarithm. -∞ at zero (of either sign), NaN below.
///
/// x = 2^k·(1 + f) with 1 + f between √½ and √2, and a polynomial in f/(2 + f). Source: FDLIBM `e_log.c`.
#[inline(always)]
pub fn ln(x: f64) -> f64 {
    const TWO_54: f64 = 18_014_398_509_481_984.0;
    const ROOT_HALF: u64 = 0x3FE6_A09E << 32; // √½, its upper bits
    const ONE_LESS_ROOT_HALF: u64 = (0x3FF0_0000 - 0x3FE6_A09E) << 32;
    const L1: f64 = 0.6666666666666735;
    const L2: f64 = 0.3999999999940942;
    const L3: f64 = 0.2857142874366239;
    const L4: f64 = 0.22222198432149784;
    const L5: f64 = 0.1818357216161805;
    const L6: f64 = 0.15313837699209373;
    const L7: f64 = 0.14798198605116586;

    let subnormal = x < f64::MIN_POSITIVE;
    let scaled = if subnormal { x * TWO_54 } else { x };
    let bits = scaled.to_bits().wrapping_add(ONE_LESS_ROOT_HALF);
    let k = small_whole(bits >> 52) - if subnormal { 1023.0 + 54.0 } else { 1023.0 };
    let f = f64::from_bits((bits & 0x000F_FFFF_FFFF_FFFF).wrapping_add(ROOT_HALF)) - 1.0;

    let half_square = 0.5 * f * f;
    let s = f / (2.0 + f);
    let z = s * s;
    let w = z * z;
    let even = w * (L2 + w * (L4 + w * L6));
    let odd = z * (L1 + w * (L3 + w * (L5 + w * L7)));
    let r = odd + even;
    let value = k * LN2_HIGH - ((half_square - (s * (half_square + r) + k * LN2_LOW)) - f);

    let beyond = if x == 0.0 { f64::NEG_INFINITY } else { f64::NAN };
    let top = if x < f64::INFINITY { value } else { x };
    if x <= 0.0 { beyond } else { top }
}

/// `x` to the power `y`, with IEEE 754's special cases (`0^0 = 1`); NaN for a negative `x` unless `y` is whole.
///
/// Unlike IEEE 754, which has `NaN^0 = 1^NaN = 1`, it is NaN whenever one of the two is: no function here loses one.
/// This is `libm::pow` (FreeBSD msun `e_pow.c`, in plain Rust): it branches, so a loop over it is no vector code.
#[inline(always)]
pub fn pow(x: f64, y: f64) -> f64 {
    if x.is_nan() | y.is_nan() {
        f64::NAN
    } else {
        libm::pow(x, y)
    }
}

/// 2 to the `biased - 1024`, for results that are normal numbers.
#[inline(always)]
fn power_of_two(biased: u64) -> f64 {
    f64::from_bits(biased.wrapping_sub(1) << 52)
}

/// A whole number below 2^52 as a float, by its bits: vector units lack the conversion.
#[inline(always)]
fn small_whole(n: u64) -> f64 {
    const TWO_52: f64 = 4_503_599_627_370_496.0;
    f64::from_bits(n | TWO_52.to_bits()) - TWO_52
}
