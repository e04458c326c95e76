//! Units as properties: `3.5.inch`.

use crate::diagnostic::Refusal;
use crate::quantity::{Base, Dimension, Quantity, Scale, Unit, units};
use crate::script::native::Functions;
use crate::script::value;
use crate::tape::Number;
use rhai::{Dynamic, FLOAT, INT};

pub(super) fn add(functions: &mut Functions) {
    functions.concept("units");
    for unit in units::all() {
        let (signature, about) = (
            format!("number.{}", unit.name),
            format!("{} ({})", unit.words, unit.symbol),
        );
        #[allow(clippy::cast_precision_loss, reason = "a count with a unit is a measure")]
        functions.property::<INT>(&signature, &about, |number| Ok(with_unit(*number as f64, unit)));
        functions.property::<FLOAT>(&signature, &about, |number| Ok(with_unit(*number, unit)));
        functions.property::<Quantity>(&signature, &about, |quantity| calculated(*quantity, unit));
    }
}

fn with_unit(number: f64, unit: &'static Unit) -> Dynamic {
    let si = Number::constant(unit.to_si(number));
    let quantity = match unit.scale {
        Scale::Point => Quantity::temperature_point(si),
        Scale::Difference => Quantity::of(si, unit.dimension),
    };
    Dynamic::from(quantity.written_in(unit))
}

/// A unit after a calculated number: only where there is no doubt what is meant.
fn calculated(quantity: Quantity, unit: &'static Unit) -> Result<Dynamic, Refusal> {
    if !quantity.dimension().is_none() {
        let message = format!("this has a unit already: {}", quantity.described());
        return Err(Refusal::new("unit", message).hint("`as` shows a quantity in another unit"));
    }
    if unit.dimension.twelfths(Base::Angle) != 0 || unit.slope {
        let message = format!(
            "`.{}` can follow a plain number only, this one is calculated",
            unit.name
        );
        return Err(Refusal::new("unit", message).hint("x * 1.rad"));
    }
    let number = value::number(&Dynamic::from(quantity), Dimension::NONE, "this")?;
    let quantity = match unit.scale {
        Scale::Point => Quantity::temperature_point((number + unit.offset) * unit.factor),
        Scale::Difference => Quantity::of(number * unit.factor, unit.dimension),
    };
    Ok(Dynamic::from(quantity.written_in(unit)))
}
