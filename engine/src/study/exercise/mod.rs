//! Readings for exercise sheets: other values near those that a script was run with.
//!
//! | file | what it is |
//! |---|---|
//! | `chance.rs` | numbers by a seed |
//! | `variable.rs` | a reading that may have other values, on the grid of what an instrument reads |
//! | `draw.rs` | a set of readings for which the script runs and its requirements hold |

mod chance;
mod draw;
mod variable;

pub use draw::{Drawn, DrawnReading, draw};
