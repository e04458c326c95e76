//! Random programs: our statements against plain `let`, replay against run, derivatives against differences, printed
//! formulas against values.

use super::check::{Ran, library, run_in, spoken};
use crankline_engine::outcome::Value;
use crankline_engine::tape::{Forward, Replay, Reverse, Slot};
use proptest::prelude::*;

const INPUTS: [(&str, f64); 3] = [("a", 1.7), ("b", -0.6), ("c", 3.2)];

/// An expression of three plain inputs and of `names` before it, finite and smooth near the values it is tried at.
fn expression(names: usize) -> impl Strategy<Value = String> {
    let leaf = prop_oneof![
        3 => prop::sample::select(&["a", "b", "c"]).prop_map(str::to_owned),
        1 => prop::sample::select(&["2", "0.5", "3", "1.25", "7"]).prop_map(str::to_owned),
        2 => (0..names.max(1)).prop_map(move |nth| if names == 0 { "a".to_owned() } else { format!("s{nth}") }),
    ];
    leaf.prop_recursive(4, 20, 2, |inner| {
        let pair = (inner.clone(), prop::sample::select(&["+", "-", "*"]), inner.clone());
        prop_oneof![
            4 => pair.prop_map(|(a, sign, b)| format!("({a} {sign} {b})")),
            1 => (inner.clone(), inner.clone()).prop_map(|(a, b)| format!("({a} / (1 + ({b}) ** 2))")),
            1 => inner.clone().prop_map(|a| format!("sin(({a}) * 1.rad)")),
            1 => inner.clone().prop_map(|a| format!("sqrt(1 + ({a}) ** 2)")),
            1 => inner.clone().prop_map(|a| format!("exp(-(({a}) ** 2))")),
            1 => inner.clone().prop_map(|a| format!("(({a}) ** 3)")),
            1 => inner.clone().prop_map(|a| format!("-({a})")),
            1 => inner.prop_map(|a| format!("integrate(|x| x * x + ({a}), 0, 1)")),
        ]
    })
}

fn program() -> impl Strategy<Value = Vec<String>> {
    (expression(0), expression(1), expression(2), expression(3)).prop_map(|(a, b, c, d)| vec![a, b, c, d])
}

fn written(steps: &[String], word: &str) -> String {
    let inputs: String = INPUTS
        .map(|(name, value)| format!("input {name} = {value:?};\n"))
        .concat();
    let steps: Vec<String> = steps
        .iter()
        .enumerate()
        .map(|(nth, expression)| format!("{word} s{nth} = {expression};\n"))
        .collect();
    inputs + steps.concat().as_str()
}

/// Values and slots of the steps whose names start with `s`; numbers that depend on nothing have no slot.
fn results(ran: &Ran) -> Vec<(f64, Option<Slot>)> {
    let value = |value: &Value| match value {
        Value::Amount(amount) => (amount.si, amount.slot),
        #[allow(clippy::cast_precision_loss)]
        Value::Count(count) => (*count as f64, None),
        other => panic!("{other:?}"),
    };
    ran.outcome.steps.iter().map(|step| value(&step.value)).collect()
}

/// Programs that overflow are no matter here.
fn ran(script: &str) -> Option<Ran> {
    run_in(&library(), script)
        .ok()
        .filter(|ran| results(ran).iter().all(|(value, _)| value.abs() < 1e6))
}

