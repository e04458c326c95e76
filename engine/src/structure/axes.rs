//! A member's axes, and its matrices turned from them into the vehicle's.

use super::freedom::FREEDOMS;
use super::strip::{StripVector, Strips};
use super::vector::{self, Vector};
use crate::diagnostic::Refusal;
use crate::tape::{self, Number};

/// sin² of the angle to vertical below which a member counts as vertical: one degree.
const VERTICAL: f64 = 3.045_865e-4;
/// `up` must stand off the member by more than this sine, squared: about a thousandth of a radian.
const ALONG: f64 = 1e-6;

/// Where a member points: unit vectors along its x, y and z, in vehicle axes, and its length.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axes {
    pub(super) x: Vector,
    pub(super) y: Vector,
    pub(super) z: Vector,
    pub(super) length: Number,
}

/// How a member's ends have moved, in its axes: what of it takes a force.
#[derive(Clone, Copy, Debug)]
pub(super) struct EndMoves {
    /// The displacement of the second end less that of the first: moving both alike takes no force.
    pub(super) apart: Vector,
    pub(super) turn_a: Vector,
    pub(super) turn_b: Vector,
}

/// The part of a matrix that belongs to two nodes: displacements, then rotations.
pub(super) type Block = [[Number; FREEDOMS]; FREEDOMS];

/// A member's matrix in vehicle axes. The block of b with a is the mirror image of that of a with b.
#[derive(Clone, Copy, Debug)]
pub(super) struct MemberBlocks {
    pub(super) a_a: Block,
    pub(super) a_b: Block,
    pub(super) b_b: Block,
}

impl Axes {
    /// `run` leads from the first node to the second and has this length; for `up` see
    /// [`super::Structure::member`].
    pub(super) fn new(member: &str, run: Vector, length: Number, up: Option<Vector>) -> Result<Self, Refusal> {
        let x = run.map(|component| component / length);
        let up = up.unwrap_or_else(|| default_up(x));
        let beside = vector::cross(up, x);
        let (beside_squared, up_squared) = (vector::dot(beside, beside), vector::dot(up, up));
        if !tape::require(up_squared * ALONG, tape::Relation::Less, beside_squared) {
            let message = format!("the direction up of member {member:?} lies along the member; it must stand off it");
            return Err(Refusal::new("structure", message).hint("give another direction for up"));
        }
        let size = tape::sqrt(beside_squared);
        let y = beside.map(|component| component / size);
        let z = vector::cross(x, y);
        Ok(Self { x, y, z, length })
    }

    /// A vector's components along the member's axes.
    pub(super) fn components_of(&self, v: Vector) -> Vector {
        [vector::dot(self.x, v), vector::dot(self.y, v), vector::dot(self.z, v)]
    }

    /// A vector from its components along the member's axes.
    pub(super) fn vector_of(&self, v: Vector) -> Vector {
        std::array::from_fn(|i| vector::dot([self.x[i], self.y[i], self.z[i]], v))
    }

    /// How the ends have moved, from the freedoms of both in vehicle axes.
    pub(super) fn moves_of(&self, a: &[Number; FREEDOMS], b: &[Number; FREEDOMS]) -> EndMoves {
        let [ax, ay, az, turn_a @ ..] = *a;
        let [bx, by, bz, turn_b @ ..] = *b;
        EndMoves {
            apart: self.components_of(vector::sub([bx, by, bz], [ax, ay, az])),
            turn_a: self.components_of(turn_a),
            turn_b: self.components_of(turn_b),
        }
    }

    /// Forces and moments on both ends, in the member's axes.
    pub(super) fn out_of_strips(strips: &StripVector) -> [[Vector; 2]; 2] {
        let end = |i: usize| {
            let force = [strips.stretch[i], strips.bend_y[2 * i], strips.bend_z[2 * i]];
            let moment = [strips.twist[i], -strips.bend_z[2 * i + 1], strips.bend_y[2 * i + 1]];
            [force, moment]
        };
        [end(0), end(1)]
    }

    /// A member's matrix, given strip by strip, in vehicle axes.
    pub(super) fn turned(&self, strips: &Strips) -> MemberBlocks {
        let products = Products {
            xx: outer(self.x, self.x),
            yy: outer(self.y, self.y),
            zz: outer(self.z, self.z),
            yz: outer(self.y, self.z),
        };
        MemberBlocks {
            a_a: products.block(strips, 0, 0),
            a_b: products.block(strips, 0, 1),
            b_b: products.block(strips, 1, 1),
        }
    }
}

/// The vehicle's Z, or its X for a vertical member: chosen on the tape.
fn default_up(x: Vector) -> Vector {
    let off_vertical = x[0] * x[0] + x[1] * x[1];
    let limit = Number::constant(VERTICAL);
    let along_x = tape::if_less(off_vertical, limit, Number::ONE, Number::ZERO);
    [along_x, Number::ZERO, 1.0 - along_x]
}

type Outer = [[Number; 3]; 3];

/// Products of the axes' components: what a matrix in the member's axes becomes in the vehicle's.
struct Products {
    xx: Outer,
    yy: Outer,
    zz: Outer,
    yz: Outer,
}

fn outer(a: Vector, b: Vector) -> Outer {
    std::array::from_fn(|i| std::array::from_fn(|j| a[i] * b[j]))
}

impl Products {
    /// The block of end `i` with end `j`. Turning about y is slope downward: hence the signs of `bend_z`.
    fn block(&self, strips: &Strips, i: usize, j: usize) -> Block {
        let (move_i, move_j) = (2 * i, 2 * j);
        let (turn_i, turn_j) = (move_i + 1, move_j + 1);
        let (y, z) = (&strips.bend_y, &strips.bend_z);
        let moves = self.diagonal(strips.stretch[i][j], y[move_i][move_j], z[move_i][move_j]);
        let turns = self.diagonal(strips.twist[i][j], z[turn_i][turn_j], y[turn_i][turn_j]);
        let (y_move_turn, z_move_turn) = (y[move_i][turn_j], z[move_i][turn_j]);
        let (y_turn_move, z_turn_move) = (y[turn_i][move_j], z[turn_i][move_j]);
        let mut block = [[Number::ZERO; FREEDOMS]; FREEDOMS];
        for p in 0..3 {
            for q in 0..3 {
                block[p][q] = moves[p][q];
                block[p + 3][q + 3] = turns[p][q];
                block[p][q + 3] = y_move_turn * self.yz[p][q] - z_move_turn * self.yz[q][p];
                block[p + 3][q] = y_turn_move * self.yz[q][p] - z_turn_move * self.yz[p][q];
            }
        }
        block
    }

    fn diagonal(&self, x: Number, y: Number, z: Number) -> Outer {
        let mut sum = [[Number::ZERO; 3]; 3];
        for (p, q) in [(0, 0), (0, 1), (0, 2), (1, 1), (1, 2), (2, 2)] {
            let value = x * self.xx[p][q] + y * self.yy[p][q] + z * self.zz[p][q];
            sum[p][q] = value;
            sum[q][p] = value;
        }
        sum
    }
}
