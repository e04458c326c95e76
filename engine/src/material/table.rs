//! The materials that come with the engine.

use std::sync::LazyLock;

use serde::Deserialize;

use super::properties::Property;
use super::substance::{Kind, Known, Material};
use crate::diagnostic::{Refusal, nearest};
use crate::quantity::{Quantity, units};

/// The material with this standard designation.
///
/// # Errors
/// None has it: names the nearest.
pub fn material(name: &str) -> Result<Material, Refusal> {
    let found = TABLE.iter().find(|material| material.name() == name);
    found.cloned().ok_or_else(|| {
        Refusal::new("material", format!("there is no material \"{name}\" in the table"))
            .maybe_hint(near(name))
            .hint("material_names(\"metal\") lists the metals; custom_material(#{…, source: \"…\"}) makes one")
    })
}

/// The designations that hold what was asked for ("4130"), else the nearest one.
fn near(name: &str) -> Option<String> {
    let names = || TABLE.iter().map(Material::name);
    let asked = name.trim().to_lowercase();
    let holding: Vec<&str> = names().filter(|name| name.to_lowercase().contains(&asked)).collect();
    let meant = match holding.len() {
        1..=3 => holding.join("\" or \""),
        _ => nearest(name, names())?.to_owned(),
    };
    Some(format!("did you mean \"{meant}\"?"))
}

/// The designations of all materials of a kind, in the order of the table.
#[must_use]
pub fn material_names(kind: Kind) -> Vec<&'static str> {
    let of_kind = TABLE.iter().filter(|material| material.kind() == kind);
    of_kind.map(Material::name).collect()
}

static TABLE: LazyLock<Vec<Material>> = LazyLock::new(|| {
    read(include_str!("materials.toml")).expect("the table of materials is well formed: a test reads every row of it")
});

/// `materials.toml`: what several materials share, and the materials.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    family: Vec<Row>,
    material: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    #[serde(default)]
    family: Option<String>,
    #[serde(default)]
    kind: Option<String>,
    #[serde(default)]
    value: Vec<Value>,
}

/// A property, what it is in which unit, and whence: `{ of = "E", is = 205, unit = "GPa", source = "…" }`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Value {
    of: String,
    is: f64,
    unit: String,
    source: String,
}

fn read(text: &str) -> Result<Vec<Material>, Refusal> {
    let broken = |message: String| Refusal::new("table", message);
    let file: File = toml::from_str(text).map_err(|error| broken(error.to_string()))?;
    let mut materials = Vec::new();
    for row in file.material {
        let kind = Kind::named(row.kind.as_deref().unwrap_or_default())?;
        let mut values: Vec<&Value> = row.value.iter().collect();
        if let Some(name) = &row.family {
            let family = file.family.iter().find(|family| family.name == *name);
            let family = family.ok_or_else(|| broken(format!("{}: no family {name}", row.name)))?;
            values.extend(&family.value);
        }
        let mut known = Vec::new();
        for property in Property::ALL {
            // A material's own value stands before its family's.
            if let Some(value) = values.iter().find(|value| value.of == property.name()) {
                known.push(read_value(property, value)?);
            }
        }
        materials.push(Material::new(row.name, kind, known));
    }
    Ok(materials)
}

fn read_value(property: Property, value: &Value) -> Result<Known, Refusal> {
    let (si, dimension) = match value.unit.as_str() {
        // Units that only this table needs.
        "1e-6/K" => (value.is / 1e6, property.dimension()),
        "1e-8 ohm m" => (value.is / 1e8, property.dimension()),
        name => {
            let unit = units::find(name).ok_or_else(|| Refusal::new("table", format!("no unit {name}")))?;
            (unit.to_si(value.is), unit.dimension)
        }
    };
    if dimension != property.dimension() {
        return Err(Refusal::new("table", format!("{} in {}", value.of, value.unit)));
    }
    Ok(Known {
        property,
        value: Quantity::constant(si, dimension),
        source: value.source.clone(),
    })
}
