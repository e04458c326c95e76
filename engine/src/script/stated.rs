//! A value with how far it may be off: what `plus_minus`, `std_dev` and `readings` make, for an input to take.

use super::{coordinates, run, value};
use crate::diagnostic::Refusal;
use crate::kernel;
use crate::outcome::Spread;
use crate::quantity::{Quantity, Scale};
use rhai::Dynamic;

type Result<T> = std::result::Result<T, Refusal>;

/// A value as stated by whoever wrote it.
#[derive(Clone, Debug)]
pub(crate) struct Stated {
    /// The value: a quantity, a plain number, a point, a vector or a list.
    pub(crate) value: Dynamic,
    /// How far each number in it may be off, in SI units.
    pub(crate) spread: Spread,
}

/// `x plus_minus y`: limits between which any value is as likely (JCGM 100:2008, 4.3.7).
pub(crate) fn plus_minus(of: &Dynamic, width: &Dynamic) -> Result<Dynamic> {
    let width = width_of(of, width, "plus_minus")?;
    Ok(Dynamic::from(Stated {
        value: of.clone(),
        spread: Spread::Limits(width),
    }))
}

/// `x std_dev s`: a standard uncertainty (JCGM 100:2008, 2.3.1).
pub(crate) fn std_dev(of: &Dynamic, width: &Dynamic) -> Result<Dynamic> {
    let width = width_of(of, width, "std_dev")?;
    Ok(Dynamic::from(Stated {
        value: of.clone(),
        spread: Spread::Standard(width),
    }))
}

/// `readings([a, b, c], plus_minus y)`: the mean of repeats and their scatter, combined with the instrument
/// (JCGM 100:2008, 4.2).
pub(crate) fn readings(repeats: &Dynamic, instrument: Option<&Dynamic>) -> Result<Dynamic> {
    let repeats = value::list(repeats, "the readings")?;
    let first = repeats
        .first()
        .ok_or_else(|| Refusal::new("readings", "there is no reading in this list"))?;
    let first = value::quantity(first, "a reading")?;
    let mut numbers = Vec::new();
    for repeat in &repeats {
        let repeat = value::quantity(repeat, "a reading")?;
        first.same_kind(repeat, "average")?;
        numbers.push(fixed(repeat, "a reading")?);
    }
    let limits = match instrument {
        Some(width) => match width.read_lock::<Stated>() {
            Some(stated) => spread_width(&stated.spread),
            None => width_of(&Dynamic::from(first), width, "plus_minus")?,
        },
        None => 0.0,
    };
    let (mean, spread) = mean_of_repeats(&numbers, limits);
    let value = Dynamic::from(first.with_number(crate::tape::Number::constant(mean)));
    Ok(Dynamic::from(Stated { value, spread }))
}

/// Mean of repeats; s/√n as its scatter, s with n − 1 (JCGM 100:2008, 4.2.2, 4.2.3).
pub(crate) fn mean_of_repeats(numbers: &[f64], limits: f64) -> (f64, Spread) {
    #[allow(clippy::cast_precision_loss, reason = "a list holds far fewer than 2^53 readings")]
    let count = numbers.len() as f64;
    let mean = numbers.iter().sum::<f64>() / count;
    if numbers.len() < 2 {
        return (mean, Spread::Limits(limits));
    }
    let squares: f64 = numbers.iter().map(|number| (number - mean) * (number - mean)).sum();
    let mean_scatter = kernel::sqrt(squares / (count - 1.0) / count);
    let freedoms = u32::try_from(numbers.len() - 1).unwrap_or(u32::MAX);
    (
        mean,
        Spread::Repeats {
            mean_scatter,
            freedoms,
            limits,
        },
    )
}

fn spread_width(spread: &Spread) -> f64 {
    match spread {
        Spread::Exact => 0.0,
        Spread::Limits(width) | Spread::Standard(width) => *width,
        Spread::Repeats { limits, .. } => *limits,
    }
}

/// The ± in SI units; it must have the dimension of what it belongs to, and depend on no reading.
fn width_of(of: &Dynamic, width: &Dynamic, word: &str) -> Result<f64> {
    let width = value::quantity(width, &format!("what follows `{word}`"))?;
    if width.scale() == Scale::Point {
        let message = format!(
            "what follows `{word}` is a difference, {} is a point on the scale",
            width.shown()
        );
        return Err(Refusal::new("temperature", message).hint("2.delta_degC, 2.delta_degF or 2.K"));
    }
    if of.is_int() {
        let message = "a whole number is a count: it has no ±";
        return Err(Refusal::new("count", message).hint(format!("write {of}.0 for a measured number")));
    }
    same_kind(of, width)?;
    let number = fixed(width, "a ±")?;
    if number < 0.0 {
        return Err(Refusal::new(
            "range",
            format!("a ± cannot be negative: {}", width.shown()),
        ));
    }
    Ok(number)
}

/// Refuses a ± that is not of the kind of each number that it belongs to.
fn same_kind(of: &Dynamic, width: Quantity) -> Result<()> {
    if let Some(list) = of.read_lock::<rhai::Array>() {
        return list.iter().try_for_each(|item| same_kind(item, width));
    }
    // A count and a text in a table's row have no ±.
    if let Some(row) = of.read_lock::<rhai::Map>() {
        let mut cells = row.values().filter(|cell| !cell.is_int());
        return cells.try_for_each(|cell| same_kind(cell, width)).map_err(|refusal| {
            refusal.hint("in a table each cell may have its own: thickness: 1.mm plus_minus 0.1.mm")
        });
    }
    let coordinate = || coordinates::of(of).map(|coordinates| coordinates.each[0]);
    match value::as_quantity(of).or_else(coordinate) {
        Some(each) if !each.dimension().is_like(width.dimension()) => {
            let message = format!(
                "the ± of {} must be of the same kind, this is {}",
                value::described(of),
                width.described()
            );
            Err(Refusal::new("dimension", message))
        }
        _ => Ok(()),
    }
}

/// A number that depends on no reading.
pub(crate) fn fixed(quantity: Quantity, what: &str) -> Result<f64> {
    if quantity.number().is_constant() {
        return Ok(quantity.number().shown());
    }
    Err(Refusal::new(
        "fixed",
        format!("{what} must be a fixed number, this one depends on a reading"),
    ))
}

/// The standard uncertainty of a stated reading (JCGM 100:2008, 4.3.7 and 4.2.3; both combined by their squares).
pub(crate) fn standard(spread: &Spread) -> f64 {
    match *spread {
        Spread::Exact => 0.0,
        Spread::Limits(width) => width / kernel::sqrt(3.0),
        Spread::Standard(width) => width,
        Spread::Repeats {
            mean_scatter, limits, ..
        } => kernel::sqrt(mean_scatter * mean_scatter + limits * limits / 3.0),
    }
}

/// `uncertainty(q)`: of what `plus_minus`, `std_dev` or `readings` made, or of an input.
pub(crate) fn uncertainty(argument: &Dynamic) -> Result<Dynamic> {
    if let Some(stated) = argument.read_lock::<Stated>() {
        let of = value::quantity(&stated.value, "the reading")?;
        return Ok(Dynamic::from(Quantity::constant(
            standard(&stated.spread),
            of.dimension(),
        )));
    }
    let quantity = value::quantity(argument, "the argument of uncertainty")?;
    let spread = run::with(|run| run.spread_of(quantity))?;
    Ok(Dynamic::from(Quantity::constant(
        standard(&spread),
        quantity.dimension(),
    )))
}
