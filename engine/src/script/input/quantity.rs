//! One quantity: as written, as a number of the tape, as repeats of a reading.

use super::admit::{Result, Taking};
use super::refused::{other_kind, other_scale, plain, unfit};
use super::repeats;
use crate::diagnostic::Refusal;
use crate::outcome::{Part, Spread};
use crate::quantity::{Dimension, Quantity, words};
use crate::script::held::Held;
use crate::script::reading::{self, Written};
use crate::script::run::GivenValue;
use crate::script::stated::{fixed, mean_of_repeats};
use crate::script::value;
use crate::tape::Number;
use rhai::Dynamic;

impl Taking<'_, '_> {
    pub(super) fn take_quantity(
        &mut self,
        address: &str,
        example: Quantity,
        spread: Spread,
        given: Option<&GivenValue>,
    ) -> Result<Dynamic> {
        if example.dimension() == Dimension::of(-1, 0, 0, 0, 0, 0) {
            let message = format!("the example of `{address}` is one over a length");
            return Err(Refusal::new("input", message).hint("(1/8).inch is an eighth of an inch"));
        }
        let own = fixed(example, &format!("the example of `{address}`"))?;
        let mut example = example;
        let (number, stated) = match given {
            None => (own, None),
            Some(GivenValue::Tracked(held)) => return self.take_tracked(address, example, held),
            Some(GivenValue::Number(number)) => (plain(address, *number, example)?, None),
            Some(GivenValue::Text(text)) => {
                let written = self.read(address, text, example)?;
                example = written.as_written(example);
                (written.numbers[0], written.spread)
            }
            Some(GivenValue::Repeats(repeats, width)) => {
                let (mean, scatter) = self.repeats(address, repeats, width.as_deref(), example)?;
                (mean, Some(scatter))
            }
            Some(other) => return Err(unfit(address, "one quantity", other)),
        };
        let kept = match stated {
            None => self
                .job
                .take()
                .and_then(|job| self.spread_in_job(address, &job, example)),
            Some(_) => None,
        };
        self.within_range(address, example.with_number(Number::constant(number)))?;
        let (input, number) = self.run.open_input(number);
        let slot = number.slot().unwrap_or_default();
        self.parts.push(Part {
            address: address.to_owned(),
            input,
            slot,
            spread: stated.or(kept).unwrap_or(spread),
            stated: stated.or(kept).is_some(),
            kept: kept.is_some(),
        });
        Ok(Dynamic::from(example.with_number(number)))
    }

    /// A number that stands on the tape already: of another run, or a reading used before.
    fn take_tracked(&mut self, address: &str, example: Quantity, held: &Held) -> Result<Dynamic> {
        let quantity = value::quantity(&held.value, &format!("what is linked to `{address}`"))?;
        if !quantity.dimension().is_like(example.dimension()) {
            return Err(other_kind(address, example, &quantity.described()));
        }
        if quantity.scale() != example.scale() {
            return Err(other_scale(address, example, &quantity.shown()));
        }
        self.within_range(address, quantity)?;
        if let Some(part) = held.part(quantity.number().slot()) {
            let address = address.to_owned();
            self.parts.push(Part { address, ..part });
        }
        Ok(Dynamic::from(example.with_number(quantity.number())))
    }

    pub(super) fn read(&self, address: &str, text: &str, example: Quantity) -> Result<Written> {
        let written = reading::read(text, self.declared.signs.as_ref())?;
        if written.numbers.len() != 1 {
            return Err(Refusal::new(
                "input",
                format!("`{address}` is one quantity, `{text}` is a point"),
            ));
        }
        if !written.dimension.is_like(example.dimension()) {
            let found = words::with_article(&words::name_of(written.dimension));
            return Err(other_kind(address, example, &format!("{found} (`{text}`)")));
        }
        if written.scale != example.scale() {
            return Err(other_scale(address, example, text));
        }
        Ok(written)
    }

    /// The ± of the job's value, in whose place another is tried; what cannot be read has none.
    pub(super) fn spread_in_job(&self, address: &str, job: &GivenValue, example: Quantity) -> Option<Spread> {
        match job {
            GivenValue::Text(text) => self.read(address, text, example).ok()?.spread,
            GivenValue::Repeats(repeats, width) => {
                let limits = width_of_repeats(address, width.as_deref(), example).ok()?;
                let numbers = repeats
                    .iter()
                    .map(|repeat| Some(self.read(address, repeat, example).ok()?.numbers[0]));
                let numbers: Vec<f64> = numbers.collect::<Option<_>>()?;
                (!numbers.is_empty()).then(|| mean_of_repeats(&numbers, limits).1)
            }
            _ => None,
        }
    }

    pub(super) fn repeats(
        &mut self,
        address: &str,
        repeats: &[String],
        width: Option<&str>,
        example: Quantity,
    ) -> Result<(f64, Spread)> {
        let mut numbers = Vec::new();
        for repeat in repeats {
            numbers.push(self.read(address, repeat, example)?.numbers[0]);
        }
        if numbers.is_empty() {
            return Err(Refusal::new("input", format!("there is no reading for `{address}`")));
        }
        let limits = width_of_repeats(address, width, example)?;
        let doubts = repeats::doubts(address, &numbers, limits, example);
        self.run.outcome.doubts.extend(doubts);
        Ok(mean_of_repeats(&numbers, limits))
    }

    pub(super) fn within_range(&self, address: &str, quantity: Quantity) -> Result<()> {
        let Some((low, high)) = self.declared.range else {
            return Ok(());
        };
        // A sample of a ± may fall outside: the range limits what may be entered.
        if self.run.sample.is_some() {
            return Ok(());
        }
        let (x, a, b) = (quantity.number().shown(), low.number().shown(), high.number().shown());
        if (a..=b).contains(&x) {
            return Ok(());
        }
        let message = format!(
            "`{address}` is {}, outside what may be entered ({} to {})",
            quantity.shown(),
            low.shown(),
            high.shown()
        );
        Err(Refusal::new("input", message))
    }
}

/// The instrument's ± of repeats.
pub(super) fn width_of_repeats(address: &str, width: Option<&str>, example: Quantity) -> Result<f64> {
    let Some(width) = width else { return Ok(0.0) };
    let width = reading::read(width, None)?;
    if !width.dimension.is_like(example.dimension()) {
        return Err(other_kind(&format!("± of {address}"), example, "of another kind"));
    }
    Ok(width.numbers[0].abs())
}
