//! Faces and edges of the convex hull of up to 64 corners.

use super::vector::{Vector, cross, direction, dot, length, subtract};

/// A corner this share of the size off a plane or line still counts as on it.
const ON: f64 = 1e-10;
/// Three corners whose triangle is flatter than this do not fix a plane.
const SLIVER: f64 = 1e-6;

/// Faces, as unit normals outwards, and edges, as pairs of corners.
///
/// A flat hull has two faces, back to back, and the edges of its outline; a line has one edge and no face.
pub(super) struct Hull {
    pub(super) faces: Vec<Vector>,
    pub(super) edges: Vec<(usize, usize)>,
}

struct Face {
    normal: Vector,
    /// One bit for each corner that lies in it.
    corners: u64,
}

impl Hull {
    /// The hull of at most 64 corners; `size` is the measure for what counts as flat.
    ///
    /// Every three corners are tried: they are a face if all the others lie on one side. With 64 corners most tries
    /// end after a few.
    pub(super) fn new(corners: &[Vector], size: f64) -> Hull {
        let mut faces: Vec<Face> = Vec::new();
        for i in 0..corners.len() {
            for j in i + 1..corners.len() {
                for k in j + 1..corners.len() {
                    // Corners of a face that is known already fix no other.
                    let three = 1_u64 << i | 1 << j | 1 << k;
                    if !faces.iter().any(|face| face.corners & three == three) {
                        faces.extend(faces_through(corners, [i, j, k], size));
                    }
                }
            }
        }
        let edges = match faces.as_slice() {
            [] => line(corners, size).into_iter().collect(),
            [front, _] => outline(corners, front, size),
            _ => shared_edges(corners, &faces),
        };
        Hull {
            faces: faces.iter().map(|face| face.normal).collect(),
            edges,
        }
    }
}

/// The face through three corners, if it is one; both sides of it, if the whole hull lies in it.
fn faces_through(corners: &[Vector], three: [usize; 3], size: f64) -> Vec<Face> {
    let [p, q, r] = three.map(|at| corners[at]);
    let (u, v) = (subtract(q, p), subtract(r, p));
    let Some(normal) = direction(cross(u, v), SLIVER * length(u) * length(v)) else {
        return Vec::new();
    };
    let (mut above, mut below, mut on) = (false, false, 0_u64);
    for (at, &corner) in corners.iter().enumerate() {
        let height = dot(normal, subtract(corner, p));
        if height > ON * size {
            above = true;
        } else if height < -ON * size {
            below = true;
        } else {
            on |= 1 << at;
        }
        if above && below {
            return Vec::new();
        }
    }
    let opposite = [-normal[0], -normal[1], -normal[2]];
    let up = (!above).then_some(Face { normal, corners: on });
    let down = (!below).then_some(Face {
        normal: opposite,
        corners: on,
    });
    up.into_iter().chain(down).collect()
}

/// Where two faces share two corners or more, the two of them farthest apart are an edge.
fn shared_edges(corners: &[Vector], faces: &[Face]) -> Vec<(usize, usize)> {
    let mut edges = Vec::new();
    for (at, face) in faces.iter().enumerate() {
        for other in &faces[at + 1..] {
            let shared = face.corners & other.corners;
            let members = (0..corners.len()).filter(|corner| shared >> corner & 1 == 1);
            edges.extend(farthest_pair(corners, &members.collect::<Vec<_>>()));
        }
    }
    edges
}

/// The edges of a flat hull.
fn outline(corners: &[Vector], face: &Face, size: f64) -> Vec<(usize, usize)> {
    let mut edges = Vec::new();
    for i in 0..corners.len() {
        for j in i + 1..corners.len() {
            let Some(along) = direction(subtract(corners[j], corners[i]), ON * size) else {
                continue;
            };
            let outwards = cross(along, face.normal);
            let heights = || {
                corners
                    .iter()
                    .map(|&corner| dot(outwards, subtract(corner, corners[i])))
            };
            if heights().all(|height| height <= ON * size) || heights().all(|height| height >= -ON * size) {
                edges.push((i, j));
            }
        }
    }
    edges
}

/// The one edge of a hull that is a line; none of a point.
fn line(corners: &[Vector], size: f64) -> Option<(usize, usize)> {
    let all: Vec<usize> = (0..corners.len()).collect();
    let (i, j) = farthest_pair(corners, &all)?;
    (length(subtract(corners[i], corners[j])) > ON * size).then_some((i, j))
}

fn farthest_pair(corners: &[Vector], members: &[usize]) -> Option<(usize, usize)> {
    let mut best = None;
    let mut longest = 0.0;
    for (at, &i) in members.iter().enumerate() {
        for &j in &members[at + 1..] {
            let length = length(subtract(corners[i], corners[j]));
            if length > longest {
                (best, longest) = (Some((i, j)), length);
            }
        }
    }
    best
}
