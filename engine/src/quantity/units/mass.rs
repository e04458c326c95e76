//! Masses, and masses spread over a length, an area, a volume or a time.

use super::source::{FOOT, INCH, MADE, OUNCE, POUND, POUND_FORCE, SI, SP_811};
use super::unit::{Ratio, Unit, over, times};
use crate::quantity::Dimension;

const MASS: Dimension = Dimension::MASS;
const DENSITY: Dimension = Dimension::DENSITY;
const LINE_DENSITY: Dimension = Dimension::LINE_DENSITY;
const AREA_DENSITY: Dimension = Dimension::AREA_DENSITY;
const MASS_FLOW: Dimension = Dimension::MASS_FLOW;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("g", "g", "gram", MASS, over(1.0, 1e3), SI).spelt(&["gram", "grams"]),
    Unit::new("kg", "kg", "kilogram", MASS, Ratio::ONE, SI).spelt(&["kilogram", "kilograms", "kilo", "kilos"]),
    Unit::new("lb", "lb", "pound", MASS, POUND, SP_811).spelt(&["lbs", "lbm", "pound", "pounds"]),
    Unit::new("oz", "oz", "ounce", MASS, OUNCE, SP_811).spelt(&["ounce", "ounces"]),
    // The mass that a pound-force accelerates by a foot per second squared.
    Unit::new("slug", "slug", "slug", MASS, POUND_FORCE.per(FOOT), MADE).spelt(&["slugs"]),
    Unit::new("tonne", "t", "tonne", MASS, times(1e3), SI).spelt(&["tonnes"]),
    Unit::new(
        "kg_per_m3",
        "kg/m³",
        "kilogram per cubic metre",
        DENSITY,
        Ratio::ONE,
        SI,
    ),
    Unit::new(
        "lb_per_in3",
        "lb/in³",
        "pound per cubic inch",
        DENSITY,
        POUND.per(INCH.times(INCH).times(INCH)),
        MADE,
    ),
    Unit::new(
        "lb_per_ft3",
        "lb/ft³",
        "pound per cubic foot",
        DENSITY,
        POUND.per(FOOT.times(FOOT).times(FOOT)),
        MADE,
    ),
    Unit::new("kg_per_m", "kg/m", "kilogram per metre", LINE_DENSITY, Ratio::ONE, SI),
    Unit::new(
        "lb_per_ft",
        "lb/ft",
        "pound per foot",
        LINE_DENSITY,
        POUND.per(FOOT),
        MADE,
    ),
    Unit::new(
        "g_per_m2",
        "g/m²",
        "gram per square metre",
        AREA_DENSITY,
        over(1.0, 1e3),
        SI,
    )
    .spelt(&["gsm"]),
    Unit::new(
        "oz_per_ft2",
        "oz/ft²",
        "ounce per square foot",
        AREA_DENSITY,
        OUNCE.per(FOOT.times(FOOT)),
        MADE,
    ),
    Unit::new("kg_per_s", "kg/s", "kilogram per second", MASS_FLOW, Ratio::ONE, SI),
];
