//! Numbers as people write them: decimals, fractions, mixed fractions.

use core::ops::Range;

use super::scan::Scan;
use crate::quantity::units::ReadError;

/// A number as written.
#[derive(Clone, Debug)]
pub(super) struct Number {
    pub(super) value: f64,
    pub(super) at: Range<usize>,
    /// Whether a sign was written that makes it negative.
    pub(super) negative: bool,
    /// Whether any sign was written.
    pub(super) signed: bool,
    /// Whether it is whole and written without a point or a fraction.
    pub(super) whole: bool,
    /// What is wrong with it before a unit. A plain ratio, 41/11, may be any fraction; one of an inch is one on a rule.
    pub(super) only_plain: Option<ReadError>,
}

/// Fractions that are one character.
const VULGAR: [(char, f64, f64); 9] = [
    ('½', 1.0, 2.0),
    ('¼', 1.0, 4.0),
    ('¾', 3.0, 4.0),
    ('⅛', 1.0, 8.0),
    ('⅜', 3.0, 8.0),
    ('⅝', 5.0, 8.0),
    ('⅞', 7.0, 8.0),
    ('⅓', 1.0, 3.0),
    ('⅔', 2.0, 3.0),
];

/// Whether a number may start with this character (after its sign).
pub(super) fn starts_number(c: char) -> bool {
    c.is_ascii_digit() || VULGAR.iter().any(|(vulgar, ..)| *vulgar == c)
}

const fn is_minus(c: char) -> bool {
    matches!(c, '-' | '−')
}

const fn is_hyphen(c: char) -> bool {
    matches!(c, '-' | '‐' | '‑' | '–')
}

/// Takes a number.
pub(super) fn number(scan: &mut Scan<'_>) -> Result<Number, ReadError> {
    let start = scan.at();
    let sign = scan.take_if(|c| is_minus(c) || c == '+');
    let negative = sign.is_some_and(is_minus);
    let mut number = unsigned(scan)?;
    if let Some(comma) = decimal_comma(*scan) {
        return Err(comma);
    }
    if !number.value.is_finite() {
        return Err(ReadError::new(start..scan.at(), "this number is too large"));
    }
    number.at.start = start;
    number.negative = negative;
    number.signed = sign.is_some();
    if negative {
        number.value = -number.value;
    }
    Ok(number)
}

fn decimal_comma(scan: Scan<'_>) -> Option<ReadError> {
    let follows = scan.rest().strip_prefix(',')?.starts_with(|c: char| c.is_ascii_digit());
    let error = ReadError::new(scan.at()..scan.at() + 1, "a comma has no place in a number");
    follows.then(|| error.hint("write a point for decimals, 3.5, and nothing between thousands, 1234"))
}

fn unsigned(scan: &mut Scan<'_>) -> Result<Number, ReadError> {
    let start = scan.at();
    if let Some(fraction) = vulgar(scan) {
        return Ok(plain(fraction, start..scan.at(), false));
    }
    let text = decimal(scan)?;
    let whole = text.bytes().all(|byte| byte.is_ascii_digit());
    let value: f64 = text
        .parse()
        .map_err(|_| ReadError::new(start..scan.at(), format!("{text:?} is no number")))?;
    if !whole {
        if scan
            .rest()
            .strip_prefix('/')
            .is_some_and(|below| below.starts_with(|c: char| c.is_ascii_digit()))
        {
            return Err(broken_fraction(start..scan.at()));
        }
        return Ok(plain(value, start..scan.at(), false));
    }
    if let Some(fraction) = vulgar(scan) {
        return Ok(plain(value + fraction, start..scan.at(), false));
    }
    if scan.peek() == Some('/') {
        return ratio(scan, text, start);
    }
    match mixed(scan, start)? {
        Some(fraction) => Ok(plain(value + fraction, start..scan.at(), false)),
        None => Ok(plain(value, start..scan.at(), true)),
    }
}

const fn plain(value: f64, at: Range<usize>, whole: bool) -> Number {
    Number {
        value,
        at,
        negative: false,
        signed: false,
        whole,
        only_plain: None,
    }
}

