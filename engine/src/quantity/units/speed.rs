//! Speeds and accelerations along a path.

use super::source::{FOOT, FREE_FALL, HOUR, MADE, MILE, SI, SP_811};
use super::unit::{Ratio, Unit, over};
use crate::quantity::Dimension;

const SPEED: Dimension = Dimension::SPEED;
const ACCELERATION: Dimension = Dimension::ACCELERATION;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("m_per_s", "m/s", "metre per second", SPEED, Ratio::ONE, SI).spelt(&["mps"]),
    Unit::new("km_per_h", "km/h", "kilometre per hour", SPEED, over(1e3, 3600.0), SI).spelt(&["kmh", "kph"]),
    Unit::new("mph", "mph", "mile per hour", SPEED, MILE.per(HOUR), MADE),
    Unit::new("ft_per_s", "ft/s", "foot per second", SPEED, FOOT, SP_811),
    Unit::new(
        "m_per_s2",
        "m/s²",
        "metre per second squared",
        ACCELERATION,
        Ratio::ONE,
        SI,
    ),
    Unit::new(
        "gee",
        "gee",
        "standard acceleration of free fall",
        ACCELERATION,
        FREE_FALL,
        SP_811,
    ),
];
