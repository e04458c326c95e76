//! What every test here does: makes quantities, reads their values, replays what was recorded.

use crankline_engine::diagnostic::Refusal;
use crankline_engine::quantity::{Dimension, Quantity, units};
use crankline_engine::tape::{self, Forward, Number, Recording, Replay, Reverse, Slot, Tape};

/// A constant in the unit with this identifier.
pub(super) fn q(value: f64, unit: &str) -> Quantity {
    let unit = units::find(unit).unwrap_or_else(|| panic!("no unit {unit}"));
    let si = unit.to_si(value);
    match unit.scale {
        units::Scale::Point => Quantity::temperature_point(Number::constant(si)),
        units::Scale::Difference => Quantity::constant(si, unit.dimension),
    }
}

pub(super) fn mm(value: f64) -> Quantity {
    q(value, "mm")
}

pub(super) fn inch(value: f64) -> Quantity {
    q(value, "inch")
}

pub(super) fn metres(number: Number) -> Quantity {
    Quantity::of(number, Dimension::LENGTH)
}

/// The value of a quantity that depends on no reading, in this unit.
pub(super) fn in_unit(quantity: Quantity, unit: &str) -> f64 {
    let unit = units::find(unit).unwrap_or_else(|| panic!("no unit {unit}"));
    assert_eq!(quantity.dimension(), unit.dimension, "in {}", unit.name);
    unit.from_si(si(quantity))
}

/// The SI value of a quantity that depends on no reading.
pub(super) fn si(quantity: Quantity) -> f64 {
    Recorded::of(&[], |_| quantity).value
}

/// The SI value of what is calculated while a run is recorded: roots are taken only there.
pub(super) fn si_of_run(f: impl Fn() -> Quantity) -> f64 {
    Recorded::of(&[], |_| f()).value
}

#[track_caller]
pub(super) fn close(found: f64, expected: f64, relative: f64) {
    let off = (found - expected).abs();
    assert!(
        off <= relative * expected.abs(),
        "{found} instead of {expected}: off by {:e}",
        off / expected.abs()
    );
}

/// A value printed with so many decimals.
#[track_caller]
pub(super) fn printed(found: f64, expected: f64, decimals: i32) {
    let half_a_unit = 0.5 * 10f64.powi(-decimals);
    let off = (found - expected).abs();
    assert!(off <= half_a_unit * 1.000_001, "{found} instead of {expected}");
}

/// The message and the hints of what must be refused.
#[track_caller]
pub(super) fn refused<T>(result: Result<T, Refusal>) -> String {
    match result {
        Ok(_) => panic!("it was accepted"),
        Err(refusal) => refusal.to_string(),
    }
}

struct Recorded {
    tape: Tape,
    slot: Slot,
    value: f64,
}

impl Recorded {
    fn of(inputs: &[f64], f: impl Fn(&[Number]) -> Quantity) -> Self {
        let run = Recording::open();
        let numbers: Vec<Number> = inputs.iter().map(|value| run.input(*value)).collect();
        // A product with an input stands on the tape in the last slot, even where the result is a constant.
        let one = run.input(1.0);
        let _ = f(&numbers).number() * one;
        assert_eq!(tape::take_fault(), None, "on {inputs:?}");
        let tape = run.tape();
        let slot = Slot::try_from(tape.graph.slots() - 1).unwrap();
        let value = tape.nominal[slot as usize];
        Self { tape, slot, value }
    }

    fn replayed(&self, inputs: &[f64]) -> Option<f64> {
        let all: Vec<f64> = inputs.iter().copied().chain([1.0]).collect();
        let mut replay = Replay::new(&self.tape);
        let values = replay.run(&all).ok()?;
        Some(values[self.slot as usize])
    }
}

/// A replay on inputs moved by a few percent gives the bits of a run on them, on one path, and the derivatives, forward
/// and reverse, agree with central differences.
#[track_caller]
pub(super) fn follows(inputs: &[f64], f: impl Fn(&[Number]) -> Quantity) {
    let recorded = Recorded::of(inputs, &f);
    assert!(recorded.tape.guards.is_empty(), "the tape has one path");
    for input in 0..inputs.len() {
        let moved = |share: f64| {
            let mut moved = inputs.to_vec();
            moved[input] *= 1.0 + share;
            moved
        };
        let inputs = moved(0.03);
        let replayed = recorded.replayed(&inputs).unwrap();
        assert_eq!(
            replayed.to_bits(),
            Recorded::of(&inputs, &f).value.to_bits(),
            "on {inputs:?}"
        );

        let step = 1e-4;
        let at = |share: f64| recorded.replayed(&moved(share)).unwrap();
        let reading = moved(0.0)[input];
        let difference = (8.0 * (at(step) - at(-step)) - (at(2.0 * step) - at(-2.0 * step))) / (12.0 * step * reading);
        let nominal = &recorded.tape.nominal;
        let forward = Forward::of(&recorded.tape, nominal, input).slot(recorded.slot);
        let reverse = Reverse::of(&recorded.tape, nominal, &[(recorded.slot, 1.0)]);
        let scale = difference.abs().max(1e-2 * (recorded.value / reading).abs());
        assert!(
            (forward - difference).abs() <= 1e-7 * scale,
            "{forward} against {difference}"
        );
        let reverse = reverse.slot(recorded.tape.inputs[input]);
        assert!(
            (reverse - forward).abs() <= 1e-12 * scale,
            "{reverse} against {forward}"
        );
    }
}

/// A replay on these inputs leaves the path: the run refuses them.
#[track_caller]
pub(super) fn leaves(inputs: &[f64], others: &[f64], f: impl Fn(&[Number]) -> Quantity) {
    assert!(Recorded::of(inputs, &f).replayed(others).is_none());
}
