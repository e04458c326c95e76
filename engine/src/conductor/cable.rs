//! A copper conductor.

use std::f64::consts::PI;

use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity, Scale};
use crate::tape::{self, Number};

/// Resistivity of annealed copper at 20 °C, Ω m: 1/58 Ω mm²/m (IEC 60028).
pub(super) const COPPER_RESISTIVITY: f64 = 1e-6 / 58.0;
/// Its change per kelvin over its value at 20 °C, 1/K (IEC 60028, constant mass).
const COPPER_COEFFICIENT: f64 = 0.003_93;
const TWENTY_CELSIUS: f64 = 293.15;

/// A copper wire or cable.
#[derive(Clone, Debug)]
pub struct Cable {
    pub(super) name: String,
    pub(super) source: String,
    /// m²
    pub(super) area: Number,
    /// Over the insulation, m.
    pub(super) outside: Option<Number>,
    /// Ω/m at 20 °C.
    pub(super) resistance: Number,
}

impl Cable {
    /// What it is: "AWG 14", "2.5 mm² IEC 60228 class 5".
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Where its figures come from.
    #[must_use]
    pub fn source(&self) -> &str {
        &self.source
    }

    /// Cross-section of the copper; of a cable its nominal size.
    #[must_use]
    pub fn area(&self) -> Quantity {
        Quantity::of(self.area, Dimension::AREA)
    }

    /// Diameter of a solid round wire of its area, without insulation. Strands of the same area lie about an eighth wider.
    #[must_use]
    pub fn diameter(&self) -> Quantity {
        Quantity::of(self.solid_diameter(), Dimension::LENGTH)
    }

    /// Diameter over the insulation, where the table knows it.
    ///
    /// # Errors
    /// Not known: a wire by gauge, a cable by IEC 60228.
    pub fn outside_diameter(&self) -> Result<Quantity, Refusal> {
        self.outside
            .map(|outside| Quantity::of(outside, Dimension::LENGTH))
            .ok_or_else(|| {
                let message = format!("the diameter of {} over its insulation is not known here", self.name);
                Refusal::new("cable", message).hint("measure it and give it: insulation: 2.9.mm")
            })
    }

    /// Resistance per length of one conductor at a temperature: R₂₀ (1 + 0.00393 (t − 20 °C)).
    ///
    /// Source: IEC 60028 for copper; the line holds from about −50 to 200 °C.
    ///
    /// # Errors
    /// Not a temperature on the scale.
    pub fn resistance_per_length(&self, temperature: Quantity) -> Result<Quantity, Refusal> {
        let kelvin = temperature_of(temperature, "the temperature of the conductor")?;
        Ok(Quantity::of(
            self.resistance_at(kelvin),
            Dimension::RESISTANCE_PER_LENGTH,
        ))
    }

    pub(super) fn resistance_at(&self, kelvin: Number) -> Number {
        self.resistance * (1.0 + COPPER_COEFFICIENT * (kelvin - TWENTY_CELSIUS))
    }

    pub(super) fn solid_diameter(&self) -> Number {
        tape::sqrt(4.0 / PI * self.area)
    }
}

/// Kelvin of a temperature on the scale.
pub(super) fn temperature_of(temperature: Quantity, what: &str) -> Result<Number, Refusal> {
    if temperature.scale() == Scale::Point {
        return Ok(temperature.number());
    }
    let message = format!("{what} must be a temperature, this is {}", temperature.described());
    Err(Refusal::new("temperature", message).hint("a temperature on the scale: 40.degC, 104.degF"))
}
