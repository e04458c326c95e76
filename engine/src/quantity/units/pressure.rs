//! Stresses and pressures.

use super::source::{FREE_FALL, INCH, MADE, POUND_FORCE, SI, SP_811};
use super::unit::{Ratio, Unit, over, times};
use crate::quantity::Dimension;

const PRESSURE: Dimension = Dimension::PRESSURE;
const PSI: Ratio = POUND_FORCE.per(INCH.times(INCH));

pub(super) static UNITS: &[Unit] = &[
    Unit::new("Pa", "Pa", "pascal", PRESSURE, Ratio::ONE, SI).spelt(&["pascal", "pascals"]),
    Unit::new("kPa", "kPa", "kilopascal", PRESSURE, times(1e3), SI),
    Unit::new("MPa", "MPa", "megapascal", PRESSURE, times(1e6), SI).spelt(&["N/mm²", "N/mm^2", "N/mm2"]),
    Unit::new("GPa", "GPa", "gigapascal", PRESSURE, times(1e9), SI),
    Unit::new("psi", "psi", "pound-force per square inch", PRESSURE, PSI, MADE)
        .spelt(&["lbf/in²", "lbf/in^2", "lbf/in2"]),
    Unit::new(
        "ksi",
        "ksi",
        "thousand pounds-force per square inch",
        PRESSURE,
        PSI.times(times(1e3)),
        MADE,
    ),
    Unit::new("bar", "bar", "bar", PRESSURE, times(1e5), SI),
    Unit::new("mbar", "mbar", "millibar", PRESSURE, times(1e2), SI),
    // Conventional inch of mercury: density 13 595.1 kg/m³ (0 °C) under standard free fall, 3386.389 Pa.
    Unit::new(
        "inHg",
        "inHg",
        "inch of mercury",
        PRESSURE,
        over(135_951.0, 10.0).times(FREE_FALL).times(INCH),
        SP_811,
    )
    .spelt(&["in Hg", "\"Hg"]),
];
