//! The two sides of a check in words.

use super::finding::Finding;
use super::lookup::known;
use super::readings;
use super::sheet::Sheet;
use super::written::{self, style_for};
use crate::outcome::{Amount, Comparison, Part, Test, Value};
use crate::quantity::text::Style;
use crate::study::Interval;

/// A check's value, its limit, and how far it is off.
#[derive(Clone, Debug, Default)]
pub(super) struct Compared {
    /// `518 rad/s² (356 to 712)`
    pub(super) value: String,
    /// `at most 300 rad/s²`
    pub(super) limit: String,
    /// `over by 218 rad/s²`; nothing where it holds.
    pub(super) off: Option<String>,
    /// `0.028 mm to spare`, where it holds and there is a limit to come near to.
    pub(super) spare: Option<String>,
}

/// What a check compares, in words.
pub(super) fn compared(sheet: &Sheet<'_>, finding: Finding<'_>) -> Compared {
    match &finding.check.test {
        Test::Sides {
            left: Value::Amount(left),
            comparison,
            right: Value::Amount(right),
        } => {
            let (value, comparison, limit) = in_order(left, *comparison, right);
            against_limit(sheet, finding, value, comparison, limit)
        }
        Test::Sides {
            left,
            comparison,
            right,
        } => Compared {
            value: written::value(left, sheet.system),
            limit: format!("{} {}", word(*comparison), written::value(right, sheet.system)),
            ..Compared::default()
        },
        Test::Between { value, low, high } => between(sheet, finding, value, [low, high]),
        Test::Truth(truth) => Compared {
            value: if *truth { "yes" } else { "no" }.to_owned(),
            limit: "must be yes".to_owned(),
            ..Compared::default()
        },
    }
}

fn against_limit(
    sheet: &Sheet<'_>,
    finding: Finding<'_>,
    value: &Amount,
    comparison: Comparison,
    limit: &Amount,
) -> Compared {
    let (value, interval) = known(sheet, finding.run, value);
    let (limit, limit_interval) = known(sheet, finding.run, limit);
    let style = common_style(sheet, &value, &limit);
    let own_interval = interval.filter(|_| reading(sheet, finding, &value).is_none());
    let broken = !comparison.holds(value.si, limit.si);
    let words = match comparison {
        Comparison::Less | Comparison::AtMost => "over by",
        Comparison::More | Comparison::AtLeast => "short by",
        Comparison::Same => "apart by",
        Comparison::Different => "the same",
    };
    let apart = size_by(&style, limit.si - value.si, value.si, [own_interval, limit_interval]);
    let off = match comparison {
        Comparison::Different => words.to_owned(),
        _ => format!("{words} {apart}"),
    };
    let is_limit = !matches!(comparison, Comparison::Same | Comparison::Different);
    Compared {
        value: value_of(sheet, &style, &value, interval, finding),
        limit: format!(
            "{} {}",
            word(comparison),
            limit_of(sheet, &style, &value, (&limit, limit_interval), finding)
        ),
        off: broken.then_some(off),
        spare: (is_limit && !broken).then(|| format!("{apart} to spare")),
    }
}

fn between(sheet: &Sheet<'_>, finding: Finding<'_>, value: &Amount, [low, high]: [&Amount; 2]) -> Compared {
    let (value, interval) = known(sheet, finding.run, value);
    let style = common_style(sheet, &value, high);
    let own_interval = interval.filter(|_| reading(sheet, finding, &value).is_none());
    let apart = |size| size_by(&style, size, value.si, [own_interval, None]);
    let off = |words: &str, size| format!("{words} {}", apart(size));
    let limit = |limit: &Amount| {
        let (limit, interval) = known(sheet, finding.run, limit);
        limit_of(sheet, &style, &value, (&limit, interval), finding)
    };
    Compared {
        value: value_of(sheet, &style, &value, interval, finding),
        limit: format!("from {} to {}", limit(low), limit(high)),
        off: if value.si < low.si {
            Some(off("short by", low.si - value.si))
        } else if value.si > high.si {
            Some(off("over by", value.si - high.si))
        } else {
            None
        },
        spare: (low.si <= value.si && value.si <= high.si).then(|| {
            let nearest = crate::kernel::min(value.si - low.si, high.si - value.si);
            format!("{} to spare", apart(nearest))
        }),
    }
}

/// `218 rad/s²`, to the last place of the side that is known less well; a reading ends where somebody read it.
fn size_by(style: &Style, size: f64, at: f64, intervals: [Option<&Interval>; 2]) -> String {
    let supports = intervals.into_iter().flatten();
    let supports = supports.filter_map(|interval| written::support(style, at, interval));
    let widest = supports.reduce(|a, b| if a > b { a } else { b });
    written::difference(style, size.abs(), at, widest)
}

