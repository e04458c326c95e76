//! The sheet as one HTML file that fetches nothing: to be read on a phone, printed, passed on.
//!
//! | file | what it is |
//! |---|---|
//! | `document.rs` | the whole file: head, parts in their order, style |
//! | `pen.rs` | texts with their numbers, each number that moves marked |
//! | `isolated.rs` | texts of strangers kept apart from what stands beside them |
//! | `top.rs` | what stands first: what it is, how it stands, cautions |
//! | `checks.rs` | checks, worst first |
//! | `gauge.rs` | a check's interval beside its limit |
//! | `after.rs` | what to do next, what was tried |
//! | `run.rs` | a run's section |
//! | `inputs.rs` | readings with their origin |
//! | `steps.rs` | the working, folded |
//! | `figures.rs` | pictures and tables |
//! | `pictures.rs` | what moves in a picture, in few letters |
//! | `island.rs` | what the page's script needs, as data |
//! | `study_checks.rs` | the study's checks, in few letters |
//! | `packed.rs` | long lists of numbers in fewer letters |
//! | `script.rs` | the script, joined into one |
//! | `record.rs` | which scripts, which readings, which program |
//! | `units.rs`, `writing.rs` | units, and how a number is written, as data for the page's script |
//! | `page.css` | how it looks, on a screen and on paper |
//! | `script/` | the page's own side, in JavaScript |
//!
//! Everything from a script or a job goes through `maud`, which escapes it.

mod after;
mod checks;
mod document;
mod figures;
mod gauge;
mod inputs;
mod island;
mod isolated;
mod packed;
mod pen;
mod pictures;
mod record;
mod run;
mod script;
mod steps;
mod study_checks;
mod top;
mod units;
mod writing;

pub use document::{Made, page};
pub(in crate::report) use script::{base64, joined, policy};
pub(in crate::report) use units::dimension;
pub use units::units_json;
pub use writing::{style_json, writing};
