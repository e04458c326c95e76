//! Cross-sections of members; the formulas are in [`crate::section`].

use super::material;
use crate::diagnostic::Refusal;
use crate::quantity::Quantity;
use crate::script::native::Functions;
use crate::script::value;
use crate::section::Section;
use rhai::Dynamic;

type Result<T> = std::result::Result<T, Refusal>;

pub(super) fn add(functions: &mut Functions) {
    functions.concept("sections");
    making(functions);
    asking(functions);
    functions.add(
        "section.mass_per_length(material)",
        "Mass per length of a section in a material: its area times the density.",
        |a| {
            let section = section(&a[0], "this")?;
            section
                .mass_per_length(&material::taken(&a[1], "what it is made of")?)
                .map(Dynamic::from)
        },
    );
}

/// The section that an argument must be.
pub(super) fn section(value: &Dynamic, what: &str) -> Result<Section> {
    value::typed(value, what, "a section").map_err(|refusal| refusal.hint("round_tube(1.75.inch, 0.120.inch)"))
}

fn making(functions: &mut Functions) {
    functions.add(
        "round_tube(od, wall)",
        "A round tube from its outside diameter and wall, both lengths. A wall of half the diameter or more is refused.",
        |a| {
            let (diameter, wall) = (length(a, 0, "the outside diameter")?, length(a, 1, "the wall")?);
            Section::round_tube(diameter, wall).map(Dynamic::from)
        },
    );
    functions.add("round_bar(d)", "A round bar from its diameter.", |a| {
        Section::round_bar(length(a, 0, "the diameter")?).map(Dynamic::from)
    });
    functions.add(
        "rect_tube(width, height, wall[, corner_radius])",
        "A rectangular tube from its outside width (across), outside height (up) and wall; with the outside radius of its \
         corners, sharp without. Torsion is Bredt's thin-wall formula.",
        |a| {
            let (width, height) = (length(a, 0, "the width")?, length(a, 1, "the height")?);
            let wall = length(a, 2, "the wall")?;
            let corner = (a.len() > 3).then(|| length(a, 3, "the corner radius")).transpose()?;
            Section::rect_tube(width, height, wall, corner).map(Dynamic::from)
        },
    );
    functions.add(
        "flat_bar(width, height)",
        "A flat or square bar from its width (across) and height (up).",
        |a| {
            let (width, height) = (length(a, 0, "the width")?, length(a, 1, "the height")?);
            Section::flat_bar(width, height).map(Dynamic::from)
        },
    );
}

fn length(a: &[Dynamic], place: usize, what: &str) -> Result<Quantity> {
    a.get(place).map_or_else(
        || Err(Refusal::new("arguments", format!("{what} is missing"))),
        |value| value::quantity(value, what),
    )
}

fn asking(functions: &mut Functions) {
    type Answer = fn(&Section) -> Quantity;
    let answers: [(&str, &str, Answer); 15] = [
        ("area", "Area of the material.", Section::area),
        (
            "I_y",
            "Second moment of area about y, across: bent by a vertical load.",
            Section::second_moment_y,
        ),
        (
            "I_z",
            "Second moment of area about z, upright: bent by a load from the side.",
            Section::second_moment_z,
        ),
        (
            "Z_y",
            "Elastic section modulus about y: stress of the outermost fibre under a vertical load = moment / it.",
            Section::elastic_modulus_y,
        ),
        (
            "Z_z",
            "Elastic section modulus about z, for a load from the side.",
            Section::elastic_modulus_z,
        ),
        (
            "Z_plastic",
            "Plastic section modulus about y, for a vertical load: the whole section yields at yield strength × it.",
            Section::plastic_modulus_y,
        ),
        ("Z_plastic_y", "The same as Z_plastic.", Section::plastic_modulus_y),
        (
            "Z_plastic_z",
            "Plastic section modulus about z, for a load from the side.",
            Section::plastic_modulus_z,
        ),
        (
            "J",
            "Torsion constant: twist per length = torque / (G J). Exact for round and flat, Bredt's for a rectangular tube.",
            Section::torsion_constant,
        ),
        (
            "torsion_modulus",
            "Torsion modulus: largest shear stress = torque / it; J over the outer radius of a round section.",
            Section::torsion_modulus,
        ),
        (
            "radius_of_gyration",
            "√(I/A), the smaller of the two: decides how a strut buckles.",
            Section::radius_of_gyration,
        ),
        ("radius_of_gyration_y", "√(I_y/A).", Section::radius_of_gyration_y),
        ("radius_of_gyration_z", "√(I_z/A).", Section::radius_of_gyration_z),
        (
            "half_height",
            "From the axis across to the outermost fibre.",
            Section::half_height,
        ),
        (
            "half_width",
            "From the upright axis to the outermost fibre.",
            Section::half_width,
        ),
    ];
    for (name, about, answer) in answers {
        functions.property::<Section>(&format!("section.{name}"), about, move |section| {
            Ok(Dynamic::from(answer(section)))
        });
    }
    functions
        .property::<Section>(
            "section.I",
            "Second moment of area of a round section about any diameter; others have I_y and I_z.",
            |section| section.second_moment().map(Dynamic::from),
        )
        .property::<Section>(
            "section.Z",
            "Elastic section modulus of a round section: bending stress = moment / it; others have Z_y and Z_z.",
            |section| section.elastic_modulus().map(Dynamic::from),
        )
        .property::<Section>(
            "section.outside_diameter",
            "Outside diameter of a round section.",
            |section| section.outside_diameter().map(Dynamic::from),
        )
        .property::<Section>(
            "section.inside_diameter",
            "Inside diameter of a round section; zero of a bar.",
            |section| section.inside_diameter().map(Dynamic::from),
        );
}
