//! The slips that are known.

use crate::quantity::Dimension;
use crate::tape::Slot;

/// What was done instead of what is right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlipKind {
    /// The sine, cosine or tangent of a number of degrees taken as radians.
    DegreesAsRadians,
    /// No root drawn.
    RootForgotten,
    /// A square root drawn where a fourth root stands.
    FourthRootAsSquareRoot,
    /// A square root drawn where a cube root stands.
    CubeRootAsSquareRoot,
    /// A square left out.
    SquareForgotten,
    /// A difference of two readings not halved: the whole swing of a dial taken for the offset.
    ReadingForOffset,
    /// Not halved.
    NotHalved,
    /// Not doubled.
    NotDoubled,
    /// Added where it is to be subtracted.
    Added,
    /// Subtracted where it is to be added.
    Subtracted,
    /// The number in one unit, the answer given in another.
    OtherUnit {
        /// The unit in which the number is right.
        number_in: &'static str,
        /// The unit written behind it.
        written_as: &'static str,
    },
}

/// A number of the right or the wrong way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    /// Its value, SI.
    pub si: f64,
    /// What it measures, where that is known: the tape has no dimensions.
    pub dimension: Option<Dimension>,
    /// Where it stands on the tape.
    pub slot: Option<Slot>,
}

/// A wrong answer and how it comes about.
#[derive(Clone, Debug, PartialEq)]
pub struct Slip {
    /// What was done instead.
    pub kind: SlipKind,
    /// The wrong answer, SI.
    pub si: f64,
    /// What the changed operation works on.
    pub operands: Vec<Term>,
    /// What it gives rightly.
    pub right: Term,
    /// What it gives wrongly.
    pub wrong: Term,
}