fn cases() -> ProptestConfig {
    ProptestConfig {
        cases: 96,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn statements_change_no_number(steps in program()) {
        let Some(stated) = ran(&written(&steps, "step")) else { return Ok(()) };
        let shown: String = (0..steps.len()).map(|nth| format!("step r{nth} = s{nth};\n")).collect();
        let plain = ran(&(written(&steps, "let") + shown.as_str())).unwrap();
        let bits = |ran: &Ran| results(ran).iter().map(|(value, _)| value.to_bits()).collect::<Vec<_>>();
        prop_assert_eq!(bits(&stated), bits(&plain));
    }

    /// The tape replayed at other values gives the bits of the script run with them.
    #[test]
    fn a_replay_gives_the_same_bits(steps in program(), moved in prop::array::uniform3(-2.0..2.0_f64)) {
        let script = written(&steps, "step");
        let Some(first) = ran(&script) else { return Ok(()) };
        let mut other = script;
        for ((name, value), moved) in INPUTS.iter().zip(moved) {
            other = other.replace(&format!("input {name} = {value:?};"), &format!("input {name} = {moved:?};"));
        }
        let Some(second) = ran(&other) else { return Ok(()) };
        let mut replay = Replay::new(&first.tape);
        let values = replay.run(&moved).unwrap();
        for ((_, slot), (expected, _)) in results(&first).into_iter().zip(results(&second)) {
            if let Some(slot) = slot {
                prop_assert_eq!(values[slot as usize].to_bits(), expected.to_bits());
            }
        }
    }

    #[test]
    fn derivatives_agree(steps in program()) {
        let Some(ran) = ran(&written(&steps, "step")) else { return Ok(()) };
        let Some((_, Some(slot))) = results(&ran).last().copied() else { return Ok(()) };
        let at = INPUTS.map(|(_, value)| value);
        let mut replay = Replay::new(&ran.tape);
        let values = replay.run(&at).unwrap().to_vec();
        let reverse = Reverse::of(&ran.tape, &values, &[(slot, 1.0)]);
        for input in 0..at.len() {
            let forward = Forward::of(&ran.tape, &values, input).slot(slot);
            let backward = reverse.slot(ran.tape.inputs[input]);
            prop_assert!((forward - backward).abs() <= 1e-9 * (1.0 + forward.abs()), "{forward} {backward}");
            let mut moved = |by: f64| {
                let mut point = at;
                point[input] += by;
                replay.run(&point).unwrap()[slot as usize]
            };
            let step = 1e-5;
            let wide = (moved(2.0 * step) - moved(-2.0 * step)) / (4.0 * step);
            let narrow = (moved(step) - moved(-step)) / (2.0 * step);
            // A sine of something huge turns many times within a step: there a difference says nothing, and two may agree
            // by chance. Such a slope is too steep for the step.
            let height = 1.0 + values[slot as usize].abs();
            let size = height + forward.abs();
            if (wide - narrow).abs() > 1e-4 * size || forward.abs() * step > 1e-2 * height {
                continue;
            }
            // Richardson's extrapolation of central differences.
            let expected = (4.0 * narrow - wide) / 3.0;
            prop_assert!((forward - expected).abs() <= 1e-3 * size, "{forward} {expected}");
        }
    }

    /// A formula with its numbers put in is one that gives the step's value, to the digits printed.
    #[test]
    fn a_printed_formula_reads_back(steps in program()) {
        let Some(first) = ran(&written(&steps, "step")) else { return Ok(()) };
        for (step, (value, _)) in first.outcome.steps.iter().zip(results(&first)) {
            let printed = exact(step);
            if printed.contains('…') {
                continue;
            }
            let again = printed.replace('×', "*").replace('^', "**");
            let again = run_in(&library(), &format!("step again = {again};"));
            let again = again.map_err(|error| TestCaseError::fail(format!("{}\n{error}", spoken(&step.substituted))))?;
            let again = results(&again)[0].0;
            prop_assert!((again - value).abs() <= 1e-9 * (1.0 + value.abs()), "{} is {value}, printed it is {again}", printed);
        }
    }
}

/// The formula with every number in all its digits: as far as printing goes, signs and brackets are what is tried.
fn exact(step: &crankline_engine::outcome::Step) -> String {
    step.substituted.in_words(
        |amount| match amount.dimension == crankline_engine::quantity::Dimension::ANGLE {
            true => format!("{:?}.rad", amount.si),
            false => format!("{:?}", amount.si + 0.0),
        },
    )
}
