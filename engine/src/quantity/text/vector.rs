//! Points and vectors: three numbers in brackets.

use core::ops::Range;

use super::amount::{Amount, amount};
use super::scan::Scan;
use crate::quantity::units::{ReadError, WrittenUnit};

/// `(905, 22, -70) mm`, or each with a unit of its own: `(905 mm, 22 mm, -7 cm)`.
pub(super) fn vector(main: Scan<'_>) -> Result<(Vec<Amount>, WrittenUnit), ReadError> {
    let Some(close) = closing(main.rest()) else {
        return Err(
            ReadError::new(main.at()..main.at() + 1, "this bracket is not closed").hint("write (905, 22, -70) mm")
        );
    };
    let (inside, mut after) = main.split(close);
    after.take(1);
    let mut inside = inside;
    inside.take(1);
    let amounts = components(inside)?;
    let unit_text = after.trimmed();
    let shared = WrittenUnit::parse(unit_text.rest()).map_err(|error| error.shifted(unit_text.at()))?;
    if let [a, b, c] = amounts.as_slice() {
        return Ok((amounts.clone(), vector_unit([a, b, c], shared, main.span())?));
    }
    let message = format!("a vector has three numbers, here are {}", amounts.len());
    Err(ReadError::new(main.span(), message).hint("write (905, 22, -70) mm, and no comma within a number"))
}

/// The one unit of a vector, behind it or in all three places.
fn vector_unit(amounts: [&Amount; 3], shared: WrittenUnit, at: Range<usize>) -> Result<WrittenUnit, ReadError> {
    let own = amounts.iter().filter(|amount| amount.unit != WrittenUnit::None).count();
    if own == 0 {
        let refused = amounts.iter().find_map(|amount| amount.number.only_plain.clone());
        if let Some(error) = refused.filter(|_| shared != WrittenUnit::None) {
            return Err(error);
        }
        return Ok(shared);
    }
    if own < 3 || shared != WrittenUnit::None {
        let message = "a vector has one unit behind its bracket, or one at each of its three numbers";
        return Err(ReadError::new(at, message).hint("write (905, 22, -70) mm"));
    }
    let [first, ..] = amounts;
    if amounts
        .iter()
        .any(|amount| amount.dimension() != first.dimension() || amount.unit.scale() != first.unit.scale())
    {
        return Err(ReadError::new(
            at,
            "the three numbers of a vector measure different things",
        ));
    }
    Ok(first.unit.clone())
}

/// Where the bracket that opens the text is closed.
fn closing(text: &str) -> Option<usize> {
    let mut depth = 0_usize;
    for (at, c) in text.char_indices() {
        match c {
            '(' => depth += 1,
            ')' if depth <= 1 => return Some(at),
            ')' => depth -= 1,
            _ => {}
        }
    }
    None
}

fn components(inside: Scan<'_>) -> Result<Vec<Amount>, ReadError> {
    let mut amounts = Vec::new();
    let mut rest = inside;
    loop {
        let end = rest.rest().find([',', ';']).unwrap_or(rest.rest().len());
        let (piece, mut after) = rest.split(end);
        amounts.push(amount(piece)?);
        if after.take(1).is_empty() {
            return Ok(amounts);
        }
        rest = after;
    }
}
