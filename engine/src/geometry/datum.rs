//! Axes of one's own: readings taken from a frame, a gearbox or a bench.

use super::parallel::PARALLEL;
use super::point::Point;
use super::triple::{self, Triple};
use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::quantity::Dimension;
use crate::tape::{self, Relation};

/// An origin and three axes square to one another, right-handed.
#[derive(Clone, Copy, Debug)]
pub struct Datum {
    origin: Point,
    axes: [Triple; 3],
}

impl Datum {
    /// From an origin, the direction of its x axis, and a direction toward which its y axis points.
    ///
    /// The x axis is taken as given; y is made square to it in the plane of both; z = x × y. So the weaker reading
    /// belongs in `y_dir`. Vectors of any dimension and length. Plain analytic geometry.
    ///
    /// # Errors
    /// A zero vector; two directions that are parallel (below 10⁻⁹ rad).
    pub fn new(origin: Point, x_dir: Vector, y_dir: Vector) -> Result<Self, Refusal> {
        let x = x_dir.unit("the datum's x direction")?;
        let toward_y = y_dir.unit("the datum's y direction")?;
        let upward = triple::cross(x, toward_y);
        let sine = triple::norm(upward);
        if !tape::require(PARALLEL, Relation::LessOrEqual, sine) {
            let message = "the datum's x and y directions are parallel: they must span a plane";
            return Err(Refusal::new("parallel", message));
        }
        let z = upward.map(|component| component / sine);
        Ok(Self {
            origin,
            axes: [x, triple::cross(z, x), z],
        })
    }

    /// Its origin, in the vehicle's axes.
    #[must_use]
    pub const fn origin(self) -> Point {
        self.origin
    }

    /// Its axes x, y and z: directions in the vehicle's axes.
    #[must_use]
    pub fn axes(self) -> [Vector; 3] {
        self.axes.map(|axis| Vector::of(axis, Dimension::NONE))
    }

    /// A point of the vehicle, measured in this datum.
    #[must_use]
    pub fn to_datum(self, p: Point) -> Point {
        Point::of(self.inward(triple::sub(p.metres(), self.origin.metres())))
    }

    /// A point measured in this datum, in the vehicle's axes.
    #[must_use]
    pub fn to_vehicle(self, p: Point) -> Point {
        Point::of(triple::add(self.origin.metres(), self.outward(p.metres())))
    }

    /// A vector of the vehicle, seen in this datum: turned, not moved.
    #[must_use]
    pub fn vector_to_datum(self, v: Vector) -> Vector {
        Vector::of(self.inward(v.components()), v.dimension())
    }

    /// A vector seen in this datum, in the vehicle's axes.
    #[must_use]
    pub fn vector_to_vehicle(self, v: Vector) -> Vector {
        Vector::of(self.outward(v.components()), v.dimension())
    }

    fn inward(self, v: Triple) -> Triple {
        self.axes.map(|axis| triple::dot(v, axis))
    }

    fn outward(self, v: Triple) -> Triple {
        let [x, y, z] = self.axes;
        let in_plane = triple::add(triple::scale(x, v[0]), triple::scale(y, v[1]));
        triple::add(in_plane, triple::scale(z, v[2]))
    }
}
