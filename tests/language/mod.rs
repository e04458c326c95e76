//! The script language: what it says of itself, its errors, and that nothing makes it panic.

mod check;
mod embedding;
mod errors;
mod formulas;
mod limits;
mod lists;
mod logarithms;
mod modules;
mod never_panics;
mod programs;
mod quantities;
mod sandbox;
mod statements;
mod texts;

pub(crate) use check::{error, run};
