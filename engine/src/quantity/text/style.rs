//! How a quantity is to be written: what stands after `as` in a script.
//!
//! | text | shown |
//! |---|---|
//! | `lbf_ft`, `lbf ft`, `W/(m^2 K)` | in that unit, as many digits as the interval supports |
//! | `mm 1` | in that unit with that many decimals |
//! | `in 1/16` | the nearest sixteenth of an inch and how far off it is |
//! | `ft in`, `ft in 1/8` | feet and inches, to the nearest sixteenth or eighth |

use super::usual::{System, usual_unit};
use crate::quantity::units::read_error::refuse_long;
use crate::quantity::units::{ReadError, Scale, WrittenUnit};
use crate::quantity::{Dimension, words};

/// How a quantity is written.
#[derive(Clone, Debug, PartialEq)]
pub enum Style {
    /// A decimal number and a unit.
    Decimal {
        /// The unit.
        unit: WrittenUnit,
        /// So many decimals; `None`: as many as the interval supports.
        decimals: Option<u8>,
    },
    /// Inches and a fraction of an inch.
    Fraction {
        /// A power of two.
        denominator: u32,
        /// Whole feet apart.
        feet: bool,
    },
}

/// More decimals than this show nothing that an `f64` holds.
const MOST_DECIMALS: u8 = 12;
/// The finest fraction of an inch on any rule.
const FINEST: u32 = 128;
/// What a rule is usually divided in.
const USUAL_FRACTION: u32 = 16;

impl Style {
    /// The usual way for a value of that kind and SI size.
    #[must_use]
    pub fn usual(dimension: Dimension, scale: Scale, system: System, si: f64) -> Self {
        Self::Decimal {
            unit: usual_unit(dimension, scale, system, si),
            decimals: None,
        }
    }

    /// In a unit, with as many digits as the interval supports.
    #[must_use]
    pub const fn unit(unit: WrittenUnit) -> Self {
        Self::Decimal { unit, decimals: None }
    }

    /// Reads what stands after `as`, for a quantity of that dimension.
    ///
    /// # Errors
    /// An unknown unit; a unit of another dimension; a temperature difference in `degC` or a temperature in
    /// `delta_degC`; a fraction that no rule has.
    pub fn parse(text: &str, dimension: Dimension, scale: Scale) -> Result<Self, ReadError> {
        refuse_long(text)?;
        let style = Self::read(text)?;
        style.suits(dimension, scale).map_err(|error| ReadError {
            at: 0..text.len(),
            ..error
        })?;
        Ok(style)
    }

    fn read(text: &str) -> Result<Self, ReadError> {
        let trimmed = text.trim_end();
        let start = trimmed.rfind(char::is_whitespace).map_or(0, |space| space + 1);
        // A white space of several bytes: step to where the last word really starts.
        let start = (start..=trimmed.len())
            .find(|&at| trimmed.is_char_boundary(at))
            .unwrap_or(0);
        let (head, last) = trimmed.split_at(start);
        if let Some((above, below)) = last.split_once('/').filter(|(above, below)| {
            [above, below]
                .iter()
                .all(|part| part.starts_with(|c: char| c.is_ascii_digit()))
        }) {
            return fraction(head, above, below).map_err(|error| error.shifted(start));
        }
        if is_feet_and_inches(trimmed) {
            return Ok(Self::Fraction {
                denominator: USUAL_FRACTION,
                feet: true,
            });
        }
        if !last.is_empty() && last.bytes().all(|byte| byte.is_ascii_digit()) {
            let decimals = last
                .parse()
                .ok()
                .filter(|decimals| *decimals <= MOST_DECIMALS)
                .ok_or_else(|| {
                    ReadError::new(
                        start..trimmed.len(),
                        format!("{last} decimals are too many: {MOST_DECIMALS} at most"),
                    )
                })?;
            return Ok(Self::Decimal {
                unit: WrittenUnit::parse(head)?,
                decimals: Some(decimals),
            });
        }
        Ok(Self::Decimal {
            unit: WrittenUnit::parse(trimmed)?,
            decimals: None,
        })
    }

    /// Whether a quantity of that kind can be shown so.
    fn suits(&self, dimension: Dimension, scale: Scale) -> Result<(), ReadError> {
        let refusal = |shown: &str, own: Dimension| {
            let what = words::with_article(&words::name_of(dimension));
            ReadError::new(
                0..0,
                format!("cannot show {what} in {shown}, a unit of {}", words::name_of(own)),
            )
        };
        let unit = match self {
            Self::Decimal { unit, .. } => unit,
            Self::Fraction { .. } if dimension == Dimension::LENGTH => return Ok(()),
            Self::Fraction { .. } => return Err(refusal("fractions of an inch", Dimension::LENGTH)),
        };
        if *unit == WrittenUnit::None && !dimension.is_none() {
            let what = words::with_article(&words::name_of(dimension));
            return Err(ReadError::new(0..0, format!("cannot show {what} as a plain number")).hint("name its unit"));
        }
        // A power of an angle passes for an angle where its unit is one radian.
        let loose = unit.dimension().is_like(dimension) && unit.to_si(1.0) == 1.0;
        if unit.dimension() != dimension && !loose {
            return Err(refusal(unit.symbol(), unit.dimension()));
        }
        suits_scale(unit, scale)
    }
}

fn suits_scale(unit: &WrittenUnit, scale: Scale) -> Result<(), ReadError> {
    let WrittenUnit::Single(single) = unit else {
        return Ok(());
    };
    match (scale, single.scale) {
        (Scale::Difference, Scale::Point) => {
            let message = format!("a temperature difference cannot be shown in {}", single.symbol);
            Err(ReadError::new(0..0, message).hint(format!("write delta_{} or K", single.name)))
        }
        (Scale::Point, Scale::Difference) => match single.name.strip_prefix("delta_") {
            Some(point) => {
                let message = format!(
                    "a temperature cannot be shown in {}, a unit of differences",
                    single.symbol
                );
                Err(ReadError::new(0..0, message).hint(format!("write {point}")))
            }
            None => Ok(()),
        },
        _ => Ok(()),
    }
}

fn is_feet_and_inches(text: &str) -> bool {
    let words: Vec<&str> = text.split_whitespace().collect();
    matches!(words.as_slice(), ["ft", "in" | "inch"] | ["ft-in"])
}

fn fraction(head: &str, above: &str, below: &str) -> Result<Style, ReadError> {
    let at = 0..above.len() + 1 + below.len();
    let denominator = below
        .parse()
        .ok()
        .filter(|below: &u32| above == "1" && below.is_power_of_two() && *below <= FINEST);
    let Some(denominator) = denominator else {
        let message = format!("{above}/{below} is no division of a rule");
        return Err(ReadError::new(at, message).hint("write 1/2, 1/4, 1/8, 1/16, 1/32 or 1/64"));
    };
    let inch =
        WrittenUnit::parse(head).is_ok_and(|unit| matches!(unit, WrittenUnit::Single(unit) if unit.name == "inch"));
    let feet = is_feet_and_inches(head);
    if inch || feet {
        return Ok(Style::Fraction { denominator, feet });
    }
    Err(ReadError::new(at, "fractions are of an inch")
        .hint(format!("write in 1/{denominator}, or mm 1 for one decimal")))
}
