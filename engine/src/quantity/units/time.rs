//! Times.

use super::source::{DAY, HOUR, MINUTE, SI};
use super::unit::{Ratio, Unit, over};
use crate::quantity::Dimension;

const TIME: Dimension = Dimension::TIME;

pub(super) static UNITS: &[Unit] = &[
    Unit::new("ms", "ms", "millisecond", TIME, over(1.0, 1e3), SI).spelt(&["millisecond", "milliseconds"]),
    Unit::new("s", "s", "second", TIME, Ratio::ONE, SI).spelt(&["sec", "second", "seconds"]),
    Unit::new("min", "min", "minute", TIME, MINUTE, SI).spelt(&["minute", "minutes"]),
    Unit::new("h", "h", "hour", TIME, HOUR, SI).spelt(&["hr", "hrs", "hour", "hours"]),
    Unit::new("day", "days", "day", TIME, DAY, SI),
];
