//! The shipped scripts: each compiles, runs with its examples, and its worked cases come out.
//!
//! | file | what it is |
//! |---|---|
//! | `trial.rs` | a job on the shipped scripts, run and judged |
//! | `cardan.rs` | the shared joint formulas against outside values |
//! | `demo.rs` | the demonstration job |
//! | `examples.rs` | every script with its examples; what a script must say |
//! | `outline.rs` | what is told of a script before it is run, against a run of it |
//! | `redo.rs` | every line of the working done again from what is printed |
//! | `worked.rs` | every case against what comes out |

mod cardan;
mod demo;
mod examples;
mod outline;
mod redo;
mod replay;
mod trial;
mod worked;

pub(crate) use trial::{Trial, with_examples};
