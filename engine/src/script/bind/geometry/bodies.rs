//! Boxes and tubes, and their clearance.

use super::take::{body, direction, point};
use crate::geometry::{self, Cuboid, Tube};
use crate::script::native::Functions;
use crate::script::value;
use rhai::Dynamic;

pub(super) fn add(functions: &mut Functions) {
    functions.add(
        "box(min, max)",
        "A solid box between two opposite corners, its edges along the axes: `min` the foremost, leftmost, lowest corner, \
         `max` the rearmost, rightmost, highest.",
        |a| Cuboid::new(point(&a[0], "min")?, point(&a[1], "max")?).map(Dynamic::from),
    );
    functions.add(
        "box.turned(about, axis, angle)",
        "A box turned about an axis (a vector or line's direction) through a point, right-handed along the axis.",
        |a| {
            let cuboid: Cuboid = value::typed(&a[0], "what is turned", "a box")
                .map_err(|refusal| refusal.hint("rotate(what, axis, angle) turns points, vectors, lines and planes"))?;
            let (about, axis) = (point(&a[1], "about")?, direction(&a[2], "the axis")?);
            let angle = value::quantity(&a[3], "the angle")?;
            cuboid.turned(about, axis, angle).map(Dynamic::from)
        },
    );
    functions.property::<Cuboid>("box.corners", "A box's eight corners, a list of points.", |cuboid| {
        Ok(Dynamic::from(cuboid.corners().map(Dynamic::from).to_vec()))
    });
    functions.add(
        "tube_between(p, q, radius)",
        "A round rod or tube between two points on its axis, with its outside radius; its ends are half balls, so it reaches \
         one radius beyond each end: on the safe side.",
        |a| {
            let radius = value::quantity(&a[2], "the tube's radius")?;
            Tube::between(point(&a[0], "p")?, point(&a[1], "q")?, radius).map(Dynamic::from)
        },
    );
    functions.property::<Tube>("tube.radius", "A tube's outside radius.", |tube| {
        Ok(Dynamic::from(tube.radius()))
    });
    functions.add(
        "clearance(a, b)",
        "The clearance of two boxes, tubes, points or planes, a length; negative where one cuts into the other, by how far \
         they must be moved apart, the shortest way. A plane is the face of something solid: its normal points to the free \
         side. Two planes are refused.",
        |a| geometry::clearance(body(&a[0], "a")?, body(&a[1], "b")?).map(Dynamic::from),
    );
}
