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

/// A host's function that remembers the first quantity that it is ever given.
fn remembering() -> Library {
    Library::with_host_functions(Rc::new(NoSources), |functions| {
        let kept = std::cell::RefCell::new(None);
        functions.concept("our shop");
        functions.add("remembered(q)", "The first quantity that it was given.", move |a| {
            let number = argument::number(&a[0], Dimension::LENGTH, "q")?;
            let first = *kept.borrow_mut().get_or_insert(number);
            Ok(argument::result(Quantity::of(first, Dimension::LENGTH)))
        });
    })
}

#[test]
fn a_quantity_left_over_from_another_run_is_an_error() {
    for script in [
        "step b = remembered(a);",
        "step b = [remembered(a)];",
        "check remembered(a) < 4.mm;",
        "check a from 1.mm to remembered(a);",
        "note `it is ${remembered(a)}`;",
        "let b = remembered(a) + 1.mm;",
        "if remembered(a) > 2.mm { note \"large\"; }",
    ] {
        let library = remembering();
        let script = format!("input a = 3.mm; {script}");
        assert!(run_in(&library, &script).is_ok(), "{script}");
        let error = run_in(&library, &script).err().unwrap();
        assert!(
            error.contains("a quantity from another run was used"),
            "{script}\n{error}"
        );
    }
}
