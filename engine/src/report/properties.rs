//! A material's properties in words.

use super::written;
use crate::material::{Material, Property};
use crate::outcome::Amount;
use crate::quantity::text::System;

/// Names and values of the properties that are known of a material.
#[must_use]
pub fn properties(material: &Material, system: System) -> Vec<(&'static str, String)> {
    let known = Property::ALL.into_iter().filter_map(|property| {
        let quantity = material.get(property).ok()?;
        let amount = Amount {
            si: quantity.number().shown(),
            dimension: quantity.dimension(),
            scale: quantity.scale(),
            slot: None,
            aside: false,
            style: None,
            signs: None,
        };
        Some((property.name(), written::amount(&amount, system)))
    });
    known.collect()
}
