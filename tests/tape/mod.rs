//! The tape: every operation's derivatives against differences, replay against recording, closures, guards.

pub(crate) mod batch;

use crankline_engine::tape::{self, Forward, Number, Recording, Replay, Reverse, Tape, take_fault};

type Function = fn(&[Number]) -> Number;

/// One of each operation on numbers, with arguments away from its kinks.
const OPERATIONS: [(&str, Function, &[f64]); 27] = [
    ("add", |a| a[0] + a[1], &[1.3, -0.4]),
    ("sub", |a| a[0] - a[1], &[1.3, -0.4]),
    ("mul", |a| a[0] * a[1], &[1.3, -0.4]),
    ("div", |a| a[0] / a[1], &[1.3, -0.4]),
    ("neg", |a| -a[0], &[1.3]),
    ("sqrt", |a| tape::sqrt(a[0]), &[1.3]),
    ("cbrt", |a| tape::cbrt(a[0]), &[-1.3]),
    ("exp", |a| tape::exp(a[0]), &[1.3]),
    ("ln", |a| tape::ln(a[0]), &[1.3]),
    ("sin", |a| tape::sin(a[0]), &[1.3]),
    ("cos", |a| tape::cos(a[0]), &[1.3]),
    ("asin", |a| tape::asin(a[0]), &[0.3]),
    ("acos", |a| tape::acos(a[0]), &[-0.3]),
    ("atan2", |a| tape::atan2(a[0], a[1]), &[1.3, -0.4]),
    ("pow", |a| tape::power(a[0], a[1]), &[1.3, 2.4]),
    ("whole power", |a| tape::power(a[0], Number::constant(-3.0)), &[-1.3]),
    ("floor", |a| tape::floor(a[0]), &[1.3]),
    ("abs", |a| tape::abs(a[0]), &[-1.3]),
    ("min first", |a| tape::min(a[0], a[1]), &[-1.3, 0.4]),
    ("min second", |a| tape::min(a[0], a[1]), &[1.3, 0.4]),
    ("max first", |a| tape::max(a[0], a[1]), &[1.3, 0.4]),
    ("max second", |a| tape::max(a[0], a[1]), &[-1.3, 0.4]),
    (
        "if_less",
        |a| tape::if_less(a[0], a[1], a[2], a[3]),
        &[1.0, 2.0, 3.0, 4.0],
    ),
    (
        "sort",
        |a| tape::sort(a).into_iter().enumerate().fold(Number::ZERO, weighted),
        &[3.0, 1.0, 2.0],
    ),
    ("norm", |a| tape::norm(a), &[3.0, -1.0, 2.0]),
    (
        "interpolate",
        |a| tape::interpolate(&a[1..4], &a[4..7], a[0]),
        &[1.7, 0.0, 1.0, 3.0, 5.0, 2.0, 4.0],
    ),
    (
        "gap",
        |a| tape::gap(&[triple(&a[0..3])], a[3], &[triple(&a[4..7])], a[7]),
        &[0.0, 0.1, 0.2, 0.3, 2.0, 3.0, 4.0, 0.5],
    ),
];

fn weighted(sum: Number, (place, number): (usize, Number)) -> Number {
    sum + number * [1.0, 10.0, 100.0][place]
}

fn triple(a: &[Number]) -> [Number; 3] {
    [a[0], a[1], a[2]]
}

/// Records a function of inputs; its result is the last slot, made by a multiplication with an input of one.
fn record(function: impl Fn(&[Number]) -> Number, inputs: &[f64]) -> Tape {
    let recording = Recording::open();
    let numbers: Vec<Number> = inputs.iter().map(|value| recording.input(*value)).collect();
    let one = recording.input(1.0);
    let _ = function(&numbers) * one;
    assert_eq!(take_fault(), None);
    recording.tape()
}

fn result(tape: &Tape, inputs: &[f64]) -> f64 {
    let inputs = [inputs, &[1.0]].concat();
    *Replay::new(tape).run(&inputs).unwrap().last().unwrap()
}

