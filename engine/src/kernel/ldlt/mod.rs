//! Symmetric positive definite sparse systems `K x = b`, solved by LDLᵀ in a fixed order.
//!
//! A matrix is a [`Pattern`] of places and, apart from it, a value for each place. What depends on the places alone
//! (the order of elimination, the storage) is worked out once in a [`Plan`]; a [`Factor`] is made from a plan and
//! values, and solves. The same values give the same bits, since sums are taken in the order the plan fixes.
//!
//! Method: envelope (skyline) storage by rows after a reverse Cuthill–McKee reordering; LDLᵀ by rows.
//! Source: A. George and J. W. Liu, Computer Solution of Large Sparse Positive Definite Systems (1981), chapter 4.
//! Pivots must be positive: a structure that stands has no others, and one that does not is refused with the motion
//! that nothing holds ([`Singular`]). There is no exchange of rows and no indefinite case.
//!
//! | file | what |
//! |---|---|
//! | `pattern` | places of a symmetric matrix, product with a vector, derivatives per place |
//! | `ordering` | the order of elimination |
//! | `plan` | storage worked out from the places |
//! | `elimination` | the factorisation and the solution, for one sample or several at once |
//! | `factor` | the factor, the solution, the free motion |

mod elimination;
mod factor;
mod ordering;
mod pattern;
mod plan;

pub(super) use elimination::Elimination;
pub use factor::{Factor, SINGULAR_BELOW, Singular, solve_lanes};
pub use pattern::{Pattern, PlaceOutside, solve_adjoint};
pub use plan::Plan;
