//! Margins as far as the readings' own ± leaves them: what 97.5 % of the samples keep.

use super::inner::Linear;
use super::known::Known;
use crate::outcome::Outcome;
use crate::study::gather::Asked;
use crate::study::judge::Experiment;
use crate::study::readings::{Uncertain, uncertain};
use crate::study::sample::Sampler;
use crate::tape::Tape;

/// Samples at each place: the same points everywhere, so that what is left of a margin moves smoothly with the place.
const SAMPLES: usize = 512;
/// Slopes are differences over this part of an adjusted input's range.
const DIFFERENCE: f64 = 1e-4;

/// The readings' ± about every place of a search.
pub(super) struct Robust<'a> {
    sampler: Sampler<'a>,
    nominal: &'a Tape,
    readings: Vec<Uncertain>,
    adjusted: Vec<usize>,
    /// The checks asked for: number and size.
    checks: Vec<(usize, f64)>,
}

impl<'a> Robust<'a> {
    /// For the checks of `asked`, which are those of `known` that lead.
    pub(super) fn new(
        experiment: &'a dyn Experiment,
        outcomes: &[Outcome],
        asked: &'a Asked<'a>,
        adjusted: &[usize],
        known: &Known,
    ) -> Self {
        let readings = readings(asked.tape, outcomes, adjusted, &known.behind());
        let mut sampler = Sampler::new(experiment, outcomes, asked, &readings);
        sampler.look_round(outcomes);
        let leading = known.leading().into_iter();
        Self {
            sampler,
            nominal: asked.tape,
            readings,
            adjusted: adjusted.to_vec(),
            checks: leading.map(|number| (number, known.size(number))).collect(),
        }
    }

    /// What is left of each margin, over its size, at these values of the adjusted inputs; `None` where nothing can be
    /// calculated in more than one of forty samples. A check that is not there asks nothing. Checks of other ways are
    /// told to `known`.
    pub(super) fn margins(&mut self, values: &[f64], known: &mut Known) -> Option<Vec<(usize, f64)>> {
        for reading in &mut self.readings {
            let place = self.adjusted.iter().position(|input| *input == reading.input);
            if let Some(value) = place.and_then(|place| values.get(place)) {
                reading.nominal = *value;
            }
        }
        let sampled = self.sampler.sample(&self.readings, SAMPLES);
        for counted in &sampled.elsewhere.found {
            known.meet_beside(&counted.met, self.nominal);
        }
        let refused = sampled.tally().refused;
        let outside = (SAMPLES / 40).checked_sub(refused)?;
        let mut left = Vec::new();
        let found = sampled.margins.into_iter().zip(&sampled.checks).zip(&self.checks);
        for ((mut margins, (counted, holding)), (number, size)) in found {
            margins.sort_by(f64::total_cmp);
            if let Some(margin) = margins.get(outside) {
                left.push((*number, margin / size));
            } else if margins.is_empty() && *counted > holding + refused + outside {
                // One of yes or no has no margins; it does not hold in the refused samples, which are counted already.
                left.push((*number, -1.0));
            }
        }
        Some(left)
    }

    /// The same with slopes by the scaled adjustments; `place` gives values of scaled ones.
    pub(super) fn linear(
        &mut self,
        scaled: &[f64],
        place: &dyn Fn(&[f64]) -> Vec<f64>,
        known: &mut Known,
    ) -> Option<Vec<Linear>> {
        let here = self.margins(&place(scaled), known)?;
        let mut beside = Vec::new();
        for axis in 0..scaled.len() {
            let mut moved = scaled.to_vec();
            // Inward, where the range ends.
            let step = if scaled[axis] > 0.5 { -DIFFERENCE } else { DIFFERENCE };
            moved[axis] += step;
            beside.push((step, self.margins(&place(&moved), known).unwrap_or_default()));
        }
        let found = here.iter().map(|(check, value)| {
            let slope = |(step, there): &(f64, Vec<(usize, f64)>)| {
                let there = there.iter().find(|(number, _)| number == check);
                there.map_or(0.0, |(_, there)| (there - value) / step)
            };
            Linear {
                value: *value,
                slopes: beside.iter().map(slope).collect(),
            }
        });
        Some(found.collect())
    }
}

/// The readings with a ± that the checks or the way depend on, and the adjusted inputs, which move from place to place.
fn readings(tape: &Tape, outcomes: &[Outcome], adjusted: &[usize], behind: &[bool]) -> Vec<Uncertain> {
    let mut readings = uncertain(outcomes.iter(), tape);
    readings.retain(|reading| behind.get(reading.input) == Some(&true) || adjusted.contains(&reading.input));
    for input in adjusted {
        if !readings.iter().any(|reading| reading.input == *input) {
            readings.push(Uncertain::exact(*input));
        }
    }
    readings
}
