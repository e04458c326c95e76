//! How far the scales of a chart have to go.

use super::super::axis::{Extent, Ruler};
use super::layout::Bands;
use super::lines::is_banded;
use crate::figure::{Chart, Kind, Side};
use crate::kernel;
use crate::quantity::text::System;

/// The lower scale and the left one, for letters.
pub(in crate::report::figure) fn rulers(chart: &Chart, system: System) -> [Ruler; 2] {
    let places = all_xs(chart).into_iter().map(|(x, _)| x);
    let x = Extent::of(places, chart.x.logarithmic);
    let y = up(chart, Side::Left, &[], chart.y.logarithmic);
    [
        Ruler::new(&chart.x, x, system, 6, true, false),
        Ruler::new(&chart.y, y, system, 5, true, true),
    ]
}

/// From the first place across to the last.
pub(super) fn across(chart: &Chart) -> Extent {
    Extent::of(xs(chart), chart.x.logarithmic)
}

/// From the lowest place of a scale to the highest.
pub(super) fn up(chart: &Chart, side: Side, bands: &Bands, logarithmic: bool) -> Extent {
    Extent::of(ys(chart, side, bands).into_iter(), logarithmic)
}

/// Places across: single ones have a little air on both sides.
fn xs(chart: &Chart) -> impl Iterator<Item = f64> {
    airy(&all_xs(chart), chart.x.logarithmic, 0.03).into_iter()
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
        let ends = band.into_iter().flatten().flatten().map(|end| (*end, false));
        let single = curve.kind == Kind::Points;
        curve.ys.iter().map(move |y| (y.si, single)).chain(ends)
    });
    let levels = chart.levels.iter().filter(|level| !level.upright && level.side == side);
    let levels = levels.map(|level| (level.at.si, true));
    let marks = chart.marks.iter().filter(|_| side == Side::Left);
    let all: Vec<(f64, bool)> = curves
        .chain(levels)
        .chain(marks.map(|mark| (mark.y.si, true)))
        .collect();
    let axis = match side {
        Side::Left => Some(&chart.y),
        Side::Right => chart.right.as_ref(),
    };
    let logarithmic = axis.is_some_and(|axis| axis.logarithmic);
    airy(&all, logarithmic, 0.02)
}

/// Numbers of a scale: single ones have a little air on both sides, but not beyond nothing.
fn airy(all: &[(f64, bool)], logarithmic: bool, share: f64) -> Vec<f64> {
    let whole = Extent::of(all.iter().map(|(number, _)| *number), logarithmic);
    let air = if logarithmic {
        0.0
    } else {
        share * (whole.high - whole.low)
    };
    let around = |(number, single): &(f64, bool)| match single {
        true if *number >= 0.0 => [
            kernel::max(number - air, 0.0),
            if *number > 0.0 { number + air } else { 0.0 },
        ],
        true => [number - air, kernel::min(number + air, 0.0)],
        false => [*number, *number],
    };
    all.iter().flat_map(around).collect()
}
