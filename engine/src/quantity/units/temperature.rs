//! Temperatures: points on the Celsius and Fahrenheit scales, and differences.
//!
//! A kelvin is a difference; a temperature counted from absolute zero is one too.

use super::source::{SI, SP_811};
use super::unit::{Ratio, Unit, over};
use crate::quantity::Dimension;

const TEMPERATURE: Dimension = Dimension::TEMPERATURE;
const FAHRENHEIT: Ratio = over(5.0, 9.0);

pub(super) static UNITS: &[Unit] = &[
    Unit::new("degC", "°C", "degree Celsius", TEMPERATURE, Ratio::ONE, SI)
        .spelt(&["deg C", "° C", "℃", "ºC"])
        .point(273.15),
    Unit::new("degF", "°F", "degree Fahrenheit", TEMPERATURE, FAHRENHEIT, SP_811)
        .spelt(&["deg F", "° F", "℉", "ºF"])
        .point(459.67),
    Unit::new("K", "K", "kelvin", TEMPERATURE, Ratio::ONE, SI).spelt(&["kelvin", "kelvins"]),
    Unit::new(
        "delta_degC",
        "Δ°C",
        "degree Celsius of difference",
        TEMPERATURE,
        Ratio::ONE,
        SI,
    )
    .spelt(&["delta °C", "delta degC", "∆°C"]),
    Unit::new(
        "delta_degF",
        "Δ°F",
        "degree Fahrenheit of difference",
        TEMPERATURE,
        FAHRENHEIT,
        SP_811,
    )
    .spelt(&["delta °F", "delta degF", "∆°F"]),
];
