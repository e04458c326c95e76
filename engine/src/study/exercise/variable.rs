//! A reading that may have other values, on the grid of what an instrument reads.

use crate::kernel;
use crate::outcome::{Amount, Input, Origin, Outcome, Part, Value};
use crate::quantity::text::{Style, System, Values, read_with_signs};
use crate::study::half_width;
use crate::tape::Slot;

/// A drawn value lies within this share of the one it was run with.
const SHARE: f64 = 0.25;
/// What has no ± is given to this share of its value.
const FINEST: f64 = 0.02;
/// A reading at zero moves within so many times its ±.
const TIMES: f64 = 6.0;

/// A reading that may have other values.
pub(super) struct Variable {
    /// The run it is first read in.
    pub(super) run: usize,
    /// Its address: `front_joint.x`.
    pub(super) address: String,
    /// Which input of the tape.
    pub(super) input: usize,
    style: Style,
    signs: Option<(String, String)>,
    /// All in the unit shown: the value, how far another may lie from it, the grid, what may be entered.
    nominal: f64,
    reach: f64,
    grid: f64,
    range: (f64, f64),
}

/// The readings of runs, each input of the tape once. What is assumed, tried, linked or chosen from a list stays.
pub(super) fn variables(outcomes: &[Outcome], system: System) -> Vec<Variable> {
    let mut found: Vec<Variable> = Vec::new();
    for (run, outcome) in outcomes.iter().enumerate() {
        for input in outcome.inputs.iter().filter(|input| may_vary(input)) {
            for part in &input.parts {
                let known = found.iter().any(|variable| variable.input == part.input);
                let amount = amount_in(&input.value, part.slot).filter(|_| !known);
                found.extend(amount.and_then(|amount| Variable::of(run, input, part, amount, system)));
            }
        }
    }
    found
}

fn may_vary(input: &Input) -> bool {
    !input.assumed && !matches!(input.origin, Origin::Assumed | Origin::Trial | Origin::Linked)
}

fn amount_in(value: &Value, slot: Slot) -> Option<&Amount> {
    match value {
        Value::Amount(amount) => (amount.slot == Some(slot)).then_some(amount),
        Value::Items(items) => items.iter().find_map(|(_, item)| amount_in(item, slot)),
        _ => None,
    }
}

impl Variable {
    fn of(run: usize, input: &Input, part: &Part, amount: &Amount, system: System) -> Option<Self> {
        let own = amount.style.as_deref();
        let own = own.and_then(|text| Style::parse(text, amount.dimension, amount.scale).ok());
        let style = own.unwrap_or_else(|| Style::usual(amount.dimension, amount.scale, system, amount.si));
        let unit = style.shown_unit();
        let nominal = style.value(amount.si);
        let width = unit.width_from_si(half_width(&part.spread), amount.si).abs();
        let reach = kernel::max(SHARE * nominal.abs(), TIMES * width);
        let finest = if width > 0.0 { width } else { FINEST * nominal.abs() };
        let grid = match &style {
            Style::Fraction { denominator, .. } => 1.0 / f64::from(*denominator),
            Style::Decimal { .. } => step_below(finest)?,
        };
        let (low, high) = input.range.unwrap_or((f64::NEG_INFINITY, f64::INFINITY));
        let shown = |si: f64| if si.is_finite() { style.value(si) } else { si };
        (reach > 0.0).then_some(Self {
            run,
            address: part.address.clone(),
            input: part.input,
            signs: amount.signs.clone(),
            nominal,
            reach,
            grid,
            range: (shown(low), shown(high)),
            style,
        })
    }

    /// A value on the grid; `chance` from 0 to 1, `share` of the whole reach. With it how it is entered.
    pub(super) fn value(&self, chance: f64, share: f64) -> Option<(f64, String)> {
        let wanted = self.nominal + self.reach * share * (2.0 * chance - 1.0);
        let wanted = kernel::max(self.range.0, kernel::min(self.range.1, wanted));
        let (least, most) = (
            ceiling(self.range.0 / self.grid),
            kernel::floor(self.range.1 / self.grid),
        );
        let steps = kernel::floor(wanted / self.grid + 0.5);
        let steps = kernel::max(least, kernel::min(most, steps));
        let text = self.text(steps * self.grid);
        let signs = self.signs.as_ref().map(|(a, b)| (a.as_str(), b.as_str()));
        let read = read_with_signs(&text, signs).ok()?;
        match read.values {
            Values::One(si) => Some((si, text)),
            Values::Vector(_) => None,
        }
    }

    /// As somebody would enter it, in the unit shown.
    fn text(&self, value: f64) -> String {
        match &self.style {
            Style::Decimal { unit, .. } => {
                let decimals = Some(decimals_of(self.grid));
                let unit = unit.clone();
                Style::Decimal { unit, decimals }.write(self.style.shown_unit().to_si(value))
            }
            fraction @ Style::Fraction { .. } => fraction.write(self.style.shown_unit().to_si(value)),
        }
    }
}

fn ceiling(value: f64) -> f64 {
    -kernel::floor(-value)
}

/// The next lower of 1, 2, 5 times a power of ten.
fn step_below(size: f64) -> Option<f64> {
    let size = size * (1.0 + 1e-9);
    let exponent: i32 = format!("{size:e}").split_once('e')?.1.parse().ok()?;
    [5, 2, 1]
        .into_iter()
        .filter_map(|step| format!("{step}e{exponent}").parse::<f64>().ok())
        .find(|step| *step <= size)
        .filter(|step| *step > 0.0 && step.is_finite())
}

/// The decimals of a step on the grid.
fn decimals_of(grid: f64) -> u8 {
    let text = format!("{grid}");
    let decimals = text.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    u8::try_from(decimals).unwrap_or(12).min(12)
}
