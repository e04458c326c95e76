//! An amount: a number with its unit, or several that follow each other (`4 ft 1-1/2 in`, `11° 30' 15"`).

use core::ops::Range;

use super::number::{Number, number, starts_number};
use super::scan::Scan;
use crate::quantity::Dimension;
use crate::quantity::units::{ReadError, Scale, WrittenUnit, find};

/// An amount as written.
#[derive(Clone, Debug)]
pub(super) struct Amount {
    pub(super) number: Number,
    /// Of the first number.
    pub(super) unit: WrittenUnit,
    /// Smaller parts in SI, without the sign.
    pub(super) parts: f64,
    /// Whether there are any.
    pub(super) in_parts: bool,
}

/// What may follow what, and how many of it make one of the larger.
const PARTS: [(&str, &str, f64); 6] = [
    ("ft", "inch", 12.0),
    ("deg", "arcmin", 60.0),
    ("arcmin", "arcsec", 60.0),
    ("h", "min", 60.0),
    ("min", "s", 60.0),
    ("lb", "oz", 16.0),
];

impl Amount {
    /// Its SI value, in a unit that may have been found elsewhere.
    pub(super) fn si(&self, unit: &WrittenUnit) -> f64 {
        let first = unit.to_si(self.number.value);
        if self.number.negative {
            first - self.parts
        } else {
            first + self.parts
        }
    }

    pub(super) const fn dimension(&self) -> Dimension {
        self.unit.dimension()
    }
}

/// Reads a piece of text as one amount; nothing may be left.
pub(super) fn amount(piece: Scan<'_>) -> Result<Amount, ReadError> {
    let mut scan = piece.trimmed();
    let first = number(&mut scan)?;
    let unit_text = unit_text(&mut scan, &first)?;
    let unit = unit(unit_text, None)?;
    let mut amount = Amount {
        number: first,
        unit,
        parts: 0.0,
        in_parts: false,
    };
    let mut larger = (amount.number.clone(), amount.unit.clone());
    while !scan.is_empty() {
        let next = number(&mut scan)?;
        let text = self::unit_text(&mut scan, &next)?;
        let unit = self::unit(text, Some(&larger.1))?;
        check_part(&larger, &next, &unit)?;
        amount.parts += unit.to_si(next.value);
        amount.in_parts = true;
        larger = (next, unit);
    }
    Ok(amount)
}

/// Takes what stands between a number and the next one.
fn unit_text<'a>(scan: &mut Scan<'a>, after: &Number) -> Result<Scan<'a>, ReadError> {
    let end = next_number(scan.rest()).unwrap_or(scan.rest().len());
    let (text, rest) = scan.split(end);
    *scan = rest;
    let mut text = text.trimmed();
    // 4'-1 1/2" and 4 ft - 1 1/2 in: a hyphen that joins, as on drawings.
    if !scan.is_empty() {
        let joined = text
            .rest()
            .strip_suffix('-')
            .filter(|before| before.ends_with([' ', '\'', '′', '’']));
        if let Some(before) = joined {
            text = text.split(before.len()).0.trimmed();
        }
    }
    if let Some(beyond) = text.rest().strip_prefix(['-', '–', '−']) {
        let range = beyond.trim_start().starts_with(starts_number) || !scan.is_empty();
        let at = text.span();
        let error = ReadError::new(at, "a stroke after a number is no unit");
        return Err(if range {
            error.hint("write 48-1/16 in for a mixed number, 3.4 +/- 0.1 deg for what lies between limits")
        } else {
            error
        });
    }
    if text.is_empty() && !scan.is_empty() {
        let at = after.at.start..scan.at();
        return Err(
            ReadError::new(at, "two numbers stand beside each other").hint("write 1234 mm, 12 11/16 in, 4 ft 1 in")
        );
    }
    if let Some(error) = after.only_plain.clone().filter(|_| !text.is_empty()) {
        return Err(error);
    }
    Ok(text)
}

