//! What is swept, and what comes of it.

use crate::outcome::Check;
use crate::study::lanes::Key;
use crate::study::verdict::Verdict;

/// An input that is swept.
#[derive(Clone, Debug)]
pub struct Axis {
    /// Which input of the tape it is.
    pub input: usize,
    /// Its values, SI units.
    pub values: Vec<f64>,
}

/// What is swept and watched.
#[derive(Clone, Debug, Default)]
pub struct Sweep {
    /// One input or two; the last moves fastest.
    pub axes: Vec<Axis>,
    /// Numbers of steps.
    pub watched: Vec<Key>,
    /// Runs whose checks do not count.
    pub left_out: Vec<usize>,
}

/// One point of a sweep.
#[derive(Clone, Debug)]
pub struct Point {
    /// The values of the axes, SI units.
    pub at: Vec<f64>,
    /// The watched numbers; none where the step is not there, or nothing can be calculated.
    pub numbers: Vec<Option<Number>>,
    /// What becomes of each of [`Swept::checks`]; none where it is not there.
    pub checks: Vec<Option<Verdict>>,
    /// The worst of the checks that decide.
    pub verdict: Verdict,
    /// The worst of those that depend on what is swept; none where none does.
    pub moved: Option<Verdict>,
    /// Why nothing can be calculated with the readings as they are.
    pub refused: Option<String>,
}

/// A watched number at a point, SI units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    /// With the readings as they are.
    pub value: f64,
    /// Below it lie 2.5 % of the samples.
    pub low: f64,
    /// Above it lie 2.5 %.
    pub high: f64,
}

/// A check of a sweep.
#[derive(Clone, Debug)]
pub struct SweptCheck {
    /// Its run.
    pub run: usize,
    /// The check, with its numbers where it was met first.
    pub check: Check,
    /// Whether the first run lacks it: another branch has it.
    pub elsewhere: bool,
}

/// A value of the only axis at which a check's verdict changes, or at which a check that does not hold begins or ends.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The check's number among [`Swept::checks`].
    pub check: usize,
    /// Up to here, SI units …
    pub at: f64,
    /// … it is this, or not there,
    pub before: Option<Verdict>,
    /// and from here on this, or not there.
    pub after: Option<Verdict>,
}

/// All points of a sweep.
#[derive(Clone, Debug, Default)]
pub struct Swept {
    /// The checks: those of the first run, and in the order in which they were met those of other branches.
    pub checks: Vec<SweptCheck>,
    /// The points, the last axis fastest.
    pub points: Vec<Point>,
    /// Where verdicts change, in rising order; of one axis only.
    pub changes: Vec<Change>,
    /// Samples at every point; none where no reading has a ±.
    pub samples: usize,
}
