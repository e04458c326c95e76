//! Materials; the table is in [`crate::material`].

use crate::diagnostic::Refusal;
use crate::material::{self, Kind, Material, Property};
use crate::quantity::Quantity;
use crate::script::native::Functions;
use crate::script::value;
use rhai::{Dynamic, Map};

type Result<T> = std::result::Result<T, Refusal>;

pub(super) fn add(functions: &mut Functions) {
    functions.concept("materials");
    functions.add(
        "material(name)",
        "A material by its standard designation: material(\"AISI 1020 DOM\"). The names are those of material_names; each \
         value names its source.",
        |a| material::material(&value::text(&a[0], "the name of a material")?).map(Dynamic::from),
    );
    functions.add(
        "custom_material(properties)",
        "A material from a certificate: custom_material(#{E: 207.GPa, density: 7850.kg_per_m3, yield_strength: 380.MPa, \
         source: \"mill certificate\"}). Any of its properties; the source is needed.",
        |a| custom(&value::map(&a[0], "the argument of custom_material")?).map(Dynamic::from),
    );
    functions.add(
        "material_names(kind)",
        "The names of all materials of a kind, \"metal\", \"laminate\" or \"conductor\", for one_of.",
        |a| {
            let kind = Kind::named(&value::text(&a[0], "the kind of materials")?)?;
            let names = material::material_names(kind);
            Ok(super::texts(names))
        },
    );
    properties(functions);
}

/// The material that an argument must be.
pub(super) fn taken(value: &Dynamic, what: &str) -> Result<Material> {
    value::typed(value, what, "a material").map_err(|refusal| match value.is_string() {
        true => refusal.hint("material(name) takes the name of one"),
        false => refusal.hint("material(\"AISI 1020 DOM\")"),
    })
}

fn properties(functions: &mut Functions) {
    for property in Property::ALL {
        let about = format!("The {}; where it is not known, an error.", property.words());
        functions.property::<Material>(&format!("material.{}", property.name()), &about, move |material| {
            material.get(property).map(Dynamic::from)
        });
    }
    functions
        .property::<Material>(
            "material.poisson",
            "Poisson's ratio E/(2G) - 1 of a material that is alike in all directions.",
            |material| material.poisson().map(Dynamic::from),
        )
        .property::<Material>("material.name", "A material's designation, a text.", |material| {
            Ok(Dynamic::from(material.name().to_owned()))
        })
        .property::<Material>(
            "material.source",
            "Where a material's values come from, a text.",
            |material| Ok(Dynamic::from(material.source())),
        );
}

fn custom(map: &Map) -> Result<Material> {
    let source = match map.get("source") {
        Some(source) => value::text(source, "the source of a material")?,
        None => String::new(),
    };
    let stated = map.iter().filter(|(name, _)| name.as_str() != "source");
    let properties: Vec<(&str, Quantity)> = stated
        .map(|(name, given)| {
            let property = Property::named(name)?;
            Ok((
                name.as_str(),
                value::quantity(given, &format!("the {}", property.words()))?,
            ))
        })
        .collect::<Result<_>>()?;
    material::custom_material(&properties, &source)
}
