//! Load cases.

use super::take::{Built, change, name, vector};
use crate::quantity::Dimension;
use crate::script::native::Functions;

pub(super) fn add(functions: &mut Functions) {
    functions.method::<Built>(
        "structure.load_case(name)",
        "Opens a load case: loads from here on belong to it. Loads before the first one make a case of their own.",
        |a| {
            let name = name(&a[1], "a load case")?;
            change(a, |structure| structure.load_case(&name))
        },
    );
    functions.method::<Built>(
        "structure.force(node, force)",
        "A force on a node, a vector of forces.",
        |a| {
            let node = name(&a[1], "a node")?;
            let force = vector(&a[2], Dimension::FORCE, "a force on a node")?;
            change(a, |structure| structure.force(&node, force))
        },
    );
    functions.method::<Built>(
        "structure.moment(node, moment)",
        "A moment on a node, a vector of torques, right-handed about each axis.",
        |a| {
            let node = name(&a[1], "a node")?;
            let moment = vector(&a[2], Dimension::TORQUE, "a moment on a node")?;
            change(a, |structure| structure.moment(&node, moment))
        },
    );
    functions.method::<Built>(
        "structure.distributed(member, load)",
        "A force spread evenly along a member, a vector of forces per length of it, in the vehicle's axes.",
        |a| {
            let member = name(&a[1], "a member")?;
            let load = vector(&a[2], Dimension::FORCE_PER_LENGTH, "a force along a member")?;
            change(a, |structure| structure.distributed(&member, load))
        },
    );
    functions.method::<Built>(
        "structure.gravity(acceleration)",
        "An acceleration that pulls on the members' own mass and on point masses: vector(0.gee, 0.gee, -1.gee) is weight, 3 g \
         down a bump.",
        |a| {
            let acceleration = vector(&a[1], Dimension::ACCELERATION, "the acceleration of gravity")?;
            change(a, |structure| structure.gravity(acceleration))
        },
    );
}
