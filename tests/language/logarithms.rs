//! Decimal logarithms.

use super::check::{found, run, step};
use crankline_engine::outcome::Value;
use crankline_engine::tape::{Forward, Replay};

#[test]
fn a_decimal_logarithm_is_exact_at_powers_of_ten() {
    for power in -307..=308 {
        let ran = run(&format!(
            "input x = 1e{power}; step y = log10(x); step z = whole(log10(1e{power}));"
        ));
        assert_eq!(step(&ran, "y"), f64::from(power), "1e{power}");
        assert_eq!(step(&ran, "z"), f64::from(power), "1e{power}");
        let values = Replay::new(&ran.tape)
            .run(&[format!("1e{power}").parse().unwrap()])
            .unwrap()
            .to_vec();
        let Value::Amount(found) = found(&ran, "y") else {
            panic!("a number")
        };
        let slot = found.slot.unwrap();
        assert_eq!(values[slot as usize], f64::from(power));
        let x: f64 = format!("1e{power}").parse().unwrap();
        let slope = Forward::of(&ran.tape, &values, 0).slot(slot);
        assert!((slope * x * std::f64::consts::LN_10 - 1.0).abs() < 1e-14, "1e{power}");
    }
    let ran = run("input x = 1001.0; step y = log10(x);");
    // Correctly rounded, from an arbitrary precision library.
    assert!((step(&ran, "y") - 3.000_434_077_479_319).abs() < 1e-15);
}
