//! Energies and powers.

use super::source::{BTU, FOOT, HOUR, POUND_FORCE, SI, SP_811};
use super::unit::{Ratio, Unit, over, times};
use crate::quantity::Dimension;

const ENERGY: Dimension = Dimension::TORQUE;
const POWER: Dimension = Dimension::POWER;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("J", "J", "joule", ENERGY, Ratio::ONE, SI).spelt(&["joule", "joules"]),
    Unit::new("kJ", "kJ", "kilojoule", ENERGY, times(1e3), SI).spelt(&["kilojoule", "kilojoules"]),
    Unit::new("Wh", "Wh", "watt hour", ENERGY, HOUR, SI).spelt(&["W h"]),
    Unit::new("mW", "mW", "milliwatt", POWER, times(1e-3), SI).spelt(&["milliwatt", "milliwatts"]),
    Unit::new("W", "W", "watt", POWER, Ratio::ONE, SI).spelt(&["watt", "watts"]),
    Unit::new("kW", "kW", "kilowatt", POWER, times(1e3), SI),
    Unit::new(
        "hp",
        "hp",
        "horsepower of 550 foot pounds-force per second",
        POWER,
        POUND_FORCE.times(FOOT).times(times(550.0)),
        SP_811,
    )
    .spelt(&["HP", "bhp"]),
    // 75 kilogram-force metres per second.
    Unit::new(
        "hp_metric",
        "metric hp",
        "metric horsepower",
        POWER,
        over(73_549_875.0, 1e5),
        SP_811,
    )
    .spelt(&["PS"]),
    Unit::new(
        "BTU_per_h",
        "BTU/h",
        "British thermal unit (International Table) per hour",
        POWER,
        BTU.per(HOUR),
        SP_811,
    )
    .spelt(&["Btu/h", "BTU/hr", "Btu/hr", "BTU_IT/h"]),
    Unit::new(
        "ton_cooling",
        "ton of cooling",
        "ton of cooling (12 000 BTU per hour)",
        POWER,
        BTU.times(times(12e3)).per(HOUR),
        SP_811,
    )
    .spelt(&["tons of cooling"]),
];