/// Forward, reverse and a fourth-order central difference agree.
#[track_caller]
fn check_derivatives(name: &str, function: impl Fn(&[Number]) -> Number, inputs: &[f64]) {
    let tape = record(function, inputs);
    let last = u32::try_from(tape.graph.slots() - 1).unwrap();
    assert_eq!(
        result(&tape, inputs).to_bits(),
        tape.nominal.last().unwrap().to_bits(),
        "{name}: replay"
    );
    let reverse = Reverse::of(&tape, &tape.nominal, &[(last, 1.0)]);
    for input in 0..inputs.len() {
        let at = |offset: f64| {
            let mut moved = inputs.to_vec();
            moved[input] += offset;
            result(&tape, &moved)
        };
        let h = 1e-3;
        let difference = (8.0 * (at(h) - at(-h)) - (at(2.0 * h) - at(-2.0 * h))) / (12.0 * h);
        let forward = Forward::of(&tape, &tape.nominal, input).slot(last);
        let back = reverse.slot(tape.inputs[input]);
        assert!(
            (forward - difference).abs() <= 1e-7 * (1.0 + difference.abs()),
            "{name}: {forward} {difference}"
        );
        assert!(
            (forward - back).abs() <= 1e-12 * (1.0 + forward.abs()),
            "{name}: {forward} {back}"
        );
    }
}

#[test]
fn derivatives_of_every_operation() {
    for (name, function, inputs) in OPERATIONS {
        check_derivatives(name, function, inputs);
    }
}

#[test]
fn the_same_operation_on_the_same_numbers_stands_once() {
    let recording = Recording::open();
    let (a, b) = (recording.input(2.0), recording.input(3.0));
    let slots = || recording.tape().graph.slots();
    let _ = (a * b, a - b, tape::sqrt(a), tape::if_less(a, b, b, a));
    let before = slots();
    let _ = (b * a, a - b, tape::sqrt(a), tape::if_less(a, b, b, a));
    let _ = (a * 1.0, 1.0 * b, b / 1.0, a - 0.0);
    assert_eq!(slots(), before);
    let _ = (b - a, tape::if_less(b, a, b, a));
    assert_eq!(slots(), before + 2);
    // Of −0 it would make 0.
    let _ = a + 0.0;
    assert!(slots() > before + 2);
}

#[test]
fn what_has_no_value_fails_each_time_it_is_asked_for() {
    let recording = Recording::open();
    let a = recording.input(-1.0);
    for _ in 0..2 {
        let _ = tape::sqrt(a);
        assert!(take_fault().is_some());
    }
}

fn traced(x: Number) -> Result<Number, ()> {
    Ok(x)
}

#[test]
fn derivatives_of_a_root() {
    // x³ + a·x = b
    let root = |a: &[Number]| {
        let (a, b) = (a[0], a[1]);
        tape::root(Number::ZERO, Number::constant(5.0), |x| traced(x * x * x + a * x - b)).unwrap()
    };
    check_derivatives("root", root, &[0.7, 2.9]);
}

#[test]
fn derivatives_of_maxima_and_integrals() {
    let largest = |a: &[Number]| {
        let a = [a[0], a[1]];
        tape::maximum(Number::constant(-3.0), Number::constant(3.0), |x| {
            traced(a[0] * x - a[1] * x * x)
        })
        .unwrap()
    };
    check_derivatives("maximum", largest, &[0.7, 2.9]);
    let smallest = |a: &[Number]| {
        let a = [a[0], a[1]];
        tape::minimum(a[0], a[1], |x| traced(x * x * x)).unwrap()
    };
    check_derivatives("minimum at an end", smallest, &[0.7, 2.9]);
    let total = |a: &[Number]| {
        let a = [a[0], a[1], a[2]];
        tape::integrate(a[0], a[1], |x| traced(tape::sin(a[2] * x) + x * x)).unwrap()
    };
    check_derivatives("integral", total, &[0.7, 2.9, 1.1]);
}

#[test]
fn closures_nest() {
    // The integral over y from 0 to 1 of the root x of x² = a + y: ∫ √(a + y) dy.
    let nested = |a: &[Number]| {
        let a = a[0];
        tape::integrate(Number::ZERO, Number::ONE, |y| {
            tape::root(Number::ZERO, Number::constant(9.0), |x| traced(x * x - (a + y)))
        })
        .unwrap()
    };
    check_derivatives("nested", nested, &[2.0]);
    let tape = record(nested, &[2.0]);
    let exact = 2.0 / 3.0 * (3.0_f64.powf(1.5) - 2.0_f64.powf(1.5));
    assert!((result(&tape, &[2.0]) - exact).abs() < 1e-13);
}

