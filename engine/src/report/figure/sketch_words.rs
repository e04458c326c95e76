//! A sketch in words: where its places are, its true distances and angles.

use super::super::written;
use crate::figure::{Path, Place, Sketch};
use crate::outcome::{Amount, Phrase};
use crate::quantity::text::System;

/// Places, distances, angles and circles, each as a sentence without its stop.
pub(super) fn measures(sketch: &Sketch, system: System) -> Vec<String> {
    let mut lines = Vec::new();
    let number = |amount: &Amount| written::amount(amount, system);
    let said = |what: &str, label: Option<&Phrase>, amount: &Amount| match label {
        Some(label) => format!("{what} {}", written::phrase(label, system)),
        None => format!("{what} {}", number(amount)),
    };
    for (label, place) in &sketch.points {
        lines.push(named(label, "place", at(place, system), system));
    }
    for dimension in &sketch.dimensions {
        lines.push(said("distance", dimension.label.as_ref(), &dimension.distance));
    }
    for angle in &sketch.angles {
        let corner = sketch.points.iter().find(|(_, place)| *place == angle.at);
        let corner = corner.map(|(label, _)| format!(" at {}", written::phrase(label, system)));
        let what = format!("angle{}", corner.unwrap_or_default());
        lines.push(said(&what, angle.label.as_ref(), &angle.between));
    }
    for circle in &sketch.circles {
        lines.push(named(&circle.label, "circle, radius", number(&circle.radius), system));
    }
    lines
}

/// Lines with names: from where to where they go.
pub(super) fn lines(sketch: &Sketch, system: System) -> Vec<String> {
    let named = sketch.paths.iter().filter(|path| !path.label.pieces.is_empty());
    named.map(|path| line(path, system)).collect()
}

fn line(path: &Path, system: System) -> String {
    let name = written::phrase(&path.label, system);
    match path.places.as_slice() {
        [first, .., last] if !path.closed => {
            format!("{name}: from {} to {}", at(first, system), at(last, system))
        }
        _ => name,
    }
}

fn at(place: &Place, system: System) -> String {
    let [across, up] = [&place.across, &place.up].map(|amount| written::amount(amount, system));
    format!("{across} across, {up} up")
}

/// A number with its name, or with what it is.
pub(super) fn named(label: &Phrase, what: &str, number: String, system: System) -> String {
    match written::phrase(label, system).as_str() {
        "" => format!("{what} {number}"),
        label => format!("{label}: {number}"),
    }
}
