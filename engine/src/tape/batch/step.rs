//! One operation on rows, ready to run.

use super::fused::Fused;
use super::layout::Layout;
use super::line::{Form, Line, Name, Origin, Work};
use super::matrix::Matrix;
use super::rows::Place;
use super::single::Single;
use crate::tape::graph::Relation;
use crate::tape::op::Op;

/// One operation on rows. A known number beside a row is part of the step, where an operation has many of them: its row
/// would take a place in the nearest memory.
#[derive(Debug)]
pub(super) enum Step {
    Add([Place; 2], Place),
    AddKnown(Place, f64, Place),
    Sub([Place; 2], Place),
    /// A known number less a row.
    SubFrom(f64, Place, Place),
    Mul([Place; 2], Place),
    MulKnown(Place, f64, Place),
    Div([Place; 2], Place),
    DivKnown(Place, f64, Place),
    /// A known number over a row.
    DivInto(f64, Place, Place),
    Neg(Place, Place),
    Sqrt(Place, Place),
    Cbrt(Place, Place),
    Exp(Place, Place),
    Ln(Place, Place),
    Sin(Place, Place),
    Cos(Place, Place),
    SineCosine(Place, [Place; 2]),
    Asin(Place, Place),
    Acos(Place, Place),
    Atan2([Place; 2], Place),
    Floor(Place, Place),
    Abs(Place, Place),
    Min([Place; 2], Place),
    Max([Place; 2], Place),
    IfLess([Place; 4], Place),
    Norm2([Place; 2], Place),
    Norm3([Place; 3], Place),
    /// The length of any other number of rows.
    Norm(Box<[Place]>, Place),
    /// Products added up at once, the last place once more where there are three.
    Fused(Fused, [Place; 4], Place),
    /// Marks lanes in which a relation comes out otherwise.
    Guard(Relation, bool, [Place; 2]),
    /// Marks lanes in which a number is not finite.
    Ask(Place),
    /// Lane by lane.
    Single(Box<Single>),
    /// Some lanes at a time.
    Matrix(Box<Matrix>),
}

/// Whether an argument is read from a row, also where it is a known number.
pub(super) fn reads_row(line: &Line, position: usize, is_known: bool) -> bool {
    let has_known_form = matches!(
        (&line.work, position),
        (Work::Op(Op::Add | Op::Mul | Op::Sub | Op::Div), 0 | 1)
    );
    !(is_known && has_known_form)
}

/// The step of a line, and what has to be asked after it.
pub(super) fn steps_of(line: &Line, origins: &[Origin], layout: &Layout, asked: &[bool], to: &mut Vec<Step>) {
    let place = |name: &Name| layout.places[*name as usize];
    let places: Vec<Place> = line.arguments.iter().map(place).collect();
    let results: Vec<Place> = line.results.iter().map(place).collect();
    let known = |position: usize| match line.arguments.get(position).map(|name| origins[*name as usize]) {
        Some(Origin::Known(value)) => Some(value),
        _ => None,
    };
    to.push(match &line.work {
        Work::Guard { relation, outcome } => Step::Guard(*relation, *outcome, two(&places)),
        Work::SineCosine => Step::SineCosine(one(&places), two(&results)),
        Work::Fused(fused) => Step::Fused(*fused, four(&places), one(&results)),
        Work::Op(op) => match line.work.form() {
            Form::Row => of_op(op, &places, known, one(&results)),
            Form::Single(op) => Step::Single(Box::new(Single::new(op, places, results))),
            Form::Matrix(plan) => Step::Matrix(Box::new(Matrix::new(plan, places, results))),
        },
    });
    let questions = line.results.iter().filter(|name| asked[**name as usize]);
    to.extend(questions.map(|name| Step::Ask(place(name))));
}

fn of_op(op: &Op, places: &[Place], known: impl Fn(usize) -> Option<f64>, out: Place) -> Step {
    let (a, ab) = (one(places), two(places));
    match (op, known(0), known(1)) {
        (Op::Add, None, Some(b)) => Step::AddKnown(ab[0], b, out),
        (Op::Add, Some(a), _) => Step::AddKnown(ab[1], a, out),
        // a − b is a + (−b), bit for bit.
        (Op::Sub, None, Some(b)) => Step::AddKnown(ab[0], -b, out),
        (Op::Sub, Some(a), _) => Step::SubFrom(a, ab[1], out),
        (Op::Mul, None, Some(b)) => Step::MulKnown(ab[0], b, out),
        (Op::Mul, Some(a), _) => Step::MulKnown(ab[1], a, out),
        (Op::Div, None, Some(b)) => Step::DivKnown(ab[0], b, out),
        (Op::Div, Some(a), _) => Step::DivInto(a, ab[1], out),
        (Op::Add, ..) => Step::Add(ab, out),
        (Op::Sub, ..) => Step::Sub(ab, out),
        (Op::Mul, ..) => Step::Mul(ab, out),
        (Op::Div, ..) => Step::Div(ab, out),
        (Op::Neg, ..) => Step::Neg(a, out),
        (Op::Sqrt, ..) => Step::Sqrt(a, out),
        (Op::Cbrt, ..) => Step::Cbrt(a, out),
        (Op::Exp, ..) => Step::Exp(a, out),
        (Op::Ln, ..) => Step::Ln(a, out),
        (Op::Sin, ..) => Step::Sin(a, out),
        (Op::Cos, ..) => Step::Cos(a, out),
        (Op::Asin, ..) => Step::Asin(a, out),
        (Op::Acos, ..) => Step::Acos(a, out),
        (Op::Atan2, ..) => Step::Atan2(ab, out),
        (Op::Floor, ..) => Step::Floor(a, out),
        (Op::Abs, ..) => Step::Abs(a, out),
        (Op::Min, ..) => Step::Min(ab, out),
        (Op::Max, ..) => Step::Max(ab, out),
        (Op::IfLess, ..) => Step::IfLess(four(places), out),
        (Op::Norm, ..) => match *places {
            [a, b] => Step::Norm2([a, b], out),
            [a, b, c] => Step::Norm3([a, b, c], out),
            _ => Step::Norm(places.into(), out),
        },
        _ => Step::Single(Box::new(Single::new(op.clone(), places.to_vec(), vec![out]))),
    }
}

/// Every operation has as many arguments as its definition reads; a tape whose nodes have fewer would have stopped the run.
fn one(places: &[Place]) -> Place {
    places.first().copied().unwrap_or(0)
}

fn four(places: &[Place]) -> [Place; 4] {
    [0, 1, 2, 3].map(|position| places.get(position).or(places.last()).copied().unwrap_or(0))
}

fn two(places: &[Place]) -> [Place; 2] {
    [one(places), places.get(1).copied().unwrap_or_else(|| one(places))]
}
