//! Figures drawn: laid out as a scene, a scene as SVG and as data that redraws it, and in letters.
//!
//! | file | what it is |
//! |---|---|
//! | `drawing.rs` | a figure on a page: the door |
//! | `scene.rs` | shapes whose places follow the numbers |
//! | `chart/`, `sketch.rs`, `dial.rs`, `bars.rs`, `pass_map.rs` | how each kind is laid out |
//! | `sketch_words.rs` | a sketch in words |
//! | `axis.rs`, `ticks.rs` | scales and their round numbers |
//! | `measure.rs`, `placer.rs`, `key.rs` | how wide words are, where they go, what has found no room |
//! | `svg.rs` | a scene as SVG |
//! | `region.rs` | where in a grid of numbers these are not negative |
//! | `redraw.rs` | a scene as the page's script reads it |
//! | `letters.rs` | a figure for a terminal |
//! | `of_sweep.rs` | a sweep as figures |
//! | `data.rs` | a figure's numbers as JSON |

mod axis;
mod bars;
mod chart;
mod data;
mod dial;
mod drawing;
mod key;
mod letters;
mod measure;
mod of_sweep;
mod pass_map;
mod placer;
mod redraw;
mod region;
mod scene;
mod sketch;
mod sketch_words;
mod svg;
mod ticks;

pub(super) use data::data;
pub use drawing::{Drawing, FIGURE_STYLE, drawing, figure_table, figure_title, is_drawn, picture};
pub(super) use letters::cells;
pub use letters::letters;
pub use of_sweep::{Banded, swept_figures};
pub use svg::WriteNumber;
