//! Job files, runs on one tape, worked cases.

mod arbitrary;
mod bench;
mod cases;
mod edit;
mod errors;
mod limits;
mod links;
mod manifest;
mod parts;
mod readings;
mod values;
