//! Elementary functions of `f64`: within 1 ulp of the correctly rounded result, the same bits everywhere.
//!
//! Each is a straight line of exactly rounded operations and selects between values already computed, so a loop over
//! a slice becomes vector code for whatever instructions it is compiled for, and every width gives the same bits.
//! The exceptions, which branch or call out, say so: [`sin`] and [`cos`] of far angles, and [`pow`].
//!
//! "Within 1 ulp" means: equal to the correctly rounded result or next to it, everywhere in the tests
//! (dense, random over all exponents, and special values, against correctly rounded references); between 2 and 9
//! results in a hundred are the neighbour.
//! Every function carries NaN through.
//!
//! Polynomials and their evaluation follow FDLIBM 5.3, whose notice is:
//!
//! > Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved. Developed at SunSoft, a Sun Microsystems, Inc.
//! > business. Permission to use, copy, modify, and distribute this software is freely granted, provided that this
//! > notice is preserved.
//!
//! | file | functions |
//! |---|---|
//! | `trigonometric` | sin, cos |
//! | `inverse_trigonometric` | asin, acos, atan |
//! | `direction` | atan2 |
//! | `exponential` | exp, ln, pow |
//! | `roots` | sqrt, cbrt, hypot, norm |
//! | `choice` | floor, min, max |
//! | `exact` | sums and products with their rounding error |

mod choice;
mod direction;
pub(crate) mod exact;
mod exponential;
mod inverse_trigonometric;
mod roots;
mod trigonometric;

pub use choice::{floor, max, min};
pub use direction::atan2;
pub use exponential::{exp, ln, pow};
pub use inverse_trigonometric::{acos, asin, atan};
pub use roots::{cbrt, hypot, norm, norm2, norm3, scales_of, sqrt};
pub use trigonometric::{FAR_ANGLE, cos, cos_lanes, cos_near, sin, sin_cos_lanes, sin_lanes, sin_near};
