//! The commands, one file each; `dispatch.rs` picks one and delivers what it gives.

mod adapt;
mod compare;
mod describe;
mod dispatch;
mod functions;
mod job;
mod lesson;
mod list;
mod materials;
mod pack;
mod prove;
mod run;
mod sheet;
mod solve;
mod spread;
mod sweep;
mod units;

pub(crate) use dispatch::run;
pub(crate) use prove::{Proved, proved, ran_case};
