//! Functions of numbers and lists of numbers.

use super::geometry;
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity, Scale};
use crate::script::native::Functions;
use crate::script::{closure, coordinates, stated, value};
use crate::tape::{self, Number, Relation};
use rhai::Dynamic;

type Result<T> = std::result::Result<T, Refusal>;

pub(super) fn add(functions: &mut Functions) {
    functions.concept("numbers");
    one_number(functions);
    super::hyperbolic::add(functions);
    angles(functions);
    lists(functions);
    rounding(functions);
    choices(functions);
    closures(functions);
    turning(functions);
}

pub(super) fn plain(number: Number) -> Dynamic {
    Dynamic::from(Quantity::of(number, Dimension::NONE))
}

fn one_number(functions: &mut Functions) {
    functions.add("abs(x)", "The size of x without its sign. Any dimension.", |a| {
        if let Ok(whole) = a[0].as_int() {
            return Ok(Dynamic::from(whole.saturating_abs()));
        }
        value::quantity(&a[0], "x")?.abs().map(Dynamic::from)
    });
    functions.add("sign(x)", "1, 0 or -1. Any dimension.", |a| {
        let x = value::quantity(&a[0], "x")?;
        differences_only(&[x])?;
        let (zero, one) = (Number::ZERO, Number::ONE);
        let below = tape::if_less(x.number(), zero, -one, zero);
        Ok(plain(tape::if_less(zero, x.number(), one, below)))
    });
    functions.add(
        "sqrt(x)",
        "Square root; the powers of the unit are halved. A negative x is refused.",
        |a| value::quantity(&a[0], "x")?.sqrt().map(Dynamic::from),
    );
    functions.add(
        "cbrt(x)",
        "Cube root, of a negative x too; the powers of the unit are divided by three.",
        |a| value::quantity(&a[0], "x")?.cbrt().map(Dynamic::from),
    );
    functions.add("exp(x)", "e to the power x, a plain number.", |a| {
        Ok(plain(tape::exp(value::number(
            &a[0],
            Dimension::NONE,
            "the argument of exp",
        )?)))
    });
    functions.add("ln(x)", "Natural logarithm of a plain number above 0.", |a| {
        Ok(plain(tape::ln(positive(&a[0], "the argument of ln")?)))
    });
    functions.add(
        "log10(x)",
        "Decimal logarithm of a plain number above 0, exact at the powers of ten.",
        |a| Ok(plain(decimal_logarithm(positive(&a[0], "the argument of log10")?))),
    );
    functions.add("PI()", "The circle's ratio; write `PI`.", |_| {
        Ok(Dynamic::from(std::f64::consts::PI))
    });
}

/// By what share of it the nearest f64 lies above ln 10 = 2.302585092994045684….
const LN_10_IS_HIGH_BY: f64 = 9.427_474_493_720_536e-17;

/// ln x/ln 10, moved onto a whole number that it misses by its last bit: log10(1000) is 3. What moves it has no
/// derivative, so that the slope stays that of the logarithm.
fn decimal_logarithm(x: Number) -> Number {
    let near = tape::ln(x) / Number::constant(std::f64::consts::LN_10);
    let near = near + near * LN_10_IS_HIGH_BY;
    let whole = tape::floor(near + 0.5);
    let size = tape::abs(whole);
    // Between half a step of the last bit and one and a half, whatever the whole number.
    let step = size * 1.5e-16;
    let zero = Number::constant(0.0);
    let up = tape::if_less(near, whole, step, zero);
    let by = tape::if_less(whole, near, -step, up);
    near + tape::if_less(tape::abs(near - whole), size * 2.5e-16, by, zero)
}

fn positive(argument: &Dynamic, what: &str) -> Result<Number> {
    let x = value::quantity(argument, what)?;
    x.expect(Dimension::NONE, what)?;
    x.require(Relation::Less, Quantity::plain(f64::MAX), || {
        Refusal::new("range", format!("{what} is too large"))
    })?;
    Quantity::plain(0.0).require(Relation::Less, x, || {
        Refusal::new("range", format!("{what} must be above 0, this is {}", x.shown()))
    })?;
    Ok(x.number())
}

