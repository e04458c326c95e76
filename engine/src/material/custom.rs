//! A material from a certificate or a data sheet.

use super::positive::positive;
use super::properties::Property;
use super::substance::{Kind, Known, Material};
use crate::diagnostic::Refusal;
use crate::quantity::Quantity;

/// A material whose properties the caller states, by their names in scripts, and where they come from. It may hold any
/// of them; what is left out is refused when it is asked for.
///
/// # Errors
/// A name that is no property or is given twice; a value of another dimension or not above zero; a blank source; no
/// property at all.
pub fn custom_material(properties: &[(&str, Quantity)], source: &str) -> Result<Material, Refusal> {
    let source = source.trim();
    if source.is_empty() {
        return Err(
            Refusal::new("material", "a custom material must say where it comes from")
                .hint("source: \"mill certificate\""),
        );
    }
    if properties.is_empty() {
        return Err(
            Refusal::new("material", "a custom material needs at least one property")
                .hint("custom_material(#{E: 207.GPa, density: 7850.kg_per_m3, source: \"…\"})"),
        );
    }
    let mut known: Vec<Known> = Vec::new();
    for property in Property::ALL {
        for (name, value) in properties {
            if Property::named(name)? != property {
                continue;
            }
            if known.last().is_some_and(|last| last.property == property) {
                return Err(Refusal::new("property", format!("{name} is given twice")));
            }
            positive(*value, property.dimension(), &format!("the {}", property.words()))?;
            known.push(Known {
                property,
                value: *value,
                source: source.to_owned(),
            });
        }
    }
    Ok(Material::new(
        format!("the custom material ({source})"),
        Kind::Metal,
        known,
    ))
}
