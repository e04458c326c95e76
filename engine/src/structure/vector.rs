//! Vectors of numbers.

use crate::tape::Number;

/// Three components.
pub(super) type Vector = [Number; 3];

pub(super) const ZERO: Vector = [Number::ZERO; 3];

pub(super) fn add(a: Vector, b: Vector) -> Vector {
    std::array::from_fn(|i| a[i] + b[i])
}

pub(super) fn sub(a: Vector, b: Vector) -> Vector {
    std::array::from_fn(|i| a[i] - b[i])
}

pub(super) fn neg(a: Vector) -> Vector {
    a.map(|component| -component)
}

pub(super) fn scale(factor: Number, a: Vector) -> Vector {
    a.map(|component| factor * component)
}

pub(super) fn dot(a: Vector, b: Vector) -> Number {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}
