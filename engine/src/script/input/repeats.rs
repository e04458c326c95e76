//! What repeats of a reading say about themselves.

use crate::outcome::{Phrase, Piece};
use crate::quantity::Quantity;
use crate::script::run;
use crate::tape::Number;

/// A repeat this many of the instrument's bounds from the median is doubtful (common practice).
const FAR: f64 = 3.0;

/// A repeat far from the others is never dropped in silence, nor kept so; two of them tell little of their scatter.
pub(super) fn doubts(address: &str, numbers: &[f64], bound: f64, example: Quantity) -> Vec<Phrase> {
    let mut found = Vec::new();
    let middle = median(numbers);
    for (place, number) in numbers.iter().enumerate() {
        if bound > 0.0 && (number - middle).abs() > FAR * bound {
            let shown = |si: f64| Piece::Amount(run::amount(example.with_number(Number::constant(si))));
            found.push(Phrase {
                pieces: vec![
                    Piece::Words(format!("{address}: reading {} of {}, ", place + 1, numbers.len())),
                    shown(*number),
                    Piece::Words(", lies far from the others (their middle is ".to_owned()),
                    shown(middle),
                    Piece::Words("). Set the instrument again and repeat; never drop it unseen".to_owned()),
                ],
            });
        }
    }
    if numbers.len() == 2 {
        let words = "two readings tell little of their scatter, so a wide margin is kept. Take a third";
        found.push(Phrase::words(format!("{address}: {words}")));
    }
    found
}

fn median(numbers: &[f64]) -> f64 {
    let mut sorted = numbers.to_vec();
    sorted.sort_by(f64::total_cmp);
    let upper = sorted.len() / 2;
    let lower = (sorted.len().max(1) - 1) / 2;
    match (sorted.get(lower), sorted.get(upper)) {
        (Some(low), Some(high)) => 0.5 * (low + high),
        _ => 0.0,
    }
}
