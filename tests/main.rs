//! Crankline's tests, one binary.

// A test may stop at a broken assumption: that is its verdict.
#![allow(clippy::unwrap_used, clippy::panic)]

mod bindings;
mod book;
mod browser;
mod cli;
mod figures;
mod formats;
mod geometry;
mod hostile;
mod job;
mod kernel;
mod language;
mod pack;
mod page;
mod program;
mod references;
mod scripts;
mod structure;
mod study;
mod tables;
mod tape;
mod tidy;
mod units;
