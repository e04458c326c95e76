//! A host program's own function, made of operations of the tape.

use super::check::{run_in, step};
use crankline_engine::quantity::{Dimension, Quantity};
use crankline_engine::script::{Library, argument};
use crankline_engine::source::NoSources;
use crankline_engine::tape::{self, Replay, Reverse};
use std::rc::Rc;

fn with_diagonal() -> Library {
    Library::with_host_functions(Rc::new(NoSources), |functions| {
        functions.concept("our shop");
        functions.add(
            "diagonal(a, b)",
            "The diagonal of a rectangle. Two lengths; a length.",
            |a| {
                let width = argument::number(&a[0], Dimension::LENGTH, "the width")?;
                let height = argument::number(&a[1], Dimension::LENGTH, "the height")?;
                Ok(argument::result(Quantity::of(
                    tape::norm(&[width, height]),
                    Dimension::LENGTH,
                )))
            },
        );
    })
}

#[test]
fn is_called_replayed_and_differentiated() {
    let ran = run_in(&with_diagonal(), "input a = 3.mm; step d = diagonal(a, 4.mm);").unwrap();
    assert!((step(&ran, "d") - 5e-3).abs() < 1e-15);
    let slot = ran.outcome.steps.iter().find_map(|step| match &step.value {
        crankline_engine::outcome::Value::Amount(amount) => amount.slot,
        _ => None,
    });
    let slot = slot.unwrap();
    let mut replay = Replay::new(&ran.tape);
    let values = replay.run(&[5e-3]).unwrap().to_vec();
    assert!((values[slot as usize] - 41.0_f64.sqrt() * 1e-3).abs() < 1e-15);
    // ∂√(a² + b²)/∂a = a/√(a² + b²)
    let gradient = Reverse::of(&ran.tape, &values, &[(slot, 1.0)]).slot(ran.tape.inputs[0]);
    assert!((gradient - 5.0 / 41.0_f64.sqrt()).abs() < 1e-12);
}

#[test]
fn refuses_like_the_language_s_own() {
    let library = with_diagonal();
    for (script, expected) in [
        (
            "step d = diagonal(3.mm, 4.kg);",
            "the height must be a length, this is a mass (4 kg)",
        ),
        (
            "step d = diagonal(3.mm, \"4 mm\");",
            "the height must be a number or a quantity, this is a text",
        ),
        ("step d = diagonal(3.mm);", "diagonal(a, b)"),
        ("step d = diagnal(3.mm, 4.mm);", "did you mean `diagonal`?"),
    ] {
        let error = run_in(&library, script).err().unwrap();
        assert!(error.contains(expected), "{script}\n{error}");
    }
}
