//! A car's readings and the calculations on them.
//!
//! A job file is a text; what it refers to beside it (a table in a csv file) comes in through a closure of the caller's.
//!
//! | file | what it is |
//! |---|---|
//! | `job.rs` | what a job file says, as plain data |
//! | `read.rs` | from its text to that |
//! | `value.rs`, `csv.rs` | values as written, tables |
//! | `plan.rs` | the runs with their scripts, and what each takes for its inputs |
//! | `stray.rs` | names that no run takes |
//! | `run.rs` | all runs on one tape |
//! | `wanted.rs` | the readings that the runs ask for, each once, and whether they are there |
//! | `entry.rs` | a reading as somebody enters it, and as TOML |
//! | `edit.rs`, `template.rs` | a reading put into a job file's text; lines there that wait for one |
//! | `propose.rs` | links among scripts that somebody puts into one job |
//! | `vary.rs` | inputs that a study varies: ranges and choices |
//! | `number.rs` | a step's number under the name that somebody gives it |
//! | `contradiction.rs` | sessions that contradict one another |
//! | `shared.rs` | inputs of one name in several runs |

mod contradiction;
mod csv;
mod edit;
mod entry;
#[allow(clippy::module_inception, reason = "the folder's main noun")]
mod job;
mod number;
mod plan;
mod propose;
mod read;
mod run;
mod shared;
mod stray;
mod template;
mod value;
mod vary;
mod wanted;

pub use edit::{Section, enter};
pub use entry::{Column, Entry, Kind};
pub(crate) use entry::{is_bare_number, is_list, is_point};
pub use job::{ConsideredOption, Fate, Job, Link, PlannedRun, Reading, Session, Setting};
pub use number::{number, number_with_value, size};
pub use plan::{Overrides, Plan, Programs, trial};
pub use propose::{Proposal, ProposedLink, propose};
pub use read::CsvFiles;
pub use run::{Ran, RunOutcome, run_job};
pub(crate) use template::commented;

pub(crate) use value::settings;
pub use wanted::{State, Taken, Use, Wanted};

pub use vary::{Asked, Range, Values, Variant, Varied, variants};
