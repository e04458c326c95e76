//! Volumes; section moduli are measured in them too.

use super::source::{INCH, MADE, SI, SP_811};
use super::unit::{Ratio, Unit, over};
use crate::quantity::Dimension;

const VOLUME: Dimension = Dimension::VOLUME;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("mm3", "mm³", "cubic millimetre", VOLUME, over(1.0, 1e9), SI),
    Unit::new("cm3", "cm³", "cubic centimetre", VOLUME, over(1.0, 1e6), SI),
    Unit::new("cc", "cc", "cubic centimetre", VOLUME, over(1.0, 1e6), SI),
    Unit::new("m3", "m³", "cubic metre", VOLUME, Ratio::ONE, SI),
    Unit::new("L", "L", "litre", VOLUME, over(1.0, 1e3), SI).spelt(&["l", "litre", "litres", "liter", "liters"]),
    Unit::new("in3", "in³", "cubic inch", VOLUME, INCH.times(INCH).times(INCH), MADE).spelt(&["cu in"]),
    // 231 cubic inches.
    Unit::new(
        "gal_us",
        "US gal",
        "US gallon",
        VOLUME,
        over(3_785_411_784.0, 1e12),
        SP_811,
    )
    .spelt(&["US gallon", "US gallons", "gal (US)", "US_gal"]),
    Unit::new(
        "gal_imp",
        "imp gal",
        "imperial gallon",
        VOLUME,
        over(454_609.0, 1e8),
        SP_811,
    )
    .spelt(&["imperial gallon", "imperial gallons", "gal (imp)"]),
];
