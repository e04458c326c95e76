//! Sums and products together with their rounding error, without fused multiply-add.
//!
//! Source: T. J. Dekker, "A floating-point technique for extending the available precision", Numerische Mathematik 18
//! (1971), and D. E. Knuth, The Art of Computer Programming, volume 2, section 4.2.2.

/// `(s, e)` with `s + e = a + b` exactly and `s` the rounded sum. No overflow assumed.
#[inline(always)]
pub(crate) fn two_sum(a: f64, b: f64) -> (f64, f64) {
    let sum = a + b;
    let b_part = sum - a;
    let a_part = sum - b_part;
    (sum, (a - a_part) + (b - b_part))
}

/// `(p, e)` with `p + e = a · b` exactly and `p` the rounded product.
///
/// Holds for factors below 2^996 whose product lies between about 2^-960 and 2^1020.
#[inline(always)]
pub(crate) fn two_product(a: f64, b: f64) -> (f64, f64) {
    let product = a * b;
    let (a_high, a_low) = split(a);
    let (b_high, b_low) = split(b);
    let error = ((a_high * b_high - product) + a_high * b_low + a_low * b_high) + a_low * b_low;
    (product, error)
}

/// Two halves of at most 26 bits each whose sum is `a`.
#[inline(always)]
fn split(a: f64) -> (f64, f64) {
    const SPLITTER: f64 = 134_217_729.0; // 2^27 + 1
    let scaled = SPLITTER * a;
    let high = scaled - (scaled - a);
    (high, a - high)
}
