//! What all reports of a sweep say in the same words.

use super::super::sheet::Sheet;
use super::super::written::{self, written_to};
use super::data::{AxisSheet, PartSheet};
use crate::quantity::text::System;
use crate::study::{Point, SweptCheck, Verdict};

pub(super) fn axis_line(axis: &AxisSheet, system: System) -> String {
    format!(
        "{} from {} to {}",
        axis.name,
        at(axis, axis.from.si, system),
        at(axis, axis.to, system)
    )
}

/// A value of an axis.
pub(super) fn at(axis: &AxisSheet, si: f64, system: System) -> String {
    written_to(&axis.from, si, (axis.to - axis.from.si).abs(), system)
}

/// The verdict of what depends on the sweep, else of all.
pub(super) fn of_point(point: &Point) -> Verdict {
    point.moved.unwrap_or(point.verdict)
}

pub(super) fn word_or_not_there(verdict: Option<Verdict>) -> &'static str {
    verdict.map_or("is not there", Verdict::word)
}

/// At how many points that can be calculated each check is there; those that cannot count for all.
pub(super) fn rows_of_checks(part: &PartSheet) -> Vec<usize> {
    let points = &part.swept.points;
    let there = |check: usize| {
        let there = |point: &&Point| point.refused.is_some() || point.checks.get(check).is_some_and(Option::is_some);
        points.iter().filter(there).count()
    };
    (0..part.swept.checks.len()).map(there).collect()
}

/// The checks' labels, with their run in a job; two of one label, of two branches, with their formulas.
pub(super) fn labels(sheet: &Sheet<'_>, part: &PartSheet) -> Vec<String> {
    let plain = |swept: &SweptCheck| {
        let label = match &swept.check.label {
            Some(label) => written::phrase(label, sheet.system),
            None => swept.check.formula.clone(),
        };
        match sheet.runs.get(swept.run).filter(|_| sheet.in_job) {
            Some(run) => format!("{label} ({})", run.name),
            None => label,
        }
    };
    let checks = &part.swept.checks;
    let found: Vec<String> = checks.iter().map(plain).collect();
    let is_twice = |label: &String| found.iter().filter(|other| *other == label).count() > 1;
    let with_formula = |(label, swept): (&String, &SweptCheck)| match is_twice(label) {
        true => format!("{label}: {}", swept.check.formula),
        false => label.clone(),
    };
    found.iter().zip(checks).map(with_formula).collect()
}
