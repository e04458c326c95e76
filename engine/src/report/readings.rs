//! What inputs were given, in words.

use super::lookup::linked;
use super::sheet::{Sheet, SheetRun, TakenInput};
use super::written::{self, style};
use crate::outcome::{Amount, Input, Origin, Part, Spread, Value};
use crate::quantity::text::System;
use crate::script::standard;
use crate::study::half_width;
use crate::tape::Slot;

/// Where a value came from, in a word, as JSON has it.
pub(super) const fn origin(origin: Origin) -> &'static str {
    match origin {
        Origin::Measured => "measured",
        Origin::Chosen => "chosen",
        Origin::Linked => "linked",
        Origin::Assumed => "assumed",
        Origin::Trial => "trial",
        Origin::Example => "example",
    }
}

/// The same for people: `measured`, `from road speed: shaft_at_top`, `set by the option`, `option mount
/// lowered`.
pub(super) fn source(input: &Input, run: &SheetRun<'_>) -> String {
    let by_option = run.tries.is_some() && !run.set.iter().any(|set| set.input == input.name);
    if let Some(option) = run.option_for(&input.name) {
        return format!("option {option}");
    }
    match (input.origin, &input.taken_from) {
        (Origin::Linked, Some(from)) => format!("from {from}"),
        (own, Some(from)) => format!("{}, from {from}", origin(own)),
        (Origin::Trial, None) if by_option => "set by the option".to_owned(),
        (own, None) => origin(own).to_owned(),
    }
}

/// How a reading was taken: `2026-03-14 by R., steel rule, 640 mm, 641 mm, 640.5 mm, each ± 1 mm; shaft_length in the
/// job`.
pub(super) fn taken(input: &Input, taken: &TakenInput, system: System) -> String {
    let by = taken.by.as_ref().map(|by| format!("by {by}"));
    let session: Vec<String> = taken.on.iter().cloned().chain(by).collect();
    let session = Some(session.join(" ")).filter(|session| !session.is_empty());
    let how = session.into_iter().chain(taken.with.clone());
    let repeats = taken.repeats.iter().cloned().chain(instrument(input, system));
    let how: Vec<String> = how.chain(repeats).collect();
    let other = (taken.reading != taken.input).then(|| format!("{} in the job", taken.reading));
    let parts = [Some(how.join(", ")).filter(|how| !how.is_empty()), other];
    parts.into_iter().flatten().collect::<Vec<_>>().join("; ")
}

/// The instrument's ± of repeats.
fn instrument(input: &Input, system: System) -> Option<String> {
    let part = input.parts.first()?;
    let Spread::Repeats { limits, .. } = part.spread else {
        return None;
    };
    let amount = amount_in(&input.value, part.slot)?;
    let width = written::half_width(&style(amount, system), limits, 0.0);
    Some(format!("each ± {width}"))
}

/// What an input is: its label, or its name.
pub(super) fn label(input: &Input, system: System) -> String {
    match &input.label {
        Some(label) => written::phrase(label, system),
        None => input.name.clone(),
    }
}

/// Its value with its ±: `3.4° ± 0.1°`; of several numbers with one ±: `x 905 mm, y 22 mm, each ± 1 mm`.
pub(super) fn value(input: &Input, system: System) -> String {
    match (&input.value, input.parts.as_slice()) {
        (Value::Amount(amount), [part]) if standard(&part.spread) > 0.0 => {
            format!("{}{}", number(amount, part, system), whose(input, part))
        }
        (Value::Items(_), _) if input.parts.iter().any(|part| standard(&part.spread) > 0.0) => {
            match in_common(input, system) {
                Some(each) => format!("{}{each}", written::value(&input.value, system)),
                None => self::each(input, system),
            }
        }
        _ => written::value(&input.value, system),
    }
}

