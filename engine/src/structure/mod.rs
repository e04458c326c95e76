//! Frames of straight members in space: linear elastic, twelve freedoms a member, everything on the tape.
//!
//! | file | what it is |
//! |---|---|
//! | `model.rs` | [`Structure`]: nodes, members, rigid arms, and what holds them |
//! | `loading.rs` | its load cases |
//! | `property.rs` | what a member needs to know of its section and its material |
//! | `register.rs`, `freedom.rs`, `vector.rs` | names and limits; the six freedoms of a node; vectors of numbers |
//! | `axes.rs` | a member's axes, and its matrices turned from them into the vehicle's |
//! | `element.rs` | stiffness of a member in its own axes, and the end forces of a uniform load |
//! | `strip.rs` | small matrices that a member falls apart into, and the elimination of released freedoms |
//! | `body.rs` | rigid arms: which node leads, and how matrices and forces are carried to it |
//! | `assembly.rs` | the whole matrix from its parts |
//! | `solve.rs` | one factorisation for all load cases |
//! | `free_motion.rs` | what an unstable structure can do, in words |
//! | `results.rs` | [`Solution`] and [`CaseResults`]: deflections, reactions, equilibrium |
//! | `stress.rs` | forces along a member and the von Mises stress |
//! | `mass.rs`, `frequency.rs` | mass matrices; natural frequencies |
//!
//! **Axes.** Vehicle axes: X rearward, Y right, Z up. A member's x runs from its first node to its second, its z lies as
//! near to `up` as it can, y completes a right-handed set. See [`Structure::member`].
//!
//! **Theory.** Small displacements. Euler-Bernoulli bending, or Timoshenko's after [`Structure::include_shear`];
//! Saint-Venant torsion without restraint of warping; no buckling, no stress stiffening. Direct stiffness method as in
//! Przemieniecki, *Theory of Matrix Structural Analysis* (1968), from memory.
//!
//! **On the tape.** What is recorded depends on how the structure is built, never on values: a replay does the same
//! operations. Only [`Solution::worst`] compares, because it names a case.
//!
//! What is not here: dimensions (who calls this checks them), sections and materials, scripts.

mod assembly;
mod axes;
mod body;
mod element;
mod free_motion;
mod freedom;
mod frequency;
mod loading;
mod mass;
mod model;
mod property;
mod register;
mod results;
mod solve;
mod stress;
mod strip;
mod vector;

pub use model::Structure;
pub use property::{MaterialProps, SectionProps};
pub use results::{CaseResults, Equilibrium, Solution};
pub use stress::MemberForces;
