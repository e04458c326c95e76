//! The nearest points of two convex hulls.

use super::vector::{Vector, add, cross, dot, length, scale, subtract};

/// No arrangement of 64 and 64 corners was seen to take more than 30.
const MOST_STEPS: usize = 500;

/// The nearest points of the hulls of a and of b, as weights of their corners.
pub(super) struct Nearest {
    pub(super) distance: f64,
    /// From a's point to b's.
    pub(super) between: Vector,
    pub(super) weights_a: Vec<f64>,
    pub(super) weights_b: Vec<f64>,
}

/// A corner of the difference of the hulls: corner `b` of the one less corner `a` of the other.
#[derive(Clone, Copy, PartialEq)]
struct Corner {
    a: usize,
    b: usize,
    point: Vector,
}

/// A point of the difference as a combination of up to four of its corners, all weights positive.
struct Combination {
    corners: Vec<Corner>,
    weights: Vec<f64>,
    point: Vector,
}

/// The nearest points of two hulls, each of at least one corner.
///
/// The point of the difference b − a nearest to the origin: from a combination of corners, add the corner that lies
/// farthest towards the origin, take the nearest point of the new combination, until that is no nearer. The distance
/// falls strictly at every step, so it ends.
pub(super) fn nearest(a: &[Vector], b: &[Vector]) -> Nearest {
    let first = corner(a, b, 0, 0);
    let mut best = Combination {
        corners: vec![first],
        weights: vec![1.0],
        point: first.point,
    };
    for _ in 0..MOST_STEPS {
        let towards = best.point;
        let new = corner(a, b, farthest(a, towards, 1.0), farthest(b, towards, -1.0));
        if dot(towards, towards) <= dot(towards, new.point) || best.corners.contains(&new) {
            break;
        }
        let mut corners = best.corners.clone();
        corners.push(new);
        let next = nearest_combination(&corners);
        if length(next.point) >= length(best.point) {
            break;
        }
        best = next;
        if best.corners.len() == 4 {
            break; // the origin is inside
        }
    }
    let (mut weights_a, mut weights_b) = (vec![0.0; a.len()], vec![0.0; b.len()]);
    for (corner, weight) in best.corners.iter().zip(&best.weights) {
        weights_a[corner.a] += weight;
        weights_b[corner.b] += weight;
    }
    Nearest {
        distance: length(best.point),
        between: best.point,
        weights_a,
        weights_b,
    }
}

fn corner(a: &[Vector], b: &[Vector], at_a: usize, at_b: usize) -> Corner {
    Corner {
        a: at_a,
        b: at_b,
        point: subtract(b[at_b], a[at_a]),
    }
}

/// The first of the corners farthest along `sign · direction`.
fn farthest(corners: &[Vector], direction: Vector, sign: f64) -> usize {
    let mut best = (0, f64::NEG_INFINITY);
    for (at, &corner) in corners.iter().enumerate() {
        let reach = sign * dot(corner, direction);
        if reach > best.1 {
            best = (at, reach);
        }
    }
    best.0
}

/// The point nearest to the origin of the hull of up to four corners: of all their subsets, few corners first, the
/// nearest point of those whose own nearest point lies inside them.
fn nearest_combination(corners: &[Corner]) -> Combination {
    let mut subsets: Vec<u32> = (1..1_u32 << corners.len()).collect();
    subsets.sort_by_key(|subset| (subset.count_ones(), *subset));
    let mut best: Option<(f64, Combination)> = None;
    for subset in subsets {
        let members: Vec<Corner> = corners
            .iter()
            .enumerate()
            .filter(|(at, _)| subset >> at & 1 == 1)
            .map(|(_, corner)| *corner)
            .collect();
        let points: Vec<Vector> = members.iter().map(|member| member.point).collect();
        let Some(weights) = inner_weights(&points) else {
            continue;
        };
        let mut point = [0.0; 3];
        for (member, weight) in points.iter().zip(&weights) {
            point = add(point, scale(*member, *weight));
        }
        let distance = length(point);
        if best.as_ref().is_none_or(|(least, _)| distance < *least) {
            best = Some((
                distance,
                Combination {
                    corners: members,
                    weights,
                    point,
                },
            ));
        }
    }
    let alone = || Combination {
        corners: vec![corners[0]],
        weights: vec![1.0],
        point: corners[0].point,
    };
    best.map_or_else(alone, |(_, combination)| combination)
}

/// Weights of the point nearest to the origin of the line, plane or space through the points, if all are positive.
fn inner_weights(points: &[Vector]) -> Option<Vec<f64>> {
    let weights = match *points {
        [_] => vec![1.0],
        [p, q] => {
            let edge = subtract(q, p);
            let share = -dot(p, edge) / dot(edge, edge);
            vec![1.0 - share, share]
        }
        [p, q, r] => {
            // The origin's projection on the plane splits the triangle in three, by signed area.
            let normal = cross(subtract(q, p), subtract(r, p));
            let area = |x: Vector, y: Vector| dot(cross(x, y), normal);
            shares([area(q, r), area(r, p), area(p, q)])
        }
        [p, q, r, s] => {
            let volume = |x: Vector, y: Vector, z: Vector| dot(cross(x, y), z);
            shares([volume(q, r, s), -volume(p, r, s), volume(p, q, s), -volume(p, q, r)])
        }
        _ => return None,
    };
    weights
        .iter()
        .all(|&weight| weight > 0.0 && weight <= 1.0)
        .then_some(weights)
}

/// Each part of the whole; not numbers where the whole is nothing.
fn shares<const N: usize>(parts: [f64; N]) -> Vec<f64> {
    let mut whole = 0.0;
    for part in parts {
        whole += part;
    }
    parts.iter().map(|part| part / whole).collect()
}
