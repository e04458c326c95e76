//! How arguments are taken: a fit stands for its line or plane.

use crate::diagnostic::Refusal;
use crate::geometry::{Body, Cuboid, Line, LineFit, Place, Plane, PlaneFit, Point, Tube, Vector};
use crate::script::value;
use rhai::Dynamic;

type Result<T> = std::result::Result<T, Refusal>;

/// The point that an argument must be.
pub(in crate::script::bind) fn point(value: &Dynamic, what: &str) -> Result<Point> {
    value::typed(value, what, "a point").map_err(|refusal| match value.read_lock::<Vector>() {
        Some(_) => refusal.hint("a point plus a vector is a point"),
        None => refusal.hint("point(905.mm, 22.mm, -70.mm)"),
    })
}

/// The vector that an argument must be.
pub(in crate::script::bind) fn vector(value: &Dynamic, what: &str) -> Result<Vector> {
    value::typed(value, what, "a vector").map_err(|refusal| match value.read_lock::<Point>() {
        Some(_) => refusal.hint("the difference of two points is a vector: q - p"),
        None if line(value).is_some() => refusal.hint("a line's vector is its .direction"),
        None => refusal.hint("vector(0, 0, 1), or with units: vector(0.N, 0.N, -900.N)"),
    })
}

/// The list of points that an argument must be.
pub(in crate::script::bind) fn points(value: &Dynamic, what: &str) -> Result<Vec<Point>> {
    let list = value::list(value, what)?;
    let item = |(number, item): (usize, &Dynamic)| point(item, &format!("item {number} of {what}"));
    list.iter().enumerate().map(item).collect()
}

/// A line, or the line of a fit.
pub(super) fn line(value: &Dynamic) -> Option<Line> {
    if let Some(line) = value.read_lock::<Line>() {
        return Some(*line);
    }
    value.read_lock::<LineFit>().map(|fit| fit.line())
}

/// A plane, or the plane of a fit.
pub(super) fn plane(value: &Dynamic) -> Option<Plane> {
    if let Some(plane) = value.read_lock::<Plane>() {
        return Some(*plane);
    }
    value.read_lock::<PlaneFit>().map(|fit| fit.plane())
}

/// The line that an argument must be.
pub(super) fn needed_line(value: &Dynamic, what: &str) -> Result<Line> {
    let wrong = || value::wrong(value, what, "a line").hint("line(point, direction) or line_through(p, q)");
    line(value).ok_or_else(wrong)
}

/// A vector, or the direction of a line.
pub(in crate::script::bind) fn direction(value: &Dynamic, what: &str) -> Result<Vector> {
    if let Some(line) = line(value) {
        return Ok(line.direction());
    }
    vector(value, what)
}

/// A point, a line or a plane.
pub(super) fn place(value: &Dynamic, what: &str) -> Result<Place> {
    if let Some(point) = value.read_lock::<Point>() {
        return Ok(Place::from(*point));
    }
    let flat = || plane(value).map(Place::from);
    let wrong = || value::wrong(value, what, "a point, a line or a plane");
    line(value).map(Place::from).or_else(flat).ok_or_else(wrong)
}

/// A box, a tube, a point or a plane.
pub(super) fn body(value: &Dynamic, what: &str) -> Result<Body> {
    if let Some(point) = value.read_lock::<Point>() {
        return Ok(Body::from(*point));
    }
    if let Some(cuboid) = value.read_lock::<Cuboid>() {
        return Ok(Body::from(*cuboid));
    }
    if let Some(tube) = value.read_lock::<Tube>() {
        return Ok(Body::from(*tube));
    }
    let wrong = || {
        let refusal = value::wrong(value, what, "a box, a tube, a point or a plane");
        match line(value) {
            Some(_) => refusal.hint("tube_between(p, q, radius) is a line of finite length with a radius"),
            None => refusal,
        }
    };
    plane(value).map(Body::from).ok_or_else(wrong)
}
