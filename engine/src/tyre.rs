//! Tyre sizes.
//!
//! Nominal sizes only: what a tyre rolls in a turn is less than π times its diameter and is measured, or taken from its
//! maker.

use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};

const INCH: f64 = 0.0254;
const PER_MILLIMETRE: f64 = 1e3;

/// A tyre size: section width in millimetres, height of the sidewall as a share of it in percent, rim in inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tyre {
    width_mm: f64,
    aspect_percent: f64,
    rim_inches: f64,
}

/// The tyre of a size designation: `"225/70R15"`, `"P225/70 R15"`, `"225/45ZR17 94W"`, `"225/70-15"`.
///
/// # Errors
/// Not of that form, or no size that a car tyre has; says which part.
pub fn tyre(size: &str) -> Result<Tyre, Refusal> {
    let parts = Parts::of(size).ok_or_else(|| not_understood(size))?;
    let number = |part: &str| part.parse::<f64>().map_err(|_| not_understood(size));
    let found = Tyre {
        width_mm: number(parts.width)?,
        aspect_percent: number(parts.aspect)?,
        rim_inches: number(parts.rim)?,
    };
    plausible(size, "section width", found.width_mm, (100.0, 500.0), "mm")?;
    plausible(
        size,
        "height of the sidewall",
        found.aspect_percent,
        (20.0, 100.0),
        "percent of the width",
    )?;
    plausible(size, "rim", found.rim_inches, (8.0, 30.0), "inches")?;
    Ok(found)
}

impl Tyre {
    /// Nominal section width.
    #[must_use]
    pub fn section_width(&self) -> Quantity {
        length(self.width_mm / PER_MILLIMETRE)
    }

    /// Nominal height of the sidewall: W · AR / 100.
    #[must_use]
    pub fn sidewall(&self) -> Quantity {
        length(self.sidewall_metres())
    }

    /// Rim diameter, inches counted as 25.4 mm (tyre standards round it to whole millimetres).
    #[must_use]
    pub fn rim(&self) -> Quantity {
        length(self.rim_inches * INCH)
    }

    /// Nominal overall diameter, unloaded: 25.4 rim + 2 W AR/100, in mm.
    #[must_use]
    pub fn diameter(&self) -> Quantity {
        length(self.rim_inches * INCH + 2.0 * self.sidewall_metres())
    }

    fn sidewall_metres(&self) -> f64 {
        self.width_mm * self.aspect_percent / 100.0 / PER_MILLIMETRE
    }
}

/// The three numbers of a designation.
struct Parts<'a> {
    width: &'a str,
    aspect: &'a str,
    rim: &'a str,
}

impl<'a> Parts<'a> {
    fn of(size: &'a str) -> Option<Self> {
        let (width, rest) = size.trim().split_once('/')?;
        // A class in front: P, LT.
        let width = width.trim_start_matches(|c: char| c.is_ascii_alphabetic()).trim();
        let (aspect, rest) = split_number(rest.trim_start());
        // Construction: R, ZR, D, B or a hyphen.
        let construction_ends = rest.find(|c: char| c.is_ascii_digit())?;
        let (construction, rest) = rest.split_at(construction_ends);
        let known = ["R", "ZR", "D", "B", "-"].contains(&construction.trim().to_uppercase().as_str());
        let (rim, rest) = split_number(rest);
        // A load index and speed symbol may follow, apart: "94W".
        let apart = rest.is_empty() || rest.starts_with(' ') || rest.eq_ignore_ascii_case("C");
        (known && apart).then_some(Self { width, aspect, rim })
    }
}

/// A number in front of a text, and the rest.
fn split_number(text: &str) -> (&str, &str) {
    let end = text
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(text.len());
    text.split_at(end)
}

fn not_understood(size: &str) -> Refusal {
    Refusal::new("tyre", format!("\"{size}\" is no tyre size"))
        .hint("written as \"225/70R15\": width in mm, height in percent of it, rim in inches")
        .hint("a tyre marked otherwise (7.50-16, 31x10.5R15) is measured: its diameter is an input")
}

fn plausible(size: &str, what: &str, value: f64, (low, high): (f64, f64), unit: &str) -> Result<(), Refusal> {
    if (low..=high).contains(&value) {
        return Ok(());
    }
    let message = format!("the {what} of \"{size}\" is {value} {unit}, it should lie between {low} and {high}");
    Err(Refusal::new("tyre", message))
}

fn length(metres: f64) -> Quantity {
    Quantity::constant(metres, Dimension::LENGTH)
}
