//! What signs do with plain numbers, quantities and texts.

use crate::diagnostic::Refusal;
use crate::outcome::Comparison;
use crate::quantity::{Dimension, Quantity};
use crate::script::native::Functions;
use crate::script::value::EmptySum;
use crate::script::{run, stated, value, wording};
use crate::tape::Relation;
use rhai::{Dynamic, FLOAT, INT, ImmutableString, NativeCallContext};
use std::any::TypeId;

type Result<T> = std::result::Result<T, Refusal>;

pub(super) fn add(functions: &mut Functions) {
    let numeric = [
        TypeId::of::<INT>(),
        TypeId::of::<FLOAT>(),
        TypeId::of::<Quantity>(),
        TypeId::of::<EmptySum>(),
    ];
    for left in numeric {
        for right in numeric {
            let types = [Some(left), Some(right)];
            let whole = left == numeric[0] && right == numeric[0];
            for sign in ["+", "-", "/", "%", "**"] {
                functions.operator(sign, types, move |a| arithmetic(sign, whole, &a[0], &a[1]));
            }
            functions.operator_with_place("*", types, move |place, a| {
                note_plain_rate(place, &a[0], &a[1]);
                arithmetic("*", whole, &a[0], &a[1])
            });
            for comparison in ["<", "<=", ">", ">=", "==", "!="]
                .into_iter()
                .filter_map(Comparison::of)
            {
                functions.operator(comparison.sign(), types, move |a| {
                    let (left, right) = operands(&a[0], &a[1])?;
                    compare(left, comparison, right).map(Dynamic::from)
                });
            }
        }
    }
    for sign in ["<", "<=", ">", ">=", "==", "!="] {
        functions.operator(sign, [None, None], move |a| unlike(sign, &a[0], &a[1]));
    }
    add_negation(functions);
    add_text(functions);
    for (word, make) in [
        ("plus_minus", stated::plus_minus as fn(&Dynamic, &Dynamic) -> _),
        ("std_dev", stated::std_dev),
    ] {
        functions.operator(word, [None, None], move |a| make(&a[0], &a[1]));
    }
}

/// Compares through the first door.
pub(crate) fn compare(left: Quantity, comparison: Comparison, right: Quantity) -> Result<bool> {
    // An error names the sides in the order in which they stand.
    left.same_kind(right, "compare")?;
    match comparison {
        Comparison::Less => left.compare(Relation::Less, right),
        Comparison::AtMost => left.compare(Relation::LessOrEqual, right),
        Comparison::More => right.compare(Relation::Less, left),
        Comparison::AtLeast => right.compare(Relation::LessOrEqual, left),
        Comparison::Same => left.compare(Relation::Equal, right),
        Comparison::Different => left.compare(Relation::Equal, right).map(|same| !same),
    }
}

/// What is neither two numbers nor two texts. Left to itself, the language finds unlike things different and says nothing.
fn unlike(sign: &str, left: &Dynamic, right: &Dynamic) -> Result<Dynamic> {
    match (sign, left.as_bool(), right.as_bool()) {
        ("==", Ok(a), Ok(b)) => Ok(Dynamic::from(a == b)),
        ("!=", Ok(a), Ok(b)) => Ok(Dynamic::from(a != b)),
        _ => {
            let (left, right) = (value::described(left), value::described(right));
            let refusal = Refusal::new("type", format!("{left} cannot be compared with {right}"));
            Err(refusal.hint("compare numbers, quantities or texts, one with another"))
        }
    }
}

fn arithmetic(sign: &str, whole: bool, left: &Dynamic, right: &Dynamic) -> Result<Dynamic> {
    if let (true, Ok(a), Ok(b)) = (whole, left.as_int(), right.as_int()) {
        return whole_numbers(sign, a, b);
    }
    // Only where the two must be of one kind does the other say of which kind the sum of nothing is.
    let (a, b) = match sign {
        "+" | "-" | "%" => operands(left, right)?,
        _ => (value::quantity(left, "this")?, value::quantity(right, "this")?),
    };
    let result = match sign {
        "+" => a.add(b)?,
        "-" => a.sub(b)?,
        "*" => a.mul(b)?,
        "/" => a.div(b)?,
        "**" => a.pow(b)?,
        _ => remainder(a, b)?,
    };
    let plain = value::plain_number(left).is_some() && value::plain_number(right).is_some();
    // Plain numbers stay plain: a float of the language has no dimension and depends on no reading.
    if plain {
        Ok(Dynamic::from(result.number().shown()))
    } else {
        Ok(Dynamic::from(result))
    }
}

