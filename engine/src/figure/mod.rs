//! Figures as data: what a script shows beside its numbers. How they are drawn is for [`crate::report`] to say.
//!
//! Every number in a figure is an [`Amount`](crate::outcome::Amount), so that it follows a replay as a step does. A figure
//! decides nothing by its numbers: what does not fit on a scale is left to whoever draws it, so that no sample of a study
//! is refused for a picture.
//!
//! | file | what it is |
//! |---|---|
//! | `shown.rs` | a figure where a script shows it, and the kinds there are |
//! | `axis.rs` | a scale: what it measures, its words and its unit |
//! | `chart.rs` | lines, limits and marks over one another |
//! | `sketch.rs` | points and lines in space, seen from the side, from above or from behind; sections of what is no car |
//! | `dial.rs` | directions round a circle |
//! | `bars.rs` | lengths side by side, whole or in parts |
//! | `pass_map.rs` | where in two directions all holds |
//! | `table.rs` | rows and columns |
//! | `amounts.rs` | every number of a figure, in a fixed order |
//! | `bounds.rs` | how much there may be |

mod amounts;
mod axis;
mod bars;
mod bounds;
mod chart;
mod dial;
mod pass_map;
mod shown;
mod sketch;
mod table;

pub use axis::{Axis, SecondScale};
pub use bars::{Bar, Bars, Part};
pub use bounds::{FIGURES, NUMBERS, NUMBERS_IN_ALL};
pub use chart::{Chart, Curve, Kind, Level, Mark, Side};
pub use dial::{Arc, Dial, Hand, HandKind, Sense, Zero};
pub use pass_map::{Cell, PassMap};
pub use shown::{Figure, Shown};
pub use sketch::{Angle, Circle, Dimension, Look, Path, Place, Sketch, View};
pub use table::Table;
