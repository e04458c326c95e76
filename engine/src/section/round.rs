//! Round tube and round bar.
//!
//! Ring formulas of any strength-of-materials text; exact for a circular ring of even wall.

use std::f64::consts::PI;

use super::outline::{Axis, Outline};
use crate::tape::Number;

/// A ring; a bar has an inner radius of zero.
#[derive(Clone, Copy, Debug)]
pub(super) struct Round {
    pub(super) outer: Number,
    pub(super) inner: Number,
}

impl Outline for Round {
    fn name(&self) -> &'static str {
        if self.is_bar() { "a round bar" } else { "a round tube" }
    }

    /// π (ro² − ri²)
    fn area(&self) -> Number {
        PI * (square(self.outer) - square(self.inner))
    }

    /// π/4 (ro⁴ − ri⁴)
    fn second_moment(&self, _about: Axis) -> Number {
        PI / 4.0 * (square(square(self.outer)) - square(square(self.inner)))
    }

    /// 4/3 (ro³ − ri³)
    fn plastic_modulus(&self, _about: Axis) -> Number {
        let cube = |r: Number| square(r) * r;
        4.0 / 3.0 * (cube(self.outer) - cube(self.inner))
    }

    fn outermost(&self, _from: Axis) -> Number {
        self.outer
    }

    /// The polar second moment, 2 I: exact for a ring, which does not warp.
    fn torsion_constant(&self) -> Number {
        2.0 * self.second_moment(Axis::Y)
    }

    fn torsion_modulus(&self) -> Number {
        self.torsion_constant() / self.outer
    }

    /// κ = 6 (1 + ν)(1 + m²)² / ((7 + 6ν)(1 + m²)² + (20 + 12ν) m²), m = ri/ro; for a bar 6 (1 + ν)/(7 + 6ν).
    ///
    /// Source: G. R. Cowper, The Shear Coefficient in Timoshenko's Beam Theory, J. Applied Mechanics 33 (1966), hollow
    /// circle; from memory, checked against an independent value for a tube of 3.5 × 0.083 in.
    fn shear_coefficient(&self, _bent_about: Axis, poisson: Number) -> Number {
        let m2 = square(self.inner / self.outer);
        let spread = square(1.0 + m2);
        6.0 * (1.0 + poisson) * spread / ((7.0 + 6.0 * poisson) * spread + (20.0 + 12.0 * poisson) * m2)
    }
}

impl Round {
    /// A tube never has the constant zero inside: its inner radius is refused at zero.
    fn is_bar(&self) -> bool {
        self.inner.is_constant() && self.inner.shown() == 0.0
    }
}

fn square(x: Number) -> Number {
    x * x
}
