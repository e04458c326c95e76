//! Points and vectors: their parts, and what signs do with them.

use super::take::{point, vector};
use crate::diagnostic::Refusal;
use crate::geometry::{Point, Vector};
use crate::quantity::{Dimension, Quantity};
use crate::script::native::Functions;
use crate::script::value;
use crate::tape::{self, Number};
use rhai::{Dynamic, FLOAT, INT};
use std::any::TypeId;

type Result<T> = std::result::Result<T, Refusal>;

pub(super) fn add(functions: &mut Functions) {
    making(functions);
    parts(functions);
    products(functions);
    signs(functions);
}

fn making(functions: &mut Functions) {
    functions.add(
        "point(x, y, z)",
        "A place in the vehicle's axes: three lengths, X toward the rear, Y to the right, Z up (directions of ISO 4130, \
         from memory).",
        |a| {
            let (x, y, z) = three(a)?;
            let point = Point::new(x, y, z).map_err(|refusal| refusal.hint("with units: point(905.mm, 22.mm, -70.mm)"))?;
            Ok(Dynamic::from(point))
        },
    );
    functions.add(
        "vector(x, y, z)",
        "A direction (plain numbers), a displacement (lengths), a force: three quantities of one kind along X rearward, \
         Y right, Z up. A zero needs its unit too: 0.N.",
        |a| {
            let (x, y, z) = three(a)?;
            Vector::new(x, y, z).map(Dynamic::from)
        },
    );
}

fn three(a: &[Dynamic]) -> Result<(Quantity, Quantity, Quantity)> {
    Ok((
        value::quantity(&a[0], "x")?,
        value::quantity(&a[1], "y")?,
        value::quantity(&a[2], "z")?,
    ))
}

fn parts(functions: &mut Functions) {
    functions
        .property::<Point>("point.x", "How far a point lies to the rear, a length.", |p| {
            Ok(Dynamic::from(p.x()))
        })
        .property::<Point>("point.y", "How far a point lies to the right, a length.", |p| {
            Ok(Dynamic::from(p.y()))
        })
        .property::<Point>("point.z", "How high a point lies, a length.", |p| {
            Ok(Dynamic::from(p.z()))
        })
        .property::<Vector>("vector.x", "A vector's part toward the rear.", |v| {
            Ok(Dynamic::from(v.x()))
        })
        .property::<Vector>("vector.y", "A vector's part to the right.", |v| {
            Ok(Dynamic::from(v.y()))
        })
        .property::<Vector>("vector.z", "A vector's part upward.", |v| Ok(Dynamic::from(v.z())));
}

fn products(functions: &mut Functions) {
    functions.add(
        "dot(a, b)",
        "The scalar product a·b of two vectors; its dimension is the product of theirs.",
        |a| {
            let (left, right) = (vector(&a[0], "a")?, vector(&a[1], "b")?);
            left.dot(right).map(Dynamic::from)
        },
    );
    functions.add(
        "cross(a, b)",
        "The vector product a × b, right-handed; its dimension is the product of theirs.",
        |a| {
            let (left, right) = (vector(&a[0], "a")?, vector(&a[1], "b")?);
            left.cross(right).map(Dynamic::from)
        },
    );
    functions.add(
        "norm(v)",
        "The length |v| of a vector, of its own kind, never negative.",
        |a| Ok(Dynamic::from(vector(&a[0], "v")?.norm())),
    );
    functions.add(
        "direction_of(v)",
        "The vector of length one that points the same way, plain numbers. The zero vector is refused.",
        |a| super::take::direction(&a[0], "v")?.direction_of().map(Dynamic::from),
    );
}

fn signs(functions: &mut Functions) {
    let (point_type, vector_type) = (TypeId::of::<Point>(), TypeId::of::<Vector>());
    let numbers = [TypeId::of::<INT>(), TypeId::of::<FLOAT>(), TypeId::of::<Quantity>()];
    for sign in ["+", "-", "*", "/", "%", "**", "<", "<=", ">", ">=", "==", "!="] {
        for left in [point_type, vector_type] {
            for right in [point_type, vector_type] {
                functions.operator(sign, [Some(left), Some(right)], move |a| between(sign, &a[0], &a[1]));
            }
            for number in numbers {
                functions.operator(sign, [Some(left), Some(number)], move |a| scaled(sign, &a[0], &a[1]));
                functions.operator(sign, [Some(number), Some(left)], move |a| scaling(sign, &a[0], &a[1]));
            }
        }
    }
    functions.method::<Vector>("-(v)", "The vector that points the other way.", |a| {
        Ok(Dynamic::from(vector(&a[0], "v")?.neg()))
    });
    functions.method::<Point>("-(p)", "Refused: a point has no negative.", |_| {
        Err(Refusal::new("type", "a point has no negative").hint("-(p - q), with q what it is measured from"))
    });
}

