//! Torques, and the unbalance of a turning part.
//!
//! A torque per angle has a mass and a length in it, so that its angle is dropped: `N_m_per_deg` is a torque, that of
//! one radian. `g_mm` and `oz_in` are unbalances, a mass times its distance from the axis, not torques.

use core::f64::consts::PI;

use super::source::{FOOT, INCH, MADE, OUNCE, POUND_FORCE, SI};
use super::unit::{Ratio, Unit, over};
use crate::quantity::Dimension;

const TORQUE: Dimension = Dimension::TORQUE;
const UNBALANCE: Dimension = Dimension::UNBALANCE;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("N_m", "N m", "newton metre", TORQUE, Ratio::ONE, SI).spelt(&["Nm"]),
    Unit::new(
        "lbf_ft",
        "lbf ft",
        "pound-force foot",
        TORQUE,
        POUND_FORCE.times(FOOT),
        MADE,
    )
    .spelt(&["ft lbf", "lb ft", "ft lb", "ft lbs"]),
    Unit::new(
        "lbf_in",
        "lbf in",
        "pound-force inch",
        TORQUE,
        POUND_FORCE.times(INCH),
        MADE,
    )
    .spelt(&["in lbf", "lb in", "in lb", "in lbs"]),
    Unit::new(
        "N_m_per_deg",
        "N m/°",
        "newton metre per degree",
        TORQUE,
        over(180.0, PI),
        SI,
    )
    .spelt(&["N m/deg", "Nm/deg", "Nm/°"]),
    Unit::new("g_mm", "g mm", "gram millimetre", UNBALANCE, over(1.0, 1e6), SI),
    Unit::new("oz_in", "oz in", "ounce inch", UNBALANCE, OUNCE.times(INCH), MADE),
];
