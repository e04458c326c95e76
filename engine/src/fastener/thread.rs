//! A screw thread.

use std::f64::consts::PI;

use crate::quantity::{Dimension, Quantity};

/// The system that a thread belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Unified inch thread.
    Unified,
    /// ISO metric thread.
    Metric,
}

impl Form {
    /// "an inch thread", "a metric thread".
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Unified => "an inch thread",
            Self::Metric => "a metric thread",
        }
    }

    /// By how many pitches the diameter of the stress area lies below the major diameter.
    const fn depth(self) -> f64 {
        match self {
            Self::Unified => 0.9743,
            Self::Metric => 0.9382,
        }
    }
}

/// By how many pitches the basic pitch diameter lies below the major diameter: 3√3/8.
const PITCH_DIAMETER: f64 = 0.649_519_052_838_329;

/// A standard thread; sizes are exact nominal ones.
#[derive(Clone, Debug, PartialEq)]
pub struct Thread {
    pub(super) name: String,
    pub(super) form: Form,
    /// Whether it is the coarse one of its size.
    pub(super) coarse: bool,
    /// Metres.
    pub(super) major: f64,
    /// Metres.
    pub(super) pitch: f64,
}

impl Thread {
    /// Its designation: "1/2-13 UNC", "M10x1.5".
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The system that it belongs to.
    #[must_use]
    pub fn form(&self) -> Form {
        self.form
    }

    /// Nominal (major) diameter.
    #[must_use]
    pub fn major(&self) -> Quantity {
        Quantity::constant(self.major, Dimension::LENGTH)
    }

    /// Pitch: the advance in one turn of a single-start thread.
    #[must_use]
    pub fn pitch(&self) -> Quantity {
        Quantity::constant(self.pitch, Dimension::LENGTH)
    }

    /// Basic pitch diameter of a 60° thread: d − 3/4 H with H = √3/2 P, which is d − 0.649519 P.
    ///
    /// Source: ISO 724 (metric) and ASME B1.1 (inch), both from memory; tables of both agree to the places they print.
    #[must_use]
    pub fn pitch_diameter(&self) -> Quantity {
        Quantity::constant(self.major - PITCH_DIAMETER * self.pitch, Dimension::LENGTH)
    }

    /// Tensile stress area: π/4 (D − 0.9743/n)² for an inch thread (n threads per inch), π/4 (d − 0.9382 P)² for a
    /// metric one.
    ///
    /// Source: ASME B1.1 and ISO 898-1, both from memory; tables of both agree to the places they print.
    #[must_use]
    pub fn stress_area(&self) -> Quantity {
        let diameter = self.major - self.form.depth() * self.pitch;
        Quantity::constant(PI / 4.0 * diameter * diameter, Dimension::AREA)
    }
}
