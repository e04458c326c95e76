//! `materials`: what the engine knows of each, with its source.

use crate::arguments::Common;
use crate::listing::{Listing, matches};
use crankline_engine::material::{Kind, material, material_names};
use crankline_engine::quantity::text::System;
use crankline_engine::report::properties;

/// Materials whose name holds the pattern.
pub(crate) fn run(pattern: Option<&str>, common: &Common) -> String {
    let mut rows = Vec::new();
    for kind in Kind::ALL {
        for name in material_names(kind) {
            if matches(pattern, &[name, kind.name()]) {
                rows.push((
                    kind.name().to_owned(),
                    cells(name, common.system().unwrap_or(System::Metric)),
                ));
            }
        }
    }
    let listing = Listing {
        columns: &["material", "properties", "source"],
        rows,
        none: format!("no material has `{}` in its name", pattern.unwrap_or("")),
    };
    listing.write(common.format)
}

fn cells(name: &str, system: System) -> Vec<String> {
    let Ok(material) = material(name) else {
        return vec![name.to_owned()];
    };
    let known = properties(&material, system);
    let known: Vec<String> = known.iter().map(|(name, value)| format!("{name} {value}")).collect();
    vec![name.to_owned(), known.join(", "), material.source()]
}
