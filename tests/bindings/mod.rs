//! The functions that scripts call, from inside scripts.
//!
//! `scripts/` holds one script a concept; each of its steps that is named in `references.toml` must have the value that
//! stands there, and each script must replay to the bit. `refusals.toml` holds what goes wrong and the words for it.

mod check;
mod given;
mod references;
mod refusals;
mod shares;
