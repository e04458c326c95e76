//! Quantities as people write them: any text is read or refused, and what was read can be written.
#![no_main]

use crankline_engine::quantity::text::{Style, System, Values, read_with_signs};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    for signs in [None, Some(("right", "left"))] {
        let Ok(reading) = read_with_signs(text, signs) else { continue };
        let _ = format!("{reading:?}");
        for system in [System::Inch, System::Metric] {
            let values = match reading.values {
                Values::One(value) => vec![value],
                Values::Vector(values) => values.to_vec(),
            };
            for si in &values {
                let _ = Style::usual(reading.dimension, reading.scale, system, *si).write(*si);
            }
        }
    }
});
