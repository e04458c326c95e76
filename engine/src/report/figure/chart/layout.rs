//! Where the parts of a chart go: its scales, and the room for names beside it.

use super::super::axis::{Again, Ruler, heading, left, lower, right};
use super::super::key::{Entry, key};
use super::super::measure::{widest, wrapped};
use super::super::placer::Placer;
use super::super::scene::{Anchor, Coordinate, Form, Linear, Scene, Spot};
use super::extents::{across, up};
use crate::figure::{Axis, Chart, Curve, Kind, SecondScale, Side};
use crate::kernel;
use crate::outcome::{Amount, Piece};
use crate::quantity::text::System;

/// For each line of a chart, in order, the ends of its 95 % band at each place, SI units; nothing of a line without one.
pub(in crate::report::figure) type Bands = [Vec<[f64; 2]>];

/// The chart on a page of a width.
pub(in crate::report::figure) fn chart(chart: &Chart, bands: &Bands, system: System, width: f64) -> Scene {
    let mut layout = Layout::new(chart, bands, system, width);
    layout.scales();
    layout.bands(bands);
    for level in &chart.levels {
        layout.level(level);
    }
    for nth in 0..chart.curves.len() {
        layout.curve(nth);
    }
    for mark in &chart.marks {
        layout.mark(mark);
    }
    layout.labels();
    layout.close();
    layout.scene
}

pub(super) struct Layout<'a> {
    pub(super) chart: &'a Chart,
    pub(super) system: System,
    pub(super) scene: Scene,
    pub(super) x: Ruler,
    pub(super) y: Ruler,
    pub(super) right: Option<Ruler>,
    pub(super) right_again: Option<Again>,
    pub(super) top_again: Option<Again>,
    /// Left, top, right, bottom.
    pub(super) plot: [f64; 4],
    /// Room for names of lines beside the plot.
    pub(super) beside: f64,
    pub(super) placer: Placer,
    pub(super) entries: Vec<Entry>,
    pub(super) bottom: f64,
}

impl<'a> Layout<'a> {
    fn new(chart: &'a Chart, bands: &Bands, system: System, width: f64) -> Self {
        let (most_x, most_y) = if is_narrow(width) { (4, 5) } else { (7, 6) };
        let x = Ruler::new(&chart.x, across(chart), system, most_x, true, false);
        let ruler = |axis: &Axis, side| {
            let extent = up(chart, side, bands, axis.logarithmic);
            Ruler::new(axis, extent, system, most_y, true, true)
        };
        let y = ruler(&chart.y, Side::Left);
        let again = |scale: &Option<SecondScale>, of: &Ruler, most| {
            let scale = scale.as_ref();
            scale.map(|scale| Again::new(scale, of, system, most))
        };
        let mut layout = Self {
            chart,
            system,
            scene: Scene {
                size: [width, 0.0],
                ..Scene::default()
            },
            right: chart.right.as_ref().map(|axis| ruler(axis, Side::Right)),
            right_again: again(&chart.right_again, &y, most_y),
            top_again: again(&chart.top_again, &x, most_x),
            x,
            y,
            plot: [0.0; 4],
            beside: 0.0,
            placer: Placer::default(),
            entries: Vec::new(),
            bottom: 0.0,
        };
        layout.fit(width);
        layout
    }

    /// Shares out the page: scales, names beside the plot where they have room, the plot.
    fn fit(&mut self, width: f64) {
        let right = match (&self.right, &self.right_again) {
            (Some(ruler), _) => ruler.widest() + 10.0,
            (None, Some(again)) => again.widest() + 10.0,
            (None, None) => 0.0,
        };
        let top = if self.top_again.is_some() { 60.0 } else { 26.0 };
        let height = if is_narrow(width) { 200.0 } else { 260.0 };
        let edge = width - kernel::max(right, 10.0);
        self.plot = [self.y.widest() + 10.0, top, edge, top + height];
        if right == 0.0 {
            self.beside = self.room_beside(width);
            self.plot[2] -= self.beside;
            if self.crowded() {
                self.beside = 0.0;
                self.plot[2] = edge;
            }
        }
        self.scene.frame = self.plot;
        let [l, t, r, b] = self.plot;
        self.placer = Placer::new([l + 2.0, t - 2.0, r, b - 2.0]);
    }

