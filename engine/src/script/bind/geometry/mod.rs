//! Points, directions, lines, planes and bodies; the mathematics is in [`crate::geometry`].
//!
//! | file | what it is |
//! |---|---|
//! | `places.rs` | points and vectors with their parts and signs |
//! | `directions.rs` | directions from readings, and back; angles |
//! | `lines.rs` | lines and planes, and what is measured between them |
//! | `motions.rs` | turning, and axes of one's own |
//! | `fits.rs` | lines and planes through measured points |
//! | `bodies.rs` | boxes and tubes, and their clearance |
//! | `take.rs` | how arguments are taken |

mod bodies;
mod directions;
mod fits;
mod lines;
mod motions;
mod places;
mod take;

use crate::script::native::Functions;

pub(super) use take::{direction, point, points, vector};

pub(super) use places::{mean_of_places, sum_of_vectors};

pub(super) fn add(functions: &mut Functions) {
    functions.concept("geometry");
    places::add(functions);
    directions::add(functions);
    lines::add(functions);
    motions::add(functions);
    fits::add(functions);
    bodies::add(functions);
}
