//! Recorded numbers, their differences, and checks in words.

use super::compare::ComparedCheck;
use super::record::{Entry, Found, Number, Origin, RecordedCheck};
use crate::outcome::Amount;
use crate::quantity::text::{Digits, Style, System, usual_unit, write_number};
use crate::quantity::units::WrittenUnit;
use crate::report::finding::word as verdict_word;
use crate::report::text::chance as hundredths;
use crate::report::written;
use crate::study::{Interval, Verdict};

/// A value, in the unit of another where both measure the same, so that they can be read side by side.
pub(super) fn value(found: &Found, like: &Found, system: Option<System>) -> String {
    match found {
        Found::Words(text) => text.clone(),
        Found::Number(number) => match style(unit_of(number, like), system) {
            Some(style) => styled(&style, number),
            None => spelled(number),
        },
    }
}

/// `+1.2 mm`: from A to B; nothing where there is no number to say.
pub(super) fn difference(a: &Found, b: &Found, system: Option<System>) -> String {
    let (Found::Number(a), Found::Number(b)) = (a, b) else {
        return String::new();
    };
    let size = b.si - a.si;
    if a.dimension != b.dimension || size == 0.0 {
        return String::new();
    }
    let sign = if size < 0.0 { "-" } else { "+" };
    let Some(style) = style(a, system) else {
        let number = write_number(size.abs(), Digits::Significant(3));
        return format!("{sign}{number} {}", a.unit);
    };
    let supports = [a, b].into_iter().filter_map(|number| {
        let interval = interval(number)?;
        written::support(&style, number.si, &interval)
    });
    let widest = supports.reduce(|a, b| if a > b { a } else { b });
    format!("{sign}{}", written::difference(&style, size.abs(), a.si, widest))
}

/// `length in A, time in B`, where two numbers measure two things: their digits may be the same.
pub(super) fn other_kind(a: &Found, b: &Found) -> Option<String> {
    let (a, b) = (a.number()?, b.number()?);
    (a.dimension != b.dimension).then(|| format!("{} in A, {} in B", a.dimension, b.dimension))
}

/// The margin of a check: positive where it holds.
pub(super) fn margin(check: &RecordedCheck, system: Option<System>) -> Option<String> {
    let margin = check.margin_si?;
    let (style, at) = margin_style(check, system)?;
    Some(signed_margin(&style, margin, at, check.margin_uncertainty, ""))
}

/// How far the margin went from A to B.
pub(super) fn margin_difference(check: &ComparedCheck, system: Option<System>) -> Option<String> {
    let (a, b) = check.sides.both()?;
    let size = b.margin_si? - a.margin_si?;
    let (style, at) = margin_style(a, system)?;
    let (of_a, of_b) = (a.margin_uncertainty, b.margin_uncertainty);
    let uncertainty = if of_a < of_b { of_b } else { of_a };
    Some(signed_margin(&style, size, at, uncertainty, "+"))
}

fn margin_style(check: &RecordedCheck, system: Option<System>) -> Option<(Style, f64)> {
    match check.left.first().map(|entry| &entry.found) {
        Some(Found::Number(number)) => Some((style(number, system)?, number.si)),
        _ => None,
    }
}

fn signed_margin(style: &Style, margin: f64, at: f64, uncertainty: f64, plus: &str) -> String {
    let around = around(margin, 2.0 * uncertainty);
    let support = written::support(style, at, &around);
    // Below half of the last place shown it is what rounding leaves.
    let margin = if support.is_some_and(|support| margin.abs() < support / 40.0) {
        0.0
    } else {
        margin
    };
    let sign = match margin {
        margin if margin < 0.0 => "-",
        margin if margin > 0.0 => plus,
        _ => "",
    };
    format!("{sign}{}", written::difference(style, margin.abs(), at, support))
}

/// `UNSURE, 27 in 100: 0.19° (0.05° to 0.81°), at least 0.5°`
pub(super) fn check(check: &RecordedCheck, system: Option<System>) -> String {
    let word = verdict_word(check.decides(), check.verdict);
    let chance = match check.verdict {
        Verdict::Unsure => format!(", {} in 100", hundredths(check.chance)),
        _ => String::new(),
    };
    let sides = sides(check, system);
    format!("{word}{chance}: {sides}")
}

/// Its value and its limit: what depends on no reading is the limit, on whichever side it stands.
pub(super) fn sides(check: &RecordedCheck, system: Option<System>) -> String {
    let side = |entries: &[Entry], like: &[Entry]| side(entries, like, system);
    let moves = |entries: &[Entry]| {
        let mut numbers = entries.iter().filter_map(|entry| entry.found.number());
        numbers.any(|number| number.std_uncertainty > 0.0)
    };
    let (left, right) = (&check.left, &check.right);
    match check.sign.as_deref() {
        None => format!("{}, must be yes", side(left, left)),
        Some("from to") => {
            let ends: Vec<String> = right.iter().map(|end| side(std::slice::from_ref(end), left)).collect();
            format!("{}, from {}", side(left, left), ends.join(" to "))
        }
        Some(sign) if !moves(left) && moves(right) => {
            format!(
                "{}, {} {}",
                side(right, left),
                limit_word(turned(sign)),
                side(left, left)
            )
        }
        Some(sign) => format!("{}, {} {}", side(left, left), limit_word(sign), side(right, left)),
    }
}

