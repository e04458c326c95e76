//! A line of the cleaned tape.

use crate::tape::graph::Relation;
use crate::tape::op::Op;

/// A number of the cleaned tape: which of [`super::clean::Cleaned::origins`] it is.
pub(super) type Name = u32;

/// Where a number comes from.
#[derive(Clone, Copy, Debug)]
pub(super) enum Origin {
    /// It is the same in all lanes.
    Known(f64),
    /// The input with this number.
    Input(u32),
    /// A line makes it.
    Line,
}

/// What a line does.
#[derive(Clone, Debug)]
pub(super) enum Work {
    /// One operation of the tape, neither leaf nor `require`.
    Op(Op),
    /// Sine and cosine of one angle: one reduction serves both.
    SineCosine,
    /// Marks lanes in which a relation comes out otherwise: a guard of the tape, or a `require`.
    Guard {
        /// How the arguments compare.
        relation: Relation,
        /// What has to come out.
        outcome: bool,
    },
}

/// One line: what it does, the names that it reads and those of its results.
#[derive(Clone, Debug)]
pub(super) struct Line {
    pub(super) work: Work,
    pub(super) arguments: Vec<Name>,
    pub(super) results: Vec<Name>,
}

impl Work {
    /// Whether it may mark a lane though its arguments are ordinary finite numbers: then it must be done even where
    /// nobody reads it, as the script would refuse. (Sums and products are no such work: for them to overflow takes
    /// numbers beyond 1e150.)
    pub(super) fn may_refuse(&self) -> bool {
        match self {
            Self::Guard { .. } => true,
            Self::SineCosine => false,
            Self::Op(op) => !matches!(
                op,
                Op::Add
                    | Op::Sub
                    | Op::Mul
                    | Op::Neg
                    | Op::Abs
                    | Op::Sin
                    | Op::Cos
                    | Op::Atan2
                    | Op::Cbrt
                    | Op::Floor
                    | Op::Min
                    | Op::Max
                    | Op::IfLess
                    | Op::Sort
                    | Op::Norm
            ),
        }
    }

    /// Whether it is done lane by lane, by the operation's own definition.
    pub(super) fn is_single(&self) -> bool {
        matches!(
            self,
            Self::Op(
                Op::Pow
                    | Op::Sort
                    | Op::Interpolate
                    | Op::Root(_)
                    | Op::Maximum(_)
                    | Op::Integrate(_)
                    | Op::SolveSymmetric(_)
                    | Op::EigenSymmetric(_)
                    | Op::Gap(_)
            )
        )
    }
}
