//! Two records of runs side by side: verdicts, inputs, steps.
//!
//! A record is what `run` writes as JSON. A job that is run now is turned into that first, so there is one way through.
//!
//! | file | what it is |
//! |---|---|
//! | `record.rs` | a record as plain data, every number under its address |
//! | `read.rs` | from JSON to that |
//! | `json_place.rs` | a place in a JSON text, for messages |
//! | `pair.rs` | what stands in both, or in one alone |
//! | `compare.rs` | runs, checks, inputs and steps matched, and what became of each |
//! | `counts.rs` | how many of each |
//! | `words.rs` | numbers and differences in words |
//! | `rows.rs` | inputs and steps in columns A, B and difference |
//! | `text.rs`, `markdown.rs`, `json.rs` | for the screen, a folder, a program |

mod compare;
mod counts;
mod json;
mod json_place;
mod markdown;
mod pair;
mod read;
mod record;
mod rows;
mod text;
mod words;

pub use compare::{Comparison, compare};
pub use json::comparison_json;
pub use markdown::comparison_markdown;
pub use record::Record;
pub use text::comparison_text;
