//! `job`: a job file from scripts, what is missing in one, readings asked for one by one.
//!
//! | file | what it is |
//! |---|---|
//! | `new.rs`, `drafted.rs` | a new job file; its runs and links |
//! | `missing.rs` | what nobody has measured |
//! | `ask.rs`, `answer.rs` | the dialogue; an answer tried and written down |
//! | `pick.rs` | which of them |

mod answer;
mod ask;
mod drafted;
mod missing;
mod new;
mod pick;

pub(super) use drafted::in_memory;
pub(super) use pick::run;
