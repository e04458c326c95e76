//! Forces along a member and the von Mises stress.

use super::axes::Axes;
use super::results::CaseResults;
use super::vector::{self, Vector, minus, plus, times};
use crate::diagnostic::Refusal;
use crate::tape::{self, Number, Relation};

/// Into how many parts a loaded member is divided to look for its largest stress.
const PARTS: u32 = 16;

/// What the part of a member beyond a cut does to the part before it, in the member's axes.
///
/// The part before the cut is the one with the first node. Forces and moments are along and right-handed about the
/// member's x, y and z: tension is positive; a positive `moment_y` stretches the fibres at +z, a positive `moment_z` those at
/// −y. A beam along Y, pushed down, has in its middle a moment of −P L/4 about its y (fibres at +z compressed).
#[derive(Clone, Copy, Debug)]
pub struct MemberForces {
    /// Along x, N: tension.
    pub axial: Number,
    /// Along y, N.
    pub shear_y: Number,
    /// Along z, N.
    pub shear_z: Number,
    /// About x, N·m.
    pub torsion: Number,
    /// About y, N·m.
    pub moment_y: Number,
    /// About z, N·m.
    pub moment_z: Number,
}

/// A member's forces as polynomials of the distance along it.
struct Course {
    /// Force and moment of the first node on the member.
    force: Vector,
    moment: Vector,
    /// Load per length, member's axes.
    load: Option<Vector>,
    length: Number,
}

impl CaseResults {
    /// The forces in a member at `t`, from 0 at its first node to 1 at its second: exact for the loads on it.
    ///
    /// # Errors
    /// An unknown member; now and in every replay, a `t` outside 0 to 1.
    pub fn member_forces(&self, member: &str, t: Number) -> Result<MemberForces, Refusal> {
        let at = self.solved.structure.members.find(member)?;
        refuse_outside(t)?;
        Ok(self.course(at).at(t))
    }

    /// The von Mises stress at the worst fibre of a cut at `t`, Pa: √(σ² + 3τ²) with σ = |N|/A + √(My² + Mz²)/Z of a
    /// round section, |N|/A + |My|/Zy + |Mz|/Zz of another, τ = |T|/Wt. Transverse shear is left out: it vanishes at the
    /// outermost fibre. Adding the largest σ to the largest τ is on the safe side where they stand apart.
    ///
    /// # Errors
    /// As [`CaseResults::member_forces`].
    pub fn von_mises(&self, member: &str, t: Number) -> Result<Number, Refusal> {
        let at = self.solved.structure.members.find(member)?;
        refuse_outside(t)?;
        Ok(self.stress(at, &self.course(at).at(t)))
    }

    /// The largest von Mises stress in these members, Pa: at their ends and, where a load is spread along one, at 15
    /// places between and where each moment is largest. That is exact where a member bends in one plane; where it
    /// bends in two, the largest value may lie between two places, at most q L²/2048 above in each moment.
    ///
    /// # Errors
    /// An unknown member; none at all.
    pub fn max_von_mises(&self, members: &[&str]) -> Result<Number, Refusal> {
        let mut worst: Option<Number> = None;
        for member in members {
            let at = self.solved.structure.members.find(member)?;
            let course = self.course(at);
            for t in course.places_to_look() {
                let stress = self.stress(at, &course.at(t));
                worst = Some(worst.map_or(stress, |worst| larger(worst, stress)));
            }
        }
        worst.ok_or_else(|| Refusal::new("structure", "the list of members is empty; name at least one"))
    }

    fn course(&self, place: usize) -> Course {
        let member = &self.solved.structure.members.items()[place];
        let element = &self.solved.elements[place];
        let [a, b] = member.ends.map(|end| self.moved(end));
        let load = self.state().applied.members[place].map(|load| member.axes.components_of(load));
        let [mut force, mut moment] = element.forces_on_first(&member.axes.moves_of(&a, &b));
        if let Some(load) = load {
            let [[held_force, held_moment], _] = Axes::out_of_strips(&element.fixed_end_forces(load));
            force = vector::add(force, held_force);
            moment = vector::add(moment, held_moment);
        }
        Course {
            force,
            moment,
            load,
            length: member.axes.length,
        }
    }