fn angles(functions: &mut Functions) {
    for (name, about, function) in [
        ("sin", "Sine of an angle.", tape::sin as fn(Number) -> Number),
        ("cos", "Cosine of an angle.", tape::cos),
        ("tan", "Tangent of an angle.", |angle| {
            tape::sin(angle) / tape::cos(angle)
        }),
    ] {
        functions.add(&format!("{name}(angle)"), about, move |a| {
            Ok(plain(function(angle(&a[0], name)?)))
        });
    }
    for (name, about, function) in [
        (
            "asin",
            "The angle whose sine is x, from -90° to 90°; x from -1 to 1.",
            tape::asin as fn(Number) -> Number,
        ),
        (
            "acos",
            "The angle whose cosine is x, from 0° to 180°; x from -1 to 1.",
            tape::acos,
        ),
    ] {
        functions.add(&format!("{name}(x)"), about, move |a| {
            let what = format!("the argument of {name}");
            let x = value::quantity(&a[0], &what)?;
            let number = x.expect(Dimension::NONE, &what)?;
            let outside = || Refusal::new("range", format!("{what} must lie from -1 to 1, this is {}", x.shown()));
            Quantity::plain(-1.0).require(Relation::LessOrEqual, x, outside)?;
            x.require(Relation::LessOrEqual, Quantity::plain(1.0), outside)?;
            Ok(Dynamic::from(Quantity::of(function(number), Dimension::ANGLE)))
        });
    }
    functions.add("atan(x)", "The angle whose tangent is x, from -90° to 90°.", |a| {
        let x = value::number(&a[0], Dimension::NONE, "the argument of atan")?;
        Ok(Dynamic::from(Quantity::of(
            tape::atan2(x, Number::ONE),
            Dimension::ANGLE,
        )))
    });
    functions.add(
        "atan2(y, x)",
        "The angle of the point (x, y) from the x axis, from -180° to 180°; 0 at the origin. x and y of one kind.",
        |a| {
            let (y, x) = (value::quantity(&a[0], "y")?, value::quantity(&a[1], "x")?);
            differences_only(&[y, x])?;
            y.same_kind(x, "compare")?;
            Ok(Dynamic::from(Quantity::of(
                tape::atan2(y.number(), x.number()),
                Dimension::ANGLE,
            )))
        },
    );
}

fn angle(argument: &Dynamic, function: &str) -> Result<Number> {
    let x = value::quantity(argument, "this")?;
    x.expect(Dimension::ANGLE, &format!("the argument of {function}"))
}

/// One list, or the arguments themselves, as quantities of one kind.
fn alike(arguments: &[Dynamic], verb: &str) -> Result<Vec<Quantity>> {
    let list = match arguments {
        [only] if only.is_array() => value::list(only, "this")?,
        several => several.to_vec(),
    };
    // The sum of nothing is a zero of the others' kind.
    let known = list.iter().find(|item| !item.is::<value::EmptySum>()).cloned();
    let kind = known.as_ref().and_then(value::as_quantity);
    let quantities: Vec<Quantity> = list
        .iter()
        .map(|item| match kind {
            Some(kind) if item.is::<value::EmptySum>() => Ok(value::zero_like(kind)),
            _ => value::quantity(item, "an item of the list"),
        })
        .collect::<Result<_>>()?;
    for pair in quantities.windows(2) {
        pair[0].same_kind(pair[1], verb)?;
        if pair[0].scale() != pair[1].scale() {
            let message = "temperatures on the scale and differences are mixed in this list";
            return Err(Refusal::new("temperature", message));
        }
    }
    Ok(quantities)
}

/// Refuses points on the temperature scale where only a difference has a size or a direction.
fn differences_only(quantities: &[Quantity]) -> Result<()> {
    quantities.iter().try_for_each(|quantity| quantity.abs().map(|_| ()))
}

fn numbers_of(quantities: &[Quantity]) -> Vec<Number> {
    quantities.iter().map(|quantity| quantity.number()).collect()
}

fn first_of(quantities: &[Quantity], what: &str) -> Result<Quantity> {
    quantities
        .first()
        .copied()
        .ok_or_else(|| Refusal::new("empty list", format!("an empty list has no {what}")))
}

