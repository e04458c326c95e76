//! The length along a row of points.

use super::distance::between;
use super::point::Point;
use super::triple;
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};
use crate::tape;

/// The length of straight pieces from each point to the next: a hose, a wire, a bent tube taken without its radii.
///
/// # Errors
/// Fewer than two points.
pub fn polyline_length(points: &[Point]) -> Result<Quantity, Refusal> {
    if points.len() < 2 {
        let message = format!(
            "a length along points needs two or more of them, there are {}",
            points.len()
        );
        return Err(Refusal::new("points", message));
    }
    let pieces: Vec<_> = points
        .windows(2)
        .map(|pair| triple::norm(between(pair[0], pair[1])))
        .collect();
    Ok(Quantity::of(tape::sum(&pieces), Dimension::LENGTH))
}
