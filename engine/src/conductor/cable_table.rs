//! Flexible cables by nominal size.

use std::sync::LazyLock;

use serde::Deserialize;

use super::cable::Cable;
use crate::diagnostic::Refusal;
use crate::tape::Number;

const PER_MM2: f64 = 1e6;
const PER_MILLI: f64 = 1e3;

/// Flexible copper of this nominal size in mm² (`"2.5"`) with the largest resistance that IEC 60228 allows class 5.
///
/// # Errors
/// No size of the table: names the sizes.
pub fn cable(size: &str) -> Result<Cable, Refusal> {
    TABLE.iec_60228_class_5.cable(size, "IEC 60228 class 5")
}

/// Road-vehicle cable of this nominal size in mm² (`"2.5"`), with its diameter over the insulation. All of it is from
/// memory of ISO 6722: the maker's sheet replaces it.
///
/// # Errors
/// No size of the table: names the sizes.
pub fn road_cable(size: &str) -> Result<Cable, Refusal> {
    TABLE.iso_6722.cable(size, "ISO 6722")
}

/// The nominal sizes of both tables, in mm².
#[must_use]
pub fn cable_sizes() -> Vec<&'static str> {
    TABLE.iec_60228_class_5.sizes().collect()
}

static TABLE: LazyLock<Tables> = LazyLock::new(|| {
    toml::from_str(include_str!("cables.toml"))
        .expect("the table of cables is well formed: a test reads every row of it")
});

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Tables {
    iec_60228_class_5: Table,
    iso_6722: Table,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    source: String,
    size: Vec<Row>,
}

/// mm², mΩ/m, mm.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    size: String,
    resistance: f64,
    #[serde(default)]
    outside: Option<f64>,
}

impl Table {
    fn cable(&self, wanted: &str, standard: &str) -> Result<Cable, Refusal> {
        let plain = wanted.trim().trim_end_matches("mm2").trim_end_matches("mm²").trim();
        let unknown = || {
            let sizes: Vec<&str> = self.sizes().collect();
            Refusal::new("cable", format!("{standard} cable has no size \"{wanted}\""))
                .hint(format!("sizes in mm² are \"{}\"", sizes.join("\", \"")))
        };
        let row = self.size.iter().find(|row| row.size == plain).ok_or_else(unknown)?;
        let area: f64 = row.size.parse().map_err(|_| unknown())?;
        Ok(Cable {
            name: format!("{} mm² {standard}", row.size),
            source: self.source.clone(),
            area: Number::constant(area / PER_MM2),
            outside: row.outside.map(|outside| Number::constant(outside / PER_MILLI)),
            resistance: Number::constant(row.resistance / PER_MILLI),
        })
    }

    fn sizes(&self) -> impl Iterator<Item = &str> {
        self.size.iter().map(|row| row.size.as_str())
    }
}
