//! The live page's own calculations, run by node: the bits, verdicts and intervals of the engine.
//!
//! | file | what it is |
//! |---|---|
//! | `node.rs` | runs a driver with cases |
//! | `names.rs` | each name of the page's scripts stands for one thing |
//! | `elementary.rs` | each elementary function on a hundred thousand numbers |
//! | `operations.rs` | every operation of the tape's table, on ordinary and on special numbers |
//! | `scripts.rs` | every shipped script and the demonstration job, at their examples and all about them |
//! | `strangers.rs` | scripts put together to try the tape that goes out, seeds of `tests/fuzz` |
//! | `study.rs` | what the page says after an input is moved is what the engine says |
//! | `vouch.rs` | what it shows where a run goes another way, or refuses |
//! | `text.rs` | how quantities are written |
//! | `text_read.rs` | how quantities are read |
//! | `text_cases.rs` | what the two have in common |
//! | `random.rs` | cases that look random and are the same on every machine |

mod elementary;
mod names;
mod node;
mod operations;
mod random;
mod scripts;
mod strangers;
mod study;
mod text;
mod text_cases;
mod text_read;
mod vouch;

pub(crate) use node::run;
