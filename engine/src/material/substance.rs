//! A material: the properties that are known of it, and where they come from.

use super::properties::Property;
use crate::diagnostic::{Refusal, nearest};
use crate::quantity::Quantity;

type Result<T> = std::result::Result<T, Refusal>;

/// What a material is used as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A structural metal.
    Metal,
    /// A fibre laminate.
    Laminate,
    /// A metal for wires.
    Conductor,
}

impl Kind {
    /// All kinds.
    pub const ALL: [Self; 3] = [Self::Metal, Self::Laminate, Self::Conductor];

    /// Its name in scripts: `"metal"`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Metal => "metal",
            Self::Laminate => "laminate",
            Self::Conductor => "conductor",
        }
    }

    /// The kind with this name.
    ///
    /// # Errors
    /// None has it: names the kinds.
    pub fn named(name: &str) -> Result<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name).ok_or_else(|| {
            let names = Self::ALL.map(Self::name);
            let near = nearest(name, names.into_iter()).map(|near| format!("did you mean \"{near}\"?"));
            Refusal::new("material", format!("there is no kind of material \"{name}\""))
                .maybe_hint(near)
                .hint(format!("kinds are \"{}\"", names.join("\", \"")))
        })
    }
}

/// A material: the properties that are known of it, each with its source.
#[derive(Clone, Debug)]
pub struct Material {
    name: String,
    kind: Kind,
    known: Vec<Known>,
}

/// One known property.
#[derive(Clone, Debug)]
pub(super) struct Known {
    pub(super) property: Property,
    pub(super) value: Quantity,
    pub(super) source: String,
}

impl Material {
    /// `known` holds each property once at most.
    pub(super) fn new(name: String, kind: Kind, known: Vec<Known>) -> Self {
        Self { name, kind, known }
    }

    /// Its designation: "AISI 4130 normalized".
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What it is used as.
    #[must_use]
    pub fn kind(&self) -> Kind {
        self.kind
    }

    /// A property of it.
    ///
    /// # Errors
    /// The property is not known: says of which material, and how to give it.
    pub fn get(&self, property: Property) -> Result<Quantity> {
        match self.find(property) {
            Some(known) => Ok(known.value),
            None => Err(self.lacks(property)),
        }
    }

    /// Whether a property is known.
    #[must_use]
    pub fn knows(&self, property: Property) -> bool {
        self.find(property).is_some()
    }

    /// Where a property comes from; `None` where it is not known.
    #[must_use]
    pub fn source_of(&self, property: Property) -> Option<&str> {
        self.find(property).map(|known| known.source.as_str())
    }

    /// Where all of it comes from: each source once, in the order of the properties.
    #[must_use]
    pub fn source(&self) -> String {
        let mut sources: Vec<&str> = Vec::new();
        for known in &self.known {
            if !sources.contains(&known.source.as_str()) {
                sources.push(&known.source);
            }
        }
        sources.join("; ")
    }

    /// Young's modulus.
    ///
    /// # Errors
    /// Not known.
    #[doc(alias = "E")]
    pub fn young(&self) -> Result<Quantity> {
        self.get(Property::E)
    }

    /// Shear modulus.
    ///
    /// # Errors
    /// Not known.
    #[doc(alias = "G")]
    pub fn shear_modulus(&self) -> Result<Quantity> {
        self.get(Property::G)
    }

    /// Poisson's ratio ν = E/(2G) − 1 of a material that is alike in all directions.
    ///
    /// # Errors
    /// E or G is not known.
    pub fn poisson(&self) -> Result<Quantity> {
        let twice = self.shear_modulus()?.mul(Quantity::plain(2.0))?;
        self.young()?.div(twice)?.sub(Quantity::plain(1.0))
    }

    /// Least yield strength, or 0.2 % proof strength.
    ///
    /// # Errors
    /// Not known.
    pub fn yield_strength(&self) -> Result<Quantity> {
        self.get(Property::YieldStrength)
    }

    /// Yield strength to count on beside a weld.
    ///
    /// # Errors
    /// Not known.
    pub fn yield_beside_weld(&self) -> Result<Quantity> {
        self.get(Property::YieldBesideWeld)
    }

    /// Least tensile strength.
    ///
    /// # Errors
    /// Not known.
    pub fn ultimate_strength(&self) -> Result<Quantity> {
        self.get(Property::UltimateStrength)
    }

    /// Mass per volume.
    ///
    /// # Errors
    /// Not known.
    pub fn density(&self) -> Result<Quantity> {
        self.get(Property::Density)
    }

    /// Linear thermal expansion per degree.
    ///
    /// # Errors
    /// Not known.
    pub fn expansion(&self) -> Result<Quantity> {
        self.get(Property::Expansion)
    }

    /// Electrical resistivity at 20 °C.
    ///
    /// # Errors
    /// Not known.
    pub fn resistivity(&self) -> Result<Quantity> {
        self.get(Property::Resistivity)
    }

    fn find(&self, property: Property) -> Option<&Known> {
        self.known.iter().find(|known| known.property == property)
    }

    fn lacks(&self, property: Property) -> Refusal {
        let message = format!("the {} of {} is not known here", property.words(), self.name);
        Refusal::new("material", message).hint(format!(
            "take it from the certificate: custom_material(#{{{}: …, source: \"…\"}})",
            property.name()
        ))
    }
}
