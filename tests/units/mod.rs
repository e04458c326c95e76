//! Units: their table against a library from outside, reading them from text, writing them for people.

mod names;
mod table;
