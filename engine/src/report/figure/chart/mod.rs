//! A chart laid out.
//!
//! | file | what it is |
//! |---|---|
//! | `layout.rs` | where its parts go |
//! | `extents.rs` | how far its scales have to go |
//! | `lines.rs` | bands, limits, curves, marks |
//! | `names.rs` | the names, beside what they name or in the key |

mod extents;
mod layout;
mod lines;
mod names;

pub(super) use extents::rulers;
pub(super) use layout::chart;
