//! The lines of a chart: bands, limits, curves with their signs, marks.

use super::super::scene::{BandEnd, Coordinate, Form, Sign, Spot, now};
use super::layout::{Bands, Layout};
use crate::figure::{Curve, Kind, Level, Mark, Side};
use crate::quantity::text::System;
use crate::report::written;

/// How the lines of a chart are told apart.
const LOOKS: [&str; 6] = ["line l0", "line l1", "line l2", "line l3", "line l4", "line l5"];
const BANDS: [&str; 6] = ["band b0", "band b1", "band b2", "band b3", "band b4", "band b5"];
const SIGNS: [Sign; 6] = [
    Sign::Disc,
    Sign::Square,
    Sign::Triangle,
    Sign::Diamond,
    Sign::Ring,
    Sign::Cross,
];
/// Signs along one line.
const ALONG: usize = 5;

impl Layout<'_> {
    /// Bands of the lines that move with the readings.
    pub(super) fn bands(&mut self, bands: &Bands) {
        for (nth, (curve, ends)) in self.chart.curves.iter().zip(bands).enumerate() {
            if !is_banded(curve, ends) {
                continue;
            }
            let (across, up) = (self.across(), self.up(curve.side));
            let along = curve
                .xs
                .iter()
                .zip(&curve.ys)
                .zip(ends)
                .map(|((x, y), [low, high])| BandEnd {
                    across: across.of(x),
                    low: up.place(*low),
                    high: up.place(*high),
                    place: [x.clone(), y.clone()],
                });
            let form = Form::Band {
                along: along.collect(),
                scale: up,
                curve: nth,
            };
            self.scene.add(BANDS[nth % BANDS.len()], true, form);
        }
    }

    pub(super) fn level(&mut self, level: &Level) {
        let [l, t, r, b] = self.plot;
        let fixed = Coordinate::fixed;
        let places = if level.upright {
            let x = self.across().of(&level.at);
            vec![[x.clone(), fixed(b)], [x, fixed(t)]]
        } else {
            let y = self.up(level.side).of(&level.at);
            vec![[fixed(l), y.clone()], [fixed(r), y]]
        };
        self.placer.line(now(&places[0]), now(&places[1]));
        let look = if level.upright { "upright" } else { "limit" };
        self.scene.line(look, true, places);
    }

    pub(super) fn curve(&mut self, nth: usize) {
        let Some(curve) = self.chart.curves.get(nth) else {
            return;
        };
        let spots: Vec<Spot> = curve
            .xs
            .iter()
            .zip(&curve.ys)
            .map(|(x, y)| self.spot(x, y, curve.side))
            .collect();
        for pair in spots.windows(2) {
            self.placer.line_of(now(&pair[0]), now(&pair[1]), Some(nth));
        }
        let (look, sign) = (self.look(nth), self.sign(nth));
        let signs: Vec<Spot> = match curve.kind {
            Kind::Points => spots.clone(),
            Kind::Line if self.lines() > 1 => spaced(&spots),
            _ => Vec::new(),
        };
        if curve.kind != Kind::Points {
            let places = spots;
            self.scene.line(look, true, places);
        }
        for at in signs {
            self.scene.add(look, true, Form::Marker { at, sign });
        }
        let spoken = spoken(curve, self.system);
        self.scene.spoken.push(spoken);
    }

    pub(super) fn lines(&self) -> usize {
        self.chart
            .curves
            .iter()
            .filter(|curve| curve.kind == Kind::Line)
            .count()
    }

    pub(super) fn look(&self, nth: usize) -> &'static str {
        match self.chart.curves.get(nth).map(|curve| curve.kind) {
            Some(Kind::Old) => "old",
            Some(Kind::Limit) => "limit",
            _ => LOOKS[nth % LOOKS.len()],
        }
    }

    pub(super) fn sign(&self, nth: usize) -> Sign {
        // Of more lines than there are looks, the pairs differ.
        SIGNS[(nth + nth / LOOKS.len()) % SIGNS.len()]
    }

    pub(super) fn mark(&mut self, mark: &Mark) {
        let at = self.spot(&mark.x, &mark.y, Side::Left);
        let [x, y] = now(&at);
        self.placer.take([x - 5.0, y - 5.0, x + 5.0, y + 5.0]);
        self.scene.add(
            "mark",
            true,
            Form::Marker {
                at,
                sign: Sign::Diamond,
            },
        );
    }
}

/// Whether a line is drawn with its band.
pub(super) fn is_banded(curve: &Curve, ends: &[[f64; 2]]) -> bool {
    curve.kind == Kind::Line && ends.len() == curve.ys.len()
}

/// A few of the places along a line, about equally far from one another across the page.
fn spaced(spots: &[Spot]) -> Vec<Spot> {
    let (Some(first), Some(last)) = (spots.first(), spots.last()) else {
        return Vec::new();
    };
    let span = last[0].now() - first[0].now();
    let mut found: Vec<Spot> = Vec::new();
    for part in 0..ALONG {
        #[allow(clippy::cast_precision_loss, reason = "five")]
        let wanted = first[0].now() + span * (part as f64 + 0.5) / ALONG as f64;
        let away = |spot: &&Spot| (spot[0].now() - wanted).abs();
        if let Some(nearest) = spots.iter().min_by(|a, b| away(a).total_cmp(&away(b)))
            && found.last() != Some(nearest)
        {
            found.push(nearest.clone());
        }
    }
    found
}

/// A line in words.
fn spoken(curve: &Curve, system: System) -> String {
    let name = written::phrase(&curve.name, system);
    let at = |nth: usize| {
        let (x, y) = (curve.xs.get(nth)?, curve.ys.get(nth)?);
        Some(format!(
            "{} at {}",
            written::amount(y, system),
            written::amount(x, system)
        ))
    };
    let ends: Vec<String> = [at(0), at(curve.xs.len().saturating_sub(1))]
        .into_iter()
        .flatten()
        .collect();
    format!("{name}: {}.", ends.join(", then "))
}
