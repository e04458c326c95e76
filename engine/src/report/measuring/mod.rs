//! What is to be measured: a sheet to fill in at the car, what is still missing, one question after the other, and a new
//! job file that waits for the answers.
//!
//! | file | what it is |
//! |---|---|
//! | `groups.rs` | readings in the order of work: measured, decided, taken as; under their headings |
//! | `remarks.rs` | what is said of a reading: its usual ±, range, words, who uses it |
//! | `example.rs` | its value as somebody would enter it |
//! | `text.rs`, `boxes.rs`, `ruled.rs` | the sheet; a box for a value; ruled rows for a table |
//! | `page.rs`, `measuring.css` | the sheet as HTML, with sketches, for a printer |
//! | `markdown.rs`, `json.rs` | the sheet for a folder, for programs |
//! | `missing.rs` | what nobody has measured, and what waits for it |
//! | `question.rs` | one reading asked for on a terminal |
//! | `draft.rs` | a new job file |

mod boxes;
mod draft;
mod example;
mod groups;
mod json;
mod markdown;
mod missing;
mod page;
mod question;
mod remarks;
mod ruled;
mod text;

pub use draft::{Draft, DraftLink, DraftRun, draft};
pub use groups::Measuring;
pub use json::measuring_json;
pub use markdown::measuring_markdown;
pub use missing::{missing_json, missing_markdown, missing_text};
pub use page::measuring_page;
pub use question::{noted, question};
pub use text::measuring_text;
