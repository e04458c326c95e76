//! Margins as far as the readings' own ± leaves them: what 97.5 % of the samples keep.

use super::inner::Linear;
use crate::outcome::Outcome;
use crate::study::gather::Asked;
use crate::study::judge::Experiment;
use crate::study::lanes::{TestLane, Watched};
use crate::study::readings::{Uncertain, uncertain};
use crate::study::sample::Sampler;
use crate::tape::{Slot, Tape, inputs_behind};

/// Samples at each place: the same points everywhere, so that what is left of a margin moves smoothly with the place.
const SAMPLES: usize = 512;
/// Slopes are differences over this part of an adjusted input's range.
const DIFFERENCE: f64 = 1e-4;

/// The readings' ± about every place of a search.
pub(super) struct Robust<'a> {
    sampler: Sampler<'a>,
    readings: Vec<Uncertain>,
    adjusted: Vec<usize>,
    sizes: Vec<f64>,
}

impl<'a> Robust<'a> {
    /// For the checks of `asked`, each with its size.
    pub(super) fn new(
        experiment: &'a dyn Experiment,
        outcomes: &[Outcome],
        asked: &'a Asked<'a>,
        adjusted: &[usize],
        sizes: &[f64],
    ) -> Self {
        let readings = readings(asked, outcomes, adjusted);
        Self {
            sampler: Sampler::new(experiment, outcomes, asked, &readings),
            readings,
            adjusted: adjusted.to_vec(),
            sizes: sizes.to_vec(),
        }
    }

    /// What is left of each margin, over its size, at these values of the adjusted inputs; none for a check that is not
    /// there, or where nothing can be calculated in more than one of forty samples.
    pub(super) fn margins(&mut self, values: &[f64]) -> Vec<Option<f64>> {
        for reading in &mut self.readings {
            let place = self.adjusted.iter().position(|input| *input == reading.input);
            if let Some(value) = place.and_then(|place| values.get(place)) {
                reading.nominal = *value;
            }
        }
        let sampled = self.sampler.sample(&self.readings, SAMPLES);
        let refused: usize = sampled.uncounted.iter().map(|uncounted| uncounted.samples).sum();
        let sizes = &self.sizes;
        let left = |(margins, size): (Vec<f64>, &f64)| {
            let mut margins = margins;
            margins.sort_by(f64::total_cmp);
            let outside = (SAMPLES / 40).checked_sub(refused)?;
            margins.get(outside).map(|margin| margin / size)
        };
        sampled.margins.into_iter().zip(sizes).map(left).collect()
    }

    /// The same with slopes by the scaled adjustments; `place` gives values of scaled ones.
    pub(super) fn linear(&mut self, scaled: &[f64], place: &dyn Fn(&[f64]) -> Vec<f64>) -> Option<Vec<Linear>> {
        let here = self.margins(&place(scaled));
        let mut beside = Vec::new();
        for axis in 0..scaled.len() {
            let mut moved = scaled.to_vec();
            // Inward, where the range ends.
            let step = if scaled[axis] > 0.5 { -DIFFERENCE } else { DIFFERENCE };
            moved[axis] += step;
            beside.push((step, self.margins(&place(&moved))));
        }
        let found = here.iter().enumerate().map(|(check, value)| {
            let value = (*value)?;
            let slope = |(step, there): &(f64, Vec<Option<f64>>)| {
                let there = there.get(check).copied().flatten();
                there.map_or(0.0, |there| (there - value) / step)
            };
            Some(Linear {
                value,
                slopes: beside.iter().map(slope).collect(),
            })
        });
        found.collect()
    }
}

/// The readings with a ± that the checks depend on, and the adjusted inputs, which move from place to place.
fn readings(asked: &Asked<'_>, outcomes: &[Outcome], adjusted: &[usize]) -> Vec<Uncertain> {
    let tape: &Tape = asked.tape;
    let sides = asked.tests.iter().flat_map(|(_, test)| TestLane::sides(test));
    let slots: Vec<Slot> = sides.filter_map(Watched::slot).collect();
    let behind = inputs_behind(tape, &slots);
    let mut readings = uncertain(outcomes.iter(), tape);
    readings.retain(|reading| behind.get(reading.input) == Some(&true) || adjusted.contains(&reading.input));
    for input in adjusted {
        if !readings.iter().any(|reading| reading.input == *input) {
            readings.push(Uncertain::exact(*input));
        }
    }
    readings
}
