//! Points, directions, lines, planes and simple bodies in the car's axes, and what is measured between them.
//!
//! Axes as on body drawings (directions of ISO 4130, from memory): X toward the rear, Y to the right, Z up, right-handed.
//! Lengths are metres inside. Everything works on tracked numbers: what is built from readings is built by the same
//! operations in the same order whatever the readings are, so that a replay gives the same bits. Where a formula has
//! no value (the direction of a zero vector, the crossing of parallel lines) the function refuses, now and in replay.
//!
//! | file | what it is |
//! |---|---|
//! | `triple.rs` | three numbers: sums, products, length |
//! | `point.rs`, `vector.rs` | a place; a direction, displacement or force |
//! | `direction.rs` | directions from what a protractor or a view reads, and back |
//! | `angle.rs` | angle between two directions, and about an axis |
//! | `line.rs`, `plane.rs` | endless lines and planes |
//! | `parallel.rs` | from when on two directions count as parallel |
//! | `distance.rs`, `distance_line_line.rs` | distances of points, lines and planes |
//! | `closest_points.rs`, `intersection.rs`, `projection.rs` | where lines and planes come together |
//! | `rotation.rs` | turning about an axis |
//! | `datum.rs` | axes of one's own |
//! | `scatter.rs`, `fit_line.rs`, `fit_plane.rs` | lines and planes through measured points |
//! | `cuboid.rs`, `tube.rs`, `clearance.rs` | simple bodies, and how far apart they are |
//! | `polyline.rs` | the length along points |
//!
//! What is not here: surfaces that are not flat, and bodies that are not convex.

mod angle;
mod clearance;
mod closest_points;
mod cuboid;
mod datum;
mod direction;
mod distance;
mod distance_line_line;
mod fit_line;
mod fit_plane;
mod intersection;
mod line;
mod parallel;
mod plane;
mod point;
mod polyline;
mod projection;
mod rotation;
mod scatter;
mod triple;
mod tube;
mod vector;

pub use angle::{angle_about, angle_between};
pub use clearance::{Body, clearance};
pub use closest_points::closest_points;
pub use cuboid::Cuboid;
pub use datum::Datum;
pub use direction::{direction_from_level, direction_from_views};
pub use distance::{Place, distance};
pub use fit_line::{LineFit, fit_line};
pub use fit_plane::{PlaneFit, fit_plane};
pub use intersection::intersection;
pub use line::Line;
pub use plane::Plane;
pub use point::Point;
pub use polyline::polyline_length;
pub use projection::{project_to_line, project_to_plane};
pub use tube::Tube;
pub use vector::Vector;
