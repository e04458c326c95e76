//! Studies of a tape: what the ± of the readings does to results and verdicts.
//!
//! | file | what it is |
//! |---|---|
//! | `readings.rs` | the readings that have a ±, and samples of them |
//! | `half_width.rs` | how wide a reading's ± is, said in one way |
//! | `lanes.rs` | where an outcome's numbers stand on a tape |
//! | `sample.rs` | the tape replayed on every sample, other paths too |
//! | `path.rs` | one way through the scripts, ready to be replayed |
//! | `gather.rs` | what the samples gave, in their order |
//! | `elsewhere.rs` | checks of another branch, which the readings as they are do not lead to |
//! | `interval.rs` | how a number moves: the central 95 % of samples |
//! | `first_order.rs` | standard uncertainties and each reading's share, from derivatives |
//! | `reach.rs` | which inputs a number depends on, and which of them nobody measured |
//! | `verdict.rs` | what becomes of a check |
//! | `advice.rs` | which reading to take again, and to what ± |
//! | `bands.rs` | the 95 % bands of a chart's lines, where somebody draws them |
//! | `judge.rs` | all of it for the runs of a job |
//! | `spread/` | the same in the long form: as many samples as somebody wants |
//! | `portable/` | a study as plain data, for an evaluator elsewhere |
//! | `sweep/` | results and verdicts between here and there |
//! | `exercise/` | readings for exercise sheets |
//! | `slip/` | wrong answers that a pupil comes to |
//! | `solve/` | where inputs have to be for what is wanted |

mod advice;
mod bands;
mod elsewhere;
mod exercise;
mod first_order;
mod gather;
mod half_width;
mod interval;
mod judge;
mod lanes;
mod path;
mod portable;
mod reach;
mod readings;
mod sample;
mod slip;
mod solve;
mod spread;
mod sweep;
mod verdict;

pub use advice::Advice;
pub use bands::{Bands, bands};
pub use elsewhere::ElsewhereCheck;
pub use exercise::{Drawn, DrawnReading, draw};
pub use gather::Uncounted;
pub(crate) use half_width::half_width;
pub use interval::Interval;
pub use judge::{Experiment, Judged, JudgedCheck, JudgedRun, judge};
pub use lanes::{CheckKey, Key};
pub use portable::{Carried, ReachedRun, carry};
pub use slip::{Line as SlipLine, Slip, SlipKind, Term, Visible, slips};
pub use solve::{Adjusted, Binding, Request, Solution, Solved, Target, differing, made_of, solve};
pub use spread::{Spread, SpreadCheck, SpreadNumber, SpreadRequest, spread};
pub use sweep::{Axis, Change, Number, Point, Sweep, Swept, SweptCheck, sweep};
pub use verdict::Verdict;