fn turned(sign: &str) -> &str {
    match sign {
        "<" => ">",
        "<=" => ">=",
        ">" => "<",
        ">=" => "<=",
        same => same,
    }
}

fn limit_word(sign: &str) -> &str {
    match sign {
        "<" => "below",
        "<=" => "at most",
        ">" => "above",
        ">=" => "at least",
        "==" => "exactly",
        "!=" => "other than",
        other => other,
    }
}

fn side(entries: &[Entry], like: &[Entry], system: Option<System>) -> String {
    let like = like.first().map(|entry| &entry.found);
    let words = entries.iter().map(|entry| {
        let like = like.unwrap_or(&entry.found);
        let styled = entry.found.number().and_then(|number| {
            let style = style(unit_of(number, like), system)?;
            let interval = interval(number);
            Some(written::styled_with_interval(
                &style,
                &amount(&style, number),
                interval.as_ref(),
            ))
        });
        styled.unwrap_or_else(|| value(&entry.found, like, system))
    });
    words.collect::<Vec<_>>().join(", ")
}

/// `measured`, `linked, from road speed: shaft_at_top`, `option mount lowered`
pub(super) fn origin(origin: &Origin) -> String {
    match (&origin.option, &origin.taken_from) {
        (Some(option), _) => format!("option {option}"),
        (None, Some(from)) => format!("{}, from {from}", origin.from),
        (None, None) => origin.from.clone(),
    }
}

/// The number whose unit is taken.
fn unit_of<'a>(number: &'a Number, like: &'a Found) -> &'a Number {
    match like {
        Found::Number(like) if like.dimension == number.dimension => like,
        _ => number,
    }
}

/// How a number is written: in its recorded unit, or where that is the usual one of the other system, in the reader's.
fn style(number: &Number, system: Option<System>) -> Option<Style> {
    let unit = WrittenUnit::parse(&number.unit).ok()?;
    let usual = |system| usual_unit(unit.dimension(), unit.scale(), system, number.si);
    let other = match system {
        Some(System::Inch) => Some(System::Metric),
        Some(System::Metric) => Some(System::Inch),
        None => None,
    };
    let turned = system.zip(other).filter(|(_, other)| usual(*other) == unit);
    Some(Style::unit(turned.map_or(unit.clone(), |(system, _)| usual(system))))
}

/// In a unit that cannot be read, a root of units say: such a unit is one of SI.
fn spelled(number: &Number) -> String {
    format!("{} {}", write_number(number.si, Digits::Significant(6)), number.unit)
}

fn styled(style: &Style, number: &Number) -> String {
    if let (Some(interval), None) = (interval(number), number.half_width) {
        let support = written::support(style, number.si, &interval);
        return written::signed(style, &amount(style, number), number.si, support);
    }
    match (number.half_width, &number.signs) {
        (Some(width), None) => style.write_plus_minus(number.si, width),
        (Some(width), Some(_)) => {
            let width = written::half_width(style, width, number.si);
            format!("{} ± {width}", exact(style, number))
        }
        (None, _) => exact(style, number),
    }
}

/// All its digits, a word for its sign.
fn exact(style: &Style, number: &Number) -> String {
    match &number.signs {
        Some((positive, negative)) if number.si != 0.0 => {
            let word = if number.si < 0.0 { negative } else { positive };
            format!("{} {word}", written::precise(style, number.si.abs()))
        }
        _ => written::precise(style, number.si),
    }
}

fn amount(style: &Style, number: &Number) -> Amount {
    let unit = style.shown_unit();
    Amount {
        si: number.si,
        dimension: unit.dimension(),
        scale: unit.scale(),
        slot: None,
        aside: false,
        style: None,
        signs: number.signs.clone(),
    }
}

/// Where it lies, in 95 of 100.
fn interval(number: &Number) -> Option<Interval> {
    let of_result = number.interval.map(|(low, high)| Interval {
        std_uncertainty: number.std_uncertainty,
        low,
        median: number.si,
        high,
        present: 0,
    });
    of_result.or_else(|| number.half_width.map(|width| around(number.si, width)))
}

fn around(si: f64, width: f64) -> Interval {
    Interval {
        std_uncertainty: width / 2.0,
        low: si - width,
        median: si,
        high: si + width,
        present: 0,
    }
}
