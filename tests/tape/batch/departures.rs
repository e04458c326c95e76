//! Who leaves the path: guards, requirements, and numbers that are not finite, also where a later operation swallows them.

use super::{all_slots, check};
use crankline_engine::quantity::{Dimension, Quantity};
use crankline_engine::tape::batch::{Batch, LANES};
use crankline_engine::tape::{self, Number, Recording, Relation, Slot, Tape, take_fault};

fn recorded(inputs: &[f64], work: impl Fn(&[Number]) -> Number) -> (Tape, Slot) {
    let recording = Recording::open();
    let numbers: Vec<Number> = inputs.iter().map(|value| recording.input(*value)).collect();
    let _ = work(&numbers);
    assert_eq!(take_fault(), None);
    let tape = recording.tape();
    let last = Slot::try_from(tape.graph.slots() - 1).unwrap();
    (tape, last)
}

/// Which of these samples of one input leave, with the last slot alone wanted.
fn leaving(inputs: &[f64], work: impl Fn(Number) -> Number) -> Vec<bool> {
    let (tape, last) = recorded(&[1.0], |a| work(a[0]));
    let samples: Vec<Vec<f64>> = inputs.iter().map(|input| vec![*input]).collect();
    check("leaving", &tape, &[last], &samples);
    let batch = Batch::new(&tape, &[last]);
    let mut block = batch.block();
    block.input(0)[..inputs.len()].copy_from_slice(inputs);
    block.run(inputs.len());
    (0..inputs.len()).map(|lane| block.left(lane)).collect()
}

#[test]
fn a_division_by_zero_leaves_also_where_a_later_operation_swallows_it() {
    let swallowing: [fn(Number) -> Number; 8] = [
        |x| 1.0 / (1.0 / x),
        |x| tape::atan2(Number::ONE, 1.0 / x),
        |x| tape::min(1.0 / tape::abs(x), Number::ONE),
        |x| tape::max(-1.0 / tape::abs(x), Number::ONE),
        |x| tape::if_less(1.0 / x, Number::ZERO, x, Number::ONE),
        |x| tape::exp(-(1.0 / tape::abs(x))),
        |x| tape::power(Number::constant(0.5), 1.0 / tape::abs(x)),
        |x| {
            let _dead = 1.0 / x;
            x + 1.0
        },
    ];
    for work in swallowing {
        assert_eq!(leaving(&[1.0, 0.0, -0.0, 0.25], work), [false, true, true, false]);
    }
}

#[test]
fn a_root_of_a_negative_number_leaves() {
    assert_eq!(leaving(&[1.0, -1e-300, -0.0], tape::sqrt), [false, true, false]);
    assert_eq!(leaving(&[1.0, 0.0, -1.0], tape::ln), [false, true, true]);
    assert_eq!(leaving(&[1.0, 1.5, -1.0], tape::acos), [false, true, false]);
}

#[test]
fn an_input_that_is_not_finite_leaves_also_where_nobody_reads_it() {
    let (tape, last) = recorded(&[1.0, 2.0], |a| a[0] + 1.0);
    let samples = [vec![1.0, f64::NAN], vec![1.0, 2.0], vec![1.0, f64::INFINITY]];
    assert_eq!(check("unread input", &tape, &[last], &samples), 1);
}

#[test]
fn guards_and_requirements_mark_their_lanes() {
    let compare = |a: &[Number], relation| {
        let [left, right] = [a[0], a[1]].map(|side| Quantity::of(side, Dimension::NONE));
        let _ = left.compare(relation, right);
        left.require(Relation::LessOrEqual, Quantity::plain(3.0), || unreachable!("it holds"))
            .unwrap();
        a[0] * a[1]
    };
    let samples: Vec<Vec<f64>> = [(1.0, 2.0), (2.0, 1.0), (2.0, 2.0), (4.0, 5.0), (0.0, -0.0)]
        .map(|(a, b)| vec![a, b])
        .to_vec();
    for (relation, stay) in [(Relation::Less, 1), (Relation::LessOrEqual, 3), (Relation::Equal, 2)] {
        let (tape, _) = recorded(&[1.0, 2.0], |a| compare(a, relation));
        assert_eq!(check("guards", &tape, &all_slots(&tape), &samples), stay);
    }
}

#[test]
fn a_comparison_of_known_numbers_that_comes_out_otherwise_loses_every_lane() {
    let (tape, last) = recorded(&[1.0, 2.0], |a| {
        let _ = Quantity::of(a[0], Dimension::NONE).compare(Relation::Less, Quantity::plain(5.0));
        a[0] + a[1]
    });
    for (known, leaves) in [(1.0, false), (7.0, true), (f64::NAN, true)] {
        let batch = Batch::with_known(&tape, &[last], &[Some(known)]);
        let mut block = batch.block();
        block.input(1).fill(3.0);
        block.run(LANES);
        assert!((0..LANES).all(|lane| block.left(lane) == leaves));
        assert!(leaves || block.lanes(last)[0] == known + 3.0);
    }
}

#[test]
fn a_lane_that_is_not_filled_or_does_not_exist_has_left() {
    let (tape, last) = recorded(&[1.0], |a| a[0] + 1.0);
    let batch = Batch::new(&tape, &[last]);
    let mut block = batch.block();
    block.input(0)[0] = 1.0;
    block.run(LANES);
    assert!(!block.left(0) && block.left(1) && block.left(LANES));
    assert!(block.lanes(last + 1).is_empty() && block.input(1).is_empty());
}
