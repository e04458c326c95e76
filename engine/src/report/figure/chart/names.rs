//! The names in a chart: beside what they name, else in the key below.

use super::super::key::{Entry, Sample};
use super::super::measure::{LINE, lines_of, widest, wrapped};
use super::super::placer::around;
use super::super::scene::{Sign, now, still};
use super::layout::Layout;
use crate::figure::{Curve, Kind, Level, Mark, Side};
use crate::kernel;
use crate::outcome::{Amount, Phrase, Piece};

impl Layout<'_> {
    /// Names beside what they name; what finds no room goes into the key.
    pub(super) fn labels(&mut self) {
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
    pub(super) fn names_beside(&self) -> Vec<(usize, f64, f64, Vec<Vec<Piece>>)> {
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
    pub(super) fn crowded(&self) -> bool {
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
    pub(super) fn is_one_line(&self, a: usize, b: usize) -> bool {
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
    pub(super) fn column(&mut self) -> Vec<usize> {
        if self.beside == 0.0 {
            return Vec::new();
        }
        let right = self.plot[2];
        let mut placed = Vec::new();
        for (nth, at, top, lines) in self.names_beside() {
            let middle = top + LINE * lines_of(&lines) / 2.0;
            let ends = self.chart.curves.get(nth).and_then(|curve| curve.xs.last());
            let end = ends.map_or(right, |x| kernel::min(self.across().place(x.si), right));
            if right - end > 10.0 {
                self.scene.rule("lead", [end + 6.0, at], [right + 6.0, middle]);
            } else if (middle - at).abs() > 3.0 {
                self.scene.rule("lead", [right + 1.0, at], [right + 6.0, middle]);
            }
            let at = still(right + 8.0, top + 11.5);
            let look = self.text_look(nth);
            self.scene.text(look, false, at, lines);
            placed.push(nth);
        }
        placed
    }

    pub(super) fn text_look(&self, nth: usize) -> &'static str {
        match self.look(nth) {
            "old" => "label soft",
            "limit" => "label limited",
            _ => "label",
        }
    }

    pub(super) fn curve_label(&mut self, nth: usize, curve: &Curve) {
        let lines = wrapped(&curve.name, 140.0, self.system);
        let size = [widest(&lines, self.system), LINE * lines_of(&lines)];
        let spots = self.spots(curve);
        let count = spots.len();
        let mut corners = Vec::new();
        for part in [20, 10, 15, 5, 0, 18, 12, 8, 3] {
            let at = now(&spots[(count - 1) * part / 20]);
            corners.extend(around(at, size, 5.0));
        }
        // Among many lines a name beside one of them could be another's.
        // A name beside the last of some points says too little: it could be that one's alone, or another line's.
        let one_of_many = curve.kind == Kind::Points && self.chart.curves.len() > 1;
        let room = if one_of_many || (self.lines() > 2 && self.ends_at_right(curve)) {
            None
        } else {
            self.placer.place_of(size, &corners, Some(nth))
        };
        match room {
            Some(corner) => {
                let look = self.text_look(nth);
                let at = still(corner[0], corner[1] + 11.5);
                self.scene.text(look, false, at, lines);
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

    /// A limit's name with its number.
    pub(super) fn level_name(&self, level: &Level) -> Phrase {
        let axis = match (level.upright, level.side) {
            (true, _) => &self.chart.x,
            (false, Side::Left) => &self.chart.y,
            (false, Side::Right) => self.chart.right.as_ref().unwrap_or(&self.chart.y),
        };
        let mut name = level.name.clone();
        if !name.pieces.is_empty() {
            name.pieces.push(Piece::Words(", ".to_owned()));
        }
        name.pieces.push(Piece::Amount(Amount {
            style: level.at.style.clone().or_else(|| axis.unit.clone()),
            ..level.at.clone()
        }));
        name
    }

    /// Where the name of a limit may stand: beside an upright line, above or below a level one.
    fn beside_level(&self, level: &Level, size: [f64; 2]) -> Vec<[f64; 2]> {
        let [l, t, r, b] = self.plot;
        if level.upright {
            let x = self.across().place(level.at.si);
            let (low, middle) = (b - size[1], (t + b) / 2.0);
            let tops = [t + 2.0, t + 34.0, t + 66.0, low - 4.0, low - 40.0, middle].into_iter();
            return tops
                .flat_map(|top| [[x + 4.0, top], [x - 4.0 - size[0], top]])
                .collect();
        }
        let y = self.up(level.side).place(level.at.si);
        let (wide, room) = (r - l, r - l - size[0]);
        let lefts = [
            r - size[0] - 4.0,
            l + 6.0,
            l + room / 2.0,
            l + 0.25 * wide,
            l + 0.6 * wide,
        ]
        .into_iter();
        lefts
            .flat_map(|left| [[left, y - size[1] - 1.0], [left, y + 2.0]])
            .collect()
    }

    fn level_label(&mut self, level: &Level) {
        let name = self.level_name(level);
        let room = kernel::min(self.plot[2] - self.plot[0] - 10.0, 220.0);
        // Beside an upright line a narrow name may stand where a wide one would lie on the next line.
        let rooms = if level.upright { vec![110.0, 64.0] } else { vec![room] };
        let ways = rooms.into_iter().map(|room| {
            let lines = wrapped(&name, room, self.system);
            let size = [widest(&lines, self.system), LINE * lines_of(&lines)];
            let corners = self.beside_level(level, size);
            (self.placer.cheapest(size, &corners), lines, size, corners)
        });
        let best = ways.min_by(|a, b| a.0.total_cmp(&b.0));
        let Some((_, lines, size, corners)) = best else { return };
        let Some(corner) = self.placer.place(size, &corners) else {
            let sample = Sample::Line(if level.upright { "upright" } else { "limit" }, None);
            self.entries.push(Entry { sample, name });
            return;
        };
        let mut at = still(corner[0], corner[1] + 11.5);
        // It goes where its line goes.
        let (which, line, look) = match level.upright {
            true => (0, self.across().of(&level.at), "label"),
            false => (1, self.up(level.side).of(&level.at), "label limited"),
        };
        at[which] = line.plus(at[which].fixed - line.now());
        self.scene.text(look, true, at, lines);
    }

    pub(super) fn mark_label(&mut self, mark: &Mark) {
        let lines = wrapped(&mark.name, 150.0, self.system);
        let size = [widest(&lines, self.system), LINE * lines_of(&lines)];
        let at = self.spot(&mark.x, &mark.y, Side::Left);
        let here = now(&at);
        match self.placer.place(size, &around(here, size, 7.0)) {
            Some(corner) => {
                let [x, y] = at;
                let at = [x.plus(corner[0] - here[0]), y.plus(corner[1] + 11.5 - here[1])];
                self.scene.text("label", true, at, lines);
            }
            None => self.entries.push(Entry {
                sample: Sample::Sign("mark", Sign::Diamond),
                name: mark.name.clone(),
            }),
        }
    }
}
