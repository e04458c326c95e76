//! All steps, one after the other, compiled once for each instruction set.
//!
//! Everything here and in the kernels it calls is inlined into the one function that an instruction set is dispatched to,
//! so that the compiler makes vector code of the loops.

use super::fused::Fused;
use super::matrix::Groups;
use super::replay::Batch;
use super::rows::{LANES, Place, Row, apart, fill};
use super::single::Scratch;
use super::step::Step;
use crate::kernel;
use crate::tape::graph::Relation;
use pulp::NullaryFnOnce;

/// A program about to run on the rows of a block.
pub(super) struct Running<'a> {
    pub(super) batch: &'a Batch,
    pub(super) rows: &'a mut [Row],
    /// NaN in the lanes that left.
    pub(super) left: &'a mut Row,
    pub(super) lanes: usize,
    pub(super) scratch: &'a mut Scratch,
    pub(super) groups: &'a mut Groups,
}

impl NullaryFnOnce for Running<'_> {
    type Output = ();

    #[inline(always)]
    fn call(mut self) {
        for step in self.batch.steps() {
            self.step(step);
        }
    }
}

impl Running<'_> {
    #[inline(always)]
    fn step(&mut self, step: &Step) {
        let rows = &mut *self.rows;
        match step {
            Step::Add([a, b], out) => fill!(rows, *out; a = *a, b = *b => a + b),
            Step::AddKnown(a, known, out) => fill!(rows, *out; a = *a => a + known),
            Step::Sub([a, b], out) => fill!(rows, *out; a = *a, b = *b => a - b),
            Step::SubFrom(known, b, out) => fill!(rows, *out; b = *b => known - b),
            Step::Mul([a, b], out) => fill!(rows, *out; a = *a, b = *b => a * b),
            Step::MulKnown(a, known, out) => fill!(rows, *out; a = *a => a * known),
            Step::Div([a, b], out) => fill!(rows, *out; a = *a, b = *b => a / b),
            Step::DivKnown(a, known, out) => fill!(rows, *out; a = *a => a / known),
            Step::DivInto(known, b, out) => fill!(rows, *out; b = *b => known / b),
            Step::Neg(a, out) => fill!(rows, *out; a = *a => -a),
            Step::Abs(a, out) => fill!(rows, *out; a = *a => a.abs()),
            Step::Min([a, b], out) => fill!(rows, *out; a = *a, b = *b => kernel::min(a, b)),
            Step::Max([a, b], out) => fill!(rows, *out; a = *a, b = *b => kernel::max(a, b)),
            Step::IfLess([a, b, c, d], out) => {
                fill!(rows, *out; a = *a, b = *b, c = *c, d = *d => if a < b { c } else { d });
            }
            Step::Fused(fused, places, out) => sum(rows, *fused, *places, *out),
            Step::Guard(relation, outcome, sides) => self.guard(*relation, *outcome, *sides),
            Step::Ask(a) => self.ask(*a),
            Step::Matrix(matrix) => matrix.run(rows, self.left, self.lanes, self.groups),
            Step::Single(single) => single.run(self.batch.bodies(), rows, self.left, self.lanes, self.scratch),
            _ => self.function(step),
        }
    }

    /// The steps that call a kernel.
    #[inline(always)]
    fn function(&mut self, step: &Step) {
        let rows = &mut *self.rows;
        match step {
            Step::Sqrt(a, out) => fill!(rows, *out; a = *a => kernel::sqrt(a)),
            Step::Cbrt(a, out) => fill!(rows, *out; a = *a => kernel::cbrt(a)),
            Step::Exp(a, out) => fill!(rows, *out; a = *a => kernel::exp(a)),
            Step::Ln(a, out) => fill!(rows, *out; a = *a => kernel::ln(a)),
            Step::Sin(a, out) => {
                let (others, out) = apart(rows, *out);
                kernel::sin_lanes(others.row(*a), &mut out.0);
            }
            Step::Cos(a, out) => {
                let (others, out) = apart(rows, *out);
                kernel::cos_lanes(others.row(*a), &mut out.0);
            }
            Step::SineCosine(a, out) => sine_cosine(rows, *a, *out),
            Step::Asin(a, out) => fill!(rows, *out; a = *a => kernel::asin(a)),
            Step::Acos(a, out) => fill!(rows, *out; a = *a => kernel::acos(a)),
            Step::Atan2([a, b], out) => fill!(rows, *out; a = *a, b = *b => kernel::atan2(a, b)),
            Step::Floor(a, out) => fill!(rows, *out; a = *a => kernel::floor(a)),
            Step::Norm2([a, b], out) => fill!(rows, *out; a = *a, b = *b => kernel::norm2([a, b])),
            Step::Norm3([a, b, c], out) => fill!(rows, *out; a = *a, b = *b, c = *c => kernel::norm3([a, b, c])),
            Step::Norm(all, out) => norm(rows, all, *out),
            _ => {}
        }
    }

    #[inline(always)]
    fn guard(&mut self, relation: Relation, outcome: bool, [a, b]: [Place; 2]) {
        let (a, b) = (&self.rows[a as usize].0, &self.rows[b as usize].0);
        let left = &mut self.left.0;
        for lane in 0..LANES {
            let (a, b) = (a[lane], b[lane]);
            #[allow(clippy::float_cmp, reason = "the relation is equality")]
            let holds = match relation {
                Relation::Less => a < b,
                Relation::LessOrEqual => a <= b,
                Relation::Equal => a == b,
            };
            left[lane] = if holds == outcome { left[lane] } else { f64::NAN };
        }
    }

    /// Nothing times x is zero for every finite number and NaN for all others.
    #[inline(always)]
    fn ask(&mut self, a: Place) {
        let (a, left) = (&self.rows[a as usize].0, &mut self.left.0);
        for lane in 0..LANES {
            left[lane] += 0.0 * a[lane];
        }
    }
}

