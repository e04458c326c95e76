//! The load case for which something is largest.

use super::results::solution;
use crate::diagnostic::Refusal;
use crate::quantity::Quantity;
use crate::script::native::Functions;
use crate::script::value::{self, settle, thrown};
use crate::structure::CaseResults;
use crate::tape::Number;
use rhai::{Dynamic, EvalAltResult, FnPtr, Map, NativeCallContext};

type Thrown<T> = Result<T, Box<EvalAltResult>>;

pub(super) fn add(functions: &mut Functions) {
    functions.add_with_context(
        "results.worst(closure)",
        "The load case for which a closure of its results is largest: #{load_case, value}, its name and that value: \
         r.worst(|c| c.max_von_mises([\"m1\"])). Which case it is belongs to the path of a study.",
        worst,
    );
}

fn worst(context: &NativeCallContext<'_>, a: &[Dynamic]) -> Thrown<Map> {
    let solution = solution(&a[0]).map_err(thrown)?;
    let closure: FnPtr = value::typed(&a[1], "the argument of worst", "a closure, |c| …").map_err(thrown)?;
    let (mut kind, mut stopped): (Option<Quantity>, _) = (None, None);
    let found = solution.worst(|case| {
        let called = call(context, &closure, case).and_then(|value| alike(&mut kind, value).map_err(thrown));
        called.map_err(|error| {
            stopped = Some(error);
            Refusal::new("closure", "the closure stopped")
        })
    });
    // The closure's own error, with its place, says more than that it stopped.
    if let Some(error) = stopped {
        return Err(error);
    }
    let (case, number) = found.map_err(thrown)?;
    settle(Ok(Dynamic::UNIT)).map(drop)?;
    let value = kind.map_or_else(|| Quantity::plain(0.0), |kind| kind.with_number(number));
    Ok(Map::from([
        ("load_case".into(), Dynamic::from(case.name().to_owned())),
        ("value".into(), Dynamic::from(value)),
    ]))
}

fn call(context: &NativeCallContext<'_>, closure: &FnPtr, case: &CaseResults) -> Thrown<Quantity> {
    let value: Dynamic = closure.call_within_context(context, (case.clone(),))?;
    value::quantity(&value, "what the closure gives").map_err(thrown)
}

/// The number of a value that measures the same as those before it.
fn alike(kind: &mut Option<Quantity>, value: Quantity) -> Result<Number, Refusal> {
    kind.get_or_insert(value).same_kind(value, "compare")?;
    Ok(value.number())
}
