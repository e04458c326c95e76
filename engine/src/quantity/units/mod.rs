//! Units, one file a kind of quantity.
//!
//! `unit.rs` what a unit is; `find.rs` looking one up; `source.rs` the definitions that the factors are made of.
//! To add a unit, add a row to the table of its kind. Inside the engine everything is SI: a unit exists only in a
//! literal, a table and a printed value.

mod angle;
mod area;
mod electric;
mod find;
mod flow;
mod force;
mod heat;
mod length;
mod mass;
mod power;
mod pressure;
mod ratio;
mod second_moment;
mod source;
mod speed;
mod temperature;
mod time;
mod torque;
mod turning;
mod unit;
mod volume;

pub use find::{all, find, find_written, nearest};
pub use unit::{Scale, Unit};
