//! A check's interval beside its limit: where the value is, how sure that is, from where on it does not hold.
//!
//! It says nothing that the words beside it do not say, and has no words of its own.

use crate::report::compared::{Compares, compares, reading};
use crate::report::finding::Finding;
use crate::report::lookup::known;
use crate::report::sheet::Sheet;
use maud::{Markup, html};

/// Room left and right of what is shown, as a share of it.
const ROOM: f64 = 0.15;

/// What is drawn: the value's interval and value, and the limits, in SI units.
struct Drawn {
    value: f64,
    ends: [f64; 2],
    low: Option<f64>,
    high: Option<f64>,
}

/// The gauge of a check between numbers; nothing for others, or where all is one number.
pub(super) fn gauge(sheet: &Sheet<'_>, finding: Finding<'_>) -> Markup {
    let style = drawn(sheet, finding).as_ref().and_then(style);
    html! { @if let Some(style) = style { b.gauge style=(style) {} } }
}

fn drawn(sheet: &Sheet<'_>, finding: Finding<'_>) -> Option<Drawn> {
    let Compares {
        value,
        limits,
        comparison,
        ..
    } = compares(sheet, finding)?;
    let ends = match known(sheet, finding.run, &value).1 {
        // A reading has its own ±, which stands in words.
        Some(interval) if reading(sheet, finding, &value).is_none() => [interval.low, interval.high],
        _ => [value.si; 2],
    };
    let (low, high) = match (comparison, limits.as_slice()) {
        (Some("<" | "<="), [limit]) => (None, Some(limit.si)),
        (Some(">" | ">="), [limit]) => (Some(limit.si), None),
        (None, [low, high]) => (Some(low.si), Some(high.si)),
        _ => return None,
    };
    Some(Drawn {
        value: value.si,
        ends,
        low,
        high,
    })
}

/// Places in hundredths of the width, for the style sheet.
fn style(drawn: &Drawn) -> Option<String> {
    let [low, high] = drawn.ends;
    let marks = [Some(drawn.value), Some(low), Some(high), drawn.low, drawn.high];
    let marks: Vec<f64> = marks.into_iter().flatten().collect();
    let least = marks.iter().copied().reduce(crate::kernel::min)?;
    let most = marks.iter().copied().reduce(crate::kernel::max)?;
    let span = most - least;
    if !(span.is_finite() && span > 0.0) {
        return None;
    }
    let from = least - ROOM * span;
    let place = |si: f64| format!("{:.0}", 100.0 * (si - from) / (span * (1.0 + 2.0 * ROOM)));
    let limit = |name: &str, limit: Option<f64>| limit.map(|si| format!(";--{name}:{}", place(si))).unwrap_or_default();
    Some(format!(
        "--v:{};--a:{};--b:{}{}{}",
        place(drawn.value),
        place(low),
        place(high),
        limit("l", drawn.low),
        limit("h", drawn.high)
    ))
}