fn lists(functions: &mut Functions) {
    for (name, what, function) in [
        ("min", "smallest", tape::min as fn(Number, Number) -> Number),
        ("max", "largest", tape::max),
    ] {
        for signature in [format!("{name}(list)"), format!("{name}(a, b[, c, d])")] {
            functions.add(
                &signature,
                &format!("The {what} of quantities of one kind."),
                move |a| {
                    let quantities = alike(a, "compare")?;
                    let first = first_of(&quantities, what)?;
                    let chosen = quantities[1..]
                        .iter()
                        .fold(first.number(), |so_far, next| function(so_far, next.number()));
                    Ok(Dynamic::from(first.with_number(chosen)))
                },
            );
        }
    }
    functions.add(
        "sum(list)",
        "The sum of quantities or vectors of one kind; of an empty list a zero of any kind.",
        |a| {
            if let Some(list) = places(&a[0]) {
                return geometry::sum_of_vectors(&list);
            }
            let quantities = alike(a, "add")?;
            let Some(first) = quantities.first() else {
                return Ok(Dynamic::from(value::EmptySum));
            };
            if first.scale() == Scale::Point {
                return first.add(*first).map(Dynamic::from);
            }
            Ok(Dynamic::from(first.with_number(tape::sum(&numbers_of(&quantities)))))
        },
    );
    functions.add(
        "mean(list)",
        "The mean of quantities, vectors or points of one kind; temperatures too.",
        |a| {
            if let Some(list) = places(&a[0]) {
                return geometry::mean_of_places(&list);
            }
            let quantities = alike(a, "add")?;
            let first = first_of(&quantities, "mean")?;
            #[allow(clippy::cast_precision_loss, reason = "a list is far shorter than 2^53")]
            let count = quantities.len() as f64;
            Ok(Dynamic::from(
                first.with_number(tape::sum(&numbers_of(&quantities)) / count),
            ))
        },
    );
    functions.add(
        "hypot(a, b[, c])",
        "The square root of the sum of the squares, of one kind; also of a list.",
        |a| {
            let quantities = alike(a, "add")?;
            differences_only(&quantities)?;
            let first = first_of(&quantities, "size")?;
            Ok(Dynamic::from(first.with_number(tape::norm(&numbers_of(&quantities)))))
        },
    );
    functions.add(
        "hypot(list)",
        "The square root of the sum of the squares of a list.",
        |a| {
            let quantities = alike(a, "add")?;
            differences_only(&quantities)?;
            let first = first_of(&quantities, "size")?;
            Ok(Dynamic::from(first.with_number(tape::norm(&numbers_of(&quantities)))))
        },
    );
    functions.add("sort(list)", "The quantities of a list in rising order.", |a| {
        let quantities = alike(a, "compare")?;
        let Some(first) = quantities.first().copied() else {
            return Ok(a[0].clone());
        };
        let sorted = tape::sort(&numbers_of(&quantities));
        let sorted: Vec<Dynamic> = sorted
            .into_iter()
            .map(|number| Dynamic::from(first.with_number(number)))
            .collect();
        Ok(Dynamic::from(sorted))
    });
    functions.add(
        "linspace(a, b, count)",
        "A list of evenly spaced quantities from a to b, both included.",
        |a| {
            let (from, to) = (value::quantity(&a[0], "a")?, value::quantity(&a[1], "b")?);
            from.same_sort(to, "space")?;
            let count = value::count(&a[2], "count", 2..=10_000)?;
            #[allow(clippy::cast_precision_loss, reason = "at most 10000")]
            let share = |k: i64| k as f64 / (count - 1) as f64;
            let span = to.number() - from.number();
            let item = |k: i64| {
                if k == count - 1 {
                    to
                } else {
                    from.with_number(from.number() + span * share(k))
                }
            };
            Ok(Dynamic::from(
                (0..count).map(|k| Dynamic::from(item(k))).collect::<Vec<_>>(),
            ))
        },
    );
    functions.add(
        "column(table, key)",
        "The values under one key of a list of maps, as a list.",
        |a| {
            let key = value::text(&a[1], "the key")?;
            let rows = value::list(&a[0], "the table")?;
            let cell = |row: &Dynamic| {
                let row = value::map(row, "a row of the table")?;
                let missing = || Refusal::new("unknown name", format!("a row of the table has no `{key}`"));
                row.get(key.as_str()).cloned().ok_or_else(missing)
            };
            Ok(Dynamic::from(rows.iter().map(cell).collect::<Result<Vec<Dynamic>>>()?))
        },
    );
    functions.add(
        "interpolate(xs, ys, x)",
        "The value at x of a curve through points, straight between them. xs must rise; x outside them is refused.",
        |a| {
            let (xs, ys) = (alike(&a[0..1], "compare")?, alike(&a[1..2], "add")?);
            let x = value::quantity(&a[2], "x")?;
            if xs.len() != ys.len() || xs.len() < 2 {
                let message = format!(
                    "a curve needs as many xs as ys, two or more: {} and {}",
                    xs.len(),
                    ys.len()
                );
                return Err(Refusal::new("interpolate", message));
            }
            x.same_sort(xs[0], "compare")?;
            for pair in xs.windows(2) {
                pair[0].require(Relation::Less, pair[1], || {
                    let message = format!("xs must rise: {} follows {}", pair[1].shown(), pair[0].shown());
                    Refusal::new("interpolate", message)
                })?;
            }
            let last = xs[xs.len() - 1];
            let outside = || {
                let message = format!(
                    "{} lies outside the table ({} to {})",
                    x.shown(),
                    xs[0].shown(),
                    last.shown()
                );
                Refusal::new("interpolate", message).hint("a table is not continued beyond its ends")
            };
            xs[0].require(Relation::LessOrEqual, x, outside)?;
            x.require(Relation::LessOrEqual, last, outside)?;
            let number = tape::interpolate(&numbers_of(&xs), &numbers_of(&ys), x.number());
            Ok(Dynamic::from(ys[0].with_number(number)))
        },
    );
}

