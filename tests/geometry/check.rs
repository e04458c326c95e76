//! What every test here does with a function: reads its value, replays it, compares its derivatives.

use super::random::Random;
use crankline_engine::geometry::{Point, Vector};
use crankline_engine::quantity::{Dimension, Quantity};
use crankline_engine::tape::{self, Forward, Number, Recording, Replay, Reverse, Slot, Tape};

pub(super) const MM: f64 = 1e-3;

pub(super) fn length(metres: Number) -> Quantity {
    Quantity::of(metres, Dimension::LENGTH)
}

pub(super) fn angle(radians: Number) -> Quantity {
    Quantity::of(radians, Dimension::ANGLE)
}

pub(super) fn deg(degrees: f64) -> Quantity {
    Quantity::constant(degrees.to_radians(), Dimension::ANGLE)
}

pub(super) fn mm(millimetres: f64) -> Quantity {
    Quantity::constant(millimetres * MM, Dimension::LENGTH)
}

/// A point in millimetres.
pub(super) fn point(millimetres: [f64; 3]) -> Point {
    Point::of(millimetres.map(|x| Number::constant(x * MM)))
}

/// A direction, of any length.
pub(super) fn direction(components: [f64; 3]) -> Vector {
    Vector::of(components.map(Number::constant), Dimension::NONE)
}

/// SI values of quantities that depend on no reading.
pub(super) fn values(quantities: &[Quantity]) -> Vec<f64> {
    let quantities = quantities.to_vec();
    Recorded::of(&[], move |_| quantities.clone()).values
}

/// The SI value of a quantity that depends on no reading.
pub(super) fn value(quantity: Quantity) -> f64 {
    values(&[quantity])[0]
}

pub(super) fn degrees(quantity: Quantity) -> f64 {
    assert_eq!(quantity.dimension(), Dimension::ANGLE);
    value(quantity).to_degrees()
}

pub(super) fn millimetres(quantity: Quantity) -> f64 {
    assert_eq!(quantity.dimension(), Dimension::LENGTH);
    value(quantity) / MM
}

#[track_caller]
pub(super) fn close(found: f64, expected: f64, relative: f64) {
    let off = (found - expected).abs();
    assert!(
        off <= relative * expected.abs(),
        "{found} instead of {expected}: off by {off:e}"
    );
}

#[track_caller]
pub(super) fn within(found: f64, expected: f64, absolute: f64) {
    let off = (found - expected).abs();
    assert!(off <= absolute, "{found} instead of {expected}: off by {off:e}");
}

struct Recorded {
    tape: Tape,
    slots: Vec<Slot>,
    values: Vec<f64>,
}

impl Recorded {
    fn of(inputs: &[f64], f: impl Fn(&[Number]) -> Vec<Quantity>) -> Self {
        let run = Recording::open();
        let numbers: Vec<Number> = inputs.iter().map(|value| run.input(*value)).collect();
        // A product with an input of its own stands on the tape in the last slot, even where the result is a constant.
        let last_slot = |result: Quantity| {
            let _ = result.number() * run.input(1.0);
            Slot::try_from(run.tape().graph.slots() - 1).expect("a short tape")
        };
        let slots: Vec<Slot> = f(&numbers).into_iter().map(last_slot).collect();
        assert_eq!(tape::take_fault(), None, "on {inputs:?}");
        let tape = run.tape();
        let values = slots.iter().map(|slot| tape.nominal[*slot as usize]).collect();
        Self { tape, slots, values }
    }

    /// The results of a replay; `None` where it leaves the path.
    fn replayed(&self, inputs: &[f64]) -> Option<Vec<f64>> {
        let all: Vec<f64> = inputs.iter().copied().chain(self.slots.iter().map(|_| 1.0)).collect();
        let mut replay = Replay::new(&self.tape);
        let values = replay.run(&all).ok()?;
        Some(self.slots.iter().map(|slot| values[*slot as usize]).collect())
    }
}

