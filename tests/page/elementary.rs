//! Each elementary function on a hundred thousand numbers of every kind.

use super::node::{bits, run};
use crate::kernel::random::Random;
use crate::tape::batch::operations::SPECIAL;
use crankline_engine::kernel;
use serde_json::{Value, json};

const COUNT: usize = 100_000;

type Function = fn(&[f64]) -> f64;

/// By name, how many numbers it takes.
const FUNCTIONS: [(&str, usize, Function); 19] = [
    ("sin", 1, |a| kernel::sin(a[0])),
    ("cos", 1, |a| kernel::cos(a[0])),
    ("asin", 1, |a| kernel::asin(a[0])),
    ("acos", 1, |a| kernel::acos(a[0])),
    ("atan2", 2, |a| kernel::atan2(a[0], a[1])),
    ("exp", 1, |a| kernel::exp(a[0])),
    ("ln", 1, |a| kernel::ln(a[0])),
    ("pow", 2, |a| kernel::pow(a[0], a[1])),
    ("cbrt", 1, |a| kernel::cbrt(a[0])),
    ("sqrt", 1, |a| kernel::sqrt(a[0])),
    ("floor", 1, |a| kernel::floor(a[0])),
    ("minOf", 2, |a| kernel::min(a[0], a[1])),
    ("maxOf", 2, |a| kernel::max(a[0], a[1])),
    ("norm", 1, kernel::norm),
    ("norm", 2, kernel::norm),
    ("norm", 3, kernel::norm),
    ("norm", 4, kernel::norm),
    ("normalQuantile", 1, |a| kernel::normal_quantile(a[0])),
    ("studentQuantile", 2, |a| kernel::student_quantile(a[0], freedoms(a[1]))),
];

/// Degrees of freedom, from any number: as the driver makes them.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a whole number below 40"
)]
fn freedoms(number: f64) -> u32 {
    (number.abs() % 40.0) as u32
}

/// A number of any kind: by its bits, near 1, of the size that angles and lengths have, special.
fn any(random: &mut Random) -> f64 {
    match random.below(6) {
        0 => f64::from_bits(random.bits()),
        1 => random.between(-1.0, 1.0),
        2 => random.between(-750.0, 750.0),
        3 => random.between(0.999, 1.001),
        4 => SPECIAL[random.below(SPECIAL.len())],
        _ => random.between(-1e8, 1e8),
    }
}

#[test]
fn elementary_functions_have_the_engines_bits() {
    let mut random = Random::new(2027);
    let case = |(name, takes, function): (&str, usize, Function)| -> Value {
        let given: Vec<f64> = (0..takes * COUNT)
            .map(|number| {
                let value = any(&mut random);
                // Most powers of numbers of any kind are NaN, or nothing, or beyond all.
                match (name, number % 8) {
                    ("pow", 0 | 2) => value.abs(),
                    ("pow", 1 | 5) => value % 16.0,
                    ("normalQuantile", _) | ("studentQuantile", 0 | 2 | 4) => value.abs() % 1.0,
                    _ => value,
                }
            })
            .collect();
        let expected: Vec<f64> = given.chunks_exact(takes).map(function).collect();
        json!({ "name": name, "takes": takes, "given": bits(&given), "expected": bits(&expected) })
    };
    let cases: Vec<Value> = FUNCTIONS.into_iter().map(case).collect();
    run("elementary.mjs", "elementary", &cases.into());
}
