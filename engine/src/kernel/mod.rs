//! Plain numerics on `f64`: the same bits on every machine, at any vector width.
//!
//! Everything here is safe Rust made of the operations IEEE 754 rounds exactly (`+ - * /`, square root, comparison,
//! and moves of bits), in a fixed order, without fused multiply-add and without the platform's mathematics library.
//! The rest of the engine takes its functions from here and never from `f64`.
//!
//! | module | what |
//! |---|---|
//! | [`elementary`] | sin, cos, asin, acos, atan, atan2, exp, ln, pow, cbrt, sqrt, hypot, norm, floor, min, max |
//! | [`ldlt`] | symmetric positive definite sparse systems |
//! | [`eigen`] | symmetric eigenproblems, with derivatives |
//! | [`root()`], [`maximum()`], [`quadrature()`] | root, largest value and integral of a function of one number |
//! | [`gap()`] | signed distance of two convex bodies |
//! | `lanes` | numbers of several samples that go through the same arithmetic at once |
//! | [`distribution`] | normal and Student's t distribution |
//! | [`sobol`] | evenly spread sample points |
//!
//! Nothing here knows of units, tapes or scripts. The elementary functions are not dispatched by processor: a caller that
//! wants wider vectors compiles its loop for them and calls these functions inside. Matrices have functions for several
//! samples at once, which are. Either way the bits stay the same.

pub mod distribution;
pub mod eigen;
pub mod elementary;
pub mod gap;
mod lanes;
pub mod ldlt;
mod maximum;
mod quadrature;
mod root;
pub mod sobol;

pub use distribution::{normal_cdf, normal_quantile, student_quantile};
pub use elementary::{
    FAR_ANGLE, acos, asin, atan, atan2, cbrt, cos, cos_lanes, cos_near, exp, floor, hypot, ln, max, min, norm, norm2,
    norm3, pow, scales_of, sin, sin_cos_lanes, sin_lanes, sin_near, sqrt,
};
pub use gap::{Gap, gap};
pub use lanes::LANES;
pub use maximum::{MaximumError, maximum};
pub use quadrature::{Settling, integral, quadrature};
pub use root::{RootError, root};
