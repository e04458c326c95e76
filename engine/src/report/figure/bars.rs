//! Bars laid out: names on the left, lengths to the right, one scale below.

use super::super::written;
use super::axis::{Extent, Ruler, heading, lower};
use super::key::{Entry, Sample, key};
use super::measure::{LINE, TEXT, lines_of, spoken, widest, width, wrapped};
use super::scene::{Anchor, Coordinate, Form, Linear, Scene, Spot, still};
use crate::figure::{Bar, Bars, Part};
use crate::kernel;
use crate::outcome::{Amount, Phrase, Piece};
use crate::quantity::Scale;
use crate::quantity::text::System;

/// How parts are told apart.
const LOOKS: [&str; 8] = [
    "part p1 slant",
    "part p2",
    "part p3 dots",
    "part p4 cross",
    "part p5",
    "part p6",
    "part p7 level",
    "part p8 post",
];
/// What a bar that is no stack of parts looks like.
const WHOLE: &str = "part whole";
/// From one bar to the next, unless its name takes more; how high one is.
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
    let ruler = ruler(bars, system, if page < 480.0 { 4 } else { 7 });
    let mut layout = Layout {
        bars,
        system,
        along: ruler.along(left, page - 10.0),
        scene: Scene {
            size: [page, 0.0],
            ..Scene::default()
        },
        parts: part_names(bars),
        rows: Vec::new(),
    };
    let right = layout.right(&ruler, [left, page]);
    layout.along = ruler.along(left, right);
    let top = layout.limit_names();
    layout.rows = rows(&names, top);
    layout.bars(names, left);
    let bottom = layout.rows.last().map_or(top, |row| row[1]);
    layout.scene.frame = [left - 1.0, 0.0, right + 1.0, bottom];
    layout.limits([top, bottom]);
    layout.numbers();
    let title = heading(&bars.scale, &ruler.style, system);
    let below = lower(&mut layout.scene, &ruler, &title, [left, right, bottom]);
    layout.close(below);
    layout.scene
}

fn ruler(bars: &Bars, system: System, most: usize) -> Ruler {
    let all = Extent::of(numbers(bars), bars.scale.logarithmic);
    let from_zero = Extent {
        low: kernel::min(all.low, 0.0),
        high: kernel::max(all.high, 0.0),
    };
    // Temperatures have no zero to begin at.
    let points = bars.scale.kind.is_some_and(|(_, scale)| scale == Scale::Point);
    let spans = points || bars.bars.iter().all(is_span);
    let extent = if spans { all } else { from_zero };
    Ruler::new(&bars.scale, extent, system, most, true, true)
}

/// Top and bottom of each bar's row: room for all lines of its name.
fn rows(names: &[Vec<Vec<Piece>>], top: f64) -> Vec<[f64; 2]> {
    let mut at = top;
    let row = |lines: &Vec<Vec<Piece>>| {
        let from = at;
        at += kernel::max(ROW, LINE * lines_of(lines) + 4.0);
        [from, at]
    };
    names.iter().map(row).collect()
}

struct Layout<'a> {
    bars: &'a Bars,
    system: System,
    along: Linear,
    scene: Scene,
    /// Names of parts, each with a look of its own.
    parts: Vec<&'a str>,
    /// Top and bottom of each bar's row.
    rows: Vec<[f64; 2]>,
}

