//! Wires and cables: size, resistance, and how warm a current makes them.
//!
//! | file | what it is |
//! |---|---|
//! | `cable.rs` | [`Cable`]: area, diameter, resistance at a temperature |
//! | `solid.rs` | solid copper wire by gauge or by area |
//! | `cable_table.rs` | flexible cables by nominal size, read from `cables.toml` |
//! | `air.rs` | properties of still air |
//! | `cylinder.rs` | heat that a horizontal cylinder loses in still air |
//! | `warmth.rs` | steady temperature of a wire, and the current that leads to one |
//!
//! What is not here: voltage drop, fuses and short circuits, which are trade formulas and stand in scripts.

mod air;
mod cable;
mod cable_table;
mod cylinder;
mod solid;
mod warmth;

pub use air::Air;
pub use cable::Cable;
pub use cable_table::{cable, cable_sizes, road_cable};
pub use cylinder::{nusselt_horizontal_cylinder, still_air_loss};
pub use solid::{wire_awg, wire_mm2, wire_sizes};
pub use warmth::{Surroundings, wire_current_for, wire_temperature};
