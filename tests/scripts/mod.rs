//! The shipped scripts: each compiles, runs with its examples, and its worked cases come out.
//!
//! | file | what it is |
//! |---|---|
//! | `shelf.rs` | scripts and cases as they lie in the scripts folder |
//! | `trial.rs` | one script run on what is set, and judged |
//! | `case.rs` | the worked cases of a script, read from its file |
//! | `cardan.rs` | the shared joint formulas against outside values |
//! | `demo.rs` | the demonstration job |
//! | `examples.rs` | every script with its examples; what a script must say |
//! | `worked.rs` | every case against what comes out |

mod cardan;
mod case;
mod demo;
mod examples;
mod shelf;
mod trial;
mod worked;
