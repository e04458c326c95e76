//! Where in a grid of numbers these are not negative, with straight edges between the places of the grid.
//!
//! `script/figure.js` does the same when a reading moves.

use super::svg::short;

/// The outline of all places where the margin is not negative, as the `d` of a path. Between two places of the grid the
/// margin goes in a straight line; one that is no number counts as negative.
pub(super) fn region(across: &[f64], up: &[f64], margins: &[f64]) -> String {
    let mut d = String::new();
    for (row, ends) in up.windows(2).enumerate() {
        // Squares that are filled all over go together: one rectangle has no seams.
        let mut full: Option<f64> = None;
        for (column, sides) in across.windows(2).enumerate() {
            let margin = |column: usize, row: usize| {
                let found = margins.get(row * across.len() + column);
                found.copied().filter(|margin| margin.is_finite())
            };
            let corners = [
                ([sides[0], ends[0]], margin(column, row)),
                ([sides[1], ends[0]], margin(column + 1, row)),
                ([sides[1], ends[1]], margin(column + 1, row + 1)),
                ([sides[0], ends[1]], margin(column, row + 1)),
            ];
            if corners.iter().all(|(_, margin)| holds(*margin)) {
                full = full.or(Some(sides[0]));
                continue;
            }
            if let Some(from) = full.take() {
                rectangle(&mut d, [from, sides[0]], ends);
            }
            outline(&mut d, &cut(&corners));
        }
        if let Some((from, to)) = full.zip(across.last()) {
            rectangle(&mut d, [from, *to], ends);
        }
    }
    d
}

type Corner = ([f64; 2], Option<f64>);

fn holds(margin: Option<f64>) -> bool {
    margin.is_some_and(|margin| margin >= 0.0)
}

fn rectangle(d: &mut String, [left, right]: [f64; 2], ends: &[f64]) {
    outline(
        d,
        &[[left, ends[0]], [right, ends[0]], [right, ends[1]], [left, ends[1]]],
    );
}

/// The part of a square where the margin is not negative.
fn cut(corners: &[Corner; 4]) -> Vec<[f64; 2]> {
    let mut found = Vec::new();
    let next = corners.iter().cycle().skip(1);
    for (from, to) in corners.iter().zip(next) {
        if holds(from.1) {
            found.push(from.0);
        }
        if holds(from.1) != holds(to.1) {
            let share = match (from.1, to.1) {
                (Some(a), Some(b)) => a / (a - b),
                _ => 0.5,
            };
            found.push([0, 1].map(|way| from.0[way] + share * (to.0[way] - from.0[way])));
        }
    }
    found
}

fn outline(d: &mut String, places: &[[f64; 2]]) {
    for (nth, [x, y]) in places.iter().enumerate() {
        d.push_str(&format!(
            "{}{} {}",
            if nth == 0 { 'M' } else { 'L' },
            short(*x),
            short(*y)
        ));
    }
    if !places.is_empty() {
        d.push('Z');
    }
}