/// Two equations, K = [[a, b], [b, c]]: the solution by Cramer's rule.
#[test]
fn derivatives_of_a_symmetric_system() {
    use crankline_engine::kernel::ldlt::Pattern;
    use std::sync::Arc;
    let plan = Arc::new(tape::SolvePlan::new(
        Pattern::new(2, vec![(0, 0), (1, 0), (1, 1)]).unwrap(),
    ));
    let solved = |a: &[Number]| {
        let x = tape::solve_symmetric(&plan, &a[0..3], &a[3..7]);
        x[0] * 2.0 + x[1] * 3.0 - x[2] * x[3]
    };
    let inputs = [3.0, 1.0, 2.0, 0.5, 0.7, -0.2, 0.4];
    check_derivatives("solve", solved, &inputs);
    let determinant = 3.0 * 2.0 - 1.0;
    let x = |p: f64, q: f64| ((2.0 * p - q) / determinant, (3.0 * q - p) / determinant);
    let ((x0, x1), (x2, x3)) = (x(0.5, 0.7), x(-0.2, 0.4));
    let tape = record(solved, &inputs);
    assert!((result(&tape, &inputs) - (x0 * 2.0 + x1 * 3.0 - x2 * x3)).abs() < 1e-14);
}

#[test]
fn derivatives_of_an_eigenvalue_and_its_shape() {
    use crankline_engine::kernel::{eigen, ldlt::Pattern};
    use std::sync::Arc;
    let pattern = || Pattern::new(2, vec![(0, 0), (1, 0), (1, 1)]).unwrap();
    let plan = Arc::new(tape::EigenPlan::new(
        eigen::EigenPlan::new(pattern(), pattern()).unwrap(),
        0,
    ));
    let found = |a: &[Number]| {
        let (value, shape) = tape::eigen_symmetric(&plan, &a[0..3], &a[3..6]);
        value + shape[0] * 0.3 + shape[1] * 0.7
    };
    check_derivatives("eigen", found, &[3.0, 1.0, 2.0, 1.0, 0.1, 1.5]);
}

#[test]
fn kinks_have_no_derivative_and_no_nan() {
    let kinks: [(&str, Function, &[f64]); 5] = [
        ("sqrt of zero", |a| tape::sqrt(a[0]), &[0.0]),
        ("abs of zero", |a| tape::abs(a[0]), &[0.0]),
        ("norm of zeros", |a| tape::norm(a), &[0.0, 0.0]),
        ("atan2 at the origin", |a| tape::atan2(a[0], a[1]), &[0.0, 0.0]),
        ("asin of one", |a| tape::asin(a[0]), &[1.0]),
    ];
    for (name, function, inputs) in kinks {
        let tape = record(function, inputs);
        let last = u32::try_from(tape.graph.slots() - 1).unwrap();
        for input in 0..inputs.len() {
            let derivative = Forward::of(&tape, &tape.nominal, input).slot(last);
            assert_eq!(derivative, 0.0, "{name}");
        }
    }
}

/// The mean of both sides' derivatives: what a central difference gives, and what keeps a symmetrical frame's ±.
#[test]
fn equal_numbers_share_the_derivative_of_a_choice() {
    for choice in [tape::min as fn(Number, Number) -> Number, tape::max] {
        let tape = record(|a| choice(a[0], a[1]), &[1.0, 1.0]);
        let last = u32::try_from(tape.graph.slots() - 1).unwrap();
        for input in 0..2 {
            assert_eq!(Forward::of(&tape, &tape.nominal, input).slot(last), 0.5);
        }
        check_derivatives("mirrored", |a| choice(a[0] * 3.0, 3.0 * a[0]), &[1.3]);
    }
}

#[test]
fn a_number_of_another_run_is_a_fault() {
    let left_over = {
        let recording = Recording::open();
        recording.input(1.0)
    };
    let _recording = Recording::open();
    let _ = left_over + 1.0;
    assert_eq!(take_fault(), Some(tape::Fault::Foreign));
}

#[test]
fn what_is_not_finite_is_a_fault() {
    let recording = Recording::open();
    let zero = recording.input(0.0);
    let _ = 1.0 / zero;
    assert!(matches!(
        take_fault(),
        Some(tape::Fault::NotFinite { operation: "div", .. })
    ));
    assert_eq!(take_fault(), None);
}
