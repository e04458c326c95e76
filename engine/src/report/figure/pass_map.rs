//! A map laid out: where the margins hold, or a cell for each place, filled by what becomes of it there.

use super::super::written;
use super::axis::{Extent, Ruler, heading, left, lower};
use super::key::{Entry, Sample, key};
use super::measure::{LINE, lines_of, widest, wrapped};
use super::placer::{Placer, around};
use super::scene::{Form, Linear, Scene, Sign, now};
use crate::figure::{Cell, PassMap};
use crate::kernel;
use crate::outcome::{Amount, Phrase};
use crate::quantity::text::System;
use crate::study::Verdict;

/// The map on a page of a width.
pub(super) fn pass_map(map: &PassMap, system: System, width: f64) -> Scene {
    let narrow = width < 480.0;
    // Margins are known at places, and between them; a verdict goes for the surroundings of its place.
    let margins = margins(map);
    let extent = |places: &[Amount], marks: Vec<f64>| {
        let edges = if margins.is_some() {
            places.iter().map(|place| place.si).collect()
        } else {
            edges(places)
        };
        Extent::of(edges.into_iter().chain(marks), false)
    };
    let across = extent(&map.xs, map.marks.iter().map(|mark| mark.x.si).collect());
    let upward = extent(&map.ys, map.marks.iter().map(|mark| mark.y.si).collect());
    let x = Ruler::new(&map.x, across, system, if narrow { 4 } else { 7 }, false, false);
    let y = Ruler::new(&map.y, upward, system, 6, false, false);
    let mut scene = Scene {
        size: [width, 0.0],
        ..Scene::default()
    };
    let plot = [
        y.widest() + 10.0,
        26.0,
        width - 12.0,
        26.0 + if narrow { 220.0 } else { 300.0 },
    ];
    let [l, t, r, b] = plot;
    scene.frame = plot;
    let along = [x.along(l, r), y.along(b, t)];
    match margins {
        Some(margins) => region(&mut scene, map, margins, along),
        None => cells(&mut scene, map, along),
    }
    say(&mut scene, map, system);
    left(&mut scene, &y, (&heading(&map.y, &y.style, system), 10.0), [l, r, t, b]);
    let below = lower(&mut scene, &x, &heading(&map.x, &x.style, system), [l, r, b]);
    marks(&mut scene, map, [x.along(l, r), y.along(b, t)], system);
    let below = key(&mut scene, &entries(map), below, system);
    scene.size[1] = below + 4.0;
    scene
}

/// Borders of cells around places: halfway between them.
fn edges(places: &[Amount]) -> Vec<f64> {
    let middle = |pair: &[Amount]| (pair[0].si + pair[1].si) / 2.0;
    let mut edges: Vec<f64> = places.windows(2).map(middle).collect();
    if let ([first, second, ..], [.., before, last]) = (places, places) {
        edges.insert(0, first.si - (second.si - first.si) / 2.0);
        edges.push(last.si + (last.si - before.si) / 2.0);
    }
    edges
}

fn cells(scene: &mut Scene, map: &PassMap, [across, up]: [Linear; 2]) {
    let (xs, ys) = (edges(&map.xs), edges(&map.ys));
    for (row, ends) in map.rows.iter().zip(ys.windows(2)) {
        for (cell, sides) in row.iter().zip(xs.windows(2)) {
            let (x0, x1) = (across.place(sides[0]), across.place(sides[1]));
            let (y0, y1) = (up.place(ends[0]), up.place(ends[1]));
            let corners = [
                [kernel::min(x0, x1), kernel::min(y0, y1)],
                [kernel::max(x0, x1), kernel::max(y0, y1)],
            ];
            scene.add(look(cell), true, Form::Cell { corners });
        }
    }
}

/// All margins, row by row from the bottom; none where something else is known of a place.
fn margins(map: &PassMap) -> Option<Vec<Amount>> {
    let margin = |cell: &Cell| match cell {
        Cell::Margin(margin) => Some(margin.clone()),
        Cell::Judged(_) | Cell::Refused => None,
    };
    map.rows.iter().flatten().map(margin).collect()
}

