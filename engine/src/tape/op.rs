//! THE table of operations: each one's name, value and partial derivatives, in one place.
//!
//! The set is closed: everything else that the engine computes is made of these. To add one is a design decision; it
//! needs a row in each of the three functions below and a line in the test that goes over [`Op::name`].

use super::graph::{Graph, Relation};
use super::matrix::{EigenPlan, SolvePlan};
use crate::kernel;
use std::fmt;
use std::sync::Arc;

/// One operation.
#[derive(Clone, Debug)]
pub enum Op {
    /// Leaf: an input of the run.
    Input(u32),
    /// Leaf: a number that depends on nothing.
    Constant(f64),
    /// Leaf: the argument of a closure.
    Argument,
    /// Leaf: a number from outside a closure.
    Capture(u32),
    /// a + b
    Add,
    /// a − b
    Sub,
    /// a · b
    Mul,
    /// a / b
    Div,
    /// −a
    Neg,
    /// Square root.
    Sqrt,
    /// Cube root.
    Cbrt,
    /// e to the power a.
    Exp,
    /// Natural logarithm.
    Ln,
    /// Sine of radians.
    Sin,
    /// Cosine of radians.
    Cos,
    /// Inverse sine, in radians.
    Asin,
    /// Inverse cosine, in radians.
    Acos,
    /// The angle of the point (b, a), in radians; 0 at the origin.
    Atan2,
    /// a to the power b.
    Pow,
    /// The largest whole number that is not above a.
    Floor,
    /// |a|
    Abs,
    /// The smaller of a and b.
    Min,
    /// The larger of a and b.
    Max,
    /// c where a < b, else d.
    IfLess,
    /// All arguments in rising order.
    Sort,
    /// Refuses unless a relation holds between a and b; gives nothing.
    Require(Relation),
    /// The square root of the sum of squares, without overflow.
    Norm,
    /// Linear interpolation: x, then the rising xs, then the ys. Held at the ends: what calls it refuses x outside.
    Interpolate,
    /// Where a closure is zero: between the first two arguments, the rest is what it captured.
    Root(u32),
    /// The largest value of a closure between the first two arguments.
    Maximum(u32),
    /// The integral of a closure from the first argument to the second.
    Integrate(u32),
    /// The solution of a symmetric system: the entries of the matrix, then the right sides one after the other.
    SolveSymmetric(Arc<SolvePlan>),
    /// An eigenvalue and its shape: the entries of K, then those of M.
    EigenSymmetric(Arc<EigenPlan>),
    /// The gap between two convex bodies: radius and corners of each. The number is how many corners the first has.
    Gap(u32),
}

/// Why an operation has no value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stop {
    /// A `require` does not hold.
    Required,
    /// A closure has the same sign at both ends of the interval in which its root was sought.
    NoSignChange {
        /// Value at the lower end.
        low: f64,
        /// Value at the upper end.
        high: f64,
    },
    /// The matrix is singular at this unknown.
    Singular {
        /// Which unknown may move freely.
        unknown: usize,
    },
    /// An iteration or an integral did not settle.
    Unsettled,
    /// It takes too long.
    Interrupted,
    /// A number inside a closure is not finite.
    NotFinite(&'static str),
}

impl fmt::Display for Stop {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Required => write!(to, "a value inside the closure is outside what a function of it allows"),
            Self::NoSignChange { low, high } => write!(
                to,
                "there is no root between the two ends, or an even number of them: the closure gives {low} at the first \
                 and {high} at the second"
            ),
            Self::Singular { .. } => write!(to, "the system has no single solution: part of it can move freely"),
            Self::Unsettled => write!(to, "the calculation does not settle"),
            Self::Interrupted => write!(to, "it takes too long"),
            Self::NotFinite("div") => write!(to, "inside the closure something is divided by zero, or nearly so"),
            Self::NotFinite(operation) => write!(to, "{operation} gives no finite number inside the closure"),
        }
    }
}

