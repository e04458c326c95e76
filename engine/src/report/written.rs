//! Numbers, intervals and texts in words.

use crate::outcome::{Amount, Phrase, Value};
use crate::quantity::Dimension;
use crate::quantity::text::{Digits, Style, System, digits_for, write_number};
use crate::study::Interval;

/// Significant digits of the numbers put into a formula: enough to do it again with a pocket calculator.
const WORKING_DIGITS: u8 = 6;

/// How a number is written: as its script says, else in the usual unit for its size.
pub(super) fn style(amount: &Amount, system: System) -> Style {
    style_for(amount, system, amount.si)
}

/// The same where the size of another number picks the unit: a limit's beside a value of zero.
#[must_use]
pub fn style_for(amount: &Amount, system: System, size: f64) -> Style {
    own_style(amount).unwrap_or_else(|| Style::usual(amount.dimension, amount.scale, system, size))
}

/// The style that the script says, if it does.
pub(super) fn own_style(amount: &Amount) -> Option<Style> {
    let text = amount.style.as_deref()?;
    Style::parse(text, amount.dimension, amount.scale).ok()
}

/// A number without its interval.
#[must_use]
pub fn amount(amount: &Amount, system: System) -> String {
    signed(&style(amount, system), amount, amount.si, None)
}

/// A number with its interval: `518 rad/s² (356 to 712)`; `at most 0.51°` where it lies at the edge of what it can be.
#[must_use]
pub fn with_interval(amount: &Amount, interval: Option<&Interval>, system: System) -> String {
    let size = match interval {
        Some(interval) if amount.si == 0.0 => interval.high,
        _ => amount.si,
    };
    let style = style_for(amount, system, size);
    styled_with_interval(&style, amount, interval)
}

/// The same in a given style.
#[must_use]
pub fn styled_with_interval(style: &Style, amount: &Amount, interval: Option<&Interval>) -> String {
    let settled = |si: f64| settled(amount, si);
    let interval = interval.map(|interval| Interval {
        low: settled(interval.low),
        high: settled(interval.high),
        ..*interval
    });
    // What is nothing but rounding has no interval either.
    let rounding = |interval: &Interval| interval.high - interval.low <= ROUNDING * amount.si.abs();
    let interval = interval.filter(|interval| settled(amount.si) != 0.0 || interval.low != interval.high);
    let interval = interval.filter(|interval| !rounding(interval));
    let Some(interval) = &interval else {
        return signed(style, amount, amount.si, None);
    };
    let support = support(style, amount.si, interval);
    if is_any_direction(amount, interval) {
        return "not known".to_owned();
    }
    if is_residual(amount, interval) {
        return format!("at most {}", signed(style, amount, interval.high, support));
    }
    let value = signed(style, amount, amount.si, support);
    format!(
        "{value} ({})",
        range(style, amount, interval.low, interval.high, support)
    )
}

/// A quantity that cannot be negative and would be (near) zero with the readings as they are: a spread of a size, whose
/// middle says nothing. Its upper end is what counts.
fn is_residual(amount: &Amount, interval: &Interval) -> bool {
    interval.low >= 0.0 && amount.si >= 0.0 && amount.si <= interval.low && amount.si <= interval.high / 4.0
}

/// An angle with more than a right angle to both sides points nowhere: of something straight, say, that has no bend.
fn is_any_direction(amount: &Amount, interval: &Interval) -> bool {
    amount.dimension == Dimension::ANGLE && interval.high - interval.low > std::f64::consts::PI
}

/// The uncertainty, in SI, whose two figures end where the value and both ends of its interval are to end: at most two
/// figures of the interval's half width, one where that begins with 5 or more. So a step of the last place is between a
/// fiftieth and a fifth of the half width. `None` where the interval has no width.
#[must_use]
pub fn support(style: &Style, at: f64, interval: &Interval) -> Option<f64> {
    let half_width = (interval.high - interval.low) / 2.0;
    let shown = style.shown_unit().width_from_si(half_width, at);
    if !(shown.is_finite() && shown > 0.0) {
        return None;
    }
    let figures = format!("{shown:.1e}");
    let (mantissa, exponent) = figures.split_once('e')?;
    let leading: f64 = mantissa.parse().ok()?;
    let exponent: i32 = exponent.parse().ok()?;
    // In between two powers of ten, so that no rounding can carry it over.
    let power = if leading < 5.0 { exponent } else { exponent + 1 };
    let of_that_place: f64 = format!("2e{power}").parse().ok()?;
    Some(half_width * (of_that_place / shown))
}

