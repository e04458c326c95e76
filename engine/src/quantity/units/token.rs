//! The words of a product of units.

use core::ops::Range;

use super::product::SUPERSCRIPTS;
use super::read_error::ReadError;

/// A word of a product of units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Token {
    /// A unit's name, perhaps with its power at the end.
    Name(String),
    /// A number that is no power; only 1 has a use (`1/K`).
    Number(i32),
    /// A power, with its sign.
    Power(i32),
    Slash,
    Times,
    Open,
    Close,
}

impl Token {
    pub(super) fn described(&self) -> String {
        match self {
            Self::Name(name) => format!("{name:?}"),
            Self::Number(number) => number.to_string(),
            Self::Power(power) => format!("the power {power}"),
            Self::Slash => "a slash".to_owned(),
            Self::Times => "a sign for times".to_owned(),
            Self::Open | Self::Close => "a bracket".to_owned(),
        }
    }
}

/// Splits a text into words with their places in bytes.
pub(super) fn tokens(text: &str) -> Result<Vec<(Token, Range<usize>)>, ReadError> {
    let mut found = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let at = text.len() - rest.len();
        if first.is_whitespace() {
            rest = &rest[first.len_utf8()..];
            continue;
        }
        let (token, length) = word(
            rest,
            first,
            matches!(found.last(), Some((Token::Name(_) | Token::Close, _))),
        )
        .ok_or_else(|| ReadError::new(at..at + first.len_utf8(), format!("{first:?} has no place in a unit")))?;
        found.push((token, at..at + length));
        rest = &rest[length..];
    }
    Ok(found)
}

/// The first word of `rest`, and how many bytes it takes. `after_factor`: whether a power may stand here.
fn word(rest: &str, first: char, after_factor: bool) -> Option<(Token, usize)> {
    let single = |token| Some((token, first.len_utf8()));
    match first {
        '/' => single(Token::Slash),
        '(' => single(Token::Open),
        ')' => single(Token::Close),
        '·' | '⋅' | '×' | '.' => single(Token::Times),
        '^' if after_factor => power(rest, 1),
        '*' if rest.starts_with("**") && after_factor => power(rest, 2),
        '*' => single(Token::Times),
        '⁻' if after_factor => raised_power(rest),
        c if SUPERSCRIPTS.contains(&c) && after_factor => raised_power(rest),
        '-' | '−' if after_factor => power(rest, 0).or(single(Token::Times)),
        c if c.is_ascii_digit() => {
            let length = digits(rest);
            rest[..length]
                .parse()
                .ok()
                .map(|number| (Token::Number(number), length))
        }
        c if is_name(c) => {
            let length = rest
                .find(|c: char| !is_name(c) && !c.is_ascii_digit())
                .unwrap_or(rest.len());
            Some((Token::Name(rest[..length].to_owned()), length))
        }
        _ => None,
    }
}

fn is_name(c: char) -> bool {
    let letter = c.is_alphabetic() && !SUPERSCRIPTS.contains(&c);
    letter || matches!(c, '_' | '°' | 'º' | '%' | '℃' | '℉' | '∆' | 'µ' | 'Ω')
}

fn digits(rest: &str) -> usize {
    rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len())
}

/// A power in plain digits after `marks` bytes of mark: `^-2`, `**2`, `-2`.
fn power(rest: &str, marks: usize) -> Option<(Token, usize)> {
    let after = &rest[marks..];
    let sign = after.chars().next().filter(|c| matches!(c, '-' | '−'));
    let start = marks + sign.map_or(0, char::len_utf8);
    let length = digits(&rest[start..]);
    let size: i32 = rest[start..start + length].parse().ok()?;
    Some((Token::Power(if sign.is_some() { -size } else { size }), start + length))
}

/// A power in raised digits: `⁻²`.
fn raised_power(rest: &str) -> Option<(Token, usize)> {
    let negative = rest.starts_with('⁻');
    let start = if negative { '⁻'.len_utf8() } else { 0 };
    let length = rest[start..]
        .find(|c: char| !SUPERSCRIPTS.contains(&c))
        .unwrap_or(rest.len() - start);
    let size = rest[start..start + length].chars().try_fold(0_i32, |sum, c| {
        let digit = SUPERSCRIPTS.iter().position(|&known| known == c)?;
        sum.checked_mul(10)?.checked_add(i32::try_from(digit).ok()?)
    })?;
    (length > 0).then_some((Token::Power(if negative { -size } else { size }), start + length))
}
