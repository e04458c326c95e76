//! Turning, and axes of one's own.

use super::take::{direction, line, plane, point, vector};
use crate::diagnostic::Refusal;
use crate::geometry::{Datum, Line, Plane, Point, Vector};
use crate::quantity::Quantity;
use crate::script::native::Functions;
use crate::script::value;
use rhai::Dynamic;

type Result<T> = std::result::Result<T, Refusal>;

pub(super) fn add(functions: &mut Functions) {
    functions.add(
        "rotate(what, axis, angle)",
        "A vector turned about an axis (a vector or line), or a point, line or plane turned about a line, right-handed: \
         thumb along the axis, fingers the way it turns.",
        |a| {
            let angle = value::quantity(&a[2], "the angle")?;
            if let Some(vector) = a[0].read_lock::<Vector>() {
                return vector.rotated(direction(&a[1], "the axis")?, angle).map(Dynamic::from);
            }
            let about = line(&a[1]).ok_or_else(|| {
                let refusal = value::wrong(&a[1], "what it turns about", "a line");
                refusal.hint("a vector has no place to turn about: line(p, axis)")
            })?;
            turned(&a[0], about, angle)
        },
    );
    functions.add(
        "datum(origin, x_dir, y_dir)",
        "Axes of one's own, for readings taken from a frame, a gearbox or a bench: an origin, the direction of x, and a \
         direction toward which y points (made square to x, so the weaker reading belongs there); z is x × y. Vectors of any \
         kind and length; parallel ones are refused.",
        |a| {
            let origin = point(&a[0], "the origin")?;
            let (x, y) = (direction(&a[1], "the x direction")?, direction(&a[2], "the y direction")?);
            Datum::new(origin, x, y).map(Dynamic::from)
        },
    );
    functions.property::<Datum>("datum.origin", "A datum's origin, in the vehicle's axes.", |datum| {
        Ok(Dynamic::from(datum.origin()))
    });
    functions.add(
        "datum.to_datum(p)",
        "A point of the vehicle as measured in a datum; a vector is turned, not moved.",
        |a| carried(a, Datum::to_datum, Datum::vector_to_datum),
    );
    functions.add(
        "datum.to_vehicle(p)",
        "A point measured in a datum, in the vehicle's axes; a vector is turned, not moved.",
        |a| carried(a, Datum::to_vehicle, Datum::vector_to_vehicle),
    );
}

fn turned(what: &Dynamic, about: Line, angle: Quantity) -> Result<Dynamic> {
    if let Some(point) = what.read_lock::<Point>() {
        return point.rotated(about, angle).map(Dynamic::from);
    }
    let axis = about.direction();
    if let Some(line) = line(what) {
        let direction = line.direction().rotated(axis, angle)?;
        return Line::new(line.point().rotated(about, angle)?, direction).map(Dynamic::from);
    }
    if let Some(plane) = plane(what) {
        let normal = plane.normal().rotated(axis, angle)?;
        return Plane::new(plane.point().rotated(about, angle)?, normal).map(Dynamic::from);
    }
    let refusal = value::wrong(what, "what is rotated", "a vector, a point, a line or a plane");
    Err(refusal.hint("a box turns with box.turned(about, axis, angle)"))
}

fn carried(a: &[Dynamic], place: fn(Datum, Point) -> Point, free: fn(Datum, Vector) -> Vector) -> Result<Dynamic> {
    let datum: Datum = value::typed(&a[0], "this", "a datum, datum(origin, x_dir, y_dir)")?;
    if let Some(point) = a[1].read_lock::<Point>() {
        return Ok(Dynamic::from(place(datum, *point)));
    }
    match a[1].read_lock::<Vector>() {
        Some(_) => Ok(Dynamic::from(free(datum, vector(&a[1], "p")?))),
        None => Err(value::wrong(&a[1], "p", "a point or a vector")),
    }
}
