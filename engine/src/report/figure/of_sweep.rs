//! A sweep as figures: a chart for each watched number, or a map of verdicts.

use super::super::swept::{AxisSheet, PartSheet, SweptSheet, WatchedSheet};
use crate::figure::{Axis, Cell, Chart, Curve, Figure, Kind, PassMap, Shown, Side};
use crate::outcome::{Amount, Phrase};
use crate::study::{Point, Verdict};
use crate::tape::Reached;

/// A figure with the ends of the bands of its lines.
pub type Banded = (Shown, Vec<Vec<[f64; 2]>>);

/// The figures of one part of a sweep: of one input a chart for each watched number, of two a map of verdicts. None where
/// nothing was swept between values.
#[must_use]
pub fn swept_figures(swept: &SweptSheet<'_>, part: &PartSheet) -> Vec<Banded> {
    match swept.axes.as_slice() {
        [axis] => {
            let watched = swept.watched.iter().enumerate();
            watched
                .filter_map(|(nth, watched)| curve(axis, (nth, watched), part))
                .collect()
        }
        [down, across] => map(down, across, part).into_iter().collect(),
        _ => Vec::new(),
    }
}

/// A number over the swept input, where it can be calculated.
fn curve(axis: &AxisSheet, (nth, watched): (usize, &WatchedSheet), part: &PartSheet) -> Option<Banded> {
    let found = part.swept.points.iter().filter_map(|point| {
        let number = point.numbers.get(nth).copied().flatten()?;
        Some((*point.at.first()?, number))
    });
    let found: Vec<_> = found.collect();
    if found.len() < 2 {
        return None;
    }
    let name = watched.label.clone().unwrap_or_else(|| Phrase::words(&watched.name));
    let line = Curve {
        name: Phrase::default(),
        xs: found.iter().map(|(at, _)| like(&axis.from, *at)).collect(),
        ys: found
            .iter()
            .map(|(_, number)| like(&watched.amount, number.value))
            .collect(),
        side: Side::Left,
        kind: Kind::Line,
    };
    let chart = Chart {
        title: name,
        x: scale(&axis.name, &axis.from),
        y: scale(&watched.name, &watched.amount),
        curves: vec![line],
        ..Chart::default()
    };
    let ends: Vec<[f64; 2]> = found.iter().map(|(_, number)| [number.low, number.high]).collect();
    let moves = ends.iter().any(|[low, high]| low < high);
    let bands = vec![if moves { ends } else { Vec::new() }];
    Some((shown(Figure::Chart(Box::new(chart))), bands))
}

/// Verdicts over two inputs: the first upward, the second to the right.
fn map(up: &AxisSheet, across: &AxisSheet, part: &PartSheet) -> Option<Banded> {
    let points = &part.swept.points;
    let first = *points.first()?.at.first()?;
    let columns = points
        .iter()
        .take_while(|point| point.at.first() == Some(&first))
        .count()
        .max(1);
    let place = |axis: &AxisSheet, point: &Point, which: usize| point.at.get(which).map(|at| like(&axis.from, *at));
    let rows: Vec<&[Point]> = points.chunks(columns).filter(|row| row.len() == columns).collect();
    if rows.len() < 2 || columns < 2 {
        return None;
    }
    let cell = |point: &Point| match point.refused {
        Some(_) => Cell::Refused,
        None => Cell::Judged(point.moved.unwrap_or(Verdict::Holds)),
    };
    let map = PassMap {
        title: Phrase::words(format!("{} and {}", up.name, across.name)),
        x: scale(&across.name, &across.from),
        y: scale(&up.name, &up.from),
        xs: rows
            .first()?
            .iter()
            .filter_map(|point| place(across, point, 1))
            .collect(),
        ys: rows.iter().filter_map(|row| place(up, row.first()?, 0)).collect(),
        rows: rows.iter().map(|row| row.iter().map(cell).collect()).collect(),
        marks: Vec::new(),
    };
    Some((shown(Figure::PassMap(map)), Vec::new()))
}

fn scale(name: &str, like: &Amount) -> Axis {
    Axis {
        label: Phrase::words(name),
        unit: like.style.clone(),
        logarithmic: false,
        kind: Some((like.dimension, like.scale)),
    }
}

/// Another number of the same kind, which moves no more.
fn like(amount: &Amount, si: f64) -> Amount {
    Amount {
        si,
        slot: None,
        ..amount.clone()
    }
}

fn shown(figure: Figure) -> Shown {
    Shown {
        label: None,
        figure,
        heading: None,
        place: None,
        reached: Reached::default(),
    }
}
