//! Three numbers in a fixed order of operations.

pub(super) type Vector = [f64; 3];

pub(super) fn add(a: Vector, b: Vector) -> Vector {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

pub(super) fn subtract(a: Vector, b: Vector) -> Vector {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(super) fn scale(a: Vector, factor: f64) -> Vector {
    [a[0] * factor, a[1] * factor, a[2] * factor]
}

pub(super) fn dot(a: Vector, b: Vector) -> f64 {
    (a[0] * b[0] + a[1] * b[1]) + a[2] * b[2]
}

pub(super) fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

pub(super) fn length(a: Vector) -> f64 {
    dot(a, a).sqrt()
}

/// The unit vector along `a`, unless `a` is not longer than `least`.
pub(super) fn direction(a: Vector, least: f64) -> Option<Vector> {
    let length = length(a);
    (length > least).then(|| [a[0] / length, a[1] / length, a[2] / length])
}

/// A unit vector square to a unit vector.
pub(super) fn square_to(a: Vector) -> Vector {
    let mut axis = 0;
    for other in 1..3 {
        if a[other].abs() < a[axis].abs() {
            axis = other;
        }
    }
    let mut unit = [0.0; 3];
    unit[axis] = 1.0;
    direction(cross(a, unit), 0.0).unwrap_or(unit)
}
