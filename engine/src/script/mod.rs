//! The language: the only place that names Rhai.
//!
//! | file | what it is |
//! |---|---|
//! | `program.rs` | scripts read and run: the language put together |
//! | `grammar.rs` | how our statements are written |
//! | `execute.rs` | what they do |
//! | `input.rs` | which value an input gets |
//! | `given_point.rs`, `coordinates.rs` | points and vectors as inputs; number by number |
//! | `stated.rs` | `plus_minus`, `std_dev`, `readings` |
//! | `formula.rs` | formulas with the numbers put in |
//! | `wording.rs` | text that holds quantities |
//! | `reading.rs` | between text and quantities |
//! | `closure.rs` | roots, maxima and integrals of closures |
//! | `native.rs` | functions written in Rust, with their descriptions |
//! | `value.rs` | what scripts hold, and what native functions give back |
//! | `bind/` | the functions, one file a concept |
//! | `source.rs` | a script's words and statements with their places |
//! | `traps.rs`, `names.rs` | what is found before a script runs |
//! | `place.rs` | from what the language throws to a message with its place |
//! | `limits.rs` | what a script may use up |
//! | `run.rs` | the run that is going on |

mod bind;
mod closure;
mod coordinates;
mod execute;
mod formula;
mod given_point;
mod grammar;
mod input;
mod limits;
mod names;
mod native;
mod place;
mod program;
mod reading;
mod run;
mod source;
mod stated;
mod traps;
mod value;
mod wording;

pub use native::{Function, Functions};
pub use program::{Finished, Library, Program};
pub use run::{Bindings, Given, GivenValue, Held};

pub(crate) use input::standard;
