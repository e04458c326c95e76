//! Bars laid out: names on the left, lengths to the right, one scale below.

use super::super::written;
use super::axis::{Extent, Ruler, heading, lower};
use super::chart::lines_of;
use super::key::{Entry, Sample, key};
use super::measure::{LINE, TEXT, spoken, widest, width, wrapped};
use super::scene::{Anchor, Coordinate, Form, Linear, Scene, Spot, still};
use crate::figure::{Bar, Bars, Part};
use crate::kernel;
use crate::outcome::{Amount, Phrase, Piece};
use crate::quantity::text::System;

/// How parts are told apart.
const LOOKS: [&str; 5] = ["part p0", "part p1 slant", "part p2", "part p3 dots", "part p4 cross"];
/// From one bar to the next, and how high one is.
const ROW: f64 = 30.0;
const HEIGHT: f64 = 18.0;

/// The bars on a page of a width.
pub(super) fn bars(bars: &Bars, system: System, page: f64) -> Scene {
    let most = 0.3 * page;
    let names: Vec<Vec<Vec<Piece>>> = bars
        .bars
        .iter()
        .map(|bar| wrapped(&Phrase::words(&bar.name), most, system))
        .collect();
    let wide = names.iter().map(|lines| widest(lines, system)).fold(0.0, kernel::max);
    let left = kernel::min(wide, most) + 10.0;
    // Beyond the longest bar stands its number.
    let right = page - if bars.limits.is_empty() { 10.0 } else { 24.0 };
    let scale = Extent::of(numbers(bars), bars.scale.logarithmic);
    let from_zero = Extent {
        low: kernel::min(scale.low, 0.0),
        high: kernel::max(scale.high, 0.0),
    };
    let extent = if bars.bars.iter().all(is_span) {
        scale
    } else {
        from_zero
    };
    let ruler = Ruler::new(
        &bars.scale,
        extent,
        system,
        if page < 480.0 { 4 } else { 7 },
        true,
        true,
    );
    let top = if bars.limits.is_empty() { 6.0 } else { 24.0 };
    let mut layout = Layout {
        bars,
        system,
        along: ruler.along(left, right),
        scene: Scene {
            size: [page, 0.0],
            ..Scene::default()
        },
        parts: part_names(bars),
    };
    let bottom = layout.rows(names, [left, right, top]);
    layout.scene.frame = [left - 1.0, 0.0, right + 1.0, bottom];
    layout.limits([top, bottom]);
    layout.numbers([left, right, top]);
    let title = heading(&bars.scale, &ruler.style, system);
    let below = lower(&mut layout.scene, &ruler, &title, [left, right, bottom]);
    layout.close(below);
    layout.scene
}

struct Layout<'a> {
    bars: &'a Bars,
    system: System,
    along: Linear,
    scene: Scene,
    /// Names of parts, each with a look of its own.
    parts: Vec<&'a str>,
}

