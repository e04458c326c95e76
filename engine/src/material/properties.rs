//! The properties of a material, by the names that scripts use.

use crate::diagnostic::{Refusal, nearest};
use crate::quantity::Dimension;

/// A property of a material.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Property {
    /// Young's modulus.
    E,
    /// Shear modulus.
    G,
    /// Least yield strength, or 0.2 % proof strength.
    YieldStrength,
    /// Yield strength to count on in the heat-affected zone beside a weld.
    YieldBesideWeld,
    /// Least tensile strength.
    UltimateStrength,
    /// Tensile strength to count on in the heat-affected zone beside a weld.
    UltimateBesideWeld,
    /// Mass per volume.
    Density,
    /// Linear thermal expansion per degree, about 20 to 100 °C.
    Expansion,
    /// Electrical resistivity at 20 °C.
    Resistivity,
}

impl Property {
    /// All, in the order in which they are shown.
    pub const ALL: [Self; 9] = [
        Self::E,
        Self::G,
        Self::YieldStrength,
        Self::YieldBesideWeld,
        Self::UltimateStrength,
        Self::UltimateBesideWeld,
        Self::Density,
        Self::Expansion,
        Self::Resistivity,
    ];

    /// Its name in scripts: `yield_strength`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::E => "E",
            Self::G => "G",
            Self::YieldStrength => "yield_strength",
            Self::YieldBesideWeld => "yield_beside_weld",
            Self::UltimateStrength => "ultimate_strength",
            Self::UltimateBesideWeld => "ultimate_beside_weld",
            Self::Density => "density",
            Self::Expansion => "expansion",
            Self::Resistivity => "resistivity",
        }
    }

    /// In words: "yield strength beside a weld".
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::E => "Young's modulus",
            Self::G => "shear modulus",
            Self::YieldStrength => "yield strength",
            Self::YieldBesideWeld => "yield strength beside a weld",
            Self::UltimateStrength => "tensile strength",
            Self::UltimateBesideWeld => "tensile strength beside a weld",
            Self::Density => "density",
            Self::Expansion => "thermal expansion",
            Self::Resistivity => "resistivity",
        }
    }

    /// What it measures.
    #[must_use]
    pub const fn dimension(self) -> Dimension {
        match self {
            Self::Density => Dimension::DENSITY,
            Self::Expansion => Dimension::EXPANSION,
            Self::Resistivity => Dimension::RESISTIVITY,
            _ => Dimension::PRESSURE,
        }
    }

    /// The property with this name in scripts.
    ///
    /// # Errors
    /// None has it: names the nearest.
    pub fn named(name: &str) -> Result<Self, Refusal> {
        Self::ALL
            .into_iter()
            .find(|property| property.name() == name)
            .ok_or_else(|| {
                let names = Self::ALL.map(Self::name);
                let near = nearest(name, names.into_iter()).map(|near| format!("did you mean {near}?"));
                Refusal::new("property", format!("a material has no property {name}"))
                    .maybe_hint(near)
                    .hint(format!("there are: {}", names.join(", ")))
            })
    }
}
