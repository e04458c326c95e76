//! Round numbers along a scale.

use crate::kernel;
use crate::quantity::text::{Digits, Style, write_number};

/// A round number of a scale.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tick {
    /// SI units.
    pub(super) si: f64,
    /// The number, without its unit.
    pub(super) text: String,
}

/// Round numbers of a style's unit between two values, about `most` of them.
pub(super) fn ticks(style: &Style, from: f64, to: f64, most: usize) -> Vec<Tick> {
    let unit = style.shown_unit();
    let (low, high) = ordered(unit.from_si(from), unit.from_si(to));
    let step = step(high - low, most, style.symbol() == "°");
    if !(step.is_finite() && step > 0.0 && low.is_finite() && high.is_finite()) {
        return Vec::new();
    }
    let first = -kernel::floor(-(low / step - 1e-9));
    let last = kernel::floor(high / step + 1e-9);
    if last - first > 1000.0 {
        return Vec::new();
    }
    let decimals = decimals(step);
    let mut found = Vec::new();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most 1000")]
    let count = (last - first + 1.0) as u32;
    for nth in 0..count {
        let shown = (first + f64::from(nth)) * step;
        let text = write_number(shown, Digits::Decimals(decimals));
        found.push(Tick {
            si: unit.to_si(shown),
            text,
        });
    }
    found
}

/// The lowest and the highest value rounded outward to the steps that [`ticks`] would take.
pub(super) fn rounded_out(style: &Style, from: f64, to: f64, most: usize) -> (f64, f64) {
    let unit = style.shown_unit();
    let (low, high) = ordered(unit.from_si(from), unit.from_si(to));
    let step = step(high - low, most, style.symbol() == "°");
    if !(step.is_finite() && step > 0.0) {
        return (from, to);
    }
    let low = kernel::floor(low / step + 1e-9) * step;
    let high = -kernel::floor(-(high / step - 1e-9)) * step;
    ordered(unit.to_si(low), unit.to_si(high))
}

/// The same along a scale of ratios: one, two and five of each power of ten, or the powers alone where those are many.
pub(super) fn ratio_ticks(style: &Style, from: f64, to: f64) -> Vec<Tick> {
    let unit = style.shown_unit();
    let (low, high) = (unit.from_si(from), unit.from_si(to));
    if !(low > 0.0 && high > low && high.is_finite()) {
        return Vec::new();
    }
    let between: &[u32] = if high / low > 2000.0 { &[1] } else { &[1, 2, 5] };
    let mut found = Vec::new();
    for power in -12_i32..=15 {
        for lead in between {
            let text = format!("{lead}e{power}");
            let Ok(shown) = text.parse::<f64>() else { continue };
            if shown >= low * 0.999_999 && shown <= high * 1.000_001 {
                found.push(Tick {
                    si: unit.to_si(shown),
                    text: write_number(shown, Digits::Significant(3)),
                });
            }
        }
    }
    found
}

fn ordered(a: f64, b: f64) -> (f64, f64) {
    if a <= b { (a, b) } else { (b, a) }
}

/// The least of 1, 2, 5 times a power of ten (of degrees also 15, 30, 45, 90) that goes no more than `most` times into a
/// span.
fn step(span: f64, most: usize, degrees: bool) -> f64 {
    #[allow(clippy::cast_precision_loss, reason = "a dozen")]
    let wanted = span / most.max(1) as f64;
    if degrees && span > 50.0 {
        let found = [5.0, 10.0, 15.0, 30.0, 45.0, 90.0, 180.0].into_iter();
        if let Some(step) = found.into_iter().find(|step| *step >= wanted) {
            return step;
        }
    }
    let text = format!("{wanted:e}");
    let exponent = text.split_once('e').map_or("0", |(_, exponent)| exponent);
    let powers = ["1", "2", "5", "10"];
    let steps = powers
        .iter()
        .filter_map(|lead| format!("{lead}e{exponent}").parse::<f64>().ok());
    let mut steps = steps.filter(|step| *step >= wanted * (1.0 - 1e-9));
    steps.next().unwrap_or(wanted)
}

/// So many decimals tell steps apart.
fn decimals(step: f64) -> u8 {
    let text = format!("{step:e}");
    let exponent: i32 = text
        .split_once('e')
        .and_then(|(_, exponent)| exponent.parse().ok())
        .unwrap_or(0);
    u8::try_from(-exponent).unwrap_or(0).min(9)
}
