//! Numbers, intervals and texts in words.

use crate::outcome::{Amount, Phrase, Piece, Value};
use crate::quantity::text::{Digits, Style, System, write_number};
use crate::study::Interval;

/// Significant digits of the numbers put into a formula: enough to do it again with a pocket calculator.
const WORKING_DIGITS: u8 = 6;

/// How a number is written: as its script says, else in the usual unit for its size.
pub(super) fn style(amount: &Amount, system: System) -> Style {
    style_for(amount, system, amount.si)
}

/// The same where the size of another number picks the unit: a limit's beside a value of zero.
pub(super) fn style_for(amount: &Amount, system: System, size: f64) -> Style {
    let own = amount.style.as_deref();
    let own = own.and_then(|text| Style::parse(text, amount.dimension, amount.scale).ok());
    own.unwrap_or_else(|| Style::usual(amount.dimension, amount.scale, system, size))
}

/// A number without its interval.
pub(super) fn amount(amount: &Amount, system: System) -> String {
    signed(&style(amount, system), amount, amount.si, None)
}

/// A number with its interval: `518 rad/s² (356 to 712)`; `at most 0.51°` where it lies at the edge of what it can be.
pub(super) fn with_interval(amount: &Amount, interval: Option<&Interval>, system: System) -> String {
    let size = match interval {
        Some(interval) if amount.si == 0.0 => interval.high,
        _ => amount.si,
    };
    let style = style_for(amount, system, size);
    styled_with_interval(&style, amount, interval)
}

pub(super) fn styled_with_interval(style: &Style, amount: &Amount, interval: Option<&Interval>) -> String {
    let Some(interval) = interval else {
        return signed(style, amount, amount.si, None);
    };
    let uncertainty = uncertainty(interval);
    if is_residual(amount, interval) {
        return format!("at most {}", signed(style, amount, interval.high, Some(uncertainty)));
    }
    let value = signed(style, amount, amount.si, Some(uncertainty));
    format!(
        "{value} ({})",
        range(style, amount, interval.low, interval.high, uncertainty)
    )
}

/// A quantity that cannot be negative and would be (near) zero with the readings as they are: a spread of a size, whose
/// middle says nothing. Its upper end is what counts.
fn is_residual(amount: &Amount, interval: &Interval) -> bool {
    interval.low >= 0.0 && amount.si >= 0.0 && amount.si <= interval.low && amount.si <= interval.high / 4.0
}

/// What decides the digits shown.
fn uncertainty(interval: &Interval) -> f64 {
    if interval.std_uncertainty > 0.0 && interval.std_uncertainty.is_finite() {
        interval.std_uncertainty
    } else {
        (interval.high - interval.low) / 4.0
    }
}

fn range(style: &Style, amount: &Amount, low: f64, high: f64, uncertainty: f64) -> String {
    let number = |si: f64| {
        let number = style.number(si, Some(uncertainty));
        match (style.symbol(), style) {
            ("°", _) => format!("{number}°"),
            _ => number,
        }
    };
    match &amount.signs {
        Some(_) if (low < 0.0) != (high < 0.0) => {
            let end = |si| signed(style, amount, si, Some(uncertainty));
            format!("{} to {}", end(low), end(high))
        }
        Some(_) if high < 0.0 => format!("{} to {}", number(-high), number(-low)),
        _ => format!("{} to {}", number(low), number(high)),
    }
}

/// A value written in a style, with a word for its sign where the script has one.
pub(super) fn signed(style: &Style, amount: &Amount, si: f64, uncertainty: Option<f64>) -> String {
    match &amount.signs {
        Some((positive, negative)) if si != 0.0 => {
            let word = if si < 0.0 { negative } else { positive };
            format!("{} {word}", style.write_uncertain(si.abs(), uncertainty))
        }
        _ => style.write_uncertain(si, uncertainty),
    }
}

/// A difference or a half width in the unit of a style: `0.15°`. Two or three figures: a width is never known better.
pub(super) fn width(style: &Style, width: f64, at: f64) -> String {
    with_width_symbol(style, style.shown_unit().width_from_si(width, at))
}

/// A ± to aim at, in the unit of a style: no wider than `width`, and a number that people read off instruments.
pub(super) fn width_to_aim_at(style: &Style, width: f64, at: f64) -> String {
    with_width_symbol(style, rounded_down(style.shown_unit().width_from_si(width, at)))
}