/// A replay on other inputs gives the bits of a run on them, and derivatives, forward and reverse, agree with central
/// differences.
#[track_caller]
pub(super) fn follows(inputs: &[f64], f: impl Fn(&[Number]) -> Vec<Quantity>) {
    replays(inputs, &f);
    derives(inputs, &f);
}

#[track_caller]
pub(super) fn replays(inputs: &[f64], f: impl Fn(&[Number]) -> Vec<Quantity>) {
    let recorded = Recorded::of(inputs, &f);
    assert!(recorded.tape.guards.is_empty(), "the tape has one path");
    let mut random = Random::new(7);
    for _ in 0..20 {
        let moved: Vec<f64> = inputs.iter().map(|x| x + 0.05 * random.between(-1.0, 1.0)).collect();
        let replayed = recorded.replayed(&moved).expect("the same path");
        let run = Recorded::of(&moved, &f);
        let bits = |values: &[f64]| values.iter().map(|value| value.to_bits()).collect::<Vec<_>>();
        assert_eq!(bits(&replayed), bits(&run.values), "on {moved:?}");
    }
}

#[track_caller]
fn derives(inputs: &[f64], f: impl Fn(&[Number]) -> Vec<Quantity>) {
    const STEP: f64 = 1e-3;
    let recorded = Recorded::of(inputs, &f);
    let nominal = &recorded.tape.nominal;
    for input in 0..inputs.len() {
        let at = |steps: f64| {
            let mut moved = inputs.to_vec();
            moved[input] += steps * STEP;
            recorded.replayed(&moved).expect("the same path")
        };
        // Central differences of fourth order.
        let (near, far) = ((at(1.0), at(-1.0)), (at(2.0), at(-2.0)));
        let forward = Forward::of(&recorded.tape, nominal, input);
        for (o, slot) in recorded.slots.iter().enumerate() {
            let difference = (8.0 * (near.0[o] - near.1[o]) - (far.0[o] - far.1[o])) / (12.0 * STEP);
            let pushed = forward.slot(*slot);
            let reverse = Reverse::of(&recorded.tape, nominal, &[(*slot, 1.0)]);
            let pulled = reverse.slot(recorded.tape.inputs[input]);
            let scale = difference.abs().max(1.0);
            within(pushed, difference, 1e-8 * scale);
            within(pulled, pushed, 1e-12 * scale);
        }
    }
}

/// SI values of results of these inputs.
pub(super) fn run(inputs: &[f64], f: impl Fn(&[Number]) -> Vec<Quantity>) -> Vec<f64> {
    Recorded::of(inputs, f).values
}

/// Forward derivatives of every result with respect to every input.
pub(super) fn slopes(inputs: &[f64], f: impl Fn(&[Number]) -> Vec<Quantity>) -> Vec<f64> {
    let recorded = Recorded::of(inputs, &f);
    let one = |input| {
        let forward = Forward::of(&recorded.tape, &recorded.tape.nominal, input);
        let slopes: Vec<f64> = recorded.slots.iter().map(|slot| forward.slot(*slot)).collect();
        slopes
    };
    (0..inputs.len()).flat_map(one).collect()
}

/// Points of inputs three by three.
pub(super) fn points(numbers: &[Number]) -> Vec<Point> {
    numbers
        .chunks_exact(3)
        .map(|xyz| Point::of([xyz[0], xyz[1], xyz[2]]))
        .collect()
}

/// Directions of inputs three by three.
pub(super) fn vectors(numbers: &[Number]) -> Vec<Vector> {
    numbers
        .chunks_exact(3)
        .map(|xyz| Vector::of([xyz[0], xyz[1], xyz[2]], Dimension::NONE))
        .collect()
}

pub(super) fn of_point(p: Point) -> Vec<Quantity> {
    vec![p.x(), p.y(), p.z()]
}

pub(super) fn of_vector(v: Vector) -> Vec<Quantity> {
    vec![v.x(), v.y(), v.z()]
}

/// A displacement in metres.
pub(super) fn displacement(metres: [f64; 3]) -> Vector {
    Vector::of(metres.map(Number::constant), Dimension::LENGTH)
}
