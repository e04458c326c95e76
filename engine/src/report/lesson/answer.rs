//! What comes out of a line, with all its digits and rounded, and how near to it a pupil has to come.

use super::line::{Answer, Worth};
use crate::kernel;
use crate::outcome::{Amount, Phrase, Piece, Step, Value};
use crate::quantity::text::{Digits, Style, System, write_number};
use crate::report::results::flat;
use crate::report::sheet::Sheet;
use crate::report::written;

/// Digits of a number that are believed: all.
const ALL: u8 = 15;
/// An answer is right within this share of it …
const SHARE: f64 = 0.005;
/// … or within half of the last place that is asked for; so many figures are.
const FIGURES: i32 = 3;

/// What is told to whoever answers.
pub(super) const TOLERANCE: &str =
    "An answer is right within 0.5 %, or within half of the last place asked for where that is more.";

/// The answers of a step.
pub(super) fn answers(sheet: &Sheet<'_>, run: usize, step: &Step) -> Vec<Answer> {
    let mut amounts = Vec::new();
    collect(&step.value, &mut amounts);
    let scale = largest(&step.substituted);
    let shown = flat(sheet, run, step).into_iter();
    shown
        .zip(amounts)
        .map(|((key, shown), amount)| match amount {
            Some(amount) => of_amount(amount, key, shown, &scale, sheet.system),
            None => Answer {
                key,
                full: shown.clone(),
                shown,
                worth: None,
            },
        })
        .collect()
}

/// The value of a function's line.
pub(super) fn of_phrase(value: &Phrase, system: System) -> Vec<Answer> {
    let text = written::formula(value, system);
    if text.is_empty() {
        return Vec::new();
    }
    let full = match value.pieces.as_slice() {
        [Piece::Amount(amount)] => full(amount, system),
        _ => text.clone(),
    };
    let shown = match value.pieces.as_slice() {
        [Piece::Amount(amount)] => written::amount(amount, system),
        _ => text,
    };
    vec![Answer {
        key: String::new(),
        full,
        shown,
        worth: None,
    }]
}

/// A step's numbers in the order in which they are shown; nothing for what is no number.
fn collect<'a>(value: &'a Value, into: &mut Vec<Option<&'a Amount>>) {
    match value {
        Value::Items(items) => items.iter().for_each(|(_, item)| collect(item, into)),
        Value::Amount(amount) => into.push(Some(amount)),
        _ => into.push(None),
    }
}

/// The numbers that a formula was given.
fn largest(substituted: &Phrase) -> Vec<&Amount> {
    let amounts = substituted.pieces.iter().filter_map(|piece| match piece {
        Piece::Amount(amount) => Some(amount),
        Piece::Words(_) => None,
    });
    amounts.collect()
}

fn of_amount(amount: &Amount, key: String, shown: String, given: &[&Amount], system: System) -> Answer {
    let style = written::style(amount, system);
    let si = written::settled(amount, amount.si);
    let like = given.iter().filter(|other| other.dimension == amount.dimension);
    let size = like.fold(0.0, |most, other| kernel::max(most, style.value(other.si).abs()));
    let place = place(style.value(si), size);
    let last = power_of_ten(place);
    let wide = kernel::max(SHARE * style.value(si).abs(), last / 2.0);
    let asked = written::with_width_symbol(&style, &write_number(last, Digits::Significant(1)));
    Answer {
        key,
        full: full(amount, system),
        shown,
        worth: Some(Worth {
            si: amount.si,
            dimension: amount.dimension,
            scale: amount.scale,
            signs: amount.signs.clone(),
            asked,
            tolerance: style.shown_unit().width_to_si(wide, si).abs(),
            style,
        }),
    }
}

/// The last place asked for: three figures of the value, or of a thousandth of what it is the difference of.
fn place(value: f64, size: f64) -> i32 {
    let size = kernel::max(value.abs(), size / 1000.0);
    let size = if size > 0.0 && size.is_finite() { size } else { 1.0 };
    let text = format!("{size:e}");
    let exponent = text
        .split_once('e')
        .and_then(|(_, exponent)| exponent.parse::<i32>().ok());
    exponent.unwrap_or(0) - FIGURES + 1
}

fn power_of_ten(place: i32) -> f64 {
    format!("1e{place}").parse().unwrap_or(1.0)
}

/// A number with all its digits.
fn full(amount: &Amount, system: System) -> String {
    let style = written::style(amount, system);
    let si = written::settled(amount, amount.si);
    let number = |si: f64| {
        let number = write_number(style.value(si), Digits::Significant(ALL));
        with_symbol(&style, &number)
    };
    match &amount.signs {
        Some((positive, negative)) if si != 0.0 => {
            format!("{} {}", number(si.abs()), if si < 0.0 { negative } else { positive })
        }
        _ => number(si),
    }
}

fn with_symbol(style: &Style, number: &str) -> String {
    match style.symbol() {
        "" => number.to_owned(),
        "°" => format!("{number}°"),
        symbol => format!("{number} {symbol}"),
    }
}
