//! Flat and square bar.

use std::f64::consts::PI;

use super::outline::{Axis, Outline};
use crate::tape::{Number, exp, if_less};

/// A solid rectangle with sharp edges.
#[derive(Clone, Copy, Debug)]
pub(super) struct FlatBar {
    pub(super) width: Number,
    pub(super) height: Number,
}

/// The sum of 1/n⁵ over odd n, 31/32 ζ(5).
const ODD_FIFTHS: f64 = 1.004_523_762_795_139_6;

impl Outline for FlatBar {
    fn name(&self) -> &'static str {
        "a flat bar"
    }

    fn area(&self) -> Number {
        self.width * self.height
    }

    /// B H³/12
    fn second_moment(&self, about: Axis) -> Number {
        let (along, across) = self.sides(about);
        along * across * across * across / 12.0
    }

    /// B H²/4
    fn plastic_modulus(&self, about: Axis) -> Number {
        let (along, across) = self.sides(about);
        along * across * across / 4.0
    }

    fn outermost(&self, from: Axis) -> Number {
        self.sides(from).1 / 2.0
    }

    /// J = b c³/3 (1 − 192/π⁵ · c/b · Σ tanh(nπb/2c)/n⁵), n odd, b the longer side and c the shorter.
    ///
    /// Source: Saint-Venant's series, Timoshenko and Goodier, Theory of Elasticity, torsion of a rectangular bar (from
    /// memory; agrees with their table of coefficients). The sum is taken as Σ 1/n⁵ − Σ (1 − tanh)/n⁵, of which three
    /// terms leave an error below 1e-11 for every shape.
    fn torsion_constant(&self) -> Number {
        let (long, short) = self.long_and_short();
        let decay = exp(-PI * long / short);
        let mut sum = Number::constant(ODD_FIFTHS);
        for n in [1, 3, 5] {
            // 1 − tanh x = 2/(exp(2x) + 1); in falling exponentials nothing overflows in a thin strip.
            let falling = whole_power(decay, n);
            let n = f64::from(n);
            sum = sum - 2.0 * falling / (1.0 + falling) / (n * n * n * n * n);
        }
        let pi5 = PI * PI * PI * PI * PI;
        long * short * short * short / 3.0 * (1.0 - 192.0 / pi5 * (short / long) * sum)
    }

    /// J / (c (1 − 8/π² Σ 1/(n² cosh(nπb/2c)))), n odd: the largest stress is at the middle of the longer side.
    ///
    /// Source as for J; seven terms leave an error below 1e-9 for every shape.
    fn torsion_modulus(&self) -> Number {
        let (long, short) = self.long_and_short();
        let decay = exp(-PI / 2.0 * long / short);
        let mut sum = Number::ZERO;
        for n in [1, 3, 5, 7, 9, 11, 13] {
            // 1/cosh x = 2 exp(−x)/(1 + exp(−2x))
            let falling = whole_power(decay, n);
            let n = f64::from(n);
            sum = sum + 2.0 * falling / (1.0 + falling * falling) / (n * n);
        }
        self.torsion_constant() / (short * (1.0 - 8.0 / (PI * PI) * sum))
    }

    /// κ = 10 (1 + ν)/(12 + 11ν)
    ///
    /// Source: Cowper (1966), rectangle, from memory.
    fn shear_coefficient(&self, _bent_about: Axis, poisson: Number) -> Number {
        10.0 * (1.0 + poisson) / (12.0 + 11.0 * poisson)
    }
}

impl FlatBar {
    /// The side along the axis and the side across it.
    fn sides(&self, about: Axis) -> (Number, Number) {
        match about {
            Axis::Y => (self.width, self.height),
            Axis::Z => (self.height, self.width),
        }
    }

    /// Chosen with `if_less`, not `max` and `min`, whose derivatives are zero where both are equal: torsion of a square
    /// bar has no kink.
    fn long_and_short(&self) -> (Number, Number) {
        let (width, height) = (self.width, self.height);
        let long = if_less(width, height, height, width);
        let short = if_less(width, height, width, height);
        (long, short)
    }
}

fn whole_power(base: Number, n: u32) -> Number {
    (1..n).fold(base, |product, _| product * base)
}