/// A torque times a plain rate is a power to the dimensions, and 2π too little; an energy times a rate is one. Only the
/// writer knows which it is: it is noted for whoever inspects the script.
fn note_plain_rate(place: &NativeCallContext<'_>, left: &Dynamic, right: &Dynamic) {
    let of = |value: &Dynamic| value.read_lock::<Quantity>().map(|quantity| quantity.dimension());
    let (Some(left), Some(right)) = (of(left), of(right)) else {
        return;
    };
    let is = |one, other| one == Dimension::TORQUE && other == Dimension::RATE;
    if is(left, right) || is(right, left) {
        run::note_plain_rate(place.call_source(), place.call_position());
    }
}

fn operands(left: &Dynamic, right: &Dynamic) -> Result<(Quantity, Quantity)> {
    value::as_pair(left, right).ok_or_else(|| value::wrong(left, "this", "a number or a quantity"))
}

/// a − b·floor(a/b)
fn remainder(a: Quantity, b: Quantity) -> Result<Quantity> {
    a.same_kind(b, "divide")?;
    let times = a.div(b)?;
    let whole = Quantity::plain(0.0).with_number(crate::tape::floor(times.number()));
    a.sub(b.mul(whole)?)
}

/// `7 / 2` is 3.5, and no sum of whole numbers runs over unseen.
fn whole_numbers(sign: &str, a: INT, b: INT) -> Result<Dynamic> {
    let too_large = || Refusal::new("not finite", format!("{a} {sign} {b} is too large to count"));
    #[allow(clippy::cast_precision_loss, reason = "a quotient is a fraction in any case")]
    let (x, y) = (a as FLOAT, b as FLOAT);
    let exact = match sign {
        "+" => a.checked_add(b),
        "-" => a.checked_sub(b),
        "*" => a.checked_mul(b),
        "**" if b >= 0 => u32::try_from(b).ok().and_then(|power| a.checked_pow(power)),
        "**" => {
            return Ok(Dynamic::from(
                Quantity::plain(x).pow(Quantity::plain(y))?.number().shown(),
            ));
        }
        _ if b == 0 => return Err(Refusal::new("division", format!("{a} is divided by zero"))),
        "/" => return Ok(Dynamic::from(x / y)),
        _ => a.checked_rem_euclid(b),
    };
    exact.map(Dynamic::from).ok_or_else(too_large)
}

fn add_negation(functions: &mut Functions) {
    functions.add("-(x)", "The negative.", |a| {
        if let Ok(whole) = a[0].as_int() {
            return whole
                .checked_neg()
                .map(Dynamic::from)
                .ok_or_else(|| Refusal::new("not finite", "this number is too large to count"));
        }
        let negative = value::quantity(&a[0], "this")?.neg()?;
        Ok(if a[0].is_float() {
            Dynamic::from(negative.number().shown())
        } else {
            Dynamic::from(negative)
        })
    });
    functions.add("+(x)", "The same.", |a| Ok(a[0].clone()));
    functions.add("!(x)", "Not: yes where x is no, no where it is yes.", |a| {
        let truth = a[0]
            .as_bool()
            .map_err(|_| value::wrong(&a[0], "what follows `!`", "yes or no"))?;
        Ok(Dynamic::from(!truth))
    });
}

fn add_text(functions: &mut Functions) {
    let text = Some(TypeId::of::<ImmutableString>());
    for sign in ["==", "!=", "<", "<=", ">", ">="] {
        functions.operator(sign, [text, text], move |a| {
            let (left, right) = (value::text(&a[0], "this")?, value::text(&a[1], "this")?);
            let outcome = match sign {
                "==" => left == right,
                "!=" => left != right,
                "<" => left < right,
                "<=" => left <= right,
                ">" => left > right,
                _ => left >= right,
            };
            Ok(Dynamic::from(outcome))
        });
    }
    functions.operator("+", [text, None], |a| joined(&a[0], &a[1]));
    functions.operator("+", [None, text], |a| joined(&a[0], &a[1]));
}

fn joined(left: &Dynamic, right: &Dynamic) -> Result<Dynamic> {
    Ok(Dynamic::from(wording::worded(left)? + wording::worded(right)?.as_str()))
}