    fn stress(&self, place: usize, forces: &MemberForces) -> Number {
        let section = &self.solved.structure.members.items()[place].section;
        let bending = if section.round {
            tape::norm(&[forces.moment_y, forces.moment_z]) / section.z_y
        } else {
            tape::abs(forces.moment_y) / section.z_y + tape::abs(forces.moment_z) / section.z_z
        };
        let normal = tape::abs(forces.axial) / section.area + bending;
        let shear = forces.torsion / section.torsion_modulus;
        tape::norm(&[normal, Number::constant(crate::kernel::sqrt(3.0)) * shear])
    }
}

impl Course {
    /// From the balance of the piece before the cut: F(x) = −Fa − q x, M(x) = −Ma + x eₓ × Fa + x²/2 eₓ × q.
    fn at(&self, t: Number) -> MemberForces {
        let x = times(self.length, t);
        let mut force = vector::neg(self.force);
        let mut moment_y = minus(-self.moment[1], times(x, self.force[2]));
        let mut moment_z = minus(times(x, self.force[1]), self.moment[2]);
        if let Some(load) = self.load {
            let half_square = times(x, x) / 2.0;
            force = vector::sub(force, vector::scale(x, load));
            moment_y = minus(moment_y, times(half_square, load[2]));
            moment_z = plus(moment_z, times(half_square, load[1]));
        }
        MemberForces {
            axial: force[0],
            shear_y: force[1],
            shear_z: force[2],
            torsion: -self.moment[0],
            moment_y,
            moment_z,
        }
    }

    fn places_to_look(&self) -> Vec<Number> {
        let mut places = vec![Number::ZERO, Number::ONE];
        if let Some(load) = self.load {
            places.extend((1..PARTS).map(|part| Number::constant(f64::from(part) / f64::from(PARTS))));
            places.extend([1, 2].map(|axis| self.peak(self.force[axis], load[axis])));
            // The peak in the plane of the load, which need not be one of the section's.
            let across = [load[1], load[2]];
            let pull = across[0] * self.force[1] + across[1] * self.force[2];
            places.push(self.peak(pull, across[0] * load[1] + across[1] * load[2]));
        }
        places
    }

    /// Where the shear force −force − load·x vanishes, kept within the member: there the moment is largest. Without
    /// load it is some place within.
    fn peak(&self, force: Number, load: Number) -> Number {
        let loaded = load * self.length;
        let none = Number::constant(f64::MIN_POSITIVE);
        let divisor = tape::if_less(tape::abs(loaded), none, Number::ONE, loaded);
        let limited = tape::if_less(tape::abs(loaded), none, Number::ZERO, -force);
        // A load of almost nothing puts the place far outside: the quotient must stay finite.
        let most = tape::abs(divisor);
        let limited = larger(-most, smaller(limited, most));
        larger(Number::ZERO, limited / divisor)
    }
}

/// The larger of two, the first where they are equal. Unlike the operation `max` it keeps a derivative there: the ends of
/// a symmetrical frame are equally bad, and that is no reason to know nothing of either.
fn larger(a: Number, b: Number) -> Number {
    tape::if_less(a, b, b, a)
}

fn smaller(a: Number, b: Number) -> Number {
    tape::if_less(b, a, b, a)
}

fn refuse_outside(t: Number) -> Result<(), Refusal> {
    let inside =
        tape::require(Number::ZERO, Relation::LessOrEqual, t) && tape::require(t, Relation::LessOrEqual, Number::ONE);
    if inside {
        return Ok(());
    }
    let message = format!("the place along a member runs from 0 to 1, this is {}", t.shown());
    Err(Refusal::new("structure", message))
}
