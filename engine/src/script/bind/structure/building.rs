//! Nodes, members, and what holds them.

use super::take::{Built, borrowed, built, change, name, names};
use crate::diagnostic::Refusal;
use crate::quantity::Dimension;
use crate::script::bind::{geometry, material, section};
use crate::script::limits::KEPT;
use crate::script::native::Functions;
use crate::script::value;
use crate::structure::{MaterialProps, SectionProps, Structure};
use crate::tape::{Number, charge};
use rhai::Dynamic;

type Result<T> = std::result::Result<T, Refusal>;

pub(super) fn add(functions: &mut Functions) {
    whole(functions);
    parts(functions);
    holding(functions);
}

fn whole(functions: &mut Functions) {
    functions.add(
        "structure()",
        "A frame of straight members in space, empty yet: linear, small displacements, Euler-Bernoulli bending or, after \
         include_shear, Timoshenko's; Saint-Venant torsion; no buckling. All in the vehicle's axes, X rearward, Y right, Z up. \
         A second name is the same structure. Direct stiffness method as in Przemieniecki (1968), from memory.",
        |_| Ok(Dynamic::from(Built::new(Structure::new()))),
    );
    functions.method::<Built>(
        "structure.copy()",
        "Another structure, as this one is now: what is added to one is not in the other.",
        |a| {
            built(&a[0])?.with(|structure| {
                // A node or a member holds some ten numbers.
                charge(10 * KEPT * structure.size() as u64);
                Ok(Dynamic::from(Built::new(structure.clone())))
            })
        },
    );
    functions.method::<Built>(
        "structure.include_shear(yes)",
        "Whether members give way to shear (Timoshenko, shear areas after Cowper 1966) or not (the default).",
        |a| {
            let yes = a[1].as_bool();
            let yes = yes.map_err(|_| value::wrong(&a[1], "what include_shear is told", "true or false"))?;
            change(a, |structure| {
                structure.include_shear(yes);
                Ok(())
            })
        },
    );
}

fn parts(functions: &mut Functions) {
    functions.method::<Built>(
        "structure.node(name, point)",
        "A named point where members meet. At most 2000.",
        |a| {
            let point = geometry::point(&a[2], "the place of a node")?;
            let name = name(&a[1], "a node")?;
            change(a, |structure| structure.node(&name, point.metres()))
        },
    );
    functions.method::<Built>(
        "structure.member(name, a, b, section, material[, up])",
        "A straight member from node a to node b, fastened rigidly at both. Its axes: x from a to b, z as near to `up` as it \
         can be (a vector; the vehicle's Z without one, or X for an upright member), y completes a right-handed set. At most \
         2000.",
        member,
    );
    functions.method::<Built>(
        "structure.rigid(name, a, b)",
        "A rigid arm: two nodes move as one body, exactly. Arms that share a node make one body.",
        |a| {
            let (name, ends) = (name(&a[1], "a rigid arm")?, [node(&a[2])?, node(&a[3])?]);
            change(a, |structure| structure.rigid(&name, &ends[0], &ends[1]))
        },
    );
    functions.method::<Built>(
        "structure.mass(node, mass)",
        "A point mass at a node, for gravity and frequencies; called again it adds more.",
        |a| {
            let (node, mass) = (node(&a[1])?, value::number(&a[2], Dimension::MASS, "a point mass")?);
            change(a, |structure| structure.mass(&node, mass))
        },
    );
}

fn member(a: &[Dynamic]) -> Result<Dynamic> {
    let name = name(&a[1], "a member")?;
    let ends = [node(&a[2])?, node(&a[3])?];
    let section = section::section(&a[4], "the section of a member")?;
    let material = material::taken(&a[5], "the material of a member")?;
    let up = a.get(6).map(|up| geometry::vector(up, "`up`")).transpose()?;
    let properties = MaterialProps::of(&material)?;
    let section = SectionProps::of(&section, material.poisson()?);
    let up = up.map(crate::geometry::Vector::components);
    change(a, |structure| {
        structure.member(&name, &ends[0], &ends[1], section, properties, up)
    })
}

fn holding(functions: &mut Functions) {
    functions.method::<Built>(
        "structure.support(node, directions)",
        "Holds a node: \"x\", \"y\", \"z\" against moving, \"rx\", \"ry\", \"rz\" against turning, a list or one. Called again \
         it holds more.",
        |a| {
            let (node, held) = (node(&a[1])?, names(&a[2], "what is held")?);
            change(a, |structure| structure.support(&node, &borrowed(&held)))
        },
    );
    functions.method::<Built>(
        "structure.spring(node, direction, stiffness)",
        "A spring from a node to the ground along \"x\" \"y\" \"z\" (a force per length) or about \"rx\" \"ry\" \"rz\" (a torque \
         per angle). Springs at one place add up.",
        |a| {
            let (node, direction) = (node(&a[1])?, direction(&a[2])?);
            let stiffness = match turns(&direction) {
                true => value::number(&a[3], Dimension::TORQUE, "the stiffness of a spring that turns"),
                false => value::number(&a[3], Dimension::FORCE_PER_LENGTH, "the stiffness of a spring"),
            };
            let stiffness = stiffness.map_err(|refusal| refusal.hint("250.N_per_mm along, 40.N_m_per_deg about an axis"))?;
            change(a, |structure| structure.spring(&node, &direction, stiffness))
        },
    );
    functions.method::<Built>(
        "structure.release(member, node, directions)",
        "Lets go of freedoms between a member and a node at its end, in the member's axes: [\"ry\", \"rz\"] is a pin that still \
         carries torsion.",
        |a| {
            let member = name(&a[1], "a member")?;
            let (node, released) = (node(&a[2])?, names(&a[3], "what is released")?);
            change(a, |structure| structure.release(&member, &node, &borrowed(&released)))
        },
    );
    functions.method::<Built>(
        "structure.move_support(node, direction, by)",
        "Moves a support by a length along \"x\" \"y\" \"z\" or an angle about \"rx\" \"ry\" \"rz\", in every load case: a bracket \
         that does not meet its holes. The node must be held there.",
        |a| {
            let (node, direction) = (node(&a[1])?, direction(&a[2])?);
            let by = moved(&a[3], &direction)?;
            change(a, |structure| structure.move_support(&node, &direction, by))
        },
    );
}

fn node(value: &Dynamic) -> Result<String> {
    name(value, "a node")
}

fn direction(value: &Dynamic) -> Result<String> {
    value::text(value, "a direction").map_err(|refusal| refusal.hint("\"x\", \"y\", \"z\", \"rx\", \"ry\" or \"rz\""))
}

fn turns(direction: &str) -> bool {
    direction.starts_with('r')
}

fn moved(by: &Dynamic, direction: &str) -> Result<Number> {
    match turns(direction) {
        true => value::number(by, Dimension::ANGLE, "what a support is turned by"),
        false => value::number(by, Dimension::LENGTH, "what a support is moved by"),
    }
}