    /// Room for the names of those lines that go on to the right end.
    pub(super) fn room_beside(&self, width: f64) -> f64 {
        let most = 0.27 * width;
        let names = self.chart.curves.iter().filter(|curve| self.ends_at_right(curve));
        let names: Vec<f64> = names
            .map(|curve| widest(&wrapped(&curve.name, most, self.system), self.system))
            .collect();
        match names.iter().copied().fold(0.0, kernel::max) {
            0.0 => 0.0,
            widest => kernel::min(widest, most) + 8.0,
        }
    }

    pub(super) fn ends_at_right(&self, curve: &Curve) -> bool {
        let along = self.x.along(0.0, 1.0);
        let last = curve.xs.last().map_or(0.0, |last| along.place(last.si));
        curve.kind != Kind::Points && last > 0.9
    }

    pub(super) fn across(&self) -> Linear {
        self.x.along(self.plot[0], self.plot[2])
    }

    pub(super) fn up(&self, side: Side) -> Linear {
        let ruler = match side {
            Side::Right => self.right.as_ref().unwrap_or(&self.y),
            Side::Left => &self.y,
        };
        ruler.along(self.plot[3], self.plot[1])
    }

    pub(super) fn spot(&self, x: &Amount, y: &Amount, side: Side) -> Spot {
        [self.across().of(x), self.up(side).of(y)]
    }

    /// The places of a curve.
    pub(super) fn spots(&self, curve: &Curve) -> Vec<Spot> {
        let places = curve.xs.iter().zip(&curve.ys);
        places.map(|(x, y)| self.spot(x, y, curve.side)).collect()
    }

    pub(super) fn scales(&mut self) {
        let [l, t, r, b] = self.plot;
        let titled = |axis: &Axis, ruler: &Ruler| heading(axis, &ruler.style, self.system);
        let (x_title, y_title) = (titled(&self.chart.x, &self.x), titled(&self.chart.y, &self.y));
        let right_title = self.chart.right.as_ref().zip(self.right.as_ref());
        let right_title = right_title.map(|(axis, ruler)| titled(axis, ruler));
        let above = if self.top_again.is_some() { 42.0 } else { 10.0 };
        left(&mut self.scene, &self.y, (&y_title, above), [l, r, t, b]);
        self.bottom = lower(&mut self.scene, &self.x, &x_title, [l, r, b]);
        if let (Some(ruler), Some(title)) = (&self.right, &right_title) {
            right(&mut self.scene, ruler, title, [r, t, b]);
        }
        self.scene_again();
    }

    /// Second scales: their numbers move where the factor does.
    pub(super) fn scene_again(&mut self) {
        let [l, t, r, b] = self.plot;
        let (across, up) = (self.across(), self.up(Side::Left));
        if let Some(again) = &self.right_again {
            self.scene.rule("edge", [r, t], [r, b]);
            for tick in &again.ticks {
                let y = again.place(tick, up);
                let places = vec![
                    [Coordinate::fixed(r), y.clone()],
                    [Coordinate::fixed(r + 4.0), y.clone()],
                ];
                self.scene.line("edge", false, places);
                let at = [Coordinate::fixed(r + 7.0), y.plus(4.0)];
                let lines = vec![vec![Piece::Words(tick.text.clone())]];
                self.scene.text("number", false, at, lines);
            }
            let size = self.scene.size[0];
            self.scene.words("title", [size, t - 10.0], Anchor::End, &again.title);
        }
        if let Some(again) = &self.top_again {
            self.scene.rule("edge", [l, t], [r, t]);
            for tick in &again.ticks {
                let x = again.place(tick, across);
                let fixed = Coordinate::fixed;
                let places = vec![[x.clone(), fixed(t)], [x.clone(), fixed(t - 4.0)]];
                self.scene.line("edge", false, places);
                let lines = vec![vec![Piece::Words(tick.text.clone())]];
                let at = [x, fixed(t - 8.0)];
                self.scene.add(
                    "number",
                    false,
                    Form::Text {
                        at,
                        anchor: Anchor::Middle,
                        lines,
                    },
                );
            }
            self.scene.words("title", [r, t - 24.0], Anchor::End, &again.title);
        }
    }

    pub(super) fn close(&mut self) {
        let entries = std::mem::take(&mut self.entries);
        self.bottom = key(&mut self.scene, &entries, self.bottom, self.system);
        self.scene.size[1] = self.bottom + 4.0;
    }
}

/// Whether a page is a telephone's, or a column's.
fn is_narrow(width: f64) -> bool {
    width < 480.0
}
