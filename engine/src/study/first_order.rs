//! Standard uncertainties and each reading's share, from derivatives (JCGM 100:2008, 5.1.2; readings independent).

use super::lanes::{Lane, TestLane};
use super::readings::Uncertain;
use crate::kernel;
use crate::tape::{Forward, Tape};

/// Derivatives of every slot with respect to each uncertain reading, times the reading's standard uncertainty.
pub(crate) struct FirstOrder<'a> {
    readings: &'a [Uncertain],
    tape: &'a Tape,
    passes: Vec<Forward>,
}

impl<'a> FirstOrder<'a> {
    pub(crate) fn new(tape: &'a Tape, readings: &'a [Uncertain]) -> Self {
        let passes = readings
            .iter()
            .map(|reading| Forward::of(tape, &tape.nominal, reading.input))
            .collect();
        Self { readings, tape, passes }
    }

    /// Standard uncertainty of a number.
    pub(crate) fn standard(&self, lane: Lane) -> f64 {
        lane.slot()
            .map_or(0.0, |slot| self.size(&self.contributions(&[(slot, 1.0)])))
    }

    /// Standard uncertainty of a check's margin, and the shares of its variance by reading, largest first.
    pub(crate) fn margin(&self, test: &TestLane) -> (f64, Vec<(String, f64)>) {
        let contributions = self.contributions(&test.margin_slots(&self.tape.nominal));
        let size = self.size(&contributions);
        if size == 0.0 {
            return (0.0, Vec::new());
        }
        let mut shares: Vec<(String, f64)> = self
            .readings
            .iter()
            .zip(&contributions)
            .filter(|(_, part)| **part != 0.0)
            .map(|(reading, part)| (reading.address.clone(), (part / size) * (part / size)))
            .collect();
        shares.sort_by(|a, b| b.1.total_cmp(&a.1));
        (size, shares)
    }

    fn contributions(&self, slots: &[(u32, f64)]) -> Vec<f64> {
        let of_reading = |(reading, pass): (&Uncertain, &Forward)| {
            let derivative = slots
                .iter()
                .fold(0.0, |sum, (slot, weight)| sum + weight * pass.slot(*slot));
            derivative * reading.standard()
        };
        self.readings.iter().zip(&self.passes).map(of_reading).collect()
    }

    fn size(&self, contributions: &[f64]) -> f64 {
        kernel::sqrt(contributions.iter().fold(0.0, |sum, part| sum + part * part))
    }
}
