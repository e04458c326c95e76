//! The small matrices that a member falls apart into, and the elimination of released freedoms.
//!
//! In its own axes a straight member is four strips that know nothing of each other: stretching (x at both ends),
//! twisting (rx), and bending in the x-y and in the x-z plane (deflection and slope at both ends). Releases are stated in the same
//! axes, so they stay within a strip.

use super::freedom::FREEDOMS;
use crate::tape::Number;

/// A symmetric matrix of two or four freedoms.
pub(super) type Square<const N: usize> = [[Number; N]; N];

/// The four strips of a member: stiffness or mass.
///
/// Bending strips hold deflection at a, slope at a, deflection at b, slope at b, the slope being d(deflection)/dx.
#[derive(Clone, Copy, Debug)]
pub(super) struct Strips {
    pub(super) stretch: Square<2>,
    pub(super) twist: Square<2>,
    /// Deflection along y, turning about z.
    pub(super) bend_y: Square<4>,
    /// Deflection along z, turning about −y.
    pub(super) bend_z: Square<4>,
}

/// Displacements of the four strips, or forces on them.
#[derive(Clone, Copy, Debug)]
pub(super) struct StripVector {
    pub(super) stretch: [Number; 2],
    pub(super) twist: [Number; 2],
    pub(super) bend_y: [Number; 4],
    pub(super) bend_z: [Number; 4],
}

/// How the released freedoms of one strip follow the others.
#[derive(Clone, Debug, Default)]
struct Elimination<const N: usize> {
    /// A released freedom and, for each other one, its stiffness with it over its own: u_c = −Σ share · u.
    steps: Vec<(usize, [Number; N])>,
}

/// How all released freedoms of a member follow the others.
#[derive(Clone, Debug)]
pub(super) struct Release {
    stretch: Elimination<2>,
    twist: Elimination<2>,
    bend_y: Elimination<4>,
    bend_z: Elimination<4>,
}

/// Whether a member with these releases is still kept in place by its nodes.
pub(super) fn release_is_possible(released: &[[bool; FREEDOMS]; 2]) -> bool {
    let [a, b] = released;
    let loose = |slides: [bool; 2], turns: [bool; 2]| {
        let count = slides.iter().chain(&turns).filter(|released| **released).count();
        count > 2 || (slides[0] && slides[1])
    };
    !((a[0] && b[0]) || (a[3] && b[3]) || loose([a[1], b[1]], [a[5], b[5]]) || loose([a[2], b[2]], [a[4], b[4]]))
}

impl Release {
    /// Eliminates the released freedoms from a stiffness: their rows and columns are zero after it.
    /// Static condensation: K_rr − K_rc K_cc⁻¹ K_cr.
    pub(super) fn of(stiffness: &mut Strips, released: &[[bool; FREEDOMS]; 2]) -> Self {
        let [a, b] = released;
        Self {
            stretch: Elimination::of(&mut stiffness.stretch, [a[0], b[0]]),
            twist: Elimination::of(&mut stiffness.twist, [a[3], b[3]]),
            bend_y: Elimination::of(&mut stiffness.bend_y, [a[1], a[5], b[1], b[5]]),
            bend_z: Elimination::of(&mut stiffness.bend_z, [a[2], a[4], b[2], b[4]]),
        }
    }

    /// Takes fixed-end forces off the released freedoms and hands them to the others.
    pub(super) fn on_forces(&self, forces: &mut StripVector) {
        self.stretch.on_forces(&mut forces.stretch);
        self.twist.on_forces(&mut forces.twist);
        self.bend_y.on_forces(&mut forces.bend_y);
        self.bend_z.on_forces(&mut forces.bend_z);
    }

    /// The mass that the remaining freedoms feel, the released ones following them as they do at rest (Guyan).
    pub(super) fn on_mass(&self, mass: &mut Strips) {
        self.stretch.on_mass(&mut mass.stretch);
        self.twist.on_mass(&mut mass.twist);
        self.bend_y.on_mass(&mut mass.bend_y);
        self.bend_z.on_mass(&mut mass.bend_z);
    }
}

impl<const N: usize> Elimination<N> {
    fn of(k: &mut Square<N>, released: [bool; N]) -> Self {
        let mut steps = Vec::new();
        for c in (0..N).filter(|c| released[*c]) {
            let share = std::array::from_fn(|r| if r == c { Number::ZERO } else { k[r][c] / k[c][c] });
            let row = k[c];
            for r in 0..N {
                for s in 0..N {
                    let zero = r == c || s == c;
                    k[r][s] = if zero {
                        Number::ZERO
                    } else {
                        k[r][s] - share[r] * row[s]
                    };
                }
            }
            steps.push((c, share));
        }
        // A strip has half as many stiffnesses as freedoms: with that many releases none is left but rounding.
        if steps.len() == N / 2 {
            *k = [[Number::ZERO; N]; N];
        }
        Self { steps }
    }

    fn on_forces(&self, forces: &mut [Number; N]) {
        for (c, share) in &self.steps {
            let off = forces[*c];
            for r in 0..N {
                forces[r] = if r == *c {
                    Number::ZERO
                } else {
                    forces[r] - share[r] * off
                };
            }
        }
    }

    /// M_rs − g_r M_cs − M_rc g_s + g_r M_cc g_s with g the shares.
    fn on_mass(&self, m: &mut Square<N>) {
        for (c, share) in &self.steps {
            let row = m[*c];
            for r in 0..N {
                for s in 0..N {
                    let carried = m[r][s] - share[r] * row[s] - row[r] * share[s] + share[r] * row[*c] * share[s];
                    m[r][s] = if r == *c || s == *c { Number::ZERO } else { carried };
                }
            }
        }
    }
}
