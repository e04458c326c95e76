//! Roots: square root, cube root, length of two legs and of many.

use super::choice::max;
use super::exact::{two_product, two_sum};

/// Square root: IEEE 754's own, exactly rounded everywhere. NaN below zero; `-0.0` gives `-0.0`.
#[inline(always)]
pub fn sqrt(x: f64) -> f64 {
    x.sqrt()
}

/// Cube root, of negative numbers too, for every `x`. Error at most 0.67 ulp.
///
/// A first guess by dividing the exponent by three, a polynomial to 23 bits, one Newton step.
/// Source: FreeBSD msun `s_cbrt.c` (as optimised by B. D. Evans), after FDLIBM; the bound is that file's.
#[inline(always)]
pub fn cbrt(x: f64) -> f64 {
    const SMALLEST_NORMAL: f64 = f64::MIN_POSITIVE;
    const TWO_54: f64 = 18_014_398_509_481_984.0;
    // (1023 - 1023/3 - 0.03306235651) * 2^20, and the same for a number multiplied by 2^54 before.
    const EXPONENT: u64 = 715_094_163;
    const EXPONENT_SUBNORMAL: u64 = 696_219_795;
    const P0: f64 = 1.87595182427177;
    const P1: f64 = -1.8849797954337717;
    const P2: f64 = 1.6214297201053545;
    const P3: f64 = -0.758397934778766;
    const P4: f64 = 0.14599619288661245;

    let magnitude = x.abs();
    let subnormal = magnitude < SMALLEST_NORMAL;
    let scaled = if subnormal { magnitude * TWO_54 } else { magnitude };
    let base = if subnormal { EXPONENT_SUBNORMAL } else { EXPONENT };
    // A third of the upper 32 bits: a multiplication of 32 by 32 bits, which vector units have.
    let third = ((scaled.to_bits() >> 32) * 0xAAAA_AAAB) >> 33;
    let guess = f64::from_bits((third + base) << 32);

    let r = (guess * guess) * (guess / magnitude);
    let refined = guess * ((P0 + r * (P1 + r * P2)) + ((r * r) * r) * (P3 + r * P4));
    // 23 bits, so that the square below is exact; rounded away from zero, so that the step cannot overshoot.
    let t = f64::from_bits((refined.to_bits().wrapping_add(0x8000_0000)) & 0xFFFF_FFFF_C000_0000);
    let quotient = magnitude / (t * t);
    let root = t + t * ((quotient - t) / ((t + t) + quotient));

    let ordinary = (magnitude > 0.0) & (magnitude < f64::INFINITY);
    if ordinary { root.copysign(x) } else { x }
}

/// Length of the hypotenuse over two legs, without overflow or underflow on the way.
///
/// Infinite if a leg is infinite and the other is not NaN. The rounded root of the sum of squares, corrected by the
/// rounding errors of the squares and the sum. Source of the correction: C. F. Borges, "An improved algorithm for
/// hypot(a, b)", ACM TOMS 47(1), 2020, with exact products in place of fused multiply-add.
#[inline(always)]
pub fn hypot(x: f64, y: f64) -> f64 {
    const NEGLIGIBLE: f64 = f64::from_bits((1023 - 60) << 52);

    let (a, b) = (x.abs(), y.abs());
    let longer = if a > b { a } else { b };
    let shorter = if a > b { b } else { a };
    let (scale, unscale) = scales_of(longer);

    let (long_square, long_error) = two_product(longer * scale, longer * scale);
    let (short_square, short_error) = two_product(shorter * scale, shorter * scale);
    let (square, sum_error) = two_sum(long_square, short_square);
    let length = square.sqrt();
    let (check, check_error) = two_product(length, length);
    let rest = (square - check) + ((sum_error + long_error + short_error) - check_error);
    let corrected = (length + rest / (length + length)) * unscale;

    let sum = a + b; // zero, infinite or NaN exactly where the answer is, and the answer where one leg is negligible
    let plain = (shorter <= longer * NEGLIGIBLE) | (sum == f64::INFINITY) & (longer == f64::INFINITY) | sum.is_nan();
    if plain { sum } else { corrected }
}

/// The square root of the sum of squares of any number of components, without overflow or underflow on the way; 0 of none.
/// Not finite where a component is not.
///
/// Where the largest component is huge or tiny, all are brought nearer by a power of two first, which rounds nothing.
#[inline(always)]
pub fn norm(components: &[f64]) -> f64 {
    let largest = components.iter().fold(0.0, |most, x| max(most, x.abs()));
    let (scale, unscale) = scales_of(largest);
    let sum = components.iter().fold(0.0, |sum, x| {
        let scaled = x * scale;
        sum + scaled * scaled
    });
    sqrt(sum) * unscale
}

/// The length of two components: the bits of [`norm`], as straight-line code.
#[inline(always)]
pub fn norm2([a, b]: [f64; 2]) -> f64 {
    let (scale, unscale) = scales_of(max(a.abs(), b.abs()));
    let (a, b) = (a * scale, b * scale);
    sqrt(a * a + b * b) * unscale
}

/// The length of three components: the bits of [`norm`], as straight-line code.
#[inline(always)]
pub fn norm3([a, b, c]: [f64; 3]) -> f64 {
    let (scale, unscale) = scales_of(max(max(a.abs(), b.abs()), c.abs()));
    let (a, b, c) = (a * scale, b * scale, c * scale);
    sqrt(a * a + b * b + c * c) * unscale
}

/// A power of two that brings a length to where its square keeps all its bits, and the one that takes it back.
#[inline(always)]
pub fn scales_of(length: f64) -> (f64, f64) {
    const TWO_600: f64 = f64::from_bits((1023 + 600) << 52);
    const TWO_MINUS_600: f64 = f64::from_bits((1023 - 600) << 52);
    const LARGE: f64 = f64::from_bits((1023 + 400) << 52);
    const SMALL: f64 = f64::from_bits((1023 - 400) << 52);
    let (down, up) = if length > LARGE {
        (TWO_MINUS_600, TWO_600)
    } else {
        (1.0, 1.0)
    };
    if length < SMALL {
        (TWO_600, TWO_MINUS_600)
    } else {
        (down, up)
    }
}
