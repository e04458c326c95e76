//! Hyperbolic functions, made of exponentials.

use super::numbers::plain;
use crate::quantity::Dimension;
use crate::script::native::Functions;
use crate::script::value;
use crate::tape::{self, Number};

/// Definitions by exponentials: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 4.5.1 to 4.5.3.
pub(super) fn add(functions: &mut Functions) {
    for (name, about, function) in [
        (
            "sinh",
            "Hyperbolic sine of a plain number from -709 to 709.",
            sinh as fn(Number) -> Number,
        ),
        (
            "cosh",
            "Hyperbolic cosine of a plain number from -709 to 709: a hanging chain's shape.",
            cosh,
        ),
        ("tanh", "Hyperbolic tangent of a plain number.", tanh),
    ] {
        functions.add(&format!("{name}(x)"), about, move |a| {
            let what = format!("the argument of {name}");
            let x = value::number(&a[0], Dimension::NONE, &what)?;
            Ok(plain(function(x)))
        });
    }
}

/// (eˣ − e⁻ˣ)/2; near zero, where the two cancel, its series (4.5.62) to the nineteenth power.
fn sinh(x: Number) -> Number {
    let square = x * x;
    let mut series = Number::ONE;
    for power in [19.0, 17.0, 15.0, 13.0, 11.0, 9.0, 7.0, 5.0, 3.0] {
        series = square * series / (power * (power - 1.0)) + 1.0;
    }
    let far = (tape::exp(x) - tape::exp(-x)) * 0.5;
    tape::if_less(tape::abs(x), Number::ONE, x * series, far)
}

/// (eˣ + e⁻ˣ)/2
fn cosh(x: Number) -> Number {
    (tape::exp(x) + tape::exp(-x)) * 0.5
}

/// (1 − t)/(1 + t) with t = e^(−2|x|), and the sign of x: far out it is 1, not a quotient of what is not finite. Near zero
/// sinh x/cosh x.
fn tanh(x: Number) -> Number {
    let size = tape::abs(x);
    let t = tape::exp(size * -2.0);
    let far = (1.0 - t) / (1.0 + t);
    let far = tape::if_less(x, Number::ZERO, -far, far);
    let within = tape::max(tape::min(x, Number::ONE), -Number::ONE);
    tape::if_less(size, Number::ONE, sinh(within) / cosh(within), far)
}
