//! A chart laid out.

use super::super::written;
use super::axis::{Again, Extent, Ruler, heading, left, lower, right};
use super::key::{Entry, Sample, key};
use super::measure::{LINE, widest, wrapped};
use super::placer::{Placer, around};
use super::scene::{Anchor, BandEnd, Form, Linear, Scene, Sign, Spot, now, still};
use crate::figure::{Axis, Chart, Curve, Kind, Level, Mark, Side};
use crate::kernel;
use crate::outcome::{Amount, Phrase, Piece};
use crate::quantity::text::System;

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

/// For each line of a chart, in order, the ends of its 95 % band at each place, SI units; nothing of a line without one.
pub(super) type Bands = [Vec<[f64; 2]>];

/// The chart on a page of a width.
pub(super) fn chart(chart: &Chart, bands: &Bands, system: System, width: f64) -> Scene {
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

/// The lower scale and the left one, for letters.
pub(super) fn rulers(chart: &Chart, system: System) -> [Ruler; 2] {
    let x = Extent::of(xs(chart), chart.x.logarithmic);
    let y = Extent::of(ys(chart, Side::Left, &[]).into_iter(), chart.y.logarithmic);
    [
        Ruler::new(&chart.x, x, system, 6, true, false),
        Ruler::new(&chart.y, y, system, 5, true, true),
    ]
}

struct Layout<'a> {
    chart: &'a Chart,
    system: System,
    scene: Scene,
    x: Ruler,
    y: Ruler,
    right: Option<Ruler>,
    right_again: Option<Again>,
    top_again: Option<Again>,
    /// Left, top, right, bottom.
    plot: [f64; 4],
    /// Room for names of lines beside the plot.
    beside: f64,
    placer: Placer,
    entries: Vec<Entry>,
    bottom: f64,
}

impl<'a> Layout<'a> {
    fn new(chart: &'a Chart, bands: &Bands, system: System, width: f64) -> Self {
        let narrow = width < 480.0;
        let (most_x, most_y) = if narrow { (4, 5) } else { (7, 6) };
        let xs = xs(chart);
        let x = Ruler::new(
            &chart.x,
            Extent::of(xs, chart.x.logarithmic),
            system,
            most_x,
            true,
            false,
        );
        let ruler = |axis: &Axis, side| {
            let extent = Extent::of(ys(chart, side, bands).into_iter(), axis.logarithmic);
            Ruler::new(axis, extent, system, most_y, true, true)
        };
        let y = ruler(&chart.y, Side::Left);
        let right = chart.right.as_ref().map(|axis| ruler(axis, Side::Right));
        let right_again = chart
            .right_again
            .as_ref()
            .map(|scale| Again::new(scale, &y, system, most_y));
        let top_again = chart
            .top_again
            .as_ref()
            .map(|scale| Again::new(scale, &x, system, most_x));
        let left = y.widest() + 10.0;
        let scale_beside = match (&right, &right_again) {
            (Some(ruler), _) => ruler.widest() + 10.0,
            (None, Some(again)) => again.widest() + 10.0,
            (None, None) => 0.0,
        };
        let mut layout = Self {
            chart,
            system,
            scene: Scene {
                size: [width, 0.0],
                ..Scene::default()
            },
            x,
            y,
            right,
            right_again,
            top_again,
            plot: [left, 26.0, width - kernel::max(scale_beside, 10.0), 0.0],
            beside: 0.0,
            placer: Placer::default(),
            entries: Vec::new(),
            bottom: 0.0,
        };
        if layout.top_again.is_some() {
            layout.plot[1] += 34.0;
        }
        layout.plot[3] = layout.plot[1] + if narrow { 200.0 } else { 260.0 };
        if scale_beside == 0.0 {
            layout.beside = layout.room_beside(width);
            let right = layout.plot[2];
            layout.plot[2] -= layout.beside;
            if layout.crowded() {
                layout.beside = 0.0;
                layout.plot[2] = right;
            }
        }
        layout.scene.frame = layout.plot;
        layout.placer = Placer::new([
            layout.plot[0] + 2.0,
            layout.plot[1] - 2.0,
            layout.plot[2],
            layout.plot[3] - 2.0,
        ]);
        layout
    }

