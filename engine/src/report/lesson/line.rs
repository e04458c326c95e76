//! What a lesson is made of, as plain data.

use super::formula::Expression;
use crate::quantity::text::Style;
use crate::quantity::{Dimension, units::Scale};

/// A calculation to be shown line by line.
#[derive(Clone, Debug, Default)]
pub struct Lesson {
    /// The script's name, or the job's title.
    pub(super) title: String,
    /// What it is.
    pub(super) about: String,
    /// Whether somebody tries a value.
    pub(super) trial: bool,
    /// What can hurt, the most urgent first.
    pub(super) cautions: Vec<String>,
    /// What was measured and decided.
    pub(super) readings: Vec<Reading>,
    /// The lines.
    pub(super) lines: Vec<Line>,
    /// What is to be said of it.
    pub(super) notes: Vec<String>,
}

/// A reading that a lesson starts from.
#[derive(Clone, Debug)]
pub(super) struct Reading {
    /// The last heading above it.
    pub(super) heading: Option<String>,
    /// Its name in formulas.
    pub(super) name: String,
    /// What it is.
    pub(super) label: String,
    /// Its value with its ±.
    pub(super) value: String,
    /// Whether it is taken on trust.
    pub(super) assumed: bool,
    /// Source.
    pub(super) per: Option<String>,
}

/// One line: words, letters, numbers, answer.
#[derive(Clone, Debug, Default)]
pub(super) struct Line {
    /// From 1.
    pub(super) number: usize,
    /// The run it belongs to, where a lesson has several.
    pub(super) run: Option<String>,
    /// The last heading above it.
    pub(super) heading: Option<String>,
    /// The step's own name; of a function's line none.
    pub(super) step: Option<String>,
    /// The question.
    pub(super) words: String,
    /// The line that it is on the way to, where it stands within a function.
    pub(super) toward: Option<String>,
    /// What stands left of the `=`.
    pub(super) name: String,
    /// The formula.
    pub(super) letters: Formula,
    /// The same with the numbers put in; nothing where that says no more.
    pub(super) numbers: Option<Formula>,
    /// Names in the formula that have no line of their own, and what they stand for.
    pub(super) definitions: Vec<(String, Formula)>,
    /// Where its numbers came from.
    pub(super) because: Vec<Because>,
    /// What comes out.
    pub(super) answers: Vec<Answer>,
    /// Source.
    pub(super) per: Option<String>,
    /// Checks that judge it.
    pub(super) limits: Vec<Limit>,
    /// What it becomes where something goes wrong.
    pub(super) slips: Vec<Wrong>,
}

/// A formula, and what is made of it.
#[derive(Clone, Debug, Default)]
pub(super) struct Formula {
    /// As it is written.
    pub(super) text: String,
    /// What it is made of; nothing where it holds what no formula holds: then it is shown as it is written.
    pub(super) expression: Option<Expression>,
}

/// Where a number came from.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Because {
    /// Its name in the formula.
    pub(super) name: String,
    /// Its value.
    pub(super) value: String,
    /// The line that it comes from; a reading has none.
    pub(super) line: Option<usize>,
}

/// One number that comes out; of a vector several, each under its key.
#[derive(Clone, Debug)]
pub(super) struct Answer {
    /// `x`, `re`; empty where it is the only one.
    pub(super) key: String,
    /// With all its digits.
    pub(super) full: String,
    /// Rounded, with its interval.
    pub(super) shown: String,
    /// What it is worth; nothing for what is no number.
    pub(super) worth: Option<Worth>,
}

/// What a pupil's answer is compared with.
#[derive(Clone, Debug)]
pub(super) struct Worth {
    /// SI.
    pub(super) si: f64,
    /// What it measures.
    pub(super) dimension: Dimension,
    /// Point on the temperature scale or difference.
    pub(super) scale: Scale,
    /// How it is written.
    pub(super) style: Style,
    /// Words for its sign.
    pub(super) signs: Option<(String, String)>,
    /// To how many figures it is asked.
    pub(super) asked: String,
    /// What it may be off, SI.
    pub(super) tolerance: f64,
}

/// A check that judges a line.
#[derive(Clone, Debug)]
pub(super) struct Limit {
    /// `HOLDS`, `FAILS`
    pub(super) word: &'static str,
    /// What it is about.
    pub(super) label: String,
    /// The value.
    pub(super) value: String,
    /// The limit.
    pub(super) limit: String,
    /// `0.028 mm to spare`, `over by 218 rad/s²`
    pub(super) margin: Option<String>,
    /// Source of the limit.
    pub(super) per: Option<String>,
    /// The readings that it rests on most.
    pub(super) rests_on: Option<String>,
}

/// A wrong way beside the right one.
#[derive(Clone, Debug)]
pub(super) struct Wrong {
    /// Which of the line's answers.
    pub(super) answer: usize,
    /// What was done: `degrees put in as radians`.
    pub(super) words: String,
    /// The same with its numbers, right and wrong.
    pub(super) working: Option<String>,
    /// The wrong answer.
    pub(super) shown: String,
    /// The same, SI.
    pub(super) si: f64,
}

impl Lesson {
    /// How many lines it has.
    #[must_use]
    pub fn count(&self) -> usize {
        self.lines.len()
    }
}
