//! A tape replayed on many samples at once: the same bits as [`super::Replay`], many times faster.
//!
//! A tape is cleaned once into a short program of steps. A step does one operation on a whole row of numbers, one for each
//! sample (a **lane**), and a row is long enough that choosing the step costs nothing, and short enough that all rows stay
//! in the processor's nearest memory. Lanes that leave the tape's path are marked; the caller runs the script for them.
//!
//! | file | what it is |
//! |---|---|
//! | `replay.rs` | [`Batch`]: a tape made ready; plain data that threads share |
//! | `block.rs` | [`Block`]: the rows of one thread; inputs in, results and departures out |
//! | `clean.rs` | from a tape to the lines that matter: known values folded, equal lines shared, dead ones dropped |
//! | `fused.rs` | products drawn into the sums that read them |
//! | `line.rs` | a line of the cleaned tape |
//! | `unasked.rs` | which results have to be asked whether they are finite, and which show in what is made of them |
//! | `layout.rs` | a row for each result, used again after its last reader |
//! | `step.rs` | one operation on rows, ready to run |
//! | `rows.rs` | a row of lanes, and the loops over it |
//! | `run.rs` | all steps, one after the other, compiled once for each instruction set |
//! | `matrix.rs` | systems and eigenvalues: eight lanes at a time |
//! | `single.rs` | operations without a vector form: lane by lane |
//! | `instructions.rs` | which vector instructions there are |
//! | `parallel.rs` | blocks spread over threads, results in the order of the blocks |
//!
//! What is not here: derivatives, and what becomes of a lane that left (`study`).

mod block;
mod clean;
mod fused;
mod instructions;
mod layout;
mod line;
mod matrix;
mod parallel;
mod replay;
mod rows;
mod run;
mod single;
mod step;
mod unasked;

pub use block::Block;
pub(super) use clean::{Asked, Cleaned, plainly};
pub use instructions::Instructions;
pub(super) use line::{Line, Name, Origin, Work};
pub use parallel::{every_core, in_blocks, threads_for};
pub use replay::Batch;
pub use rows::LANES;
