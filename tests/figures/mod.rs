//! Figures: their data, their pictures, and how they follow a replay.
//!
//! | file | what it is |
//! |---|---|
//! | `data.rs` | what a script's figures hold |
//! | `bands.rs` | the bands of lines against what must come |
//! | `replay.rs` | the figures of the shipped scripts on the tape |
//! | `pictures.rs` | every picture is well-formed, and its words do not lie on one another |
//! | `map.rs` | a map's edge is where the margin would be nil |
//! | `redraw.rs`, `redraw.mjs` | the page's script puts every shape where the picture has it, and moves it |
//! | `letters.rs` | figures for a terminal |
//! | `look.rs` | every picture of the shipped scripts as files, for somebody to look at |

mod bands;
mod data;
mod letters;
mod look;
mod map;
mod pictures;
mod redraw;
mod replay;
