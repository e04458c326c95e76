//! What a page that answers needs of the engine.
//!
//! | file | what it is |
//! |---|---|
//! | `units.rs` | the units, for reading what somebody enters |
//! | `writing.rs` | how a number is written |
//! | `script/` | the page's own side, in JavaScript |

mod units;
mod writing;

pub use units::units_json;
pub use writing::{style_json, writing};
