//! Volume flows.

use super::source::SI;
use super::unit::{Unit, over};
use crate::quantity::Dimension;

const VOLUME_FLOW: Dimension = Dimension::VOLUME_FLOW;

pub(super) static UNITS: &[Unit] = &[
    Unit::new(
        "m3_per_h",
        "m³/h",
        "cubic metre per hour",
        VOLUME_FLOW,
        over(1.0, 3600.0),
        SI,
    ),
    Unit::new(
        "L_per_min",
        "L/min",
        "litre per minute",
        VOLUME_FLOW,
        over(1.0, 60e3),
        SI,
    )
    .spelt(&["l/min"]),
];