    /// Room for the names of those lines that go on to the right end.
    fn room_beside(&self, width: f64) -> f64 {
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

    fn ends_at_right(&self, curve: &Curve) -> bool {
        let along = self.x.along(0.0, 1.0);
        let last = curve.xs.last().map_or(0.0, |last| along.place(last.si));
        curve.kind != Kind::Points && last > 0.9
    }

    fn across(&self) -> Linear {
        self.x.along(self.plot[0], self.plot[2])
    }

    fn up(&self, side: Side) -> Linear {
        let ruler = match side {
            Side::Right => self.right.as_ref().unwrap_or(&self.y),
            Side::Left => &self.y,
        };
        ruler.along(self.plot[3], self.plot[1])
    }

    fn spot(&self, x: &Amount, y: &Amount, side: Side) -> Spot {
        [self.across().of(x), self.up(side).of(y)]
    }

    fn scales(&mut self) {
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
    fn scene_again(&mut self) {
        let [l, t, r, b] = self.plot;
        let (across, up) = (self.across(), self.up(Side::Left));
        if let Some(again) = &self.right_again {
            self.scene.rule("edge", [r, t], [r, b]);
            for tick in &again.ticks {
                let y = again.place(tick, up);
                let places = vec![
                    [super::scene::Coordinate::fixed(r), y.clone()],
                    [super::scene::Coordinate::fixed(r + 4.0), y.clone()],
                ];
                self.scene.add("edge", false, Form::Line { places, closed: false });
                let at = [super::scene::Coordinate::fixed(r + 7.0), y.plus(4.0)];
                let lines = vec![vec![Piece::Words(tick.text.clone())]];
                self.scene.add(
                    "number",
                    false,
                    Form::Text {
                        at,
                        anchor: Anchor::Start,
                        lines,
                    },
                );
            }
            let size = self.scene.size[0];
            self.scene.words("title", [size, t - 10.0], Anchor::End, &again.title);
        }
        if let Some(again) = &self.top_again {
            self.scene.rule("edge", [l, t], [r, t]);
            for tick in &again.ticks {
                let x = again.place(tick, across);
                let fixed = super::scene::Coordinate::fixed;
                let places = vec![[x.clone(), fixed(t)], [x.clone(), fixed(t - 4.0)]];
                self.scene.add("edge", false, Form::Line { places, closed: false });
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

    /// Bands of the lines that move with the readings.
    fn bands(&mut self, bands: &Bands) {
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

    fn level(&mut self, level: &Level) {
        let [l, t, r, b] = self.plot;
        let fixed = super::scene::Coordinate::fixed;
        let places = if level.upright {
            let x = self.across().of(&level.at);
            vec![[x.clone(), fixed(b)], [x, fixed(t)]]
        } else {
            let y = self.up(level.side).of(&level.at);
            vec![[fixed(l), y.clone()], [fixed(r), y]]
        };
        self.placer.line(now(&places[0]), now(&places[1]));
        let look = if level.upright { "upright" } else { "limit" };
        self.scene.add(look, true, Form::Line { places, closed: false });
    }

    fn curve(&mut self, nth: usize) {
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
            self.scene.add(look, true, Form::Line { places, closed: false });
        }
        for at in signs {
            self.scene.add(look, true, Form::Marker { at, sign });
        }
        let spoken = spoken(curve, self.system);
        self.scene.spoken.push(spoken);
    }

    fn lines(&self) -> usize {
        self.chart
            .curves
            .iter()
            .filter(|curve| curve.kind == Kind::Line)
            .count()
    }

    fn look(&self, nth: usize) -> &'static str {
        match self.chart.curves.get(nth).map(|curve| curve.kind) {
            Some(Kind::Old) => "old",
            Some(Kind::Limit) => "limit",
            _ => LOOKS[nth % LOOKS.len()],
        }
    }

    fn sign(&self, nth: usize) -> Sign {
        // Of more lines than there are looks, the pairs differ.
        SIGNS[(nth + nth / LOOKS.len()) % SIGNS.len()]
    }

    fn mark(&mut self, mark: &Mark) {
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

    /// Names beside what they name; what finds no room goes into the key.
    fn labels(&mut self) {
        for level in &self.chart.levels {
            self.level_label(level);
        }
        for mark in &self.chart.marks {
            self.mark_label(mark);
        }
        let beside = self.column();
        for (nth, curve) in self.chart.curves.iter().enumerate() {
            if !beside.contains(&nth) {
                self.curve_label(nth, curve);
            }
        }
    }

    /// Names of lines that end on the right, from the top: number, where the line ends, where the name begins, its lines.
    fn names_beside(&self) -> Vec<(usize, f64, f64, Vec<Vec<Piece>>)> {
        let [_, top, _, bottom] = self.plot;
        let mut names = Vec::new();
        for (nth, curve) in self.chart.curves.iter().enumerate() {
            let end = curve.xs.last().zip(curve.ys.last());
            let Some((x, y)) = end.filter(|_| self.ends_at_right(curve)) else {
                continue;
            };
            let at = now(&self.spot(x, y, curve.side))[1];
            if at.is_finite() {
                let lines = wrapped(&curve.name, self.beside - 8.0, self.system);
                names.push((nth, at.clamp(top, bottom), 0.0, lines));
            }
        }
        names.sort_by(|a, b| a.1.total_cmp(&b.1));
        let mut next = top - 8.0;
        for (_, at, begins, lines) in &mut names {
            let height = LINE * lines_of(lines);
            *begins = kernel::max(*at - height / 2.0, next);
            next = *begins + height;
        }
        // What sticks out below pushes the others up.
        let mut floor = bottom + 4.0;
        for (_, _, begins, lines) in names.iter_mut().rev() {
            *begins = kernel::min(*begins, floor - LINE * lines_of(lines));
            floor = *begins;
        }
        names
    }

    /// Whether names would stand far from the ends of their lines, or could be another's: then a key says it better.
    fn crowded(&self) -> bool {
        let names = self.names_beside();
        let far = names
            .iter()
            .any(|(_, at, begins, lines)| (begins + LINE * lines_of(lines) / 2.0 - at).abs() > 1.6 * LINE);
        let doubtful = names.windows(2).any(|pair| {
            let near = (pair[0].1 - pair[1].1).abs() < 8.0;
            near && !self.is_one_line(pair[0].0, pair[1].0)
        });
        far || doubtful
    }

    /// Whether two lines cannot be told apart on the page.
    fn is_one_line(&self, a: usize, b: usize) -> bool {
        let places = |nth: usize| -> Vec<[f64; 2]> {
            let curve = self.chart.curves.get(nth);
            let places = curve
                .into_iter()
                .flat_map(|curve| curve.xs.iter().zip(&curve.ys).map(move |place| (curve, place)));
            places
                .map(|(curve, (x, y))| now(&self.spot(x, y, curve.side)))
                .collect()
        };
        let (a, b) = (places(a), places(b));
        a.len() == b.len()
            && a.iter()
                .zip(&b)
                .all(|(a, b)| kernel::hypot(a[0] - b[0], a[1] - b[1]) < 8.0)
    }

    /// Names of lines that end on the right, beside their ends. Gives which have found room.
    fn column(&mut self) -> Vec<usize> {
        if self.beside == 0.0 {
            return Vec::new();
        }
        let right = self.plot[2];
        let mut placed = Vec::new();
        for (nth, at, top, lines) in self.names_beside() {
            let middle = top + LINE * lines_of(&lines) / 2.0;
            if (middle - at).abs() > 3.0 {
                self.scene.rule("lead", [right + 1.0, at], [right + 6.0, middle]);
            }
            let at = still(right + 8.0, top + 11.5);
            let look = self.text_look(nth);
            self.scene.add(
                look,
                false,
                Form::Text {
                    at,
                    anchor: Anchor::Start,
                    lines,
                },
            );
            placed.push(nth);
        }
        placed
    }

    fn text_look(&self, nth: usize) -> &'static str {
        match self.look(nth) {
            "old" => "label soft",
            "limit" => "label limited",
            _ => "label",
        }
    }

    fn curve_label(&mut self, nth: usize, curve: &Curve) {
        let lines = wrapped(&curve.name, 140.0, self.system);
        let size = [widest(&lines, self.system), LINE * lines_of(&lines)];
        let spots: Vec<Spot> = curve
            .xs
            .iter()
            .zip(&curve.ys)
            .map(|(x, y)| self.spot(x, y, curve.side))
            .collect();
        let count = spots.len();
        let mut corners = Vec::new();
        for part in [20, 10, 15, 5, 0, 18, 12, 8, 3] {
            let at = now(&spots[(count - 1) * part / 20]);
            corners.extend(around(at, size, 5.0));
        }
        // Among many lines a name beside one of them could be another's.
        let room = if self.lines() > 2 && self.ends_at_right(curve) {
            None
        } else {
            self.placer.place_of(size, &corners, Some(nth))
        };
        match room {
            Some(corner) => {
                let look = self.text_look(nth);
                let at = still(corner[0], corner[1] + 11.5);
                self.scene.add(
                    look,
                    false,
                    Form::Text {
                        at,
                        anchor: Anchor::Start,
                        lines,
                    },
                );
            }
            None => {
                let sample = match curve.kind {
                    Kind::Points => Sample::Sign(self.look(nth), self.sign(nth)),
                    _ => Sample::Line(self.look(nth), (self.lines() > 1).then(|| self.sign(nth))),
                };
                self.entries.push(Entry {
                    sample,
                    name: curve.name.clone(),
                });
            }
        }
    }

    fn level_label(&mut self, level: &Level) {
        let mut name = level.name.clone();
        name.pieces
            .push(Piece::Words(if name.pieces.is_empty() { "" } else { ", " }.to_owned()));
        let axis = match (level.upright, level.side) {
            (true, _) => &self.chart.x,
            (false, Side::Left) => &self.chart.y,
            (false, Side::Right) => self.chart.right.as_ref().unwrap_or(&self.chart.y),
        };
        name.pieces.push(Piece::Amount(Amount {
            style: level.at.style.clone().or_else(|| axis.unit.clone()),
            ..level.at.clone()
        }));
        let [l, t, r, b] = self.plot;
        let room = if level.upright {
            110.0
        } else {
            kernel::min(r - l - 10.0, 220.0)
        };
        let lines = wrapped(&name, room, self.system);
        let size = [widest(&lines, self.system), LINE * lines_of(&lines)];
        let corners: Vec<[f64; 2]> = if level.upright {
            let x = self.across().place(level.at.si);
            let tops = [
                t + 2.0,
                t + 34.0,
                t + 66.0,
                b - size[1] - 4.0,
                b - size[1] - 40.0,
                (t + b) / 2.0,
            ];
            tops.into_iter()
                .flat_map(|top| [[x + 4.0, top], [x - 4.0 - size[0], top]])
                .collect()
        } else {
            let y = self.up(level.side).place(level.at.si);
            let lefts = [
                r - size[0] - 4.0,
                l + 6.0,
                (l + r - size[0]) / 2.0,
                l + 0.25 * (r - l),
                l + 0.6 * (r - l),
            ];
            lefts
                .into_iter()
                .flat_map(|left| [[left, y - size[1] - 1.0], [left, y + 2.0]])
                .collect()
        };
        match self.placer.place(size, &corners) {
            Some(corner) => {
                let [x, y] = [corner[0], corner[1] + 11.5];
                let mut at = still(x, y);
                // It goes where its line goes.
                let line = if level.upright {
                    self.across().of(&level.at)
                } else {
                    self.up(level.side).of(&level.at)
                };
                let which = usize::from(!level.upright);
                at[which] = line.plus(at[which].fixed - line.now());
                let look = if level.upright { "label" } else { "label limited" };
                self.scene.add(
                    look,
                    true,
                    Form::Text {
                        at,
                        anchor: Anchor::Start,
                        lines,
                    },
                );
            }
            None => self.entries.push(Entry {
                sample: Sample::Line(if level.upright { "upright" } else { "limit" }, None),
                name,
            }),
        }
    }

    fn mark_label(&mut self, mark: &Mark) {
        let lines = wrapped(&mark.name, 150.0, self.system);
        let size = [widest(&lines, self.system), LINE * lines_of(&lines)];
        let at = self.spot(&mark.x, &mark.y, Side::Left);
        let here = now(&at);
        match self.placer.place(size, &around(here, size, 7.0)) {
            Some(corner) => {
                let [x, y] = at;
                let at = [x.plus(corner[0] - here[0]), y.plus(corner[1] + 11.5 - here[1])];
                self.scene.add(
                    "label",
                    true,
                    Form::Text {
                        at,
                        anchor: Anchor::Start,
                        lines,
                    },
                );
            }
            None => self.entries.push(Entry {
                sample: Sample::Sign("mark", Sign::Diamond),
                name: mark.name.clone(),
            }),
        }
    }

    fn close(&mut self) {
        let entries = std::mem::take(&mut self.entries);
        self.bottom = key(&mut self.scene, &entries, self.bottom, self.system);
        self.scene.size[1] = self.bottom + 4.0;
    }
}

/// So many lines of text.
#[allow(clippy::cast_precision_loss, reason = "a handful")]
pub(super) fn lines_of(lines: &[Vec<Piece>]) -> f64 {
    lines.len() as f64
}

/// Places across: single ones have a little air on both sides.
fn xs(chart: &Chart) -> impl Iterator<Item = f64> {
    let all = all_xs(chart);
    let whole = Extent::of(all.iter().map(|(x, _)| *x), chart.x.logarithmic);
    let air = if chart.x.logarithmic {
        0.0
    } else {
        0.03 * (whole.high - whole.low)
    };
    let airy = move |(x, single): (f64, bool)| match single {
        true if x >= 0.0 => [kernel::max(x - air, 0.0), x + air],
        true => [x - air, x + air],
        false => [x, x],
    };
    all.into_iter().flat_map(airy)
}

fn all_xs(chart: &Chart) -> Vec<(f64, bool)> {
    let curves = chart.curves.iter();
    let curves = curves.flat_map(|curve| curve.xs.iter().map(|x| (x.si, curve.kind == Kind::Points)));
    let levels = chart.levels.iter().filter(|level| level.upright);
    let levels = levels.map(|level| (level.at.si, false));
    let marks = chart.marks.iter().map(|mark| (mark.x.si, true));
    curves.chain(levels).chain(marks).collect()
}

fn ys(chart: &Chart, side: Side, bands: &Bands) -> Vec<f64> {
    let curves = chart.curves.iter().enumerate().filter(|(_, curve)| curve.side == side);
    let curves = curves.flat_map(|(nth, curve)| {
        let band = bands.get(nth).filter(|ends| is_banded(curve, ends));
        let ends = band.into_iter().flatten().flatten().copied();
        curve.ys.iter().map(|y| y.si).chain(ends)
    });
    let levels = chart.levels.iter().filter(|level| !level.upright && level.side == side);
    let marks = chart.marks.iter().filter(|_| side == Side::Left).map(|mark| mark.y.si);
    curves.chain(levels.map(|level| level.at.si)).chain(marks).collect()
}

/// Whether a line is drawn with its band.
fn is_banded(curve: &Curve, ends: &[[f64; 2]]) -> bool {
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

/// A name with nothing in it has nothing to say.
pub(super) fn is_empty(phrase: &Phrase) -> bool {
    phrase.pieces.is_empty()
}
