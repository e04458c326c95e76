//! The whole program: what it prints and its exit codes.

mod check;
mod errors;
mod reports;
