//! Tyre sizes; what a designation means is in [`crate::tyre`].

use crate::quantity::Quantity;
use crate::script::native::Functions;
use crate::script::value;
use crate::tyre::{self, Tyre};
use rhai::Dynamic;

pub(super) fn add(functions: &mut Functions) {
    functions.concept("tyres");
    functions.add(
        "tyre(size)",
        "The nominal measures of a tyre: tyre(\"225/70R15\"), with `.section_width .sidewall .rim .diameter`. What it rolls in \
         a turn is less than π times its diameter.",
        |a| tyre::tyre(&value::text(&a[0], "the size of a tyre")?).map(Dynamic::from),
    );
    type Measure = fn(&Tyre) -> Quantity;
    let measures: [(&str, &str, Measure); 4] = [
        ("section_width", "Nominal section width.", Tyre::section_width),
        ("sidewall", "Nominal height of the sidewall.", Tyre::sidewall),
        ("rim", "Rim diameter.", Tyre::rim),
        ("diameter", "Nominal overall diameter, unloaded.", Tyre::diameter),
    ];
    for (name, about, measure) in measures {
        functions.property::<Tyre>(&format!("tyre.{name}"), about, move |tyre| {
            Ok(Dynamic::from(measure(tyre)))
        });
    }
}