impl Op {
    /// Its name, as in JSON.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::Input(_) => "input",
            Self::Constant(_) => "constant",
            Self::Argument => "argument",
            Self::Capture(_) => "capture",
            Self::Add => "add",
            Self::Sub => "sub",
            Self::Mul => "mul",
            Self::Div => "div",
            Self::Neg => "neg",
            Self::Sqrt => "sqrt",
            Self::Cbrt => "cbrt",
            Self::Exp => "exp",
            Self::Ln => "ln",
            Self::Sin => "sin",
            Self::Cos => "cos",
            Self::Asin => "asin",
            Self::Acos => "acos",
            Self::Atan2 => "atan2",
            Self::Pow => "pow",
            Self::Floor => "floor",
            Self::Abs => "abs",
            Self::Min => "min",
            Self::Max => "max",
            Self::IfLess => "if_less",
            Self::Sort => "sort",
            Self::Require(_) => "require",
            Self::Norm => "norm",
            Self::Interpolate => "interpolate",
            Self::Root(_) => "root",
            Self::Maximum(_) => "maximum",
            Self::Integrate(_) => "integrate",
            Self::SolveSymmetric(_) => "solve_symmetric",
            Self::EigenSymmetric(_) => "eigen_symmetric",
            Self::Gap(_) => "gap",
        }
    }

    /// Whether its value is put in from outside the graph.
    #[must_use]
    pub fn is_leaf(&self) -> bool {
        matches!(
            self,
            Self::Input(_) | Self::Constant(_) | Self::Argument | Self::Capture(_)
        )
    }

    /// Fills `out` with its value on these arguments. Leaves keep what is there.
    ///
    /// # Errors
    /// Where it has no value; a value that is not finite is found by the caller.
    pub fn value(&self, graph: &Graph, a: &[f64], out: &mut [f64]) -> Result<(), Stop> {
        match self {
            Self::Constant(value) => out[0] = *value,
            Self::Input(_) | Self::Argument | Self::Capture(_) => {}
            Self::Add => out[0] = a[0] + a[1],
            Self::Sub => out[0] = a[0] - a[1],
            Self::Mul => out[0] = a[0] * a[1],
            Self::Div => out[0] = a[0] / a[1],
            Self::Neg => out[0] = -a[0],
            Self::Sqrt => out[0] = kernel::sqrt(a[0]),
            Self::Cbrt => out[0] = kernel::cbrt(a[0]),
            Self::Exp => out[0] = kernel::exp(a[0]),
            Self::Ln => out[0] = kernel::ln(a[0]),
            Self::Sin => out[0] = kernel::sin(a[0]),
            Self::Cos => out[0] = kernel::cos(a[0]),
            Self::Asin => out[0] = kernel::asin(a[0]),
            Self::Acos => out[0] = kernel::acos(a[0]),
            Self::Atan2 => out[0] = kernel::atan2(a[0], a[1]),
            Self::Pow => out[0] = kernel::pow(a[0], a[1]),
            Self::Floor => out[0] = kernel::floor(a[0]),
            Self::Abs => out[0] = a[0].abs(),
            Self::Min => out[0] = kernel::min(a[0], a[1]),
            Self::Max => out[0] = kernel::max(a[0], a[1]),
            Self::IfLess => out[0] = if a[0] < a[1] { a[2] } else { a[3] },
            Self::Sort => {
                out.copy_from_slice(a);
                out.sort_by(f64::total_cmp);
            }
            Self::Require(relation) => {
                if !relation.holds(a[0], a[1]) {
                    return Err(Stop::Required);
                }
            }
            Self::Norm => out[0] = kernel::norm(a),
            Self::Interpolate => out[0] = Segment::of(a).value,
            Self::Root(body) => out[0] = super::bodies::solve(graph, *body, a)?,
            Self::Maximum(body) => out[0] = super::bodies::largest(graph, *body, a)?.1,
            Self::Integrate(body) => out[0] = super::bodies::total(graph, *body, a)?,
            Self::SolveSymmetric(plan) => plan.value(a, out)?,
            Self::EigenSymmetric(plan) => plan.value(a, out)?,
            Self::Gap(corners) => out[0] = super::functions::gap_of(*corners, a).distance,
        }
        Ok(())
    }

    /// Hands each partial derivative ∂out[o]/∂a[i] that is not zero to `each(o, i, partial)`. At a kink it is the
    /// mean of both sides' (0 for |a| at 0, ½ for the larger of equal numbers), or 0 where a side has none; never NaN.
    ///
    /// The two matrix operations have too many: see [`Op::push_forward`] and [`Op::pull_back`].
    fn partials(&self, graph: &Graph, a: &[f64], out: &[f64], mut each: impl FnMut(usize, usize, f64)) {
        let mut one = |i: usize, partial: f64| each(0, i, if partial.is_finite() { partial } else { 0.0 });
        match self {
            Self::Input(_) | Self::Constant(_) | Self::Argument | Self::Capture(_) => {}
            Self::Floor | Self::Require(_) => {}
            Self::Add => {
                one(0, 1.0);
                one(1, 1.0);
            }
            Self::Sub => {
                one(0, 1.0);
                one(1, -1.0);
            }
            Self::Mul => {
                one(0, a[1]);
                one(1, a[0]);
            }
            Self::Div => {
                one(0, 1.0 / a[1]);
                one(1, -out[0] / a[1]);
            }
            Self::Neg => one(0, -1.0),
            Self::Sqrt => one(0, 0.5 / out[0]),
            Self::Cbrt => one(0, 1.0 / (3.0 * out[0] * out[0])),
            Self::Exp => one(0, out[0]),
            Self::Ln => one(0, 1.0 / a[0]),
            Self::Sin => one(0, kernel::cos(a[0])),
            Self::Cos => one(0, -kernel::sin(a[0])),
            Self::Asin => one(0, 1.0 / kernel::sqrt((1.0 - a[0]) * (1.0 + a[0]))),
            Self::Acos => one(0, -1.0 / kernel::sqrt((1.0 - a[0]) * (1.0 + a[0]))),
            Self::Atan2 => {
                let size = kernel::norm(a);
                one(0, a[1] / size / size);
                one(1, -a[0] / size / size);
            }
            Self::Pow => {
                one(0, a[1] * kernel::pow(a[0], a[1] - 1.0));
                if a[0] > 0.0 {
                    one(1, out[0] * kernel::ln(a[0]));
                }
            }
            Self::Abs => one(0, sign(a[0])),
            Self::Min => choose(a[0], a[1], [0, 1], one),
            Self::Max => choose(a[1], a[0], [0, 1], one),
            Self::IfLess => one(if a[0] < a[1] { 2 } else { 3 }, 1.0),
            Self::Sort => order(a).into_iter().enumerate().for_each(|(o, i)| each(o, i, 1.0)),
            Self::Norm => (0..a.len()).for_each(|i| one(i, a[i] / out[0])),
            Self::Interpolate => Segment::of(a).partials(one),
            Self::Root(body) => super::bodies::solve_partials(graph, *body, a, out[0], one),
            Self::Maximum(body) => super::bodies::largest_partials(graph, *body, a, one),
            Self::Integrate(body) => super::bodies::total_partials(graph, *body, a, one),
            Self::Gap(corners) => super::functions::gap_partials(*corners, a, one),
            Self::SolveSymmetric(_) | Self::EigenSymmetric(_) => {}
        }
    }

    /// Forward: adds to `out_dot` how the results change when the arguments change by `a_dot`.
    pub fn push_forward(&self, graph: &Graph, a: &[f64], out: &[f64], a_dot: &[f64], out_dot: &mut [f64]) {
        match self {
            Self::SolveSymmetric(plan) => plan.push_forward(a, out, a_dot, out_dot),
            Self::EigenSymmetric(plan) => plan.push_forward(a, out, a_dot, out_dot),
            _ => self.partials(graph, a, out, |o, i, partial| out_dot[o] += partial * a_dot[i]),
        }
    }

    /// Reverse: adds to `a_bar` what a weight `out_bar` on the results makes of the arguments.
    pub fn pull_back(&self, graph: &Graph, a: &[f64], out: &[f64], out_bar: &[f64], a_bar: &mut [f64]) {
        match self {
            Self::SolveSymmetric(plan) => plan.pull_back(a, out, out_bar, a_bar),
            Self::EigenSymmetric(plan) => plan.pull_back(a, out, out_bar, a_bar),
            _ => self.partials(graph, a, out, |o, i, partial| a_bar[i] += partial * out_bar[o]),
        }
    }
}

