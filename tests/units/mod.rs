//! Units: their table against a library from outside, reading them from text, writing them for people.

mod compound;
mod conversions;
mod names;
mod properties;
mod reading;
mod table;
mod words;
mod writing;