/// A list that holds points or vectors.
fn places(argument: &Dynamic) -> Option<rhai::Array> {
    let list = argument.read_lock::<rhai::Array>()?;
    coordinates::of(list.first()?).map(|_| list.clone())
}

fn rounding(functions: &mut Functions) {
    for (name, about, function) in [
        (
            "floor",
            "The largest whole number that is not above x.",
            tape::floor as fn(Number) -> Number,
        ),
        ("ceil", "The smallest whole number that is not below x.", |x| {
            -tape::floor(-x)
        }),
        ("round", "The nearest whole number; a half goes up.", |x| {
            tape::floor(x + 0.5)
        }),
    ] {
        functions.add(&format!("{name}(x)"), about, move |a| {
            let what = format!("the argument of {name}");
            let number = value::number(&a[0], Dimension::NONE, &what)
                .map_err(|refusal| refusal.hint(format!("{name}(value_in(x, \"mm\"))")))?;
            Ok(plain(function(number)))
        });
    }
    functions.add(
        "whole(q)",
        "The whole number k with k <= q < k + 1, for an index or a loop. The result no longer depends on readings.",
        |a| value::quantity(&a[0], "q")?.whole().map(Dynamic::from),
    );
    functions.add(
        "uncertainty(q)",
        "The standard uncertainty of a stated reading, as a fixed number.",
        |a| stated::uncertainty(&a[0]),
    );
    functions.add(
        "readings(list[, plus_minus])",
        "Mean and scatter of repeats, combined with the instrument's ±.",
        |a| stated::readings(&a[0], a.get(1)),
    );
}

fn choices(functions: &mut Functions) {
    functions.add(
        "clamp(x, low, high)",
        "x, but not below low nor above high. All of one kind.",
        |a| {
            let quantities = alike(a, "compare")?;
            let [x, low, high] = quantities[..] else {
                return Err(Refusal::new("arguments", "clamp needs x, low and high"));
            };
            low.require(Relation::LessOrEqual, high, || {
                Refusal::new(
                    "range",
                    format!("low ({}) is above high ({})", low.shown(), high.shown()),
                )
            })?;
            Ok(Dynamic::from(x.with_number(tape::min(
                tape::max(x.number(), low.number()),
                high.number(),
            ))))
        },
    );
    functions.add(
        "if_less(a, b, then, otherwise)",
        "`then` where a < b, else `otherwise`: a choice that stays with the readings. a and b of one kind, so the others.",
        |a| {
            let (left, right) = (value::quantity(&a[0], "a")?, value::quantity(&a[1], "b")?);
            left.same_sort(right, "compare")?;
            let (then, otherwise) = (value::quantity(&a[2], "then")?, value::quantity(&a[3], "otherwise")?);
            then.same_sort(otherwise, "choose between")?;
            let number = tape::if_less(left.number(), right.number(), then.number(), otherwise.number());
            Ok(Dynamic::from(then.with_number(number)))
        },
    );
}

fn closures(functions: &mut Functions) {
    closure::add(functions);
}

fn turning(functions: &mut Functions) {
    functions.add(
        "turn_rate(omega)",
        "Turns per second of an angular speed, a plain rate.",
        |a| {
            let omega = value::number(&a[0], Dimension::ANGULAR_SPEED, "the angular speed")?;
            Ok(Dynamic::from(Quantity::of(
                omega / std::f64::consts::TAU,
                Dimension::RATE,
            )))
        },
    );
    functions.add(
        "angular_speed(rate)",
        "The angular speed of so many turns per second.",
        |a| {
            let rate = value::number(&a[0], Dimension::RATE, "the rate")?;
            Ok(Dynamic::from(Quantity::of(
                rate * std::f64::consts::TAU,
                Dimension::ANGULAR_SPEED,
            )))
        },
    );
    functions.add(
        "rim_speed(omega, radius)",
        "The speed of a rim: angular speed times radius.",
        |a| {
            let omega = value::number(&a[0], Dimension::ANGULAR_SPEED, "the angular speed")?;
            let radius = value::number(&a[1], Dimension::LENGTH, "the radius")?;
            Ok(Dynamic::from(Quantity::of(omega * radius, Dimension::SPEED)))
        },
    );
    functions.add(
        "absolute(t)",
        "A temperature counted from absolute zero, for radiation and gas laws.",
        |a| {
            let t = value::quantity(&a[0], "t")?;
            if t.scale() != Scale::Point {
                return Err(Refusal::new(
                    "temperature",
                    format!("{} is no temperature on the scale", t.described()),
                ));
            }
            Ok(Dynamic::from(Quantity::of(t.number(), Dimension::TEMPERATURE)))
        },
    );
}