fn range(style: &Style, amount: &Amount, low: f64, high: f64, support: Option<f64>) -> String {
    let number = |si: f64| {
        let number = number(style, si, support);
        match (style.symbol(), style) {
            ("°", _) => format!("{number}°"),
            _ => number,
        }
    };
    match &amount.signs {
        Some(_) if (low < 0.0) != (high < 0.0) => {
            let end = |si| signed(style, amount, si, support);
            format!("{} to {}", end(low), end(high))
        }
        Some(_) if high < 0.0 => format!("{} to {}", number(-high), number(-low)),
        _ => format!("{} to {}", number(low), number(high)),
    }
}

/// `in 48 of 100 samples`: what the script does not come to in all of them.
#[must_use]
pub fn in_samples(share: f64) -> Option<String> {
    let hundredths = share * 100.0;
    match share {
        whole if whole >= 1.0 => None,
        _ if hundredths < 1.0 => Some("in fewer than 1 of 100 samples".to_owned()),
        _ => Some(format!("in {:.0} of 100 samples", crate::kernel::min(hundredths, 99.0))),
    }
}

/// The number in the unit of a style; one that is nothing beside its uncertainty is a zero, not 4e-19.
fn number(style: &Style, si: f64, support: Option<f64>) -> String {
    style.number(beside(si, support), support)
}

/// Zero where a number is nothing but what rounding left: of a difference of two lengths, say, that are equal.
pub(super) fn settled(amount: &Amount, si: f64) -> f64 {
    match least(amount.dimension) {
        Some(least) if si.abs() < least => 0.0,
        _ => si,
    }
}

/// Below which SI size a number of that kind is nothing, where there is one.
pub(super) fn least(dimension: Dimension) -> Option<f64> {
    let nothing = NOTHING.iter().find(|(known, _)| *known == dimension);
    nothing.map(|(_, least)| *least)
}

/// An interval this narrow, as a share of the value, is what rounding leaves of none.
const ROUNDING: f64 = 1e-9;

/// Below this, in SI units, is nothing at all: a billionth of the least that is measured or read off on a car. Plain
/// numbers, areas and the like have no such least size.
const NOTHING: [(Dimension, f64); 7] = [
    (Dimension::LENGTH, 1e-12),
    (Dimension::ANGLE, 1e-12),
    (Dimension::FORCE, 1e-9),
    (Dimension::TORQUE, 1e-9),
    (Dimension::PRESSURE, 1e-6),
    (Dimension::SPEED, 1e-12),
    (Dimension::TEMPERATURE, 1e-10),
];

/// Zero where a number is below half of the last place shown, a twentieth of the support.
fn beside(si: f64, support: Option<f64>) -> f64 {
    match support {
        Some(support) if si.abs() < support / 40.0 => 0.0,
        _ => si,
    }
}

/// A value written in a style, with a word for its sign where the script has one.
#[must_use]
pub fn signed(style: &Style, amount: &Amount, si: f64, support: Option<f64>) -> String {
    let si = beside(settled(amount, si), support);
    match &amount.signs {
        Some((positive, negative)) if si != 0.0 => {
            let word = if si < 0.0 { negative } else { positive };
            format!("{} {word}", style.write_uncertain(si.abs(), support))
        }
        _ => style.write_uncertain(si, support),
    }
}

/// Another value of an amount, to the power of ten that goes between 200 and 2,000 times into a range.
#[must_use]
pub fn written_to(like: &Amount, si: f64, range: f64, system: System) -> String {
    let style = style(like, system);
    let shown = format!("{:.0e}", style.shown_unit().width_from_si(range, si) / 200.0);
    let exponent = shown.split_once('e').map_or("0", |(_, exponent)| exponent);
    // Two figures of this end there.
    let support = format!("2e{exponent}").parse().map(|place: f64| 10.0 * place);
    let support = support.ok().filter(|_| range > 0.0);
    let support = support.map(|shown| shown * (range / style.shown_unit().width_from_si(range, si)));
    signed(&style, like, si, support)
}

/// A difference in the unit of a style: `over by 0.86°` beside 3.86°, to the last place of what it is a difference of.
#[must_use]
pub fn difference(style: &Style, size: f64, at: f64, support: Option<f64>) -> String {
    let unit = style.shown_unit();
    let shown = unit.width_from_si(size, at);
    let place = support.map(|support| digits_for(shown, Some(unit.width_from_si(support, at))));
    let number = place.map(|place| write_number(shown, place));
    // What turns a verdict is never shown as nothing.
    let number = number.filter(|number| number.chars().any(|c| ('1'..='9').contains(&c)));
    let number =
        number.unwrap_or_else(|| write_number(shown, Digits::Significant(if support.is_some() { 2 } else { 3 })));
    with_width_symbol(style, &number)
}

