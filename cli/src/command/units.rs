//! `units`: what scripts and readings may use.

use crate::arguments::Common;
use crate::listing::{Listing, matches};
use crankline_engine::quantity::text::{Digits, write_number};
use crankline_engine::quantity::units::{CompoundUnit, Unit, all};
use crankline_engine::quantity::words;

/// Units whose name, words or kind hold the pattern.
pub(crate) fn run(pattern: Option<&str>, common: &Common) -> String {
    let rows = all()
        .filter(|unit| {
            let kind = words::name_of(unit.dimension);
            matches(pattern, &[unit.name, unit.symbol, unit.words, &kind])
                || unit.spellings.iter().any(|other| matches(pattern, &[other]))
        })
        .map(|unit| (words::name_of(unit.dimension), cells(unit)))
        .collect();
    let listing = Listing {
        columns: &["name", "symbol", "words", "in SI", "source"],
        rows,
        none: format!("no unit has `{}` in its name", pattern.unwrap_or("")),
    };
    listing.write(common.format)
}

fn cells(unit: &Unit) -> Vec<String> {
    let si = CompoundUnit::si(unit.dimension).text;
    let number = write_number(unit.factor, Digits::Significant(12));
    let size = match (unit.slope, unit.offset == 0.0) {
        (true, _) => format!("the angle whose tangent is {number}"),
        (false, true) => format!("{number} {si}"),
        (false, false) => format!("(reading + {}) × {number} {si}", unit.offset),
    };
    vec![
        unit.name.to_owned(),
        unit.symbol.to_owned(),
        unit.words.to_owned(),
        size.trim_end().to_owned(),
        unit.source.to_owned(),
    ]
}
