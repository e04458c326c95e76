//! The whole program: what it prints and its exit codes.

mod check;
mod errors;
mod jobs;
mod proofs;
mod reports;
