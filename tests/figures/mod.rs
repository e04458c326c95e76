//! Figures: their data, their pictures, and how they follow a replay.
//!
//! | file | what it is |
//! |---|---|
//! | `look.rs` | every picture of the shipped scripts as files, for somebody to look at |

mod look;
