//! Every operation, on ordinary and on special numbers.

use super::{all_slots, check};
use crate::kernel::random::Random;
use crankline_engine::diagnostic::Refusal;
use crankline_engine::kernel::{eigen, ldlt::Pattern};
use crankline_engine::quantity::{Dimension, Quantity};
use crankline_engine::tape::{self, Number, Recording, Relation, Tape, take_fault};
use std::collections::BTreeSet;
use std::sync::Arc;

pub(crate) type Function = fn(&[Number]) -> Vec<Number>;

/// Every operation: how many numbers it takes, and how it is recorded.
pub(crate) const OPERATIONS: [(&str, usize, Function); 41] = [
    ("add", 2, |a| vec![a[0] + a[1], a[0] + 1.5, 1.5 + a[0]]),
    ("sub", 2, |a| vec![a[0] - a[1], a[0] - 1.5, 1.5 - a[0]]),
    ("mul", 2, |a| vec![a[0] * a[1], a[0] * 1.5, 1.5 * a[0], a[0] * a[0]]),
    ("div", 2, |a| vec![a[0] / a[1]]),
    ("div by a known number", 1, |a| vec![a[0] / 1.5, a[0] / -8.0]),
    ("known number divided", 1, |a| vec![1.5 / a[0]]),
    ("neg", 1, |a| vec![-a[0]]),
    ("sqrt", 1, |a| vec![tape::sqrt(a[0])]),
    ("cbrt", 1, |a| vec![tape::cbrt(a[0])]),
    ("exp", 1, |a| vec![tape::exp(a[0])]),
    ("ln", 1, |a| vec![tape::ln(a[0])]),
    ("sin", 1, |a| vec![tape::sin(a[0])]),
    ("cos", 1, |a| vec![tape::cos(a[0])]),
    ("sin and cos", 1, |a| vec![tape::sin(a[0]), tape::cos(a[0])]),
    ("asin", 1, |a| vec![tape::asin(a[0])]),
    ("acos", 1, |a| vec![tape::acos(a[0])]),
    ("atan2", 2, |a| {
        vec![tape::atan2(a[0], a[1]), tape::atan2(a[0], Number::ONE)]
    }),
    ("pow", 2, |a| vec![tape::power(a[0], a[1])]),
    ("pow of a known number", 1, |a| {
        vec![tape::power(a[0], Number::constant(2.5))]
    }),
    ("floor", 1, |a| vec![tape::floor(a[0])]),
    ("abs", 1, |a| vec![tape::abs(a[0])]),
    ("min", 2, |a| vec![tape::min(a[0], a[1]), tape::min(a[0], Number::ZERO)]),
    ("max", 2, |a| vec![tape::max(a[0], a[1]), tape::max(Number::ZERO, a[0])]),
    ("if_less", 4, |a| vec![tape::if_less(a[0], a[1], a[2], a[3])]),
    ("sort", 3, tape::sort),
    ("norm of one", 1, |a| vec![tape::norm(a)]),
    ("norm of two", 2, |a| vec![tape::norm(a)]),
    ("norm of three", 3, |a| vec![tape::norm(a)]),
    ("norm of six", 6, |a| vec![tape::norm(a)]),
    ("require less", 2, |a| required(a[0], Relation::Less, a[1] * 2.0)),
    ("require at most", 2, |a| required(a[0], Relation::LessOrEqual, a[1])),
    ("require equal", 2, |a| required(a[0], Relation::Equal, a[1])),
    ("interpolate", 7, |a| vec![tape::interpolate(&a[1..4], &a[4..7], a[0])]),
    ("interpolate in a table", 1, |a| {
        let table = |values: [f64; 4]| values.map(Number::constant);
        vec![tape::interpolate(
            &table([-1.0, 0.0, 2.0, 5.0]),
            &table([3.0, 1.0, 0.0, 7.0]),
            a[0],
        )]
    }),
    ("gap", 8, |a| {
        vec![tape::gap(&[[a[0], a[1], a[2]]], a[3], &[[a[4], a[5], a[6]]], a[7])]
    }),
    ("root", 2, |a| {
        let (low, high, b) = (Number::constant(-9.0), Number::constant(9.0), [a[0], a[1]]);
        vec![tape::root(low, high, |x| Ok::<_, ()>(x * x * x + b[0] * x - b[1])).unwrap()]
    }),
    ("maximum", 2, |a| {
        let b = [a[0], a[1]];
        let f = |x| Ok::<_, ()>(b[0] * x - b[1] * x * x);
        vec![tape::maximum(Number::constant(-3.0), Number::constant(3.0), f).unwrap()]
    }),
    ("integrate", 3, |a| {
        let b = a[2];
        vec![tape::integrate(a[0], a[1], |x| Ok::<_, ()>(tape::sin(b * x) + tape::sqrt(x * x))).unwrap()]
    }),
    ("solve_symmetric", 7, |a| {
        let pattern = Pattern::new(2, vec![(0, 0), (1, 0), (1, 1)]).unwrap();
        tape::solve_symmetric(&Arc::new(tape::SolvePlan::new(pattern)), &a[0..3], &a[3..7])
    }),
    ("eigen_symmetric", 6, |a| {
        let pattern = || Pattern::new(2, vec![(0, 0), (1, 0), (1, 1)]).unwrap();
        let plan = eigen::EigenPlan::new(pattern(), pattern()).unwrap();
        let (value, shape) = tape::eigen_symmetric(&Arc::new(tape::EigenPlan::new(plan, 0)), &a[0..3], &a[3..6]);
        [vec![value], shape].concat()
    }),
    ("eigenvalue", 6, |a| {
        let pattern = || Pattern::new(2, vec![(0, 0), (1, 0), (1, 1)]).unwrap();
        let plan = eigen::EigenPlan::new(pattern(), pattern()).unwrap();
        vec![tape::eigenvalue(
            &Arc::new(tape::EigenPlan::new(plan, 1)),
            &a[0..3],
            &a[3..6],
        )]
    }),
];

