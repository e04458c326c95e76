//! Figures: what a script draws; the data is in [`crate::figure`].
//!
//! A figure is a handle: a second name is the same one, `.copy()` another. Methods give the figure back, so that calls may
//! follow one another.
//!
//! | file | what it is |
//! |---|---|
//! | `chart.rs` | lines, limits and marks over one another |
//! | `sketch.rs` | points and lines in space, as one view shows them |
//! | `dial.rs` | directions round a circle |
//! | `bars.rs` | lengths side by side |
//! | `pass_map.rs` | where in two directions all holds |
//! | `table.rs` | rows and columns |
//! | `take.rs` | how arguments are taken |

mod bars;
mod chart;
mod dial;
mod pass_map;
mod sketch;
mod table;
mod take;

use crate::script::native::Functions;

pub(in crate::script) use take::figure;

pub(super) fn add(functions: &mut Functions) {
    functions.concept("figures");
    chart::add(functions);
    sketch::add(functions);
    dial::add(functions);
    bars::add(functions);
    pass_map::add(functions);
    table::add(functions);
}
