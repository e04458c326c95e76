//! Units and what stands after `as`: any text is read or refused.
#![no_main]

use crankline_engine::quantity::Dimension;
use crankline_engine::quantity::text::Style;
use crankline_engine::quantity::units::{Scale, WrittenUnit};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    if let Ok(unit) = WrittenUnit::parse(text) {
        let _ = (unit.to_si(3.5), unit.from_si(-3.5), unit.symbol().len());
    }
    if let Ok(style) = Style::parse(text, Dimension::LENGTH, Scale::Difference) {
        for si in [0.0, -0.3175, 1e300, f64::MIN_POSITIVE] {
            let _ = (style.write(si), style.write_uncertain(si, Some(1e-3)), style.write_plus_minus(si, 1e-3));
        }
    }
});
