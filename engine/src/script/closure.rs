//! Functions that work on a closure: it is called once, with a symbol for its argument.

use super::native::Functions;
use super::value::{self, thrown};
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{self, Fault, Number, Stop, take_fault};
use rhai::{Dynamic, EvalAltResult, FnPtr, NativeCallContext};

type Thrown<T> = Result<T, Box<EvalAltResult>>;
type Solver = fn(Number, Number, &mut dyn FnMut(Number) -> Thrown<Number>) -> Thrown<Number>;

pub(crate) fn add(functions: &mut Functions) {
    functions.add_with_context(
        "root(closure, low, high)",
        "Where a closure of one quantity is zero between low and high. It must change sign between them.",
        |context, a| {
            let (x, _) = solve(context, a, |low, high, f| tape::root(low, high, f))?;
            Ok(x)
        },
    );
    functions.add_with_context(
        "maximum(closure, low, high)",
        "The largest value of a closure of one quantity between low and high, both included.",
        |context, a| extreme(context, a, |low, high, f| tape::maximum(low, high, f)),
    );
    functions.add_with_context(
        "minimum(closure, low, high)",
        "The smallest value of a closure of one quantity between low and high, both included.",
        |context, a| extreme(context, a, |low, high, f| tape::minimum(low, high, f)),
    );
    functions.add_with_context(
        "integrate(closure, from, to)",
        "The integral of a closure of one quantity. The rule is fixed (16 panels of 8 Gauss points): exact to rounding for \
         smooth closures, to some 1e-4 where one bends. One that has a pole, jumps far or swings more than some sixteen \
         times is refused.",
        |context, a| {
            let (sum, result) = solve(context, a, |low, high, f| tape::integrate(low, high, f))?;
            let dimension = result
                .product(sum.dimension())
                .ok_or_else(|| thrown(Refusal::new("dimension", "the power of a unit leaves what is counted")))?;
            Ok(Quantity::of(sum.number(), dimension))
        },
    );
}

fn extreme(context: &NativeCallContext<'_>, a: &[Dynamic], solver: Solver) -> Thrown<Quantity> {
    let (value, result) = solve(context, a, solver)?;
    Ok(Quantity::of(value.number(), result))
}

/// The solver's number with the dimension of the interval, and the dimension of the closure's result.
fn solve(context: &NativeCallContext<'_>, a: &[Dynamic], solver: Solver) -> Thrown<(Quantity, Dimension)> {
    let closure: FnPtr = value::typed(&a[0], "the first argument", "a closure, |x| …").map_err(thrown)?;
    let low = value::quantity(&a[1], "low").map_err(thrown)?;
    let high = value::quantity(&a[2], "high").map_err(thrown)?;
    low.same_kind(high, "search between").map_err(thrown)?;
    let mut result = Dimension::NONE;
    let mut call = |x: Number| {
        let value: Dynamic = closure.call_within_context(context, (Dynamic::from(low.with_number(x)),))?;
        let value = value::quantity(&value, "what the closure gives").map_err(thrown)?;
        result = value.dimension();
        Ok(value.number())
    };
    let number = solver(low.number(), high.number(), &mut call)?;
    if let Some(fault) = take_fault() {
        return Err(thrown(stopped(&fault, (low, high), result)));
    }
    Ok((low.with_number(number), result))
}

/// Why a closure could not be solved, in the script's units.
fn stopped(fault: &Fault, (low, high): (Quantity, Quantity), result: Dimension) -> Refusal {
    match fault {
        Fault::Stopped(Stop::NoSignChange {
            low: first,
            high: second,
        }) => {
            let value = |si: f64| Quantity::constant(si, result).shown();
            let message = format!(
                "there is no root between the two ends, or an even number of them: the closure gives {} at {} and {} at {}",
                value(*first),
                low.shown(),
                value(*second),
                high.shown()
            );
            Refusal::new("refused", message)
        }
        Fault::Stopped(Stop::Unsettled) => {
            let message =
                "an integral does not settle: between its ends the closure has a pole, jumps or swings too often";
            Refusal::new("refused", message)
                .hint("over a pole there is no integral; at a jump, split it: integrate(f, a, b) + integrate(f, b, c)")
        }
        other => value::of_fault(other),
    }
}
