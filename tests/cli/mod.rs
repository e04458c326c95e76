//! The whole program: what it prints and its exit codes.

mod answers;
pub(crate) mod check;
mod compare;
mod disk;
mod effort;
mod errors;
mod every_script;
mod following;
mod html;
mod inspect;
mod jobs;
mod lesson;
mod measuring;
mod numbers;
mod options;
mod packs;
mod page;
mod proofs;
mod rebuilt;
mod records;
mod reports;
mod settings;
mod studies;
mod words;
