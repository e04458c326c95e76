//! What a solved structure says.

use super::take::{Built, borrowed, built, name, names};
use crate::diagnostic::Refusal;
use crate::geometry::Vector;
use crate::quantity::{Dimension, Quantity};
use crate::script::native::Functions;
use crate::script::value;
use crate::structure::{CaseResults, MemberForces, Solution};
use crate::tape::Number;
use rhai::{Dynamic, Map};

type Result<T> = std::result::Result<T, Refusal>;
type Asked = fn(&CaseResults, &[Dynamic]) -> Result<Dynamic>;

pub(super) fn add(functions: &mut Functions) {
    functions.method::<Built>(
        "structure.solve()",
        "Finds how the structure gives way under each load case: its results. An unstable structure is refused and its free \
         motion named. What is changed afterwards is not in them.",
        |a| built(&a[0])?.with(|structure| structure.solve().map(Dynamic::from)),
    );
    functions.method::<Solution>("results.load_case(name)", "The results of one load case.", |a| {
        solution(&a[0])?
            .load_case(&name(&a[1], "a load case")?)
            .map(Dynamic::from)
    });
    functions.method::<Solution>(
        "results.load_cases()",
        "The results of all load cases, a list in the order in which they were opened; each has its `.name`.",
        |a| {
            let cases = solution(&a[0])?.cases().into_iter().map(Dynamic::from);
            Ok(Dynamic::from(cases.collect::<Vec<_>>()))
        },
    );
    functions.property::<CaseResults>("case_results.name", "The name of a load case, a text.", |case| {
        Ok(Dynamic::from(case.name().to_owned()))
    });
    functions.method::<Solution>(
        "results.frequency(number)",
        "A natural frequency, counted from 1, a rate (Hz): members' own mass and point masses, no damping; members are \
         divided until settled, within 0.1 %. Up to 20.",
        |a| {
            let number = value::count(&a[1], "the number of a frequency", 1..=20)?;
            let number = usize::try_from(number).unwrap_or(0);
            let frequency = solution(&a[0])?.frequency(number)?;
            Ok(Dynamic::from(Quantity::of(frequency, Dimension::RATE)))
        },
    );
    for (signature, about, asked) in ASKED {
        functions.method::<CaseResults>(&format!("case_results.{signature}"), about, move |a| {
            asked(&case(&a[0])?, a)
        });
        let about = format!("{about} Where there is one load case.");
        functions.method::<Solution>(&format!("results.{signature}"), &about, move |a| {
            asked(&solution(&a[0])?.only_case()?, a)
        });
    }
}

const ASKED: [(&str, &str, Asked); 8] = [
    (
        "deflection(node)",
        "How far a node moves, a vector of lengths.",
        |case, a| placed(case.deflection(&name(&a[1], "a node")?)?, Dimension::LENGTH),
    ),
    (
        "rotation(node)",
        "How far a node turns about each axis, a vector of angles.",
        |case, a| placed(case.rotation(&name(&a[1], "a node")?)?, Dimension::ANGLE),
    ),
    (
        "reaction(node)",
        "The force of a node's support and springs on the structure, a vector; zero where there is none.",
        |case, a| placed(case.reaction(&name(&a[1], "a node")?)?, Dimension::FORCE),
    ),
    (
        "reaction_moment(node)",
        "The moment of a node's support and springs on the structure, a vector of torques.",
        |case, a| placed(case.reaction_moment(&name(&a[1], "a node")?)?, Dimension::TORQUE),
    ),
    (
        "member_forces(member, t)",
        "What acts in a member at t, from 0 at its first node to 1 at its second, in its axes: #{axial, shear_y, shear_z, \
         torsion, moment_y, moment_z}. Tension is positive; a positive moment_y stretches the fibres at +z.",
        |case, a| {
            case.member_forces(&name(&a[1], "a member")?, along(&a[2])?)
                .map(|forces| named(&forces))
        },
    ),
    (
        "von_mises(member, t)",
        "The von Mises stress at the worst fibre of a member at t from 0 to 1; transverse shear left out, which vanishes there.",
        |case, a| case.von_mises(&name(&a[1], "a member")?, along(&a[2])?).map(stress),
    ),
    (
        "max_von_mises(members)",
        "The largest von Mises stress in a list of members: at their ends and, under a distributed load, between.",
        |case, a| case.max_von_mises(&borrowed(&names(&a[1], "the members")?)).map(stress),
    ),
    (
        "equilibrium()",
        "What loads and reactions add up to, nothing but rounding: #{force, moment} about the origin.",
        |case, _| {
            let sum = case.equilibrium();
            let mut map = Map::new();
            map.insert("force".into(), placed(sum.force, Dimension::FORCE)?);
            map.insert("moment".into(), placed(sum.moment, Dimension::TORQUE)?);
            Ok(Dynamic::from(map))
        },
    ),
];

pub(super) fn solution(value: &Dynamic) -> Result<Solution> {
    value::typed(value, "this", "the results of a structure")
}

fn case(value: &Dynamic) -> Result<CaseResults> {
    value::typed(value, "this", "the results of a load case")
}

fn along(t: &Dynamic) -> Result<Number> {
    value::number(t, Dimension::NONE, "the place along a member")
}

fn placed(components: [Number; 3], dimension: Dimension) -> Result<Dynamic> {
    Ok(Dynamic::from(Vector::of(components, dimension)))
}

fn stress(pascal: Number) -> Dynamic {
    Dynamic::from(Quantity::of(pascal, Dimension::PRESSURE))
}

fn named(forces: &MemberForces) -> Dynamic {
    let (force, torque) = (Dimension::FORCE, Dimension::TORQUE);
    let parts = [
        ("axial", forces.axial, force),
        ("shear_y", forces.shear_y, force),
        ("shear_z", forces.shear_z, force),
        ("torsion", forces.torsion, torque),
        ("moment_y", forces.moment_y, torque),
        ("moment_z", forces.moment_z, torque),
    ];
    let map: Map = parts
        .into_iter()
        .map(|(name, number, dimension)| (name.into(), Dynamic::from(Quantity::of(number, dimension))))
        .collect();
    Dynamic::from(map)
}