/// A half width in the unit of a style: `0.15°`. A width is never known better than to two figures.
#[must_use]
pub fn half_width(style: &Style, width: f64, at: f64) -> String {
    let shown = style.shown_unit().width_from_si(width, at);
    with_width_symbol(style, &write_number(shown, Digits::Significant(2)))
}

/// A ± to aim at, in the unit of a style: no wider than `width`, and a number that people read off instruments.
pub(super) fn half_width_to_aim_at(style: &Style, width: f64, at: f64) -> String {
    let shown = rounded_down(style.shown_unit().width_from_si(width, at));
    with_width_symbol(style, &write_number(shown, Digits::Significant(2)))
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

pub(super) fn with_width_symbol(style: &Style, number: &str) -> String {
    match style.symbol() {
        "" => number.to_owned(),
        "°" => format!("{number}°"),
        "°C" => format!("{number} K"),
        symbol => format!("{number} {symbol}"),
    }
}

/// A text with its numbers.
pub(super) fn phrase(phrase: &Phrase, system: System) -> String {
    phrase.in_words(|found| amount(found, system))
}

/// A formula with its numbers put in, each with as many digits as it takes to do it again. Brackets that a sign or a unit
/// needs stand in its words already.
#[must_use]
pub fn formula(phrase: &Phrase, system: System) -> String {
    phrase.in_words(|found| put_in(found, system))
}

/// A number put into a formula.
pub(super) fn put_in(amount: &Amount, system: System) -> String {
    precise(&style(amount, system), settled(amount, amount.si))
}

/// A number with all the digits that somebody may have entered.
#[must_use]
pub fn precise(style: &Style, si: f64) -> String {
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
#[must_use]
pub fn entered(amount: &Amount, system: System) -> String {
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
    let number = |_: &str, found: &Amount| entered(found, system);
    let lister = Lister {
        system,
        number: &number,
    };
    lister.value(value, "")
}

/// A value as a cell of a table has it: a number as it is usually written.
pub(super) fn cell(value: &Value, system: System) -> String {
    match value {
        Value::Amount(found) => amount(found, system),
        other => self::value(other, system),
    }
}

/// The same with each number written by `number`, which is given its address too: `loads[Wipers].current`.
pub(super) fn value_by(
    value: &Value,
    address: &str,
    system: System,
    number: &dyn Fn(&str, &Amount) -> String,
) -> String {
    Lister { system, number }.value(value, address)
}

/// Writes a value of any kind on one line.
struct Lister<'a> {
    system: System,
    number: &'a dyn Fn(&str, &Amount) -> String,
}

/// Whether the keys only count.
pub(super) fn is_list(items: &[(String, Value)]) -> bool {
    items
        .iter()
        .enumerate()
        .all(|(number, (key, _))| *key == number.to_string())
}

impl Lister<'_> {
    fn value(&self, value: &Value, address: &str) -> String {
        match value {
            Value::Amount(found) => (self.number)(address, found),
            Value::Count(count) => count.to_string(),
            Value::Text(text) => phrase(text, self.system),
            Value::Truth(truth) => if *truth { "yes" } else { "no" }.to_owned(),
            Value::Items(items) if is_list(items) => self.list(items, address),
            Value::Items(items) => self.fields(items.iter(), address),
        }
    }

    fn fields<'b>(&self, fields: impl Iterator<Item = &'b (String, Value)>, address: &str) -> String {
        let fields: Vec<String> = fields
            .map(|(key, item)| format!("{key} {}", self.value(item, &format!("{address}.{key}"))))
            .collect();
        fields.join(", ")
    }

    /// `1 mm, 2 mm`; a table's rows by their names: `first: ratio 2.85; second: ratio 1.95`.
    fn list(&self, items: &[(String, Value)], address: &str) -> String {
        let rows = items.iter().any(|(_, item)| matches!(item, Value::Items(_)));
        let written: Vec<String> = items.iter().map(|(key, item)| self.row(key, item, address)).collect();
        written.join(if rows { "; " } else { ", " })
    }

    fn row(&self, key: &str, item: &Value, address: &str) -> String {
        match named_row(item, self.system) {
            Some((name, rest)) => format!(
                "{name}: {}",
                self.fields(rest.into_iter(), &format!("{address}[{name}]"))
            ),
            None => self.value(item, &format!("{address}[{key}]")),
        }
    }
}

/// A table's row that has a name: that, and the other cells.
pub(super) fn named_row(item: &Value, system: System) -> Option<(String, Vec<&(String, Value)>)> {
    let Value::Items(cells) = item else { return None };
    let (_, name) = cells.iter().find(|(key, _)| key == "name")?;
    let rest = cells.iter().filter(|(key, _)| key != "name").collect();
    Some((value(name, system), rest))
}