/// `12`, `12.5`, `.5`, `12e-3`: as text.
fn decimal<'a>(scan: &mut Scan<'a>) -> Result<&'a str, ReadError> {
    let before = *scan;
    let digits = scan.take_while(|c| c.is_ascii_digit()).len();
    let point = scan.take_if(|c| c == '.').is_some();
    let decimals = if point {
        scan.take_while(|c| c.is_ascii_digit()).len()
    } else {
        0
    };
    if digits + decimals == 0 {
        let found = before.peek().map_or("the end".to_owned(), |c| format!("{c:?}"));
        let width = before.peek().map_or(0, char::len_utf8);
        let at = before.at()..before.at() + width;
        return Err(
            ReadError::new(at, format!("a number was expected, not {found}")).hint("write 3.5 in or 12 11/16 in")
        );
    }
    let mut power = *scan;
    if power.take_if(|c| matches!(c, 'e' | 'E')).is_some() {
        power.take_if(|c| matches!(c, '+' | '-'));
        if !power.take_while(|c| c.is_ascii_digit()).is_empty() {
            *scan = power;
        }
    }
    Ok(&before.rest()[..scan.at() - before.at()])
}

fn vulgar(scan: &mut Scan<'_>) -> Option<f64> {
    let found = VULGAR.iter().find(|(vulgar, ..)| scan.peek() == Some(*vulgar))?;
    scan.take(found.0.len_utf8());
    Some(found.1 / found.2)
}

/// `11/16`, standing at the slash; or a whole number before a slash that starts something else.
fn ratio(scan: &mut Scan<'_>, above: &str, start: usize) -> Result<Number, ReadError> {
    let mut ahead = *scan;
    ahead.take(1);
    let below = ahead.take_while(|c| c.is_ascii_digit());
    let follows_point = ahead.peek() == Some('.');
    if below.is_empty() || follows_point {
        return Err(broken_fraction(start..ahead.at()));
    }
    *scan = ahead;
    let at = start..scan.at();
    let (over, under) = parts(above, below, &at)?;
    let only_plain = proper(over, under, &at).err();
    Ok(Number {
        only_plain,
        ..plain(over / under, at, false)
    })
}

fn broken_fraction(at: Range<usize>) -> ReadError {
    ReadError::new(at, "a fraction has whole numbers above and below the stroke").hint("write 11/16 in, or decimals")
}

/// The fraction of a mixed number, after its whole part: ` 11/16`, `-11/16`. Anything else is left alone.
fn mixed(scan: &mut Scan<'_>, start: usize) -> Result<Option<f64>, ReadError> {
    let mut ahead = *scan;
    if ahead.take_if(is_hyphen).is_none() && ahead.take_while(char::is_whitespace).is_empty() {
        return Ok(None);
    }
    if let Some(fraction) = vulgar(&mut ahead) {
        *scan = ahead;
        return Ok(Some(fraction));
    }
    let above = ahead.take_while(|c| c.is_ascii_digit());
    let stroke = ahead.take_if(|c| c == '/').is_some();
    let below = ahead.take_while(|c| c.is_ascii_digit());
    if above.is_empty() || !stroke || below.is_empty() || ahead.peek() == Some('.') {
        return Ok(None);
    }
    *scan = ahead;
    let at = start..scan.at();
    let (over, under) = parts(above, below, &at)?;
    proper(over, under, &at)?;
    Ok(Some(over / under))
}

fn parts(above: &str, below: &str, at: &Range<usize>) -> Result<(f64, f64), ReadError> {
    let no_number = |_| ReadError::new(at.clone(), "this fraction is no number");
    let (over, under): (f64, f64) = (above.parse().map_err(no_number)?, below.parse().map_err(no_number)?);
    if under == 0.0 {
        return Err(ReadError::new(at.clone(), "the denominator is zero"));
    }
    Ok((over, under))
}

/// A fraction as on a rule: below one, in halves, quarters, eighths …
fn proper(over: f64, under: f64, at: &Range<usize>) -> Result<(), ReadError> {
    const RULE: [f64; 8] = [2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0, 256.0];
    if over >= under {
        let message = format!("the fraction {over}/{under} is not below one: is the whole number right?");
        return Err(ReadError::new(at.clone(), message).hint("write 1 1/4 in for one and a quarter"));
    }
    if !RULE.contains(&under) {
        let message = format!("no rule is divided into parts of 1/{under}");
        let decimal = over / under;
        return Err(ReadError::new(at.clone(), message).hint(format!("write decimals, {decimal:.4}, if it is meant")));
    }
    Ok(())
}
