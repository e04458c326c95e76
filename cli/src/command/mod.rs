//! The commands, one file each; `dispatch.rs` picks one and delivers what it gives.

mod adapt;
mod compare;
mod describe;
mod dispatch;
mod follow;
mod functions;
mod inspect;
mod job;
mod lesson;
mod list;
mod materials;
mod open;
mod pack;
mod proofs;
mod prove;
mod run;
mod sheet;
mod solve;
mod spread;
mod sweep;
mod units;

pub(crate) use dispatch::run;
pub(crate) use prove::{Proved, Ran, differences, proved, ran_case};
