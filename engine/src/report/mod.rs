//! What people and programs read of a run: the first screen, the working, Markdown, JSON.
//!
//! | file | what it is |
//! |---|---|
//! | `sheet.rs` | all that a report is made of: outcomes, verdicts, units |
//! | `finding.rs` | checks with their verdicts, worst first |
//! | `compared.rs` | the two sides of a check in words |
//! | `lookup.rs` | which result a number of a check is |
//! | `written.rs` | numbers, intervals and texts in words |
//! | `readings.rs` | what inputs were given, in words |
//! | `advice.rs` | what would settle a check, and what to do next at the car |
//! | `layout.rs` | columns and line breaks of 80 columns |
//! | `text.rs` | the first screen |
//! | `working.rs` | every step with its numbers put in |
//! | `markdown.rs` | the sheet for a folder |
//! | `json.rs` | the sheet for programs |
//! | `description.rs` | what a script is for, what it wants to know, what it gives |
//! | `properties.rs` | what is known of a material |
//!
//! Nothing here calculates: a number shown is one that a run or a study yielded.

mod advice;
mod compared;
mod description;
mod finding;
mod json;
mod layout;
mod lookup;
mod markdown;
mod properties;
mod readings;
mod sheet;
mod text;
mod working;
mod written;

pub use description::description;
pub use json::json;
pub use layout::wrapped;
pub use markdown::markdown;
pub use properties::properties;
pub use sheet::{AID, Identity, Paint, Sheet, SheetRun, unpainted};
pub use text::{Depth, text};
pub use working::working;
