//! What the ± does, in the long form: as many samples as somebody wants, in memory that does not grow with them.
//!
//! | file | what it is |
//! |---|---|
//! | `study.rs` | samples drawn in parts, each number and check followed through them |
//! | `moments.rs` | mean and standard deviation of numbers that come in parts |
//! | `quantiles.rs` | quantiles of such numbers |
//! | `shares.rs` | each reading's share of a variance |

mod moments;
mod quantiles;
mod shares;
mod study;

pub use study::{Spread, SpreadCheck, SpreadNumber, SpreadRequest, spread};
