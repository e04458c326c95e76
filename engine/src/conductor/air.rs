//! Properties of still air at 101.325 kPa.

use crate::tape::{Number, exp, sqrt};

/// What free convection needs to know of air.
#[derive(Clone, Copy, Debug)]
pub struct Air {
    /// Thermal conductivity, W/(m K).
    pub conductivity: Number,
    /// Kinematic viscosity, m²/s.
    pub viscosity: Number,
    /// Prandtl number.
    pub prandtl: Number,
}

/// Gas constant of dry air, J/(kg K); pressure, Pa; specific heat near room temperature, J/(kg K).
const GAS_CONSTANT: f64 = 287.052_87;
const PRESSURE: f64 = 101_325.0;
const SPECIFIC_HEAT: f64 = 1007.0;
const LN_10: f64 = std::f64::consts::LN_10;

impl Air {
    /// At a temperature in kelvin.
    ///
    /// μ = 1.458e-6 T^1.5/(T + 110.4), k = 2.64638e-3 T^1.5/(T + 245.4 · 10^(−12/T)): U.S. Standard Atmosphere 1976,
    /// from memory; ν = μ R T/p of an ideal gas. Within 1 % of a reference equation of state from 273 to 400 K and
    /// 1.5 % to 500 K; the Prandtl number, with a constant specific heat, within 1 % at 300 K and 5 % at 500 K.
    #[must_use]
    pub fn at(kelvin: Number) -> Self {
        let three_halves = kelvin * sqrt(kelvin);
        let dynamic = 1.458e-6 * three_halves / (kelvin + 110.4);
        let conductivity = 2.646_38e-3 * three_halves / (kelvin + 245.4 * exp(-12.0 * LN_10 / kelvin));
        Self {
            conductivity,
            viscosity: dynamic * (GAS_CONSTANT / PRESSURE) * kelvin,
            prandtl: SPECIFIC_HEAT * dynamic / conductivity,
        }
    }
}
