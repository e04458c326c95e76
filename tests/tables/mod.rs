//! Sections, materials, threads, wires and tyres against published tables and independent programs.
//!
//! The source of every expected value stands beside it; the tolerance is half a unit of the last printed place unless
//! it says otherwise.

mod check;
mod conductors;
mod materials;
mod sections;
mod threads;
mod tyres;