impl Layout<'_> {
    fn look(&self, part: &Part) -> &'static str {
        if part.name.is_empty() {
            return WHOLE;
        }
        let nth = self.parts.iter().position(|name| *name == part.name).unwrap_or(0);
        LOOKS[nth % LOOKS.len()]
    }

    /// Where the scale ends, so that each bar's number has room beyond the bar and the limits that it has to pass.
    fn right(&self, ruler: &Ruler, [left, page]: [f64; 2]) -> f64 {
        let mut right = page - 10.0;
        while right > left + 60.0 && self.last_letter(ruler.along(left, right)) > page - 2.0 {
            right -= 4.0;
        }
        right
    }

    /// How far to the right the numbers would go with a scale.
    fn last_letter(&self, along: Linear) -> f64 {
        let ends = self.bars.bars.iter().filter_map(|bar| {
            let (end, pieces) = self.number(bar, along)?;
            let size = width(&spoken(&pieces, self.system));
            Some(self.beyond_limits(bar, along, end.now() + 5.0, size) + size)
        });
        ends.fold(0.0, kernel::max)
    }

    /// From where a number of a size has no limit through it.
    fn beyond_limits(&self, bar: &Bar, along: Linear, from: f64, size: f64) -> f64 {
        let all = self.bars.limits.iter().map(|(_, limit)| limit);
        let mut limits: Vec<f64> = bar.limit.iter().chain(all).map(|limit| along.place(limit.si)).collect();
        limits.sort_by(f64::total_cmp);
        let past = |from: f64, limit: f64| {
            let hit = limit > from - 5.0 && limit < from + size + 3.0;
            if hit { limit + 6.0 } else { from }
        };
        limits.into_iter().fold(from, past)
    }

    /// Where a bar's number begins, and the number: how much the bar is, or from where to where it goes.
    fn number(&self, bar: &Bar, along: Linear) -> Option<(Coordinate, Vec<Piece>)> {
        let pieces = match self.bars.range(bar) {
            Some([from, to]) => vec![
                Piece::Amount(self.sized(from)),
                Piece::Words(" to ".to_owned()),
                Piece::Amount(self.sized(to)),
            ],
            None => vec![Piece::Amount(self.sized(&total(bar)?))],
        };
        let ends = bar.parts.iter();
        let ends = ends.flat_map(|part| [along.of(&part.from), along.of(&part.to)]);
        let end = ends.reduce(|far, next| if far.now() >= next.now() { far } else { next })?;
        Some((end, pieces))
    }

    fn bars(&mut self, names: Vec<Vec<Vec<Piece>>>, left: f64) {
        let rows = self.rows.clone();
        for ((bar, lines), [top, bottom]) in self.bars.bars.iter().zip(names).zip(rows) {
            let middle = (top + bottom) / 2.0;
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
                self.scene.line("limit mark", true, places);
            }
            self.say(bar);
        }
    }

    /// A bar in words.
    fn say(&mut self, bar: &Bar) {
        let words = |amount: &Amount| written::amount(&self.sized(amount), self.system);
        let mut said: Vec<String> = match self.bars.range(bar) {
            Some([from, to]) => vec![format!("{} to {}", words(from), words(to))],
            None => bar
                .parts
                .iter()
                .map(|part| format!("{} {}", part.name, words(&part.size)).trim().to_owned())
                .collect(),
        };
        said.extend(bar.limit.iter().map(|limit| format!("limit {}", words(limit))));
        let said = format!("{}: {}.", bar.name, said.join(", "));
        self.scene.spoken.push(said);
    }

    /// A number in the unit of the scale.
    fn sized(&self, amount: &Amount) -> Amount {
        Amount {
            style: amount.style.clone().or_else(|| self.bars.scale.unit.clone()),
            ..amount.clone()
        }
    }

    /// The names of the limits that go for all bars, above them in as many rows as it takes. Gives where the bars begin.
    fn limit_names(&mut self) -> f64 {
        let mut limits: Vec<&(Phrase, Amount)> = self.bars.limits.iter().collect();
        limits.sort_by(|a, b| a.1.si.total_cmp(&b.1.si));
        let page = self.scene.size[0];
        // Where each row is free again, the lowest row first.
        let mut rows: Vec<f64> = Vec::new();
        let mut placed = Vec::new();
        for (name, limit) in limits {
            let x = self.along.of(limit);
            let mut name = name.clone();
            name.pieces.push(Piece::Words(" ".to_owned()));
            name.pieces.push(Piece::Amount(self.sized(limit)));
            let half = width(&spoken(&name.pieces, self.system)) / 2.0;
            let at = x.now().clamp(half, kernel::max(page - half, half));
            let row = rows.iter().position(|free| *free <= at - half).unwrap_or(rows.len());
            rows.resize(rows.len().max(row + 1), f64::NEG_INFINITY);
            rows[row] = at + half + 8.0;
            let said = format!("{}.", written::phrase(&name, self.system));
            self.scene.spoken.push(said);
            placed.push((x.plus(at - x.now()), row, name.pieces));
        }
        let first = LINE * count(rows.len());
        for (x, row, pieces) in placed {
            let place = [x, Coordinate::fixed(first - 3.0 - LINE * count(row))];
            let anchor = Anchor::Middle;
            let lines = vec![pieces];
            let form = Form::Text {
                at: place,
                anchor,
                lines,
            };
            self.scene.add("label limited", false, form);
        }
        first + if rows.is_empty() { 6.0 } else { 9.0 }
    }

    /// Limits go across all bars.
    fn limits(&mut self, [top, bottom]: [f64; 2]) {
        for (_, limit) in &self.bars.limits {
            let x = self.along.of(limit);
            let fixed = Coordinate::fixed;
            let places = vec![[x.clone(), fixed(top - 4.0)], [x, fixed(bottom)]];
            self.scene.line("limit", false, places);
        }
    }

    /// The size of each bar, beyond its end; a limit that would go through the number stands before it.
    fn numbers(&mut self) {
        let rows = self.rows.clone();
        for (bar, [top, bottom]) in self.bars.bars.iter().zip(rows) {
            let Some((end, pieces)) = self.number(bar, self.along) else {
                continue;
            };
            let size = width(&spoken(&pieces, self.system));
            let mut from = self.beyond_limits(bar, self.along, end.now() + 5.0, size);
            // Where that is off the page, a limit through the number is the lesser evil.
            if from + size > self.scene.size[0] {
                from = end.now() + 5.0;
            }
            let place: Spot = [
                end.plus(from - end.now()),
                Coordinate::fixed((top + bottom) / 2.0 + 0.35 * TEXT),
            ];
            let anchor = Anchor::Start;
            let lines = vec![pieces];
            let form = Form::Text {
                at: place,
                anchor,
                lines,
            };
            self.scene.add("label", false, form);
        }
    }

    fn close(&mut self, below: f64) {
        let named = self.parts.iter().enumerate();
        let mut entries: Vec<Entry> = named
            .map(|(nth, name)| Entry {
                sample: Sample::Filled(LOOKS[nth % LOOKS.len()]),
                name: Phrase::words(*name),
            })
            .collect();
        if self.bars.bars.iter().any(|bar| bar.limit.is_some()) {
            entries.push(Entry {
                sample: Sample::Post("limit mark"),
                name: Phrase::words("limit of this bar"),
            });
        }
        let below = key(&mut self.scene, &entries, below, self.system);
        self.scene.size[1] = below + 4.0;
    }
}

/// A number of rows.
#[allow(clippy::cast_precision_loss, reason = "a handful")]
fn count(rows: usize) -> f64 {
    rows as f64
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
        if !part.name.is_empty() && !names.contains(&part.name.as_str()) {
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
