//! Areas.

use super::source::{FOOT, INCH, MADE, SI};
use super::unit::{Ratio, Unit, over};
use crate::quantity::Dimension;

const AREA: Dimension = Dimension::AREA;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("mm2", "mm²", "square millimetre", AREA, over(1.0, 1e6), SI).spelt(&["sq mm"]),
    Unit::new("cm2", "cm²", "square centimetre", AREA, over(1.0, 1e4), SI).spelt(&["sq cm"]),
    Unit::new("m2", "m²", "square metre", AREA, Ratio::ONE, SI).spelt(&["sq m"]),
    Unit::new("in2", "in²", "square inch", AREA, INCH.times(INCH), MADE).spelt(&["sq in"]),
    Unit::new("ft2", "ft²", "square foot", AREA, FOOT.times(FOOT), MADE).spelt(&["sq ft"]),
];
