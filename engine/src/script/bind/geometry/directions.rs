//! Directions from readings, and back; angles.

use super::take::direction;
use crate::diagnostic::Refusal;
use crate::geometry::{self, Line, LineFit, Vector};
use crate::quantity::Quantity;
use crate::script::native::Functions;
use crate::script::value;
use rhai::Dynamic;

type Reading = fn(Vector) -> Result<Quantity, Refusal>;

pub(super) fn add(functions: &mut Functions) {
    functions.add(
        "direction_from_views(side, plan)",
        "The rearward unit vector of a line from its slopes seen in side view (positive: falls to the rear) and in plan \
         (positive: runs right to the rear): tan(side) = drop/run, tan(plan) = drift/run. Two angles between -90° and 90°.",
        |a| {
            let (side, plan) = (value::quantity(&a[0], "side")?, value::quantity(&a[1], "plan")?);
            geometry::direction_from_views(side, plan).map(Dynamic::from)
        },
    );
    functions.add(
        "direction_from_level(fall, plan)",
        "The rearward unit vector of a line from what a protractor laid along it reads (positive: falls to the rear) and \
         its slope in plan (positive: runs right to the rear): sin(fall) = drop/length, tan(plan) = drift/run. Two angles \
         between -90° and 90°.",
        |a| {
            let (fall, plan) = (value::quantity(&a[0], "fall")?, value::quantity(&a[1], "plan")?);
            geometry::direction_from_level(fall, plan).map(Dynamic::from)
        },
    );
    functions.add(
        "angle_between(a, b)",
        "The angle between two vectors, or the directions of lines: 0 to 180°, exact for the smallest angles too, where its \
         derivative at 0 counts as 0. A zero vector is refused.",
        |a| {
            let (left, right) = (direction(&a[0], "a")?, direction(&a[1], "b")?);
            geometry::angle_between(left, right).map(Dynamic::from)
        },
    );
    functions.add(
        "angle_about(axis, from, to)",
        "The angle by which `from` has to be turned about `axis`, right-handed, to come over `to`, seen along the axis: \
         -180° to 180°. Vectors, or the directions of lines.",
        |a| {
            let axis = direction(&a[0], "the axis")?;
            let (from, to) = (direction(&a[1], "from")?, direction(&a[2], "to")?);
            geometry::angle_about(axis, from, to).map(Dynamic::from)
        },
    );
    readings(functions);
}

fn readings(functions: &mut Functions) {
    let readings: [(&str, &str, Reading); 3] = [
        (
            "fall",
            "What a protractor laid along it reads, an angle: positive where it falls, -90° to 90°.",
            Vector::fall,
        ),
        (
            "side",
            "Its slope seen in side view, an angle: positive where it falls going rearward.",
            Vector::side,
        ),
        (
            "plan",
            "Its slope seen in plan, an angle: positive where it runs right going rearward.",
            Vector::plan,
        ),
    ];
    for (name, about, reading) in readings {
        let of = move |direction: Vector| reading(direction).map(Dynamic::from);
        functions
            .property::<Vector>(&format!("vector.{name}"), about, move |vector| of(*vector))
            .property::<Line>(&format!("line.{name}"), about, move |line| of(line.direction()))
            .property::<LineFit>(&format!("line_fit.{name}"), about, move |fit| of(fit.direction()));
    }
}
