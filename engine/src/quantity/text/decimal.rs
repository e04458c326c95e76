//! Numbers as decimal digits, rounded as people round.
//!
//! A number is first taken to 15 significant digits and then rounded half away from zero. So 0.0625 at three places is
//! 0.063 on every machine, though after a conversion its last bit may differ. Nothing here prints `-0`.

/// How many significant digits of an `f64` are believed.
const BELIEVED: usize = 15;

/// How a number is rounded when it is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Digits {
    /// That many decimals, always.
    Decimals(u8),
    /// The last digit shown counts ten to this power (−2: hundredths; 1: tens), zeros kept: what an interval supports.
    Place(i32),
    /// Up to that many significant digits. Digits before the point are never rounded away, idle zeros not shown.
    Significant(u8),
}

/// A number in decimal digits. Below 0.00001 and from a thousand million on it has a power of ten (`1.2e-9`); where a
/// number of decimals is fixed, only from 10¹⁵ on.
#[must_use]
pub fn write_number(value: f64, digits: Digits) -> String {
    let Some(decimal) = Decimal::of(value) else {
        return if value.is_nan() {
            "not a number".to_owned()
        } else {
            "infinite".to_owned()
        };
    };
    let lead = decimal.exponent;
    let (plain, place) = match digits {
        Digits::Decimals(decimals) => (-400..15, -i32::from(decimals)),
        Digits::Place(place) => (-5..9, place),
        Digits::Significant(count) => (-5..9, lead - i32::from(count.max(1)) + 1),
    };
    if decimal.is_zero() || plain.contains(&lead) {
        return match digits {
            Digits::Significant(_) => without_idle_zeros(&decimal.rounded(place.min(0)).fixed(place.min(0))),
            _ => decimal.rounded(place).fixed(place),
        };
    }
    // Rounding may carry into a new leading digit: 9.99e9 becomes 1e10.
    let rounded = decimal.rounded(place.min(lead));
    let lead = rounded.exponent;
    let text = Decimal { exponent: 0, ..rounded }.fixed((place - lead).min(0));
    let kept = matches!(digits, Digits::Place(_));
    format!("{}e{lead}", if kept { text } else { without_idle_zeros(&text) })
}

/// The digits that a standard uncertainty supports: two significant figures of it decide the last place shown
/// (JCGM 100:2008, 7.2.6, from memory), but never more than ten significant digits of the value. Without an
/// uncertainty four significant digits. Both in the same unit.
#[must_use]
pub fn digits_for(value: f64, uncertainty: Option<f64>) -> Digits {
    let width = uncertainty.and_then(Decimal::of).filter(|width| !width.is_zero());
    let Some(width) = width else {
        return Digits::Significant(4);
    };
    let place = width.rounded(width.exponent - 1).exponent - 1;
    let finest = Decimal::of(value)
        .filter(|value| !value.is_zero())
        .map_or(place, |value| value.exponent - 9);
    Digits::Place(place.max(finest))
}

/// Digits d₀ d₁ d₂ …, worth d₀.d₁d₂… · 10^exponent.
#[derive(Clone, Debug)]
struct Decimal {
    negative: bool,
    digits: Vec<u8>,
    exponent: i32,
}

impl Decimal {
    fn of(value: f64) -> Option<Self> {
        if !value.is_finite() {
            return None;
        }
        let text = format!("{value:.*e}", BELIEVED - 1);
        let (mantissa, exponent) = text.split_once('e')?;
        let digits = mantissa
            .bytes()
            .filter(u8::is_ascii_digit)
            .map(|digit| digit - b'0')
            .collect();
        Some(Self {
            negative: value < 0.0,
            digits,
            exponent: exponent.parse().ok()?,
        })
    }

    fn is_zero(&self) -> bool {
        self.digits.iter().all(|&digit| digit == 0)
    }

    /// Rounded so that the last digit counts 10^place.
    fn rounded(&self, place: i32) -> Self {
        let zero = Self {
            negative: false,
            digits: vec![0],
            exponent: place.min(0),
        };
        let Ok(kept) = usize::try_from(self.exponent - place + 1) else {
            return zero;
        };
        let up = self.digits.get(kept).is_some_and(|&digit| digit >= 5);
        let mut rounded = Self {
            digits: self.digits.iter().copied().take(kept).collect(),
            ..self.clone()
        };
        if up {
            rounded.carry();
        }
        if rounded.digits.is_empty() { zero } else { rounded }
    }

    /// One more in the last place.
    fn carry(&mut self) {
        for digit in self.digits.iter_mut().rev() {
            if *digit < 9 {
                *digit += 1;
                return;
            }
            *digit = 0;
        }
        self.digits.insert(0, 1);
        self.exponent += 1;
    }

    /// Written out down to 10^place; a number already rounded there.
    fn fixed(&self, place: i32) -> String {
        let digit = |power: i32| {
            let index = usize::try_from(self.exponent - power).ok();
            char::from(b'0' + index.and_then(|index| self.digits.get(index)).copied().unwrap_or(0))
        };
        let mut text = String::new();
        if self.negative && !self.is_zero() {
            text.push('-');
        }
        text.extend((0..=self.exponent.max(0)).rev().map(digit));
        if place < 0 {
            text.push('.');
            text.extend((place..0).rev().map(digit));
        }
        text
    }
}

fn without_idle_zeros(text: &str) -> String {
    if !text.contains('.') {
        return text.to_owned();
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
