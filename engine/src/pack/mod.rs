//! Packs: folders of scripts with worked cases.
//!
//! | file | what it is |
//! |---|---|
//! | `manifest.rs` | `pack.toml`: what a pack is called, whose it is, which packs it uses |
//! | `case.rs` | `NAME.cases.toml`: worked examples of a script |
//! | `prove.rs` | whether a case comes out |

mod case;
mod manifest;
mod prove;

pub use case::{Case, Expectation, Expected, ExpectedValue, read_cases};
pub use manifest::{Manifest, UsedPack};
pub use prove::{difference_words, prove};
