//! A sweep for people and programs: what happens between here and there.
//!
//! | file | what it is |
//! |---|---|
//! | `data.rs` | a sweep as reports have it |
//! | `text.rs` | on the screen |
//! | `table.rs` | Markdown and csv |
//! | `json.rs` | for a program |
//! | `words.rs` | what all of them say in the same words |

mod data;
mod json;
mod table;
mod text;
mod words;

pub use data::{AxisSheet, PartSheet, SweptSheet, WatchedSheet};
pub use json::swept_json;
pub use table::{swept_csv, swept_markdown};
pub use text::swept_text;