#[inline(always)]
fn sum(rows: &mut [Row], fused: Fused, [a, b, c, d]: [Place; 4], out: Place) {
    match fused {
        Fused::Products => fill!(rows, out; a = a, b = b, c = c, d = d => a * b + c * d),
        Fused::ProductsApart => fill!(rows, out; a = a, b = b, c = c, d = d => a * b - c * d),
        Fused::ProductPlus => fill!(rows, out; a = a, b = b, c = c => a * b + c),
        Fused::ProductMinus => fill!(rows, out; a = a, b = b, c = c => a * b - c),
        Fused::LessProduct => fill!(rows, out; a = a, b = b, c = c => c - a * b),
    }
}

#[inline(always)]
fn sine_cosine(rows: &mut [Row], a: Place, out: [Place; 2]) {
    let places = [a as usize, out[0] as usize, out[1] as usize];
    // A row apart for each: see `layout`.
    let Ok([a, sine, cosine]) = rows.get_disjoint_mut(places) else {
        return;
    };
    kernel::sin_cos_lanes(&a.0, &mut sine.0, &mut cosine.0);
}

/// As `kernel::norm` for any number of rows: the largest first, then the sum of the scaled squares.
#[inline(always)]
#[allow(
    clippy::needless_range_loop,
    reason = "one index for three rows, which is what becomes vector code"
)]
fn norm(rows: &mut [Row], all: &[Place], out: Place) {
    let (others, out) = apart(rows, out);
    let (mut largest, mut sum) = (Row::filled(0.0), Row::filled(0.0));
    for place in all {
        let row = others.row(*place);
        for lane in 0..LANES {
            largest.0[lane] = kernel::max(largest.0[lane], row[lane].abs());
        }
    }
    for place in all {
        let row = others.row(*place);
        for lane in 0..LANES {
            let scaled = row[lane] * kernel::scales_of(largest.0[lane]).0;
            sum.0[lane] += scaled * scaled;
        }
    }
    for lane in 0..LANES {
        out.0[lane] = kernel::sqrt(sum.0[lane]) * kernel::scales_of(largest.0[lane]).1;
    }
}
