//! Angular speeds, angular accelerations, and plain rates.
//!
//! `rpm` keeps its angle and `Hz` has none: 60 rpm is 2π rad/s and is never compared with 1 Hz.

use core::f64::consts::PI;

use super::source::SI;
use super::unit::{Ratio, Unit, over};
use crate::quantity::Dimension;

const ANGULAR_SPEED: Dimension = Dimension::ANGULAR_SPEED;
const ANGULAR_ACCELERATION: Dimension = Dimension::ANGULAR_ACCELERATION;
const RATE: Dimension = Dimension::RATE;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("rpm", "rpm", "revolution per minute", ANGULAR_SPEED, over(PI, 30.0), SI).spelt(&["r/min", "rev/min"]),
    Unit::new("rad_per_s", "rad/s", "radian per second", ANGULAR_SPEED, Ratio::ONE, SI),
    Unit::new(
        "rad_per_s2",
        "rad/s²",
        "radian per second squared",
        ANGULAR_ACCELERATION,
        Ratio::ONE,
        SI,
    ),
    Unit::new("Hz", "Hz", "hertz", RATE, Ratio::ONE, SI).spelt(&["hertz"]),
    Unit::new(
        "cycles_per_min",
        "cycles/min",
        "cycle per minute",
        RATE,
        over(1.0, 60.0),
        SI,
    )
    .spelt(&["cpm", "strokes/min"]),
];
