//! Scripts looked through without readings: what would go wrong, what a reviewer would ask, what they are made of.
//!
//! | file | what it is |
//! |---|---|
//! | `looked.rs` | all that is written of it |
//! | `words.rs` | its parts in words |
//! | `text.rs`, `markdown.rs`, `json.rs` | for the screen, a folder, a program |

mod json;
mod looked;
mod markdown;
mod text;
mod words;

pub use json::inspected_json;
pub use looked::{Looked, LookedScript};
pub use markdown::inspected_markdown;
pub use text::inspected_text;
