//! A line of the cleaned tape.

use super::fused::Fused;
use super::matrix::Plan;
use crate::tape::graph::Relation;
use crate::tape::op::Op;
use std::sync::Arc;

/// A number of the cleaned tape: which of [`super::clean::Cleaned::origins`] it is.
pub(in crate::tape) type Name = u32;

/// Where a number comes from.
#[derive(Clone, Copy, Debug)]
pub(in crate::tape) enum Origin {
    /// It is the same in all lanes.
    Known(f64),
    /// The input with this number.
    Input(u32),
    /// A line makes it.
    Line,
}

/// What a line does.
#[derive(Clone, Debug)]
pub(in crate::tape) enum Work {
    /// One operation of the tape, neither leaf nor `require`.
    Op(Op),
    /// Sine and cosine of one angle: one reduction serves both.
    SineCosine,
    /// A sum with products in it.
    Fused(Fused),
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
pub(in crate::tape) struct Line {
    pub(in crate::tape) work: Work,
    pub(in crate::tape) arguments: Vec<Name>,
    pub(in crate::tape) results: Vec<Name>,
    /// How many nodes of the tape stand before it.
    pub(in crate::tape) after: u32,
}

impl Work {
    /// Whether it may mark a lane though its arguments are ordinary finite numbers: then it must be done even where
    /// nobody reads it, as the script would refuse. (Sums and products are no such work: for them to overflow takes
    /// numbers beyond 1e150.)
    pub(super) fn may_refuse(&self) -> bool {
        match self {
            Self::Guard { .. } => true,
            Self::SineCosine | Self::Fused(_) => false,
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

    /// How it is done.
    pub(super) fn form(&self) -> Form {
        match self {
            Self::Op(Op::SolveSymmetric(plan)) => Form::Matrix(Plan::Solve(Arc::clone(plan))),
            Self::Op(Op::EigenSymmetric(plan)) => Form::Matrix(Plan::Eigen(Arc::clone(plan))),
            Self::Op(
                op @ (Op::Pow
                | Op::Sort
                | Op::Interpolate
                | Op::Root(_)
                | Op::Maximum(_)
                | Op::Integrate(_)
                | Op::Gap(_)),
            ) => Form::Single(op.clone()),
            _ => Form::Row,
        }
    }
}

/// How a line is done.
#[derive(Clone, Debug)]
pub(super) enum Form {
    /// On whole rows.
    Row,
    /// Lane by lane, by the operation's own definition.
    Single(Op),
    /// Some lanes at a time.
    Matrix(Plan),
}

impl Form {
    /// Whether it looks itself for what is not finite, among arguments and results.
    pub(super) fn looks(&self) -> bool {
        !matches!(self, Self::Row)
    }
}