/// The whole map as failing, over it where all holds.
fn region(scene: &mut Scene, map: &PassMap, margins: Vec<Amount>, [across, up]: [Linear; 2]) {
    let places =
        |places: &[Amount], along: Linear| -> Vec<f64> { places.iter().map(|place| along.place(place.si)).collect() };
    let (across, up) = (places(&map.xs, across), places(&map.ys, up));
    if let ([left, .., right], [bottom, .., top]) = (across.as_slice(), up.as_slice()) {
        let corners = [
            [kernel::min(*left, *right), kernel::min(*bottom, *top)],
            [kernel::max(*left, *right), kernel::max(*bottom, *top)],
        ];
        scene.add("cell fails", true, Form::Cell { corners });
    }
    scene.add("cell holds", true, Form::Region { across, up, margins });
}

/// How much of the map holds, and from where to where that goes.
fn say(scene: &mut Scene, map: &PassMap, system: System) {
    let counted = map.rows.iter().map(Vec::len).sum::<usize>();
    let holding: Vec<[f64; 2]> = map
        .rows
        .iter()
        .zip(&map.ys)
        .flat_map(|(row, y)| {
            let cells = row.iter().zip(&map.xs).filter(|(cell, _)| look(cell) == "cell holds");
            cells.map(|(_, x)| [x.si, y.si])
        })
        .collect();
    scene
        .spoken
        .push(format!("All holds at {} of {counted} places.", holding.len()));
    for (which, axis, places) in [(0, &map.x, &map.xs), (1, &map.y, &map.ys)] {
        let Some(like) = places.first().filter(|_| !holding.is_empty()) else {
            continue;
        };
        let extent = Extent::of(holding.iter().map(|place| place[which]), false);
        let words = |si: f64| {
            let style = like.style.clone().or_else(|| axis.unit.clone());
            let amount = Amount {
                si,
                style,
                ..like.clone()
            };
            written::amount(&amount, system)
        };
        let name = written::phrase(&axis.label, system);
        let said = format!(
            "{name}: holds between {} and {}.",
            words(extent.low),
            words(extent.high)
        );
        scene.spoken.push(said);
    }
}

fn look(cell: &Cell) -> &'static str {
    match cell {
        Cell::Margin(margin) if margin.si >= 0.0 => "cell holds",
        Cell::Judged(Verdict::Holds) => "cell holds",
        Cell::Margin(_) | Cell::Judged(Verdict::Fails) => "cell fails",
        Cell::Judged(_) => "cell unsure",
        Cell::Refused => "cell refused",
    }
}

fn marks(scene: &mut Scene, map: &PassMap, [across, up]: [Linear; 2], system: System) {
    let mut placer = Placer::new([scene.frame[0] + 2.0, scene.frame[1], scene.frame[2], scene.frame[3]]);
    let spots: Vec<_> = map
        .marks
        .iter()
        .map(|mark| [across.of(&mark.x), up.of(&mark.y)])
        .collect();
    for at in &spots {
        let [x, y] = now(at);
        placer.take([x - 6.0, y - 6.0, x + 6.0, y + 6.0]);
        let sign = Sign::Diamond;
        scene.add("mark", true, Form::Marker { at: at.clone(), sign });
    }
    for (mark, [x, y]) in map.marks.iter().zip(&spots) {
        let words = [&mark.x, &mark.y].map(|amount| written::amount(amount, system));
        let name = written::phrase(&mark.name, system);
        scene.spoken.push(format!("{name}: {} and {}.", words[0], words[1]));
        let lines = wrapped(&mark.name, 150.0, system);
        let size = [widest(&lines, system), LINE * lines_of(&lines)];
        let here = [x.now(), y.now()];
        let corners = around(here, size, 7.0);
        let Some(corner) = placer.place(size, &corners) else {
            continue;
        };
        let at = [x.plus(corner[0] - here[0]), y.plus(corner[1] + 11.5 - here[1])];
        scene.text("label", true, at, lines);
    }
}

/// What the fillings mean, of those that there are. On the page a margin may turn, so both are said.
fn entries(map: &PassMap) -> Vec<Entry> {
    let cells: Vec<&Cell> = map.rows.iter().flatten().collect();
    let margins = cells.iter().any(|cell| matches!(cell, Cell::Margin(_)));
    let all = [
        ("cell holds", "all holds"),
        ("cell fails", "something fails"),
        ("cell unsure", "unsure"),
        ("cell refused", "cannot be calculated"),
    ];
    let there = |wanted: &str| {
        let turns = margins && matches!(wanted, "cell holds" | "cell fails");
        turns || cells.iter().any(|cell| look(cell) == wanted)
    };
    let there = all.into_iter().filter(|(wanted, _)| there(wanted));
    there
        .map(|(look, words)| Entry {
            sample: Sample::Filled(look),
            name: Phrase::words(words),
        })
        .collect()
}
