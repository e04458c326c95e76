//! Electric currents, voltages, resistances, charges.

use super::source::{FOOT, HOUR, MADE, SI};
use super::unit::{Ratio, Unit, over};
use crate::quantity::Dimension;

const CURRENT: Dimension = Dimension::CURRENT;
const VOLTAGE: Dimension = Dimension::VOLTAGE;
const RESISTANCE: Dimension = Dimension::RESISTANCE;
const CHARGE: Dimension = Dimension::CHARGE;
const RESISTANCE_PER_LENGTH: Dimension = Dimension::RESISTANCE_PER_LENGTH;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("A", "A", "ampere", CURRENT, Ratio::ONE, SI).spelt(&["amp", "amps", "ampere", "amperes"]),
    Unit::new("mA", "mA", "milliampere", CURRENT, over(1.0, 1e3), SI),
    Unit::new("V", "V", "volt", VOLTAGE, Ratio::ONE, SI).spelt(&["volt", "volts"]),
    Unit::new("mV", "mV", "millivolt", VOLTAGE, over(1.0, 1e3), SI),
    // Greek omega and the ohm sign are two characters that look alike.
    Unit::new("ohm", "Ω", "ohm", RESISTANCE, Ratio::ONE, SI).spelt(&["ohms", "Ohm", "Ohms", "\u{2126}"]),
    Unit::new("mohm", "mΩ", "milliohm", RESISTANCE, over(1.0, 1e3), SI).spelt(&[
        "mOhm",
        "milliohm",
        "milliohms",
        "m\u{2126}",
    ]),
    Unit::new("Ah", "Ah", "ampere hour", CHARGE, HOUR, SI).spelt(&["A h"]),
    Unit::new("C", "C", "coulomb", CHARGE, Ratio::ONE, SI).spelt(&["coulomb", "coulombs"]),
    Unit::new(
        "ohm_per_m",
        "Ω/m",
        "ohm per metre",
        RESISTANCE_PER_LENGTH,
        Ratio::ONE,
        SI,
    ),
    Unit::new(
        "mohm_per_m",
        "mΩ/m",
        "milliohm per metre",
        RESISTANCE_PER_LENGTH,
        over(1.0, 1e3),
        SI,
    )
    .spelt(&["Ω/km", "ohm/km", "\u{2126}/km"]),
    Unit::new(
        "ohm_per_kft",
        "Ω/kft",
        "ohm per thousand feet",
        RESISTANCE_PER_LENGTH,
        over(1.0, 1e3).per(FOOT),
        MADE,
    )
    .spelt(&["ohm/kft", "\u{2126}/kft", "ohm/1000 ft", "Ω/1000 ft"]),
];
