//! Three tracked numbers: the arithmetic under points and vectors.

use crate::diagnostic::Refusal;
use crate::tape::{self, Number, Relation};

/// Components along X, Y and Z, in SI units.
pub(super) type Triple = [Number; 3];

pub(super) fn add(a: Triple, b: Triple) -> Triple {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

pub(super) fn sub(a: Triple, b: Triple) -> Triple {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(super) fn scale(a: Triple, by: Number) -> Triple {
    [a[0] * by, a[1] * by, a[2] * by]
}

pub(super) fn negate(a: Triple) -> Triple {
    [-a[0], -a[1], -a[2]]
}

pub(super) fn dot(a: Triple, b: Triple) -> Number {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn cross(a: Triple, b: Triple) -> Triple {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

pub(super) fn norm(a: Triple) -> Number {
    tape::norm(&a)
}

/// `then` where a < b, else `otherwise`.
pub(super) fn if_less(a: Number, b: Number, then: Triple, otherwise: Triple) -> Triple {
    let choose = |i: usize| tape::if_less(a, b, then[i], otherwise[i]);
    [choose(0), choose(1), choose(2)]
}

/// The vector of length one in the same direction; refuses, now and in replay, where the length is not above `shortest`.
pub(super) fn unit(a: Triple, shortest: f64, refusal: impl FnOnce() -> Refusal) -> Result<Triple, Refusal> {
    let length = norm(a);
    if !tape::require(Number::constant(shortest), Relation::Less, length) {
        return Err(refusal());
    }
    Ok([a[0] / length, a[1] / length, a[2] / length])
}
