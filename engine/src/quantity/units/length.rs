//! Lengths.

use super::source::{FOOT, INCH, MILE, SI, SP_811};
use super::unit::{Ratio, Unit, over, times};
use crate::quantity::Dimension;

const LENGTH: Dimension = Dimension::LENGTH;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("um", "µm", "micrometre", LENGTH, over(1.0, 1e6), SI).spelt(&[
        "μm",
        "micron",
        "microns",
        "micrometre",
        "micrometres",
    ]),
    Unit::new("mm", "mm", "millimetre", LENGTH, over(1.0, 1e3), SI).spelt(&[
        "millimetre",
        "millimetres",
        "millimeter",
        "millimeters",
    ]),
    Unit::new("cm", "cm", "centimetre", LENGTH, over(1.0, 1e2), SI).spelt(&[
        "centimetre",
        "centimetres",
        "centimeter",
        "centimeters",
    ]),
    Unit::new("m", "m", "metre", LENGTH, Ratio::ONE, SI).spelt(&["metre", "metres", "meter", "meters"]),
    Unit::new("km", "km", "kilometre", LENGTH, times(1e3), SI).spelt(&[
        "kilometre",
        "kilometres",
        "kilometer",
        "kilometers",
    ]),
    Unit::new("inch", "in", "inch", LENGTH, INCH, SP_811).spelt(&["inches", "ins", "\""]),
    Unit::new("ft", "ft", "foot", LENGTH, FOOT, SP_811).spelt(&["foot", "feet", "'"]),
    Unit::new("yd", "yd", "yard", LENGTH, over(9144.0, 1e4), SP_811).spelt(&["yard", "yards", "yds"]),
    Unit::new("mile", "mi", "mile", LENGTH, MILE, SP_811).spelt(&["miles"]),
    Unit::new(
        "thou",
        "thou",
        "thousandth of an inch",
        LENGTH,
        over(254.0, 1e7),
        SP_811,
    ),
];