fn sign(a: f64) -> f64 {
    if a > 0.0 {
        1.0
    } else if a < 0.0 {
        -1.0
    } else {
        0.0
    }
}

/// Hands the derivative of a choice to the argument of `chosen` that counts: the first where a < b, the second where
/// b < a, half to each where they are equal. So a maximum over two places that stand for the same by symmetry keeps its
/// derivative.
fn choose(a: f64, b: f64, chosen: [usize; 2], mut one: impl FnMut(usize, f64)) {
    if a < b {
        one(chosen[0], 1.0);
    } else if b < a {
        one(chosen[1], 1.0);
    } else {
        one(chosen[0], 0.5);
        one(chosen[1], 0.5);
    }
}

/// For each place in rising order, which argument stands there.
fn order(a: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..a.len()).collect();
    order.sort_by(|i, k| a[*i].total_cmp(&a[*k]));
    order
}

/// The segment of a table in which an argument falls.
struct Segment {
    count: usize,
    at: usize,
    share: f64,
    width: f64,
    rise: f64,
    value: f64,
    on_knot: bool,
}

impl Segment {
    fn of(a: &[f64]) -> Self {
        let (x, table) = (a[0], &a[1..]);
        let count = table.len() / 2;
        let (xs, ys) = table.split_at(count);
        if count < 2 {
            let value = ys.first().copied().unwrap_or(f64::NAN);
            return Self {
                count,
                at: 0,
                share: 0.0,
                width: 1.0,
                rise: 0.0,
                value,
                on_knot: true,
            };
        }
        let at = xs[1..count - 1].iter().take_while(|knot| **knot <= x).count();
        let width = xs[at + 1] - xs[at];
        let share = kernel::max(0.0, kernel::min(1.0, (x - xs[at]) / width));
        let rise = ys[at + 1] - ys[at];
        let value = ys[at] * (1.0 - share) + ys[at + 1] * share;
        let on_knot = xs[1..count - 1].contains(&x);
        Self {
            count,
            at,
            share,
            width,
            rise,
            value,
            on_knot,
        }
    }

    fn partials(&self, mut one: impl FnMut(usize, f64)) {
        if self.count < 2 {
            return;
        }
        let slope = self.rise / self.width;
        if !self.on_knot {
            one(0, slope);
            one(1 + self.at, -slope * (1.0 - self.share));
            one(2 + self.at, -slope * self.share);
        }
        one(1 + self.count + self.at, 1.0 - self.share);
        one(2 + self.count + self.at, self.share);
    }
}
