//! A search from one start: linear steps within a trust region.

use super::inner::{Linear, Linearised, Weights, step};
use crate::kernel;

/// What is searched: adjustments scaled to 0 … 1, from there what a step is chosen by.
pub(super) trait Landscape {
    /// At these adjustments; `None` where the script refuses them.
    fn at(&mut self, scaled: &[f64]) -> Option<Linearised>;
}

/// Where a search ended.
#[derive(Clone, Debug)]
pub(super) struct Ended {
    /// The adjustments, scaled.
    pub(super) scaled: Vec<f64>,
    pub(super) found: Linearised,
    pub(super) merit: f64,
}

const MOST_STEPS: usize = 80;
/// The first trust region: a tenth of what may be adjusted.
const FIRST_REGION: f64 = 0.1;
/// Steps shorter than this part of the range change nothing that anybody can build.
const SHORTEST: f64 = 1e-10;

/// The search from a start; `None` where the script refuses the start.
///
/// A step is taken where the merit rises by at least a tenth of what the linear problem promised; the region grows where
/// the promise was kept, and halves where it was not. Near a solution held by as many margins and targets as there are
/// adjustments the steps are Newton's.
pub(super) fn search(landscape: &mut dyn Landscape, start: &[f64], weights: Weights) -> Option<Ended> {
    let mut here = ended(landscape, start.to_vec(), weights)?;
    let mut region = FIRST_REGION;
    for _ in 0..MOST_STEPS {
        let (low, high): (Vec<f64>, Vec<f64>) = here
            .scaled
            .iter()
            .map(|at| (kernel::max(-region, -at), kernel::min(region, 1.0 - at)))
            .unzip();
        let Some(step) = step(&here.found, weights, &low, &high) else {
            break;
        };
        let promised = merit_after(&here.found, weights, &step) - here.merit;
        let length = step.iter().fold(0.0, |most, part| kernel::max(most, part.abs()));
        if length < SHORTEST || promised <= 1e-14 * (1.0 + here.merit.abs()) {
            break;
        }
        let to: Vec<f64> = here.scaled.iter().zip(&step).map(|(at, part)| at + part).collect();
        let there = ended(landscape, to, weights);
        let share = there
            .as_ref()
            .map_or(-1.0, |there| (there.merit - here.merit) / promised);
        if share > 0.1
            && let Some(there) = there
        {
            here = there;
        }
        region = match share {
            kept if kept > 0.75 => kernel::min(2.0 * region, 1.0),
            kept if kept > 0.25 => region,
            _ => kernel::min(length, region) / 2.0,
        };
        if region < SHORTEST {
            break;
        }
    }
    Some(here)
}

/// A place as the end of a search.
pub(super) fn ended(landscape: &mut dyn Landscape, scaled: Vec<f64>, weights: Weights) -> Option<Ended> {
    let found = landscape.at(&scaled)?;
    let merit = merit_after(&found, weights, &vec![0.0; scaled.len()]);
    merit.is_finite().then_some(Ended { scaled, found, merit })
}

/// The merit after a step, as far as everything is linear: the smallest margin, less the largest miss, less the cost.
fn merit_after(at: &Linearised, weights: Weights, step: &[f64]) -> f64 {
    let margins = at.margins.iter().map(|margin| margin.after(step));
    let smallest = margins.fold(weights.enough, kernel::min);
    let misses = at.misses.iter().map(|miss| miss.after(step).abs());
    let largest = misses.fold(0.0, kernel::max);
    let margin = if at.margins.is_empty() {
        0.0
    } else {
        weights.margin * smallest
    };
    margin - weights.miss * largest - at.cost.as_ref().map_or(0.0, |cost: &Linear| cost.after(step))
}
