//! The live page's own calculations, run by node: the bits, verdicts and intervals of the engine.
//!
//! | file | what it is |
//! |---|---|
//! | `node.rs` | runs a driver with cases; says so where there is no node |
//! | `text.rs` | how quantities are written |
//! | `text_read.rs` | how quantities are read |
//! | `text_cases.rs` | what the two have in common |
//! | `random.rs` | cases that look random and are the same on every machine |

mod node;
mod random;
mod text;
mod text_cases;
mod text_read;
