//! The clearance of two bodies.

use super::cuboid::Cuboid;
use super::distance::height;
use super::plane::Plane;
use super::point::Point;
use super::triple::{self, Triple};
use super::tube::Tube;
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{self, Number};

/// What may clear another: made from a point, a box, a tube or a plane.
#[derive(Clone, Debug)]
pub enum Body {
    /// The hull of some corners, inflated by a radius.
    Hull(Hull),
    /// A face: free where its normal points, solid behind.
    Face(Plane),
}

/// The hull of some corners, inflated by a radius.
#[derive(Clone, Debug)]
pub struct Hull {
    /// 2ᵏ corners of a body with k edges from each corner (a point, a piece of line, a box): the bits of a corner's number
    /// say at which end of each edge it lies.
    corners: Vec<Triple>,
    radius: Number,
}

impl From<Point> for Body {
    fn from(point: Point) -> Self {
        Self::Hull(Hull {
            corners: vec![point.metres()],
            radius: Number::ZERO,
        })
    }
}

impl From<Cuboid> for Body {
    fn from(cuboid: Cuboid) -> Self {
        Self::Hull(Hull {
            corners: cuboid.metres().to_vec(),
            radius: Number::ZERO,
        })
    }
}

impl From<Tube> for Body {
    fn from(tube: Tube) -> Self {
        Self::Hull(Hull {
            corners: tube.metres().to_vec(),
            radius: tube.radius().number(),
        })
    }
}

impl From<Plane> for Body {
    fn from(plane: Plane) -> Self {
        Self::Face(plane)
    }
}

/// The clearance of two boxes, tubes, points or planes: a length; negative where one cuts into the other, by how far they
/// have to be moved apart, the shortest way, until they just touch.
///
/// A plane is the face of something solid: its normal points to the free side, and what lies behind it counts as cut in.
/// Bodies are convex, so a tunnel is its faces, not one box. Where two ways apart are equally short, or two places equally
/// close, the derivative is that of one of them or of their middle. Plain analytic geometry.
///
/// # Errors
/// Two planes: endless faces that are not parallel always cut.
pub fn clearance(a: impl Into<Body>, b: impl Into<Body>) -> Result<Quantity, Refusal> {
    let metres = match (a.into(), b.into()) {
        (Body::Face(_), Body::Face(_)) => {
            let message = "two endless planes have no clearance: one of the two must be a box, a tube or a point";
            return Err(Refusal::new("clearance", message).hint("distance(a, b) for parallel planes"));
        }
        (Body::Face(face), Body::Hull(hull)) | (Body::Hull(hull), Body::Face(face)) => over_face(&hull, face),
        (Body::Hull(a), Body::Hull(b)) => tape::gap(&a.corners, a.radius, &b.corners, b.radius),
    };
    Ok(Quantity::of(metres, Dimension::LENGTH))
}

/// The height of the middle over the face, less how far half of each edge reaches down, less the radius.
///
/// Not the smallest of the corners' heights: where a box stands level over a floor four of them are equal, and a choice
/// among them would have no derivative though the height has one.
fn over_face(hull: &Hull, face: Plane) -> Number {
    let (Some(first), Some(last)) = (hull.corners.first(), hull.corners.last()) else {
        return Number::ZERO;
    };
    let half = Number::constant(0.5);
    let middle = triple::scale(triple::add(*first, *last), half);
    let edges = (0..).map_while(|k| hull.corners.get(1_usize << k));
    let reaches = edges.map(|end| tape::abs(triple::dot(triple::sub(*end, *first), face.unit()) * 0.5));
    reaches.fold(height(middle, face), |height, reach| height - reach) - hull.radius
}
