//! Units, one file a kind of quantity.
//!
//! `unit.rs` what a unit is; `find.rs` looking one up; `source.rs` the definitions that the factors are made of;
//! `compound.rs` products of powers of units, `token.rs` their words, `product.rs` their arithmetic; `written.rs` a unit as somebody wrote it;
//! `read_error.rs` why a text could not be read.
//!
//! To add a unit, add a row to the table of its kind. Inside the engine everything is SI: a unit exists only in a
//! literal, a table and a printed value.

mod angle;
mod area;
mod compound;
mod electric;
mod find;
mod flow;
mod force;
mod heat;
mod length;
mod mass;
mod power;
mod pressure;
mod product;
mod ratio;
pub(in crate::quantity) mod read_error;
mod second_moment;
mod source;
mod speed;
mod temperature;
mod time;
mod token;
mod torque;
mod turning;
mod unit;
mod volume;
mod written;

pub use compound::CompoundUnit;
pub use find::{UNCLEAR, all, find, find_written, meant, nearest};
pub use read_error::ReadError;
pub use unit::{Scale, Unit};
pub use written::WrittenUnit;
