//! Shares of a whole.

use super::source::SI;
use super::unit::{Unit, over};
use crate::quantity::Dimension;

pub(super) static UNITS: &[Unit] =
    &[Unit::new("percent", "%", "percent", Dimension::NONE, over(1.0, 100.0), SI).spelt(&["per cent", "pct"])];
