//! Where verdicts change between the points of one axis.

use super::study::Sweeping;
use super::swept::{Change, Point};
use crate::study::verdict::Verdict;
use crate::tape::is_stopped;

/// A change is sought to this part of the axis' length.
const FOUND: f64 = 1e-5;

impl Sweeping<'_> {
    /// Halves every stretch at whose ends a check differs until the change is found.
    pub(super) fn changes(&mut self, points: &[Point]) -> Vec<Change> {
        let (Some(first), Some(last)) = (points.first(), points.last()) else {
            return Vec::new();
        };
        let enough = FOUND * (last.at[0] - first.at[0]).abs();
        let mut changes = Vec::new();
        for pair in points.windows(2) {
            let [from, to] = pair else { continue };
            // Checks may be met on the way.
            let mut check = 0;
            while check < self.checks.len() {
                let ends = [from, to].map(|point| (point.at[0], of_check(point, check)));
                self.between(check, ends, enough, &mut changes);
                check += 1;
            }
        }
        changes.sort_by(|a, b| a.at.total_cmp(&b.at));
        changes
    }

    fn between(
        &mut self,
        check: usize,
        [(low, before), (high, after)]: [(f64, Option<Verdict>); 2],
        enough: f64,
        changes: &mut Vec<Change>,
    ) {
        if before == after || is_stopped() {
            return;
        }
        let middle = (low + high) / 2.0;
        if (high - low).abs() <= enough {
            // One that begins or ends where it holds changes nothing. It may not hold between there and here, though.
            let asks = |verdict: Option<Verdict>| verdict.is_some_and(|verdict| verdict != Verdict::Holds);
            if asks(before) || asks(after) {
                changes.push(Change {
                    check,
                    at: middle,
                    before,
                    after,
                });
            }
            return;
        }
        let there = of_check(&self.point(vec![middle]), check);
        self.between(check, [(low, before), (middle, there)], enough, changes);
        self.between(check, [(middle, there), (high, after)], enough, changes);
    }
}

/// What becomes of a check at a point; one that was met later is not there.
fn of_check(point: &Point, check: usize) -> Option<Verdict> {
    point.checks.get(check).copied().flatten()
}
