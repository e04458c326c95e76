//! Crankline's calculation engine: quantities, geometry, structures and scripts for fabrication shops.
//!
//! The engine is pure: it reads no file, clock or environment and prints nothing.

pub mod conductor;
pub mod diagnostic;
mod document;
pub mod fastener;
pub mod figure;
pub mod geometry;
pub mod job;
pub mod kernel;
pub mod material;
pub mod outcome;
pub mod pack;
pub mod quantity;
pub mod report;
pub mod script;
pub mod section;
pub mod source;
pub mod structure;
pub mod study;
pub mod tape;
pub mod tyre;