impl Layout<'_> {
    fn look(&self, part: &Part) -> &'static str {
        let nth = self.parts.iter().position(|name| *name == part.name).unwrap_or(0);
        LOOKS[nth % LOOKS.len()]
    }

    fn rows(&mut self, names: Vec<Vec<Vec<Piece>>>, [left, _, top]: [f64; 3]) -> f64 {
        let mut at = top;
        for (bar, lines) in self.bars.bars.iter().zip(names) {
            let middle = at + ROW / 2.0;
            let first = middle + 0.35 * TEXT - (lines_of(&lines) - 1.0) * LINE / 2.0;
            let place = still(left - 8.0, first);
            self.scene.add(
                "label",
                false,
                Form::Text {
                    at: place,
                    anchor: Anchor::End,
                    lines,
                },
            );
            for part in &bar.parts {
                let (from, to) = (self.along.of(&part.from), self.along.of(&part.to));
                let fixed = Coordinate::fixed;
                let corners = [[from, fixed(middle - HEIGHT / 2.0)], [to, fixed(middle + HEIGHT / 2.0)]];
                self.scene.add(self.look(part), true, Form::Box { corners });
            }
            if let Some(limit) = &bar.limit {
                let x = self.along.of(limit);
                let places = vec![
                    [x.clone(), Coordinate::fixed(middle - 13.0)],
                    [x, Coordinate::fixed(middle + 13.0)],
                ];
                self.scene.add("limit mark", true, Form::Line { places, closed: false });
            }
            let said = bar.parts.iter().map(|part| {
                let name = if part.name.is_empty() {
                    String::new()
                } else {
                    format!("{} ", part.name)
                };
                format!("{name}{}", written::amount(&self.sized(&part.size), self.system))
            });
            let said: Vec<String> = said.collect();
            self.scene.spoken.push(format!("{}: {}.", bar.name, said.join(", ")));
            at += ROW;
        }
        at
    }

    /// A number in the unit of the scale.
    fn sized(&self, amount: &Amount) -> Amount {
        Amount {
            style: amount.style.clone().or_else(|| self.bars.scale.unit.clone()),
            ..amount.clone()
        }
    }

    /// Limits go across all bars, their names above.
    fn limits(&mut self, [top, bottom]: [f64; 2]) {
        let mut used = f64::NEG_INFINITY;
        let mut limits: Vec<&(Phrase, Amount)> = self.bars.limits.iter().collect();
        limits.sort_by(|a, b| a.1.si.total_cmp(&b.1.si));
        for (name, limit) in limits {
            let x = self.along.of(limit);
            let fixed = Coordinate::fixed;
            let places = vec![[x.clone(), fixed(top - 4.0)], [x.clone(), fixed(bottom)]];
            self.scene.add("limit", false, Form::Line { places, closed: false });
            let mut name = name.clone();
            name.pieces.push(Piece::Words(" ".to_owned()));
            name.pieces.push(Piece::Amount(self.sized(limit)));
            let half = width(&spoken(&name.pieces, self.system)) / 2.0;
            let page = self.scene.size[0];
            let at = kernel::max(x.now().clamp(half, kernel::max(page - half, half)), used + half + 8.0);
            used = at + half;
            let lines = vec![name.pieces];
            let place = [x.plus(at - x.now()), fixed(top - 9.0)];
            self.scene.add(
                "label limited",
                false,
                Form::Text {
                    at: place,
                    anchor: Anchor::Middle,
                    lines,
                },
            );
        }
    }

    /// The size of each bar: beyond its end where there is room, else within it.
    fn numbers(&mut self, [left, right, top]: [f64; 3]) {
        let mut at = top;
        for bar in &self.bars.bars {
            if let Some(number) = total(bar) {
                let pieces = vec![Piece::Amount(self.sized(&number))];
                let size = width(&spoken(&pieces, self.system));
                let ends = bar
                    .parts
                    .iter()
                    .flat_map(|part| [self.along.of(&part.from), self.along.of(&part.to)]);
                let end = ends.fold(None, |far: Option<Coordinate>, next| match far {
                    Some(far) if far.now() >= next.now() => Some(far),
                    _ => Some(next),
                });
                let end = end.unwrap_or_else(|| Coordinate::fixed(left));
                let (x, anchor, look) = if end.now() + 6.0 + size <= right + 8.0 {
                    (end.plus(5.0), Anchor::Start, "label")
                } else {
                    (end.plus(-6.0), Anchor::End, "label onfill")
                };
                let place: Spot = [x, Coordinate::fixed(at + ROW / 2.0 + 0.35 * TEXT)];
                let lines = vec![pieces];
                self.scene.add(
                    look,
                    true,
                    Form::Text {
                        at: place,
                        anchor,
                        lines,
                    },
                );
            }
            at += ROW;
        }
    }

    fn close(&mut self, below: f64) {
        let named = self.parts.iter().enumerate().filter(|(_, name)| !name.is_empty());
        let entries: Vec<Entry> = named
            .map(|(nth, name)| Entry {
                sample: Sample::Filled(LOOKS[nth % LOOKS.len()]),
                name: Phrase::words(*name),
            })
            .collect();
        let below = key(&mut self.scene, &entries, below, self.system);
        self.scene.size[1] = below + 4.0;
    }
}

fn is_span(bar: &Bar) -> bool {
    bar.parts.len() == 1 && bar.parts.iter().all(|part| part.from.si != 0.0)
}

/// What a bar is in all; a bar from here to there is as long as it is.
fn total(bar: &Bar) -> Option<Amount> {
    match bar.parts.as_slice() {
        [] => None,
        [only] => Some(only.size.clone()),
        [.., last] => Some(last.to.clone()),
    }
}

fn part_names(bars: &Bars) -> Vec<&str> {
    let mut names: Vec<&str> = Vec::new();
    for part in bars.bars.iter().flat_map(|bar| &bar.parts) {
        if !names.contains(&part.name.as_str()) {
            names.push(&part.name);
        }
    }
    names
}

fn numbers(bars: &Bars) -> impl Iterator<Item = f64> {
    let parts = bars.bars.iter().flat_map(|bar| &bar.parts);
    let ends = parts.flat_map(|part| [part.from.si, part.to.si]);
    let own = bars
        .bars
        .iter()
        .filter_map(|bar| bar.limit.as_ref())
        .map(|limit| limit.si);
    let limits = bars.limits.iter().map(|(_, limit)| limit.si);
    ends.chain(own).chain(limits)
}
