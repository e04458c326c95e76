//! A check's interval beside its limit: where the value is, how sure that is, from where on it does not hold.
//!
//! It says nothing that the words beside it do not say, so it is hidden from whoever is read the page.

use crate::outcome::{Amount, Comparison, Test, Value};
use crate::report::finding::Finding;
use crate::report::lookup::known;
use crate::report::sheet::Sheet;
use crate::study::Interval;
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
    html! { @if let Some(style) = style { i.gauge aria-hidden="true" style=(style) {} } }
}

fn drawn(sheet: &Sheet<'_>, finding: Finding<'_>) -> Option<Drawn> {
    let ends = |amount: &Amount| {
        let (_, interval) = known(sheet, finding.run, amount);
        interval.map_or([amount.si; 2], |&Interval { low, high, .. }| [low, high])
    };
    match &finding.check.test {
        Test::Sides {
            left: Value::Amount(left),
            comparison,
            right: Value::Amount(right),
        } => {
            let turned = left.slot.is_none() && right.slot.is_some();
            let (value, limit) = if turned { (right, left) } else { (left, right) };
            let below = matches!(comparison, Comparison::Less | Comparison::AtMost);
            let above = matches!(comparison, Comparison::More | Comparison::AtLeast);
            let (is_upper, is_lower) = if turned { (above, below) } else { (below, above) };
            (is_upper || is_lower).then(|| Drawn {
                value: value.si,
                ends: ends(value),
                low: is_lower.then_some(limit.si),
                high: is_upper.then_some(limit.si),
            })
        }
        Test::Between { value, low, high } => Some(Drawn {
            value: value.si,
            ends: ends(value),
            low: Some(low.si),
            high: Some(high.si),
        }),
        _ => None,
    }
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
