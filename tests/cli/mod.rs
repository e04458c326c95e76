//! The whole program: what it prints and its exit codes.

mod answers;
mod check;
mod compare;
mod errors;
mod every_script;
mod html;
mod jobs;
mod lesson;
mod measuring;
mod numbers;
mod options;
mod packs;
mod page;
mod proofs;
mod records;
mod reports;
mod settings;
mod studies;
