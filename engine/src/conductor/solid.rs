//! Solid copper wire by gauge or by area.

use std::f64::consts::PI;

use super::cable::{COPPER_RESISTIVITY, Cable};
use crate::diagnostic::Refusal;
use crate::kernel;
use crate::material::positive;
use crate::quantity::{Dimension, Quantity};
use crate::tape::Number;

/// Gauges are numbered from 4/0 (−3) to 40.
const THICKEST: i32 = -3;
const THINNEST: i32 = 40;

const COPPER: &str = "solid annealed copper, IEC 60028: 1/58 ohm mm2/m at 20 degC";

/// Solid copper wire of an American wire gauge: `"14"`, `"2/0"`, `"AWG 14"`; diameter 0.005 in · 92^((36 − n)/39), with n
/// = 0, −1, −2, −3 for 1/0 to 4/0.
///
/// Source: ASTM B258, from memory; agrees with published tables. A stranded wire of the gauge has some 2 % more
/// resistance, a road-vehicle wire up to 10 % less copper.
///
/// # Errors
/// No gauge from 4/0 to 40.
pub fn wire_awg(gauge: &str) -> Result<Cable, Refusal> {
    let number = gauge_number(gauge).ok_or_else(|| {
        Refusal::new("gauge", format!("\"{gauge}\" is no American wire gauge"))
            .hint("gauges are \"4/0\", \"3/0\", \"2/0\", \"1/0\" and 1 to 40")
    })?;
    let diameter = 0.005 * 0.0254 * kernel::pow(92.0, f64::from(36 - number) / 39.0);
    let area = PI / 4.0 * diameter * diameter;
    Ok(Cable {
        name: gauge_name(number),
        source: format!("size by ASTM B258; {COPPER}"),
        area: Number::constant(area),
        outside: None,
        resistance: Number::constant(COPPER_RESISTIVITY / area),
    })
}

/// Solid copper wire of exactly this cross-section.
///
/// # Errors
/// Not an area above zero.
pub fn wire_mm2(area: Quantity) -> Result<Cable, Refusal> {
    let number = positive(area, Dimension::AREA, "the cross-section of the wire")?;
    Ok(Cable {
        name: format!("wire of {}", area.shown()),
        source: COPPER.to_owned(),
        area: number,
        outside: None,
        resistance: COPPER_RESISTIVITY / number,
    })
}

/// The gauges that a vehicle uses, from 4/0 to 24.
#[must_use]
pub fn wire_sizes() -> Vec<String> {
    let aught = (THICKEST..=0).map(aught_name);
    aught.chain((1..=24).map(|number| number.to_string())).collect()
}

fn gauge_number(gauge: &str) -> Option<i32> {
    let plain = gauge.trim().trim_start_matches("AWG").trim();
    if let Some((aughts, zero)) = plain.split_once('/') {
        let aughts: i32 = aughts.parse().ok()?;
        return (zero == "0" && (1..=4).contains(&aughts)).then_some(1 - aughts);
    }
    let number: i32 = plain.parse().ok()?;
    (0..=THINNEST).contains(&number).then_some(number)
}

fn gauge_name(number: i32) -> String {
    if number > 0 {
        format!("AWG {number}")
    } else {
        format!("AWG {}", aught_name(number))
    }
}

fn aught_name(number: i32) -> String {
    format!("{}/0", 1 - number)
}
