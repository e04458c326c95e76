//! The shortest way apart of two convex hulls that touch or overlap.

use super::bodies::Gap;
use super::hull::Hull;
use super::nearest::nearest;
use super::vector::{Vector, cross, direction, dot, scale, square_to, subtract};

/// A corner this share of the size behind the foremost still counts as foremost.
const FOREMOST: f64 = 1e-9;
/// The cross product of two edge directions shorter than this gives no direction.
const PARALLEL: f64 = 1e-9;

/// The gap of two hulls that touch or overlap: the largest separation over all candidate directions.
///
/// In the direction n, b is separated from a by `min n·b − max n·a`. The largest of that over all unit vectors n is the
/// signed distance; it lies at a face of a, at a face of b, or square to an edge of each (faces of the difference of
/// the two hulls). The weights are those of the point of that face nearest to the origin, which makes the derivatives
/// right also with respect to turning.
pub(super) fn shortest_way_apart(a: &[Vector], b: &[Vector], size: f64) -> Gap {
    let (hull_a, hull_b) = (Hull::new(a, size), Hull::new(b, size));
    let mut best = Best {
        normal: [0.0; 3],
        separation: f64::NEG_INFINITY,
    };
    for &normal in &hull_a.faces {
        best.offer(a, b, normal);
    }
    for &normal in &hull_b.faces {
        best.offer(a, b, scale(normal, -1.0));
    }
    for &edge_a in &hull_a.edges {
        for &edge_b in &hull_b.edges {
            best.offer_edges(a, b, edge_a, edge_b, size);
        }
    }
    if best.separation == f64::NEG_INFINITY {
        // Both lie on one line: any direction square to it parts them without a move.
        let edge = hull_a.edges.first().map(|&(i, j)| subtract(a[j], a[i]));
        let edge = edge.or_else(|| hull_b.edges.first().map(|&(i, j)| subtract(b[j], b[i])));
        let normal = edge
            .and_then(|edge| direction(edge, 0.0))
            .map_or([1.0, 0.0, 0.0], square_to);
        best.offer(a, b, normal);
    }
    best.with_weights(a, b, size)
}

struct Best {
    normal: Vector,
    separation: f64,
}

impl Best {
    /// Keeps the direction if it separates better than all before.
    fn offer(&mut self, a: &[Vector], b: &[Vector], normal: Vector) {
        let separation = -reach(b, scale(normal, -1.0)) - reach(a, normal);
        if separation > self.separation {
            *self = Best { normal, separation };
        }
    }

    /// Offers the two directions square to an edge of each, where both edges are foremost.
    fn offer_edges(&mut self, a: &[Vector], b: &[Vector], of_a: (usize, usize), of_b: (usize, usize), size: f64) {
        let along_a = direction(subtract(a[of_a.1], a[of_a.0]), 0.0);
        let along_b = direction(subtract(b[of_b.1], b[of_b.0]), 0.0);
        let (Some(along_a), Some(along_b)) = (along_a, along_b) else {
            return;
        };
        let Some(square) = direction(cross(along_a, along_b), PARALLEL) else {
            return;
        };
        for normal in [square, scale(square, -1.0)] {
            let opposite = scale(normal, -1.0);
            if foremost(a, of_a.0, normal, size) && foremost(b, of_b.0, opposite, size) {
                self.offer(a, b, normal);
            }
        }
    }

    /// The weights of the foremost corners that meet once b is moved by the separation.
    fn with_weights(self, a: &[Vector], b: &[Vector], size: f64) -> Gap {
        let normal = self.normal;
        let in_front = |corners: &[Vector], normal: Vector| -> Vec<usize> {
            (0..corners.len())
                .filter(|&at| foremost(corners, at, normal, size))
                .collect()
        };
        let (front_a, front_b) = (in_front(a, normal), in_front(b, scale(normal, -1.0)));
        let move_back = scale(normal, self.separation);
        let face_a: Vec<Vector> = front_a.iter().map(|&at| a[at]).collect();
        let face_b: Vec<Vector> = front_b.iter().map(|&at| subtract(b[at], move_back)).collect();
        let points = nearest(&face_a, &face_b);
        let spread = |count: usize, front: &[usize], weights: &[f64]| {
            let mut all = vec![0.0; count];
            front.iter().zip(weights).for_each(|(&at, &weight)| all[at] = weight);
            all
        };
        Gap {
            distance: self.separation,
            normal,
            weights_a: spread(a.len(), &front_a, &points.weights_a),
            weights_b: spread(b.len(), &front_b, &points.weights_b),
        }
    }
}

/// How far the farthest corner reaches in a direction.
fn reach(corners: &[Vector], normal: Vector) -> f64 {
    let mut reach = f64::NEG_INFINITY;
    for &corner in corners {
        let along = dot(corner, normal);
        reach = if along > reach { along } else { reach };
    }
    reach
}

/// Whether no corner lies noticeably farther in a direction than this one.
fn foremost(corners: &[Vector], at: usize, normal: Vector, size: f64) -> bool {
    let limit = dot(corners[at], normal) + FOREMOST * size;
    corners.iter().all(|&corner| dot(corner, normal) <= limit)
}