fn required(left: Number, relation: Relation, right: Number) -> Vec<Number> {
    let [a, b] = [left, right].map(|side| Quantity::of(side, Dimension::NONE));
    let _ = a.require(relation, b, || Refusal::new("test", "it does not hold"));
    vec![left - right]
}

/// Numbers at which operations do something special.
pub(crate) const SPECIAL: [f64; 25] = [
    0.0,
    -0.0,
    1.0,
    -1.0,
    0.5,
    2.0,
    -2.5,
    0.975,
    1.0 + f64::EPSILON,
    1e-300,
    5e-324,
    -1e-310,
    f64::MIN_POSITIVE,
    f64::MAX,
    -1e200,
    f64::INFINITY,
    f64::NEG_INFINITY,
    f64::NAN,
    1.0e6,
    1.0e6 + 1.0,
    -3.0e9,
    1.0e22,
    710.0,
    -746.0,
    std::f64::consts::FRAC_PI_2,
];

/// A tape of one operation, recorded on numbers that it accepts where there are any.
pub(crate) fn recorded(arguments: usize, function: Function) -> Tape {
    let recording = Recording::open();
    let inputs: Vec<Number> = (0..arguments).map(|_| recording.input(1.0)).collect();
    let _ = function(&inputs);
    // That a singular matrix, say, has no solution does not matter here: the tape holds the operation.
    let _ = take_fault();
    recording.tape()
}

/// A number of any kind: ordinary, special, or any bits at all.
pub(crate) fn any(random: &mut Random) -> f64 {
    match random.below(8) {
        0 => SPECIAL[random.below(SPECIAL.len())],
        1 => f64::from_bits(random.bits()),
        2 => random.between(-2e6, 2e6),
        3 => random.between(-1.0, 1.0),
        _ => random.between(-5.0, 5.0),
    }
}

#[test]
fn every_operation_has_the_bits_of_its_definition() {
    let mut random = Random::new(11);
    for (name, arguments, function) in OPERATIONS {
        let tape = recorded(arguments, function);
        let mut samples: Vec<Vec<f64>> = (0..3000)
            .map(|_| (0..arguments).map(|_| any(&mut random)).collect())
            .collect();
        if arguments <= 2 {
            for a in SPECIAL {
                samples.extend(SPECIAL.map(|b| [a, b][..arguments].to_vec()));
            }
        }
        let stayed = check(name, &tape, &all_slots(&tape), &samples);
        assert!(stayed > 0, "{name}: no sample stays");
    }
}

/// None is forgotten: every name of the table of operations is recorded by one of the functions above.
#[test]
fn the_list_holds_every_operation() {
    let mut names = BTreeSet::new();
    for (_, arguments, function) in OPERATIONS {
        let tape = recorded(arguments, function);
        names.extend(tape.graph.nodes().iter().map(|node| node.op.name()));
    }
    let table = include_str!("../../../engine/src/tape/op.rs");
    let (_, after) = table.split_once("pub fn name(&self)").unwrap();
    let (arms, _) = after.split_once("/// Whether its value").unwrap();
    let all: Vec<&str> = arms.split('"').skip(1).step_by(2).collect();
    assert!(all.len() > 30, "the table is found");
    for name in all {
        // Leaves of closures stand in closures only.
        assert!(
            names.contains(name) || ["argument", "capture"].contains(&name),
            "{name}"
        );
    }
}
