//! Heat that a long horizontal cylinder loses in still air: free convection and radiation.

use std::f64::consts::PI;

use super::air::Air;
use super::cable::temperature_of;
use crate::diagnostic::Refusal;
use crate::material::positive;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{Number, Relation, power};

/// W/(m² K⁴), CODATA.
const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;
/// m/s²
const GRAVITY: f64 = 9.806_65;
/// W/m
const POWER_PER_LENGTH: Dimension = Dimension::of(1, 1, -3, 0, 0, 0);

/// Mean Nusselt number of a horizontal cylinder in free convection, from the Rayleigh number on its diameter:
/// Nu = (0.60 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))².
///
/// Source: S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975); for 1e-5 < Ra < 1e12. For thin wires
/// (Ra about 35) two other correlations give a quarter more, so that a wire comes out warm rather than cold.
#[must_use]
pub fn nusselt_horizontal_cylinder(rayleigh: Number, prandtl: Number) -> Number {
    let spread = 1.0 + power(0.559 / prandtl, Number::constant(9.0 / 16.0));
    let divisor = power(spread, Number::constant(8.0 / 27.0));
    let root = 0.60 + 0.387 * power(rayleigh, Number::constant(1.0 / 6.0)) / divisor;
    root * root
}

/// Heat per length that a long horizontal cylinder loses to still air and to surroundings of the same temperature:
/// h π D (T − Ta) + ε σ π D (T⁴ − Ta⁴), grey body; air at the film temperature (T + Ta)/2 unless its properties are given.
///
/// # Errors
/// Not a diameter above zero, not temperatures; a surface colder than the air; an emissivity that is no share.
pub fn still_air_loss(
    diameter: Quantity,
    surface: Quantity,
    ambient: Quantity,
    emissivity: Quantity,
    air: Option<Air>,
) -> Result<Quantity, Refusal> {
    let cylinder = Cylinder {
        diameter: positive(diameter, Dimension::LENGTH, "the diameter")?,
        ambient: temperature_of(ambient, "the ambient")?,
        emissivity: share(emissivity, "the emissivity")?,
        air,
    };
    let surface_kelvin = temperature_of(surface, "the surface")?;
    ambient.require(Relation::LessOrEqual, surface, || {
        let (surface, ambient) = (surface.shown(), ambient.shown());
        let message = format!("the surface ({surface}) must not be colder than the air ({ambient})");
        Refusal::new("temperature", message)
    })?;
    Ok(Quantity::of(cylinder.loss(surface_kelvin), POWER_PER_LENGTH))
}

/// A cylinder and what it stands in. SI.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cylinder {
    pub(super) diameter: Number,
    pub(super) ambient: Number,
    pub(super) emissivity: Number,
    pub(super) air: Option<Air>,
}

impl Cylinder {
    /// Loss per length at a surface temperature that is not below ambient, W/m.
    pub(super) fn loss(&self, surface: Number) -> Number {
        let rise = surface - self.ambient;
        let film = (surface + self.ambient) / 2.0;
        let air = self.air.unwrap_or_else(|| Air::at(film));
        // A billionth of a kelvin keeps the slope of Ra^(1/6) finite where nothing is warmer than the air.
        let buoyancy = GRAVITY / film * (rise + 1e-9);
        let cube = self.diameter * self.diameter * self.diameter;
        let rayleigh = buoyancy * cube * air.prandtl / (air.viscosity * air.viscosity);
        let convection = nusselt_horizontal_cylinder(rayleigh, air.prandtl) * air.conductivity * PI * rise;
        let radiation =
            self.emissivity * STEFAN_BOLTZMANN * PI * self.diameter * (fourth(surface) - fourth(self.ambient));
        convection + radiation
    }
}

/// A number from 0 to 1.
pub(super) fn share(quantity: Quantity, what: &str) -> Result<Number, Refusal> {
    let number = quantity.expect(Dimension::NONE, what)?;
    let refusal = || {
        Refusal::new(
            "share",
            format!("{what} must lie between 0 and 1, this is {}", quantity.shown()),
        )
    };
    Quantity::plain(0.0).require(Relation::LessOrEqual, quantity, refusal)?;
    quantity.require(Relation::LessOrEqual, Quantity::plain(1.0), refusal)?;
    Ok(number)
}

fn fourth(x: Number) -> Number {
    let square = x * x;
    square * square
}
