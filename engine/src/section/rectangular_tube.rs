//! Rectangular tube of even wall, with sharp or rounded corners.
//!
//! Area and moments are exact: the rectangle without the hole, less the four corner pieces outside the rounding, plus
//! those inside. Torsion is Bredt's thin-wall formula.

use std::f64::consts::PI;

use super::outline::{Axis, Outline};
use crate::tape::{Number, if_less};

/// Outside width and height, wall, outside radius of the corners (zero: sharp).
#[derive(Clone, Copy, Debug)]
pub(super) struct RectangularTube {
    pub(super) width: Number,
    pub(super) height: Number,
    pub(super) wall: Number,
    pub(super) corner: Number,
}

/// A corner piece, the square of side r outside its quarter circle: its area over r², …
const PIECE_AREA: f64 = 1.0 - PI / 4.0;
/// … the distance of its centroid from the square's sides over r, …
const PIECE_CENTROID: f64 = (10.0 - 3.0 * PI) / (12.0 - 3.0 * PI);
/// … and its second moment about its own centroid over r⁴.
const PIECE_MOMENT: f64 = 1.0 / 3.0 - PI / 16.0 - 1.0 / (9.0 * (4.0 - PI));

impl Outline for RectangularTube {
    fn name(&self) -> &'static str {
        "a rectangular tube"
    }

    fn area(&self) -> Number {
        let rectangle = |(width, height, corner): Rounded| width * height - 4.0 * PIECE_AREA * corner * corner;
        rectangle(self.outside(Axis::Y)) - rectangle(self.inside(Axis::Y))
    }

    fn second_moment(&self, about: Axis) -> Number {
        second_moment(self.outside(about)) - second_moment(self.inside(about))
    }

    fn plastic_modulus(&self, about: Axis) -> Number {
        plastic_modulus(self.outside(about)) - plastic_modulus(self.inside(about))
    }

    fn outermost(&self, from: Axis) -> Number {
        self.outside(from).1 / 2.0
    }

    /// J = 4 Am² t / s with Am the area inside the middle line of the wall and s its length.
    ///
    /// Source: Bredt's formula for a thin closed tube, any strength-of-materials text. With sharp corners
    /// 2 t (B−t)² (H−t)² / ((B−t) + (H−t)). It is on the low side (soft): 4.4 % below finite elements for a tube of
    /// 2 × 1 × 0.120 in with sharp corners, less for thinner walls.
    fn torsion_constant(&self) -> Number {
        let (area, length) = self.middle_line();
        4.0 * area * area * self.wall / length
    }

    /// 2 Am t: the even shear stress of Bredt; the peak at a sharp inner corner is not in it.
    fn torsion_modulus(&self) -> Number {
        2.0 * self.middle_line().0 * self.wall
    }

    /// κ = 10 (1+ν)(1+3m)² / (12 + 72m + 150m² + 90m³ + ν(11 + 66m + 135m² + 90m³) + 10n²((3+ν)m + 3m²)), with
    /// n = b/h and m = b t₁/(h t), here equal, for middle-line breadth b (flanges) and depth h (webs).
    ///
    /// Source: Cowper (1966), thin-walled box section, from memory; a square gives his 20 (1+ν)/(48 + 39ν). Rounded
    /// corners and thick walls are not in it.
    fn shear_coefficient(&self, bent_about: Axis, poisson: Number) -> Number {
        let (breadth, depth, _) = self.outside(bent_about);
        let n = (breadth - self.wall) / (depth - self.wall);
        let polynomial = |a: f64, b: f64, c: f64, d: f64| a + n * (b + n * (c + n * d));
        let above = 1.0 + 3.0 * n;
        let flanges = 10.0 * n * n * ((3.0 + poisson) * n + 3.0 * n * n);
        let below = polynomial(12.0, 72.0, 150.0, 90.0) + poisson * polynomial(11.0, 66.0, 135.0, 90.0) + flanges;
        10.0 * (1.0 + poisson) * above * above / below
    }
}

/// A rectangle with rounded corners: along the axis, across it, radius.
type Rounded = (Number, Number, Number);

impl RectangularTube {
    fn outside(&self, about: Axis) -> Rounded {
        match about {
            Axis::Y => (self.width, self.height, self.corner),
            Axis::Z => (self.height, self.width, self.corner),
        }
    }

    /// The hole; its corners are sharp where the outside radius is smaller than the wall.
    fn inside(&self, about: Axis) -> Rounded {
        let (along, across, corner) = self.outside(about);
        let both_walls = 2.0 * self.wall;
        (along - both_walls, across - both_walls, above_zero(corner - self.wall))
    }

    /// The area inside the middle line of the wall, and the line's length.
    fn middle_line(&self) -> (Number, Number) {
        let (width, height) = (self.width - self.wall, self.height - self.wall);
        let corner = above_zero(self.corner - self.wall / 2.0);
        let area = width * height - 4.0 * PIECE_AREA * corner * corner;
        let length = 2.0 * (width + height) - 8.0 * PIECE_AREA * corner;
        (area, length)
    }
}

/// A radius, or zero where the corner is sharp.
fn above_zero(radius: Number) -> Number {
    if_less(radius, Number::ZERO, Number::ZERO, radius)
}

/// B H³/12 less four corner pieces (parallel axes).
fn second_moment((along, across, corner): Rounded) -> Number {
    let arm = across / 2.0 - PIECE_CENTROID * corner;
    let corner2 = corner * corner;
    let pieces = 4.0 * corner2 * (PIECE_MOMENT * corner2 + PIECE_AREA * arm * arm);
    along * across * across * across / 12.0 - pieces
}

/// B H²/4 less four corner pieces.
fn plastic_modulus((along, across, corner): Rounded) -> Number {
    let arm = across / 2.0 - PIECE_CENTROID * corner;
    along * across * across / 4.0 - 4.0 * PIECE_AREA * corner * corner * arm
}
