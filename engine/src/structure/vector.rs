//! Vectors of numbers.
//!
//! Most components of loads, of held nodes' displacements and of vertical directions are zero whatever is measured: terms
//! with them are left out, so that they cost a replay nothing. Which are depends on how a structure is built alone.

use crate::tape::Number;

/// Three components.
pub(super) type Vector = [Number; 3];

pub(super) const ZERO: Vector = [Number::ZERO; 3];

/// a · b
pub(super) fn times(a: Number, b: Number) -> Number {
    if a.is_nothing() || b.is_nothing() {
        Number::ZERO
    } else {
        a * b
    }
}

/// a + b
pub(super) fn plus(a: Number, b: Number) -> Number {
    match (a.is_nothing(), b.is_nothing()) {
        (true, _) => b,
        (_, true) => a,
        _ => a + b,
    }
}

/// a − b
pub(super) fn minus(a: Number, b: Number) -> Number {
    match (a.is_nothing(), b.is_nothing()) {
        (true, false) => -b,
        (_, true) => a,
        _ => a - b,
    }
}

pub(super) fn add(a: Vector, b: Vector) -> Vector {
    std::array::from_fn(|i| plus(a[i], b[i]))
}

pub(super) fn sub(a: Vector, b: Vector) -> Vector {
    std::array::from_fn(|i| minus(a[i], b[i]))
}

pub(super) fn neg(a: Vector) -> Vector {
    a.map(|component| minus(Number::ZERO, component))
}

pub(super) fn scale(factor: Number, a: Vector) -> Vector {
    a.map(|component| times(factor, component))
}

pub(super) fn dot(a: Vector, b: Vector) -> Number {
    plus(plus(times(a[0], b[0]), times(a[1], b[1])), times(a[2], b[2]))
}

pub(super) fn cross(a: Vector, b: Vector) -> Vector {
    [
        minus(times(a[1], b[2]), times(a[2], b[1])),
        minus(times(a[2], b[0]), times(a[0], b[2])),
        minus(times(a[0], b[1]), times(a[1], b[0])),
    ]
}
