//! The language: the only place that names Rhai.
//!
//! | file | what it is |
//! |---|---|
//! | `program.rs` | scripts run: the language put together |
//! | `reader.rs`, `module.rs` | scripts read; scripts taken as modules |
//! | `grammar.rs` | how our statements are written |
//! | `execute/` | what they do |
//! | `input/` | which value an input gets |
//! | `coordinates.rs` | points and vectors, number by number |
//! | `given_names.rs` | names and labels, each for one thing |
//! | `stated.rs` | `plus_minus`, `std_dev`, `readings` |
//! | `formula.rs` | formulas with the numbers put in |
//! | `opened.rs` | the lines of a function that a formula calls |
//! | `worked.rs`, `worked.rhai` | what the engine's own functions do, in the language |
//! | `order.rs` | the order in which a table's columns were written |
//! | `wording.rs` | text that holds quantities |
//! | `reading.rs` | between text and quantities |
//! | `closure.rs` | roots, maxima and integrals of closures |
//! | `argument.rs` | the same, for the functions of a host program |
//! | `native.rs` | functions written in Rust, with their descriptions |
//! | `value.rs`, `shown.rs` | what scripts hold, and what native functions give back; the same as plain data |
//! | `bind/` | the functions, one file a concept |
//! | `source.rs`, `lexeme.rs`, `assigned.rs` | a script's statements and words with their places; names that get other values |
//! | `traps.rs`, `names.rs`, `calls.rs` | what is found before a script runs |
//! | `inspect/` | all of that and more, for whoever inspects a script |
//! | `place.rs` | from what the language throws to a message with its place |
//! | `misread.rs`, `thrown.rs` | what the language throws, in our words |
//! | `limits.rs`, `weight.rs` | what a script may use up; what a name holds, looked through before it is used |
//! | `held.rs` | what a run had, for later runs: whole or a part |
//! | `run.rs` | the run that is going on |

pub mod argument;
mod assigned;
mod bind;
mod calls;
mod closure;
mod coordinates;
mod execute;
mod formula;
mod given_names;
mod grammar;
mod held;
mod input;
mod inspect;
mod lexeme;
mod limits;
mod misread;
mod module;
mod names;
mod native;
mod opened;
mod order;
mod place;
mod program;
mod reader;
mod reading;
mod run;
mod shown;
mod source;
mod stated;
mod thrown;
mod traps;
mod value;
mod weight;
mod wording;
mod worked;

pub use held::Held;
pub use inspect::{Decision, Finding, Inspection, Outline, Stated};
pub use native::{Function, Functions};
pub use program::{Finished, Library, Looked, Program};
pub(crate) use reading::read_reading;
pub use run::{Bindings, Given, GivenValue, Sample};

pub(crate) use stated::standard;