/// The value with its interval; a reading with its own ±.
fn value_of(
    sheet: &Sheet<'_>,
    style: &Style,
    value: &Amount,
    interval: Option<&Interval>,
    finding: Finding<'_>,
) -> String {
    match reading(sheet, finding, value) {
        Some(part) => readings::number(value, part, sheet.system),
        None => written::styled_with_interval(style, value, interval),
    }
}

/// The reading that a value is, with its own ±.
pub(super) fn reading<'a>(sheet: &'a Sheet<'_>, finding: Finding<'_>, value: &Amount) -> Option<&'a Part> {
    let inputs = &sheet.runs.get(finding.run)?.outcome.inputs;
    let mut parts = inputs.iter().flat_map(|input| &input.parts);
    parts.find(|part| Some(part.slot) == value.slot)
}

/// A limit, with the value's words for its sign; with its interval where it moves with the readings too.
fn limit_of(
    sheet: &Sheet<'_>,
    style: &Style,
    value: &Amount,
    (limit, interval): (&Amount, Option<&Interval>),
    finding: Finding<'_>,
) -> String {
    value_of(sheet, style, &beside(value, limit), interval, finding)
}

/// A limit, written as the value beside it is.
fn beside(value: &Amount, limit: &Amount) -> Amount {
    Amount {
        style: value.style.clone().or_else(|| limit.style.clone()),
        signs: value.signs.clone(),
        ..limit.clone()
    }
}

/// What is compared in a check between numbers, so that it can be put in words again where it moves.
#[derive(Clone, Debug)]
pub(super) struct Compares {
    pub(super) value: Amount,
    /// One limit, or the lower and the upper one.
    pub(super) limits: Vec<Amount>,
    /// The side whose unit both have.
    pub(super) style: Amount,
    /// As the value stands to its limit; nothing between two.
    pub(super) comparison: Option<&'static str>,
    /// Whether the limit stands on the left.
    pub(super) turned: bool,
}

/// The same numbers that [`compared`] puts in words.
pub(super) fn compares(sheet: &Sheet<'_>, finding: Finding<'_>) -> Option<Compares> {
    let known = |amount: &Amount| known(sheet, finding.run, amount).0;
    let (value, limits, comparison, turned) = match &finding.check.test {
        Test::Sides {
            left: Value::Amount(left),
            comparison,
            right: Value::Amount(right),
        } => {
            let (value, comparison, limit) = in_order(left, *comparison, right);
            let turned = std::ptr::eq(value, right);
            (known(value), vec![known(limit)], Some(comparison), turned)
        }
        Test::Between { value, low, high } => (known(value), vec![known(low), known(high)], None, false),
        Test::Sides { .. } | Test::Truth(_) => return None,
    };
    let style = owner(&value, limits.last()?).clone();
    Some(Compares {
        limits: limits.iter().map(|limit| beside(&value, limit)).collect(),
        style,
        comparison: comparison.map(Comparison::sign),
        turned,
        value,
    })
}

/// The value, how it compares, and its limit. A number that stands left of the sign but depends on no reading is the limit.
fn in_order<'a>(left: &'a Amount, comparison: Comparison, right: &'a Amount) -> (&'a Amount, Comparison, &'a Amount) {
    if left.slot.is_none() && right.slot.is_some() {
        (right, turn(comparison), left)
    } else {
        (left, comparison, right)
    }
}

/// The side whose unit both have: the value, unless the limit alone has one of its own.
fn owner<'a>(value: &'a Amount, limit: &'a Amount) -> &'a Amount {
    if value.style.is_none() && limit.style.is_some() {
        limit
    } else {
        value
    }
}

/// One style for both sides: the value's own, else the limit's own, else the usual one for the larger.
fn common_style(sheet: &Sheet<'_>, value: &Amount, limit: &Amount) -> Style {
    let size = if value.si.abs() < limit.si.abs() {
        limit.si
    } else {
        value.si
    };
    style_for(owner(value, limit), sheet.system, size)
}

const fn word(comparison: Comparison) -> &'static str {
    match comparison {
        Comparison::Less => "below",
        Comparison::AtMost => "at most",
        Comparison::More => "above",
        Comparison::AtLeast => "at least",
        Comparison::Same => "exactly",
        Comparison::Different => "other than",
    }
}

/// The comparison with its sides exchanged.
const fn turn(comparison: Comparison) -> Comparison {
    match comparison {
        Comparison::Less => Comparison::More,
        Comparison::AtMost => Comparison::AtLeast,
        Comparison::More => Comparison::Less,
        Comparison::AtLeast => Comparison::AtMost,
        same => same,
    }
}