/// A sign between two points or vectors.
fn between(sign: &str, left: &Dynamic, right: &Dynamic) -> Result<Dynamic> {
    let (is_place, other_is_place) = (
        left.read_lock::<Point>().is_some(),
        right.read_lock::<Point>().is_some(),
    );
    match (sign, is_place, other_is_place) {
        ("+", true, false) => point(left, "this")?.moved(vector(right, "this")?).map(Dynamic::from),
        ("+", false, true) => point(right, "this")?.moved(vector(left, "this")?).map(Dynamic::from),
        ("+", false, false) => vector(left, "this")?.add(vector(right, "this")?).map(Dynamic::from),
        ("-", true, true) => Ok(Dynamic::from(point(left, "this")?.minus(point(right, "this")?))),
        ("-", true, false) => point(left, "this")?
            .moved_back(vector(right, "this")?)
            .map(Dynamic::from),
        ("-", false, false) => vector(left, "this")?.sub(vector(right, "this")?).map(Dynamic::from),
        _ => Err(cannot(sign, left, right)),
    }
}

fn cannot(sign: &str, left: &Dynamic, right: &Dynamic) -> Refusal {
    let (a, b) = (value::described(left), value::described(right));
    let refusal = Refusal::new("type", format!("`{sign}` has no meaning between {a} and {b}"));
    match sign {
        "+" => refusal.hint("the middle of two points is mean([p, q]); p + (q - p) moves one to the other"),
        "-" => refusal.hint("the other way round: a point less a vector is a point"),
        "*" => refusal.hint("dot(a, b) or cross(a, b)"),
        "==" | "!=" | "<" | "<=" | ">" | ">=" => refusal.hint("compare a measure: distance(p, q) < 0.1.mm, or norm(v)"),
        _ => refusal,
    }
}

/// A sign between a point or vector and a number.
fn scaled(sign: &str, left: &Dynamic, right: &Dynamic) -> Result<Dynamic> {
    let by = value::quantity(right, "this")?;
    match (sign, left.read_lock::<Vector>().map(|vector| *vector)) {
        ("*", Some(vector)) => vector.mul(by).map(Dynamic::from),
        ("/", Some(vector)) => vector.div(by).map(Dynamic::from),
        _ => Err(unscaled(sign, left, right)),
    }
}

/// A sign between a number and a point or vector.
fn scaling(sign: &str, left: &Dynamic, right: &Dynamic) -> Result<Dynamic> {
    let by = value::quantity(left, "this")?;
    match (sign, right.read_lock::<Vector>().map(|vector| *vector)) {
        ("*", Some(vector)) => vector.mul(by).map(Dynamic::from),
        _ => Err(unscaled(sign, left, right)),
    }
}

fn unscaled(sign: &str, left: &Dynamic, right: &Dynamic) -> Refusal {
    let (a, b) = (value::described(left), value::described(right));
    let refusal = Refusal::new("type", format!("`{sign}` has no meaning between {a} and {b}"));
    match sign {
        "+" | "-" => refusal.hint("move a point by a vector: p + vector(0.mm, 0.mm, 5.mm)"),
        "*" | "/" => refusal.hint("scale a vector, not a point: q + (p - q) * 2"),
        "<" | "<=" | ">" | ">=" | "==" | "!=" => refusal.hint("compare one part (p.x), or norm(v)"),
        _ => refusal,
    }
}

/// The sum of a list of vectors.
pub(in crate::script::bind) fn sum_of_vectors(list: &[Dynamic]) -> Result<Dynamic> {
    let (parts, dimension) = vector_parts(list)?;
    Ok(Dynamic::from(Vector::of(parts.map(|part| tape::sum(&part)), dimension)))
}

/// The mean of a list of points, their middle, or of vectors.
pub(in crate::script::bind) fn mean_of_places(list: &[Dynamic]) -> Result<Dynamic> {
    #[allow(clippy::cast_precision_loss, reason = "a list is far shorter than 2^53")]
    let count = list.len() as f64;
    if list.first().is_some_and(|first| first.read_lock::<Point>().is_some()) {
        let points: Vec<Point> = list
            .iter()
            .map(|item| point(item, "an item of this list of points"))
            .collect::<Result<_>>()?;
        let parts: [Vec<Number>; 3] = [0, 1, 2].map(|axis| points.iter().map(|point| point.metres()[axis]).collect());
        return Ok(Dynamic::from(Point::of(parts.map(|part| tape::sum(&part) / count))));
    }
    let (parts, dimension) = vector_parts(list)?;
    Ok(Dynamic::from(Vector::of(
        parts.map(|part| tape::sum(&part) / count),
        dimension,
    )))
}

fn vector_parts(list: &[Dynamic]) -> Result<([Vec<Number>; 3], Dimension)> {
    let mut parts: [Vec<Number>; 3] = Default::default();
    let mut dimension = None;
    for item in list {
        let item = vector(item, "an item of this list of vectors")?;
        let components = item.expect(
            *dimension.get_or_insert(item.dimension()),
            "an item of this list of vectors",
        )?;
        for (part, component) in parts.iter_mut().zip(components) {
            part.push(component);
        }
    }
    Ok((parts, dimension.unwrap_or(Dimension::NONE)))
}