/// The next lower of 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8 times a power of ten.
fn rounded_down(size: f64) -> f64 {
    const STEPS: [f64; 9] = [8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0];
    // A size that is a step but for its last bits is that step.
    let size = size * (1.0 + 1e-9);
    if !(1e-12..1e12).contains(&size) {
        return size;
    }
    let mut power = 1.0;
    while power > size {
        power /= 10.0;
    }
    while power * 10.0 <= size {
        power *= 10.0;
    }
    STEPS
        .iter()
        .map(|step| step * power)
        .find(|step| *step <= size)
        .unwrap_or(power)
}

fn with_width_symbol(style: &Style, shown: f64) -> String {
    let number = write_number(shown, Digits::Significant(3));
    match style.symbol() {
        "" => number,
        "°" => format!("{number}°"),
        "°C" => format!("{number} K"),
        symbol => format!("{number} {symbol}"),
    }
}

/// A text with its numbers.
pub(super) fn phrase(phrase: &Phrase, system: System) -> String {
    let piece = |piece: &Piece| match piece {
        Piece::Words(words) => words.clone(),
        Piece::Amount(found) => amount(found, system),
    };
    phrase.pieces.iter().map(piece).collect()
}

/// A formula with its numbers put in, each with as many digits as it takes to do it again.
pub(super) fn formula(phrase: &Phrase, system: System) -> String {
    let mut text = String::new();
    for (nth, piece) in phrase.pieces.iter().enumerate() {
        match piece {
            Piece::Words(words) => text.push_str(words),
            Piece::Amount(found) => {
                // 1219 mm^4 would be a second moment of area: the power belongs to the number too.
                let raised = matches!(phrase.pieces.get(nth + 1), Some(Piece::Words(words)) if words.starts_with('^'));
                text.push_str(&in_formula(found, system, raised));
            }
        }
    }
    text
}

fn in_formula(amount: &Amount, system: System, raised: bool) -> String {
    let number = precise(&style(amount, system), amount.si);
    let bracket = number.starts_with('-') || (raised && !amount.dimension.is_none());
    if bracket { format!("({number})") } else { number }
}

/// A number with all the digits that somebody may have entered.
pub(super) fn precise(style: &Style, si: f64) -> String {
    let Style::Decimal { decimals: None, .. } = style else {
        return style.write(si);
    };
    let number = write_number(style.value(si), Digits::Significant(WORKING_DIGITS));
    match style.symbol() {
        "" => number,
        "°" => format!("{number}°"),
        symbol => format!("{number} {symbol}"),
    }
}

/// A number as it was entered: all its digits, a word for its sign.
pub(super) fn entered(amount: &Amount, system: System) -> String {
    let style = style(amount, system);
    match &amount.signs {
        Some((positive, negative)) if amount.si != 0.0 => {
            let word = if amount.si < 0.0 { negative } else { positive };
            format!("{} {word}", precise(&style, amount.si.abs()))
        }
        _ => precise(&style, amount.si),
    }
}

/// A value of any kind as it was entered, on one line.
pub(super) fn value(value: &Value, system: System) -> String {
    match value {
        Value::Amount(found) => entered(found, system),
        Value::Count(count) => count.to_string(),
        Value::Text(text) => phrase(text, system),
        Value::Truth(truth) => if *truth { "yes" } else { "no" }.to_owned(),
        Value::Items(items) if is_list(items) => list(items, system),
        Value::Items(items) => {
            let items: Vec<String> = items
                .iter()
                .map(|(key, item)| format!("{key} {}", self::value(item, system)))
                .collect();
            items.join(", ")
        }
    }
}

/// Whether the keys only count.
fn is_list(items: &[(String, Value)]) -> bool {
    items
        .iter()
        .enumerate()
        .all(|(number, (key, _))| *key == number.to_string())
}

/// `1 mm, 2 mm`; a table's rows by their names: `first: ratio 2.85; second: ratio 1.95`.
fn list(items: &[(String, Value)], system: System) -> String {
    let rows = items.iter().any(|(_, item)| matches!(item, Value::Items(_)));
    let written: Vec<String> = items.iter().map(|(_, item)| row(item, system)).collect();
    written.join(if rows { "; " } else { ", " })
}

fn row(item: &Value, system: System) -> String {
    let Value::Items(cells) = item else {
        return value(item, system);
    };
    let named = cells.iter().find(|(key, _)| key == "name");
    let Some((_, name)) = named else {
        return value(item, system);
    };
    let rest: Vec<(String, Value)> = cells.iter().filter(|(key, _)| key != "name").cloned().collect();
    format!("{}: {}", value(name, system), value(&Value::Items(rest), system))
}