/// `, each ± 1 mm` of several numbers with one ±.
pub(super) fn in_common(input: &Input, system: System) -> Option<String> {
    let (Value::Items(_), [first, ..]) = (&input.value, input.parts.as_slice()) else {
        return None;
    };
    let same = input.parts.iter().all(|part| part.spread == first.spread);
    let amount = first_amount(&input.value).filter(|_| same && standard(&first.spread) > 0.0)?;
    Some(format!(
        ", each {}{}",
        spread(amount, first, 0.0, system),
        whose(input, first)
    ))
}

/// The value of an input whose numbers have each a ± of their own: `Wipers: current 4 A ± 0.2 A`.
fn each(input: &Input, system: System) -> String {
    let written = written::value_by(&input.value, &input.name, system, &|address, amount| match input
        .parts
        .iter()
        .find(|part| part.address == address)
    {
        Some(part) => number(amount, part, system),
        None => written::entered(amount, system),
    });
    let own = input.parts.iter().find(|part| standard(&part.spread) > 0.0);
    format!("{written}{}", own.map_or("", |part| whose(input, part)))
}

/// The value on a sheet: what another run worked out with the interval of its step.
pub(super) fn on_sheet(input: &Input, sheet: &Sheet<'_>) -> String {
    if input.taken_from.is_none() || !input.parts.is_empty() {
        return value(input, sheet.system);
    }
    written::value_by(
        &input.value,
        &input.name,
        sheet.system,
        &|_, amount| match linked(sheet, amount) {
            Some(interval) => written::with_interval(amount, Some(interval), sheet.system),
            None => written::entered(amount, sheet.system),
        },
    )
}

/// One number of an input with its ±.
pub(super) fn number(amount: &Amount, part: &Part, system: System) -> String {
    match part.spread {
        Spread::Exact => written::entered(amount, system),
        _ if amount.signs.is_none() => {
            let width = half_width(&part.spread);
            let number = style(amount, system).write_plus_minus(amount.si, width);
            format!("{number}{}", certainty(&part.spread))
        }
        _ => format!(
            "{} {}",
            written::entered(amount, system),
            spread(amount, part, amount.si, system)
        ),
    }
}

/// What is said of a ± that does not hold every value.
pub(super) const fn certainty(spread: &Spread) -> &'static str {
    match spread {
        Spread::Exact | Spread::Limits(_) => "",
        Spread::Standard(_) | Spread::Repeats { .. } => " (95 in 100)",
    }
}

/// Says so where somebody gave the value and the script its ±.
pub(super) fn whose(input: &Input, part: &Part) -> &'static str {
    match input.origin {
        Origin::Example | Origin::Assumed => "",
        _ if part.kept => " (the job's ±)",
        origin if has_scripts_spread(origin, part) => " (the script's ±)",
        _ => "",
    }
}

/// Whether the ± of a value that somebody gave is the script's own.
pub(super) fn has_scripts_spread(origin: Origin, part: &Part) -> bool {
    matches!(origin, Origin::Example | Origin::Assumed) || !part.stated
}

/// `± 0.1°`, `± 0.1° (95 in 100)`.
fn spread(amount: &Amount, part: &Part, at: f64, system: System) -> String {
    let width = written::half_width(&style(amount, system), half_width(&part.spread), at);
    format!("± {width}{}", certainty(&part.spread))
}

/// The number in a value that stands in a slot of the tape.
pub(super) fn amount_in(value: &Value, slot: Slot) -> Option<&Amount> {
    match value {
        Value::Amount(amount) => (amount.slot == Some(slot)).then_some(amount),
        Value::Items(items) => items.iter().find_map(|(_, item)| amount_in(item, slot)),
        _ => None,
    }
}

/// The first number of a value.
pub(super) fn first_amount(value: &Value) -> Option<&Amount> {
    match value {
        Value::Amount(amount) => Some(amount),
        Value::Items(items) => items.iter().find_map(|(_, item)| first_amount(item)),
        _ => None,
    }
}
