//! The lines of a chart: bands, limits, curves with their signs, marks.

use super::super::scene::{BandEnd, Coordinate, Form, Sign, Spot, now};
use super::layout::{Bands, Layout};
use crate::figure::{Axis, Curve, Kind, Level, Mark, Side};
use crate::outcome::Amount;
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
            self.scene.add(BANDS[self.among(nth) % BANDS.len()], true, form);
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
        let name = self.level_name(level);
        self.scene
            .spoken
            .push(format!("{}.", written::phrase(&name, self.system)));
        let look = if level.upright { "upright" } else { "limit" };
        self.scene.line(look, true, places);
    }

    pub(super) fn curve(&mut self, nth: usize) {
        let Some(curve) = self.chart.curves.get(nth) else {
            return;
        };
        let spots = self.spots(curve);
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
            let [x, y] = now(&at);
            for off in [-3.0, 0.0, 3.0] {
                self.placer.line_of([x - 5.0, y + off], [x + 5.0, y + off], Some(nth));
            }
            self.scene.add(look, true, Form::Marker { at, sign });
        }
        let spoken = self.spoken(curve);
        self.scene.spoken.push(spoken);
    }

    /// A line in words: its ends, and where it is lowest and highest between them.
    fn spoken(&self, curve: &Curve) -> String {
        let axis = match curve.side {
            Side::Left => &self.chart.y,
            Side::Right => self.chart.right.as_ref().unwrap_or(&self.chart.y),
        };
        let places: Vec<(&Amount, &Amount)> = curve.xs.iter().zip(&curve.ys).collect();
        let highest = |(nth, _): &(usize, &(&Amount, &Amount))| {
            let y = |at: usize| places.get(at).map_or(f64::NAN, |(_, y)| y.si);
            let (first, last, here) = (y(0), y(places.len().saturating_sub(1)), y(*nth));
            (here > first && here > last) || (here < first && here < last)
        };
        let turn = |which: fn(f64, f64) -> bool| {
            let turns = places.iter().enumerate().filter(highest);
            turns.reduce(|a, b| if which(b.1.1.si, a.1.1.si) { b } else { a })
        };
        let last = places.len().saturating_sub(1);
        let mut told = vec![0, last];
        told.extend(
            [turn(|a, b| a < b), turn(|a, b| a > b)]
                .into_iter()
                .flatten()
                .map(|(nth, _)| nth),
        );
        told.sort_unstable();
        told.dedup();
        let said = told.into_iter().filter_map(|nth| places.get(nth)).map(|(x, y)| {
            let (x, y) = (in_words(x, &self.chart.x, self.system), in_words(y, axis, self.system));
            format!("{y} at {x}")
        });
        let said: Vec<String> = said.collect();
        let name = written::phrase(&curve.name, self.system);
        format!("{name}: {}.", said.join(", then "))
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
            _ => LOOKS[self.among(nth) % LOOKS.len()],
        }
    }

    /// Which of the lines that need a look of their own a curve is.
    fn among(&self, nth: usize) -> usize {
        let before = self.chart.curves.iter().take(nth);
        before
            .filter(|curve| matches!(curve.kind, Kind::Line | Kind::Points))
            .count()
    }

    pub(super) fn sign(&self, nth: usize) -> Sign {
        // Of more lines than there are looks, the pairs differ.
        let nth = self.among(nth);
        SIGNS[(nth + nth / LOOKS.len()) % SIGNS.len()]
    }

    pub(super) fn mark(&mut self, mark: &Mark) {
        let at = self.spot(&mark.x, &mark.y, Side::Left);
        let name = written::phrase(&mark.name, self.system);
        let place = [(&mark.x, &self.chart.x), (&mark.y, &self.chart.y)];
        let place = place.map(|(amount, axis)| in_words(amount, axis, self.system));
        self.scene.spoken.push(format!("{name}: {} at {}.", place[1], place[0]));
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

/// A number in the unit of its scale.
fn in_words(amount: &Amount, axis: &Axis, system: System) -> String {
    let style = amount.style.clone().or_else(|| axis.unit.clone());
    let amount = Amount {
        style,
        ..amount.clone()
    };
    written::amount(&amount, system)
}
