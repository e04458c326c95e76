//! The rest of the closed set, as functions of numbers. Arguments that are out of range give a fault.

use super::number::Number;
use super::op::Op;
use super::recorder::{record, record_one};
use crate::kernel;

macro_rules! function {
    ($(#[$doc:meta])* $name:ident, $op:ident) => {
        $(#[$doc])*
        #[must_use]
        pub fn $name(a: Number) -> Number {
            record_one(Op::$op, &[a])
        }
    };
    ($(#[$doc:meta])* $name:ident, $op:ident, two) => {
        $(#[$doc])*
        #[must_use]
        pub fn $name(a: Number, b: Number) -> Number {
            record_one(Op::$op, &[a, b])
        }
    };
}

function!(/// Square root.
    sqrt, Sqrt);
function!(/// Cube root, of negative numbers too.
    cbrt, Cbrt);
function!(/// e to the power a.
    exp, Exp);
function!(/// Natural logarithm.
    ln, Ln);
function!(/// Sine of radians.
    sin, Sin);
function!(/// Cosine of radians.
    cos, Cos);
function!(/// Inverse sine, radians.
    asin, Asin);
function!(/// Inverse cosine, radians.
    acos, Acos);
function!(/// The largest whole number that is not above a.
    floor, Floor);
function!(/// |a|
    abs, Abs);
function!(/// The angle of the point (x, y) = (b, a), radians; 0 at the origin.
    atan2, Atan2, two);
function!(/// The smaller of two.
    min, Min, two);
function!(/// The larger of two.
    max, Max, two);

/// a to the power b. A whole constant power up to 16 is a product: the same bits everywhere, exact derivatives.
#[must_use]
pub fn power(a: Number, b: Number) -> Number {
    let whole = b.is_constant() && b.value == kernel::floor(b.value) && b.value.abs() <= 16.0;
    if !whole {
        return record_one(Op::Pow, &[a, b]);
    }
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number from 0 to 16"
    )]
    let times = b.value.abs() as u32;
    let product = repeated_product(a, times);
    if b.value < 0.0 { Number::ONE / product } else { product }
}

/// By squaring: a⁵ = (a²)²·a.
fn repeated_product(a: Number, times: u32) -> Number {
    match times {
        0 => Number::ONE,
        1 => a,
        _ => {
            let half = repeated_product(a, times / 2);
            let square = half * half;
            if times.is_multiple_of(2) { square } else { square * a }
        }
    }
}

/// `then` where a < b, else `otherwise`.
#[must_use]
pub fn if_less(a: Number, b: Number, then: Number, otherwise: Number) -> Number {
    record_one(Op::IfLess, &[a, b, then, otherwise])
}

/// All numbers in rising order.
#[must_use]
pub fn sort(numbers: &[Number]) -> Vec<Number> {
    let mut sorted = vec![Number::ZERO; numbers.len()];
    record(Op::Sort, numbers, &mut sorted);
    sorted
}

/// The square root of the sum of squares.
#[must_use]
pub fn norm(numbers: &[Number]) -> Number {
    record_one(Op::Norm, numbers)
}

/// The sum, from left to right.
#[must_use]
pub fn sum(numbers: &[Number]) -> Number {
    numbers
        .iter()
        .copied()
        .reduce(|sum, next| sum + next)
        .unwrap_or(Number::ZERO)
}

/// Linear interpolation in a table of rising `xs`; held at the ends, so the caller refuses an `x` outside.
#[must_use]
pub fn interpolate(xs: &[Number], ys: &[Number], x: Number) -> Number {
    let mut arguments = vec![x];
    arguments.extend_from_slice(xs);
    arguments.extend_from_slice(ys);
    record_one(Op::Interpolate, &arguments)
}

/// The gap between two convex bodies, each the hull of its corners inflated by a radius; negative: how far they must be
/// moved apart.
#[must_use]
pub fn gap(a: &[[Number; 3]], radius_a: Number, b: &[[Number; 3]], radius_b: Number) -> Number {
    let mut arguments = vec![radius_a, radius_b];
    for corner in a.iter().chain(b) {
        arguments.extend_from_slice(corner);
    }
    record_one(Op::Gap(u32::try_from(a.len()).unwrap_or(u32::MAX)), &arguments)
}

pub(super) fn gap_of(corners: u32, a: &[f64]) -> kernel::Gap {
    let points: Vec<[f64; 3]> = a[2..].chunks_exact(3).map(|c| [c[0], c[1], c[2]]).collect();
    let (first, second) = points.split_at((corners as usize).min(points.len()));
    kernel::gap(first, a[0], second, a[1])
}

/// The witness points move with the corners: ∂gap/∂corner is the corner's weight times the normal.
pub(super) fn gap_partials(corners: u32, a: &[f64], mut one: impl FnMut(usize, f64)) {
    let gap = gap_of(corners, a);
    one(0, -1.0);
    one(1, -1.0);
    let weights = gap.weights_a.iter().chain(&gap.weights_b);
    // The normal points from the first body to the second: moving the second along it opens the gap.
    let signs = (0..gap.weights_a.len())
        .map(|_| -1.0)
        .chain((0..gap.weights_b.len()).map(|_| 1.0));
    for (corner, (weight, sign)) in weights.zip(signs).enumerate() {
        for axis in 0..3 {
            one(2 + 3 * corner + axis, sign * weight * gap.normal[axis]);
        }
    }
}
