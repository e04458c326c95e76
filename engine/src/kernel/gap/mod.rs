//! The gap between two convex bodies: how far apart, or how deep one is in the other.
//!
//! A body is the convex hull of 1 to [`MOST_CORNERS`] corners, inflated by a radius: a ball is one corner, a tube two,
//! a plate with rounded edges four, a box eight. Corners may coincide, lie on a line or in a plane.
//!
//! | file | what |
//! |---|---|
//! | `bodies` | the gap itself, and which method answers |
//! | `nearest` | bodies apart: the nearest points of two hulls |
//! | `overlap` | bodies overlapping: the shortest way apart |
//! | `hull` | faces and edges of a hull |
//! | `vector` | three numbers |

mod bodies;
mod hull;
mod nearest;
mod overlap;
mod vector;

pub use bodies::{Gap, MOST_CORNERS, gap};
