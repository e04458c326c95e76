//! Symmetric eigenproblems `K φ = λ M φ`: the which-th smallest value, its shape, and their derivatives.
//!
//! K is symmetric and may be singular (free motions) or indefinite; M is symmetric positive definite. An
//! [`EigenPlan`] holds what the places of both alone decide; [`EigenPlan::smallest`] gives an [`Eigenpair`], whose
//! derivatives are [`EigenPlan::adjoint`] (reverse) and [`EigenPlan::tangent`] (forward).
//!
//! Small problems (up to [`DENSE_UP_TO`] unknowns) are reduced to a standard one and solved by cyclic Jacobi rotations;
//! larger ones by subspace iteration on the sparse factor. [`EigenPlan::smallest_value`] leaves out the shape and is faster. Both are deterministic: fixed start, fixed order.
//!
//! Source: K.-J. Bathe, Finite Element Procedures (1996), sections 11.3 (Jacobi) and 11.6 (subspace iteration);
//! derivatives: R. B. Nelson, "Simplified calculation of eigenvector derivatives", AIAA Journal 14(9), 1976, here by
//! the bordered system.
//!
//! | file | what |
//! |---|---|
//! | `plan` | the problem's places; which method; the sign of a shape |
//! | `dense` | small full matrices; elimination with pivoting |
//! | `spectrum` | all pairs of small full matrices: Cholesky, Jacobi; for one sample or several at once |
//! | `subspace` | subspace iteration |
//! | `lowest` | the same for the value alone, for one sample or several at once |
//! | `derivative` | derivatives of value and shape |

mod dense;
mod derivative;
mod lowest;
mod plan;
mod spectrum;
mod subspace;

pub use derivative::{Adjoints, Tangent};
pub use plan::{DENSE_UP_TO, EigenError, EigenPlan, Eigenpair};
