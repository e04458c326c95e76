//! The mass of a piece of a member, in its own axes.
//!
//! Bending: consistent with the element's own shapes, Archer (1963) and, with shear, Przemieniecki (1968), from memory;
//! their integrals were done again with exact fractions. Rotary inertia is in it where shear is included (Timoshenko),
//! and left out otherwise (Euler-Bernoulli). Stretching and twisting: the mean of the consistent and the lumped matrix,
//! whose error is of the fourth order in the length of a piece where either alone has the second.

use super::element::shear_of;
use super::model::Member;
use super::strip::{Square, Strips};
use crate::tape::Number;

/// The mass matrix of a piece of this length, nothing released.
pub(super) fn of_piece(member: &Member, density: Number, length: Number, shear: bool) -> Strips {
    let section = &member.section;
    let line = density * section.area * length;
    // The polar second moment of area: what resists a change of spin, warping aside.
    let spin = density * (section.i_y + section.i_z) * length;
    let phi = shear_of(member, length, shear);
    Strips {
        stretch: mean_of_two(line),
        twist: mean_of_two(spin),
        bend_y: bending(line, density * section.i_z, length, phi.along_y),
        bend_z: bending(line, density * section.i_y, length, phi.along_z),
    }
}

/// (1/3, 1/6; 1/6, 1/3) and (1/2, 0; 0, 1/2), halved and added.
fn mean_of_two(mass: Number) -> Square<2> {
    let (own, other) = (5.0 * mass / 12.0, mass / 12.0);
    [[own, other], [other, own]]
}

/// Terms of a bending mass matrix: deflection and slope at a, deflection and slope at b.
struct Terms {
    move_move: Number,
    move_turn: Number,
    move_far_move: Number,
    move_far_turn: Number,
    turn_turn: Number,
    turn_far_turn: Number,
}

impl Terms {
    fn matrix(&self) -> Square<4> {
        let (a, b, c) = (self.move_move, self.move_turn, self.move_far_move);
        let (d, e, f) = (self.move_far_turn, self.turn_turn, self.turn_far_turn);
        [[a, b, c, d], [b, e, -d, f], [c, -d, a, -b], [d, f, -b, e]]
    }
}

fn bending(line: Number, density_i: Number, length: Number, phi: Option<Number>) -> Square<4> {
    let Some(phi) = phi else {
        let terms = Terms {
            move_move: line * (13.0 / 35.0),
            move_turn: line * length * (11.0 / 210.0),
            move_far_move: line * (9.0 / 70.0),
            move_far_turn: line * length * (-13.0 / 420.0),
            turn_turn: line * length * length / 105.0,
            turn_far_turn: line * length * length / -140.0,
        };
        return terms.matrix();
    };
    let cubic = |one: f64, phi_1: f64, phi_2: f64| one + phi * (phi_1 + phi * phi_2);
    let whole = (1.0 + phi) * (1.0 + phi);
    let (m, i) = (line / whole, density_i / (whole * length));
    let (one, two) = (length, length * length);
    let terms = Terms {
        move_move: m * cubic(13.0 / 35.0, 7.0 / 10.0, 1.0 / 3.0) + i * (6.0 / 5.0),
        move_turn: m * one * cubic(11.0 / 210.0, 11.0 / 120.0, 1.0 / 24.0) + i * one * (0.1 - 0.5 * phi),
        move_far_move: m * cubic(9.0 / 70.0, 3.0 / 10.0, 1.0 / 6.0) - i * (6.0 / 5.0),
        move_far_turn: i * one * (0.1 - 0.5 * phi) - m * one * cubic(13.0 / 420.0, 3.0 / 40.0, 1.0 / 24.0),
        turn_turn: m * two * cubic(1.0 / 105.0, 1.0 / 60.0, 1.0 / 120.0)
            + i * two * cubic(2.0 / 15.0, 1.0 / 6.0, 1.0 / 3.0),
        turn_far_turn: i * two * cubic(-1.0 / 30.0, -1.0 / 6.0, 1.0 / 6.0)
            - m * two * cubic(1.0 / 140.0, 1.0 / 60.0, 1.0 / 120.0),
    };
    terms.matrix()
}
