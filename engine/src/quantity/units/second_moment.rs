//! Second moments of area.

use super::source::{INCH, MADE, SI};
use super::unit::{Unit, over};
use crate::quantity::Dimension;

const SECOND_MOMENT: Dimension = Dimension::SECOND_MOMENT;

pub(super) static UNITS: &[Unit] = &[
    Unit::new(
        "mm4",
        "mm⁴",
        "millimetre to the fourth",
        SECOND_MOMENT,
        over(1.0, 1e12),
        SI,
    ),
    Unit::new(
        "in4",
        "in⁴",
        "inch to the fourth",
        SECOND_MOMENT,
        INCH.times(INCH).times(INCH).times(INCH),
        MADE,
    ),
];