/// Where the next number starts: a digit after white space or after a mark for feet, inches or degrees (`4'1"`), with
/// its sign. Other digits belong to a unit: `mm2`, `m^-2`, `1/s`, `ohm/1000 ft`.
fn next_number(rest: &str) -> Option<usize> {
    let mut before = ' ';
    let mut sign: Option<usize> = None;
    for (at, c) in rest.char_indices() {
        let border = before.is_whitespace() || is_mark(before);
        if starts_number(c) && at > 0 && !is_inverse(&rest[at..]) {
            if border {
                return Some(at);
            }
            if let Some(sign) = sign {
                return Some(sign);
            }
        }
        // A sign after white space belongs to the number; right after a mark it is a joint: 4'-1".
        sign = match c {
            '-' | '−' | '+' if before.is_whitespace() && at > 0 => Some(at),
            '-' | '–' if is_mark(before) => Some(at + c.len_utf8()),
            _ => None,
        };
        before = c;
    }
    None
}

/// Whether this is the front of a unit such as 1/s.
fn is_inverse(rest: &str) -> bool {
    rest.strip_prefix("1/")
        .is_some_and(|after| after.starts_with(|c: char| c.is_alphabetic() || c == '('))
}

const fn is_mark(c: char) -> bool {
    matches!(c, '\'' | '"' | '°' | '′' | '″' | '’' | '”')
}

/// The unit of a text; `'` and `"` after an angle are its minutes and seconds.
fn unit(text: Scan<'_>, after: Option<&WrittenUnit>) -> Result<WrittenUnit, ReadError> {
    let plain: String = text.rest().chars().map(straight).collect();
    let after_angle = after.is_some_and(|unit| unit.dimension() == Dimension::ANGLE);
    let name = match plain.as_str() {
        "'" if after_angle => "arcmin",
        "\"" | "''" if after_angle => "arcsec",
        "''" => "inch",
        other => other,
    };
    let parsed = WrittenUnit::parse(name);
    // Marks are longer than what they stand for: a place within them is not kept.
    parsed.map_err(|error| {
        if plain == text.rest() {
            error.shifted(text.at())
        } else {
            ReadError {
                at: text.span(),
                ..error
            }
        }
    })
}

const fn straight(c: char) -> char {
    match c {
        '′' | '’' => '\'',
        '″' | '”' => '"',
        c => c,
    }
}

/// Whether a part may follow a larger one: 1-1/2 in after 4 ft.
fn check_part(larger: &(Number, WrittenUnit), part: &Number, unit: &WrittenUnit) -> Result<(), ReadError> {
    let at: Range<usize> = larger.0.at.start..part.at.end;
    if *unit == WrittenUnit::None {
        let message = format!("the number after {} has no unit", larger.1.symbol());
        return Err(ReadError::new(part.at.clone(), message).hint("write 4 ft 1-1/2 in, 11° 30'"));
    }
    let known = PARTS
        .iter()
        .find(|(large, small, _)| is_named(&larger.1, large) && is_named(unit, small));
    let Some((_, _, count)) = known else {
        let message = format!("an amount in {} cannot go on in {}", larger.1.symbol(), unit.symbol());
        return Err(ReadError::new(at, message).hint("write 4 ft 1-1/2 in, 11° 30', or one number with its unit"));
    };
    if !larger.0.whole {
        let message = format!(
            "the number before {} must be whole where smaller parts follow",
            larger.1.symbol()
        );
        return Err(ReadError::new(larger.0.at.clone(), message));
    }
    if part.signed {
        return Err(ReadError::new(part.at.clone(), "a sign stands at the very front only"));
    }
    if part.value >= *count {
        let message = format!("{} {} are {} or more", part.value, unit.symbol(), larger.1.symbol());
        return Err(ReadError::new(at, message).hint(format!("below {count} are expected here")));
    }
    Ok(())
}

fn is_named(unit: &WrittenUnit, name: &str) -> bool {
    matches!(unit, WrittenUnit::Single(unit) if Some(*unit) == find(name)) && unit.scale() == Scale::Difference
}
