//! The 95 % bands of the lines of charts: sampled only where somebody draws them.

use super::gather::Asked;
use super::judge::Experiment;
use super::lanes::{Key, Watched};
use super::readings::{Samples, sample_count, uncertain};
use super::sample::Sampler;
use crate::figure::{Curve, Figure, Kind};
use crate::outcome::{Amount, Outcome};
use crate::tape::Tape;
use std::collections::BTreeMap;

/// For each figure that has one, by run and number: for each of its lines the ends of the band at each of its places,
/// SI units; nothing of a line without one.
pub type Bands = BTreeMap<(usize, usize), Vec<Vec<[f64; 2]>>>;

/// More places than this of one run have no bands: a picture is no reason to wait.
const MOST_PLACES: usize = 4_000;

/// The bands of all lines of charts that move with the readings. Where the places of a line move too, a band is across the
/// page where the line is as the readings are: each sample's line is read off there.
#[must_use]
pub fn bands(experiment: &dyn Experiment, tape: &Tape, outcomes: &[Outcome]) -> Bands {
    let readings = uncertain(outcomes.iter(), tape);
    let lines = lines(outcomes);
    let places: usize = lines.iter().map(|line| line.curve.xs.len()).sum();
    if readings.is_empty() || lines.is_empty() || places > MOST_PLACES {
        return Bands::new();
    }
    let amounts: Vec<(Key, Watched)> = lines.iter().flat_map(Line::amounts).collect();
    let asked = Asked {
        tape,
        amounts: &amounts,
        tests: &[],
        sides: false,
        curves: true,
    };
    let count = sample_count(tape);
    let samples = Samples::new(&readings, tape, count);
    let mut gathered: Vec<Vec<Vec<f64>>> = lines.iter().map(|line| vec![Vec::new(); line.curve.xs.len()]).collect();
    Sampler::new(experiment, outcomes, &asked, &readings).each(&samples, 0..count, &mut |_, drawn| {
        let Ok((path, values)) = drawn else { return };
        let mut at = 0;
        for (line, gathered) in lines.iter().zip(&mut gathered) {
            let end = at + 2 * line.curve.xs.len();
            let found = path.amounts.get(at..end).unwrap_or_default();
            let sampled: Option<Vec<f64>> = found
                .iter()
                .map(|watched| watched.map(|found| found.value(values)))
                .collect();
            if let Some(sampled) = sampled {
                line.gather(&sampled, gathered);
            }
            at = end;
        }
    });
    let mut bands = Bands::new();
    for (line, gathered) in lines.iter().zip(gathered) {
        let ends: Option<Vec<[f64; 2]>> = gathered.into_iter().map(ends).collect();
        let figure = bands.entry((line.run, line.figure)).or_default();
        figure.resize(figure.len().max(line.number + 1), Vec::new());
        if let Some(ends) = ends.filter(|ends| ends.iter().any(|[low, high]| low < high)) {
            figure[line.number] = ends;
        }
    }
    bands
}

/// A line of a chart.
struct Line<'a> {
    run: usize,
    figure: usize,
    number: usize,
    curve: &'a Curve,
    /// Whether its places move.
    shifts: bool,
}

/// The lines whose numbers may move; one whose places move and go back on themselves has no band.
fn lines(outcomes: &[Outcome]) -> Vec<Line<'_>> {
    let mut found = Vec::new();
    for (run, outcome) in outcomes.iter().enumerate() {
        for (figure, shown) in outcome.figures.iter().enumerate() {
            let Figure::Chart(chart) = &shown.figure else { continue };
            for (number, curve) in chart.curves.iter().enumerate() {
                let moves = |amounts: &[Amount]| amounts.iter().any(|amount| amount.slot.is_some());
                let shifts = moves(&curve.xs);
                let onward = curve.xs.windows(2).all(|pair| pair[0].si < pair[1].si);
                if curve.kind == Kind::Line && moves(&curve.ys) && (onward || !shifts) {
                    found.push(Line {
                        run,
                        figure,
                        number,
                        curve,
                        shifts,
                    });
                }
            }
        }
    }
    found
}

impl Line<'_> {
    /// Its numbers as they are asked for: all xs, then all ys.
    fn amounts(&self) -> impl Iterator<Item = (Key, Watched)> {
        of_curve(self.run, (self.figure, self.number), self.curve)
    }

    /// Takes one sample: its xs, then its ys.
    fn gather(&self, sampled: &[f64], gathered: &mut [Vec<f64>]) {
        let (xs, ys) = sampled.split_at(sampled.len() / 2);
        for (nth, (x, gathered)) in self.curve.xs.iter().zip(gathered).enumerate() {
            let y = if self.shifts {
                read_off(xs, ys, x.si)
            } else {
                ys.get(nth).copied()
            };
            gathered.extend(y.filter(|y| y.is_finite()));
        }
    }
}

/// The numbers of a curve, each with a name that no step has.
fn of_curve(run: usize, place: (usize, usize), curve: &Curve) -> impl Iterator<Item = (Key, Watched)> {
    let amounts = curve.xs.iter().chain(&curve.ys).enumerate();
    amounts.map(move |(nth, amount)| {
        let key = Key {
            run,
            step: format!("\u{1}{} {}", place.0, place.1),
            items: vec![nth.to_string()],
        };
        (key, Watched::of(amount))
    })
}

/// The same of all curves of the outcomes.
pub(super) fn of_curves(outcomes: &[Outcome]) -> impl Iterator<Item = (Key, Watched)> {
    lines(outcomes)
        .into_iter()
        .flat_map(|line| line.amounts().collect::<Vec<_>>())
}

/// A line read off at a place; before its first place and beyond its last one it goes on straight.
fn read_off(xs: &[f64], ys: &[f64], x: f64) -> Option<f64> {
    let last = xs.len().checked_sub(2)?;
    let stretch = xs.iter().skip(1).position(|end| x <= *end).unwrap_or(last).min(last);
    let [from, to] = [xs.get(stretch)?, xs.get(stretch + 1)?];
    let [low, high] = [ys.get(stretch)?, ys.get(stretch + 1)?];
    Some(low + (high - low) * (x - from) / (to - from))
}

/// The central 95 % of samples (JCGM 101:2008, 7.7).
fn ends(mut samples: Vec<f64>) -> Option<[f64; 2]> {
    samples.sort_by(f64::total_cmp);
    let outside = samples.len() / 40;
    let low = samples.get(outside)?;
    let high = samples.get(samples.len() - 1 - outside)?;
    Some([*low, *high])
}
