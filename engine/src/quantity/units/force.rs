//! Forces, and forces per length (stiffnesses, line loads).

use super::source::{FREE_FALL, INCH, MADE, POUND_FORCE, SI, SP_811};
use super::unit::{Ratio, Unit, times};
use crate::quantity::Dimension;

const FORCE: Dimension = Dimension::FORCE;
const FORCE_PER_LENGTH: Dimension = Dimension::FORCE_PER_LENGTH;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("N", "N", "newton", FORCE, Ratio::ONE, SI).spelt(&["newton", "newtons"]),
    Unit::new("kN", "kN", "kilonewton", FORCE, times(1e3), SI),
    Unit::new("lbf", "lbf", "pound-force", FORCE, POUND_FORCE, SP_811).spelt(&["pound-force", "pounds-force"]),
    Unit::new("kgf", "kgf", "kilogram-force", FORCE, FREE_FALL, SP_811).spelt(&["kp"]),
    Unit::new(
        "N_per_mm",
        "N/mm",
        "newton per millimetre",
        FORCE_PER_LENGTH,
        times(1e3),
        SI,
    ),
    Unit::new(
        "lbf_per_in",
        "lbf/in",
        "pound-force per inch",
        FORCE_PER_LENGTH,
        POUND_FORCE.per(INCH),
        MADE,
    ),
];
