//! Angles, and the slope that a machine level reads.

use core::f64::consts::PI;

use super::source::SI;
use super::unit::{Ratio, Unit, over, times};
use crate::quantity::Dimension;

const ANGLE: Dimension = Dimension::ANGLE;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("deg", "°", "degree", ANGLE, over(PI, 180.0), SI).spelt(&["degree", "degrees", "º"]),
    Unit::new("rad", "rad", "radian", ANGLE, Ratio::ONE, SI).spelt(&["radian", "radians"]),
    Unit::new("arcmin", "arcmin", "minute of arc", ANGLE, over(PI, 10_800.0), SI),
    Unit::new("arcsec", "arcsec", "second of arc", ANGLE, over(PI, 648_000.0), SI),
    Unit::new("turn", "turn", "turn", ANGLE, times(2.0 * PI), SI).spelt(&[
        "turns",
        "rev",
        "revs",
        "revolution",
        "revolutions",
    ]),
    // A fall of one millimetre on a run of one metre: the angle whose tangent is a thousandth, at any size.
    Unit::new(
        "mm_per_m",
        "mm/m",
        "millimetre per metre of slope",
        ANGLE,
        over(1.0, 1e3),
        SI,
    )
    .slope(),
];
