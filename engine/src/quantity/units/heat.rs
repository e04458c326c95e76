//! Heat flows and the constants of heat transfer.

use super::source::SI;
use super::unit::{Ratio, Unit};
use crate::quantity::Dimension;

pub(super) static UNITS: &[Unit] = &[
    Unit::new(
        "W_per_m2",
        "W/m²",
        "watt per square metre",
        Dimension::HEAT_FLUX,
        Ratio::ONE,
        SI,
    ),
    Unit::new(
        "W_per_m_K",
        "W/(m K)",
        "watt per metre kelvin",
        Dimension::CONDUCTIVITY,
        Ratio::ONE,
        SI,
    ),
    Unit::new(
        "W_per_m2_K",
        "W/(m² K)",
        "watt per square metre kelvin",
        Dimension::HEAT_TRANSFER,
        Ratio::ONE,
        SI,
    ),
];
