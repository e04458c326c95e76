//! Cross-sections of members: tubes and bars, and what bends, twists and weighs in them.
//!
//! | file | what it is |
//! |---|---|
//! | `profile.rs` | [`Section`]: any of the shapes, made from what a shop measures, asked in quantities |
//! | `limits.rs` | what cannot be measured on a section, and is refused |
//! | `outline.rs` | what every shape must know of itself |
//! | `round.rs` | round tube and round bar |
//! | `rectangular_tube.rs` | rectangular tube, sharp or rounded corners |
//! | `flat_bar.rs` | flat and square bar |
//!
//! Axes: y lies across (horizontal), z stands up. A second moment "about y" resists a vertical load: its bending moment
//! turns about y. All shapes here are symmetric about both axes, so that centroid and shear centre coincide.
//!
//! What is not here: open sections and holes (no warping), thinning at bends, buckling.

mod flat_bar;
mod limits;
mod outline;
mod profile;
mod rectangular_tube;
mod round;

pub use profile::Section;
