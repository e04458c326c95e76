//! Two bodies: the gap between them.

use super::nearest::nearest;
use super::overlap::shortest_way_apart;
use super::vector::{Vector, subtract};

/// The most corners a body may have.
pub const MOST_CORNERS: usize = 64;

/// Coordinates beyond this are refused: volumes are made of four of them, and have to stay within the range of numbers.
const FARTHEST: f64 = 1e60;

/// Hulls nearer than this share of the size of the whole arrangement are treated as touching or overlapping: closer
/// than that, the direction between their nearest points is lost in rounding.
const TOUCHING: f64 = 1e-10;

/// The gap between body a and body b.
///
/// With `n` the normal and `w` the weights, `distance = n·(Σ w_b b − Σ w_a a) − r_a − r_b`, and its derivatives are
///
/// - by corner i of a: `−weights_a[i] · n`,
/// - by corner j of b: `+weights_b[j] · n`,
/// - by either radius: −1.
#[derive(Debug, Clone, PartialEq)]
pub struct Gap {
    /// The signed distance of the surfaces, in the unit of the corners: positive apart; negative how far b must be
    /// moved along the normal so that they just touch.
    pub distance: f64,
    /// Unit vector from a towards b.
    pub normal: [f64; 3],
    /// How much each corner of a has to do with it: none negative, their sum 1.
    pub weights_a: Vec<f64>,
    /// The same for b.
    pub weights_b: Vec<f64>,
}

/// The signed distance between the hull of `a` inflated by `radius_a` and the hull of `b` inflated by `radius_b`.
///
/// Hulls apart: the distance of their nearest points, by E. G. Gilbert, D. W. Johnson and S. S. Keerthi, "A fast
/// procedure for computing the distance between complex objects in three-dimensional space", IEEE Journal of Robotics
/// and Automation 4(2), 1988. Hulls overlapping: the shortest translation that parts them, over every face of either
/// and every pair of edges (the separating axis theorem). The radii come off afterwards, which is exact in both cases:
/// a ball adds its radius to how far a body reaches in every direction. Rounding: about 1e-14 of the size of the
/// arrangement for bodies apart, 1e-10 at and below contact.
///
/// Where several points are equally near (parallel faces), the weights are those of one of them, the same every time;
/// where several ways apart are equally short, the first found counts. Without a direction at all (two equal points)
/// the normal is some fixed one.
///
/// A body without corners or with more than [`MOST_CORNERS`], and a coordinate that is not finite or beyond 1e60, give NaN
/// throughout.
pub fn gap(a: &[[f64; 3]], radius_a: f64, b: &[[f64; 3]], radius_b: f64) -> Gap {
    let sizes = 1..=MOST_CORNERS;
    let mut coordinates = a.iter().chain(b).flatten();
    let finite = coordinates.all(|coordinate| coordinate.abs() <= FARTHEST);
    if !(sizes.contains(&a.len()) && sizes.contains(&b.len()) && finite) {
        let nothing = |corners: &[Vector]| vec![f64::NAN; corners.len()];
        return Gap {
            distance: f64::NAN,
            normal: [f64::NAN; 3],
            weights_a: nothing(a),
            weights_b: nothing(b),
        };
    }
    // From the first corner: where the arrangement stands in space costs no accuracy.
    let from_first = |corners: &[Vector]| corners.iter().map(|&corner| subtract(corner, a[0])).collect::<Vec<_>>();
    let (corners_a, corners_b) = (from_first(a), from_first(b));
    let mut size = 0.0;
    for coordinate in corners_a.iter().chain(&corners_b).flatten() {
        size = if coordinate.abs() > size {
            coordinate.abs()
        } else {
            size
        };
    }
    let points = nearest(&corners_a, &corners_b);
    let mut gap = if points.distance > TOUCHING * size {
        let normal = points.between.map(|part| part / points.distance);
        Gap {
            distance: points.distance,
            normal,
            weights_a: points.weights_a,
            weights_b: points.weights_b,
        }
    } else {
        shortest_way_apart(&corners_a, &corners_b, size)
    };
    gap.distance = gap.distance - radius_a - radius_b;
    gap
}
