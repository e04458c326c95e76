//! What a run yields, as plain data: inputs, steps, checks, remarks.
//!
//! Every number in it carries the slot of the tape that holds it, so that a study can say how it moves; nothing here
//! knows a script or how it is printed.

use crate::diagnostic::{Place, SourceText};
use crate::figure::Shown;
use crate::quantity::{Dimension, Quantity, Scale};
use crate::tape::{self, Reached, Slot};
use std::sync::Arc;

/// All that one run of one script yields.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// Name of the script: `driveline/joint-angles`.
    pub script: String,
    /// The scripts that it took functions from, and those that they took from, by name: they are part of what it says.
    pub imports: Vec<Arc<SourceText>>,
    /// Readings and assumptions, in the order of the script.
    pub inputs: Vec<Input>,
    /// Named results and headings, in the order in which they were reached.
    pub steps: Vec<Step>,
    /// Checks, preferences and requirements, in the order in which they were reached.
    pub checks: Vec<Check>,
    /// Notes, in order.
    pub notes: Vec<Phrase>,
    /// Cautions, in order, each once.
    pub cautions: Vec<Phrase>,
    /// What makes readings doubtful: a repeat far from the others, too few of them.
    pub doubts: Vec<Phrase>,
    /// Where a torque, or what may be one, was multiplied by a plain rate: 2π too little for the power of a torque.
    pub plain_rates: Vec<Place>,
    /// How far the tape was recorded when the run began.
    pub began: Reached,
    /// How far when it ended: the guards between are this run's.
    pub ended: Reached,
    /// How far when each note was reached.
    pub notes_reached: Vec<Reached>,
    /// How far when each caution was reached first.
    pub cautions_reached: Vec<Reached>,
    /// Figures, in the order in which they were shown.
    pub figures: Vec<Shown>,
}

/// A number with its unit and ±.
#[derive(Clone, Debug, PartialEq)]
pub struct Amount {
    /// Its value in SI units, with the readings as they are.
    pub si: f64,
    /// What it measures.
    pub dimension: Dimension,
    /// Point on the temperature scale or difference.
    pub scale: Scale,
    /// Where it stands on the tape; `None` where it depends on no reading, or was worked out beside the tape.
    pub slot: Option<Slot>,
    /// Whether it was worked out beside the tape, for a formula with its numbers put in: it does not follow a replay.
    pub aside: bool,
    /// How the script wants it written: a unit or what `write` takes.
    pub style: Option<String>,
    /// Words for its sign, positive and negative.
    pub signs: Option<(String, String)>,
}

/// Text that may hold numbers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Phrase {
    /// Its pieces in order.
    pub pieces: Vec<Piece>,
}

/// A piece of a text.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Plain words.
    Words(String),
    /// A number.
    Amount(Amount),
}

/// A value of an input or a step.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number with its unit.
    Amount(Amount),
    /// A whole number that counts.
    Count(i64),
    /// A text.
    Text(Phrase),
    /// Yes or no.
    Truth(bool),
    /// Several, each under its key, in order: a vector's x, y, z; a list by number; a map.
    Items(Vec<(String, Value)>),
}

/// How far a reading may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spread {
    /// It is as good as exact.
    Exact,
    /// Any value within ± this is as likely.
    Limits(f64),
    /// A standard uncertainty.
    Standard(f64),
    /// The mean of repeats, each with the instrument's limits.
    Repeats {
        /// Scatter of one reading divided by the square root of their number.
        mean_scatter: f64,
        /// Number of readings less one.
        freedoms: u32,
        /// The instrument's ±.
        limits: f64,
    },
}

/// Where an input's value came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Somebody measured it.
    Measured,
    /// Decided, or read off a plate.
    Chosen,
    /// A step of another run.
    Linked,
    /// The script's `assume`.
    Assumed,
    /// Tried with `--set`.
    Trial,
    /// The script's own example: nobody measured it.
    Example,
}

/// A reading or an assumption.
#[derive(Clone, Debug)]
pub struct Input {
    /// Its name: `front_joint`.
    pub name: String,
    /// What it is.
    pub label: Option<Phrase>,
    /// How to measure it.
    pub how: Option<Phrase>,
    /// Source.
    pub per: Option<Phrase>,
    /// The last heading above it.
    pub heading: Option<Phrase>,
    /// Its value.
    pub value: Value,
    /// The single numbers in it that a reading moves: address (`front_joint.x`), slot and ±, in SI units.
    pub parts: Vec<Part>,
    /// Where the value came from.
    pub origin: Origin,
    /// The run and step that it is linked to: `road speed: shaft_at_top`.
    pub taken_from: Option<String>,
    /// Whether it is an `assume`.
    pub assumed: bool,
    /// The script's own value, where another stands.
    pub own: Option<Value>,
    /// What may be entered, in SI units.
    pub range: Option<(f64, f64)>,
    /// What may be chosen.
    pub choices: Vec<String>,
    /// Where it stands in the script.
    pub place: Option<Place>,
    /// How far the tape was recorded when it was there.
    pub reached: Reached,
}

/// One number of an input.
#[derive(Clone, Debug)]
pub struct Part {
    /// `front_joint.x`, `loads[Wipers].current`; the input's name where it is the only one.
    pub address: String,
    /// Which input of the tape it is.
    pub input: usize,
    /// Where it stands on the tape.
    pub slot: Slot,
    /// How far it may be off.
    pub spread: Spread,
    /// Whether the ± came with the reading; otherwise it is the script's own.
    pub stated: bool,
    /// Whether the ± is that of a reading in whose place another value is tried.
    pub kept: bool,
}

/// A named result.
#[derive(Clone, Debug)]
pub struct Step {
    /// Its name: `front`, `stress[bump]`.
    pub name: String,
    /// What it is.
    pub label: Option<Phrase>,
    /// Source.
    pub per: Option<Phrase>,
    /// The last heading above it.
    pub heading: Option<Phrase>,
    /// Its value.
    pub value: Value,
    /// As the script writes it.
    pub formula: String,
    /// The same with the numbers put in.
    pub substituted: Phrase,
    /// The functions that it calls, each with its own lines as they went.
    pub opened: Vec<Opened>,
    /// The function it stands in.
    pub within: Option<String>,
    /// Where it stands.
    pub place: Option<Place>,
    /// How far the tape was recorded when it was there.
    pub reached: Reached,
}

/// A function's own lines, as one call of it went.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// Its name.
    pub function: String,
    /// What it was given, by the names that it calls it by; what has no short value is left out.
    pub given: Vec<(String, Phrase)>,
    /// Its lines in order; the last one is what it gives.
    pub lines: Vec<Line>,
}

/// A line of a function.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The name it gives; the last line has none.
    pub name: Option<String>,
    /// As the script writes it.
    pub formula: String,
    /// The same with the numbers put in.
    pub substituted: Phrase,
    /// Its value; empty where that cannot be written down.
    pub value: Phrase,
    /// The functions that it calls.
    pub opened: Vec<Opened>,
}

/// The kinds of checks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CheckKind {
    /// Decides the verdict.
    Check,
    /// Advice.
    Prefer,
    /// Readings that must agree before the rest is believed.
    Require,
}

/// How the two sides of a check compare.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Comparison {
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    More,
    /// `>=`
    AtLeast,
    /// `==`
    Same,
    /// `!=`
    Different,
}

/// A check as the script makes it; whether it holds is for a study to say.
#[derive(Clone, Debug)]
pub struct Check {
    /// What it is about.
    pub label: Option<Phrase>,
    /// Check, preference or requirement.
    pub kind: CheckKind,
    /// What is compared.
    pub test: Test,
    /// As the script writes it.
    pub formula: String,
    /// Source.
    pub per: Option<Phrase>,
    /// The last heading above it.
    pub heading: Option<Phrase>,
    /// Where it stands.
    pub place: Option<Place>,
    /// How far the tape was recorded when it was there.
    pub reached: Reached,
}

/// What a check compares.
#[derive(Clone, Debug)]
pub enum Test {
    /// Two sides.
    Sides {
        /// Left side.
        left: Value,
        /// How they compare.
        comparison: Comparison,
        /// Right side.
        right: Value,
    },
    /// Between two limits, both included.
    Between {
        /// What is judged.
        value: Amount,
        /// Lower limit.
        low: Amount,
        /// Upper limit.
        high: Amount,
    },
    /// Yes or no.
    Truth(bool),
}

impl Comparison {
    /// As it is written.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Less => "<",
            Self::AtMost => "<=",
            Self::More => ">",
            Self::AtLeast => ">=",
            Self::Same => "==",
            Self::Different => "!=",
        }
    }

    /// The comparison written so.
    #[must_use]
    pub fn of(sign: &str) -> Option<Self> {
        [
            Self::Less,
            Self::AtMost,
            Self::More,
            Self::AtLeast,
            Self::Same,
            Self::Different,
        ]
        .into_iter()
        .find(|comparison| comparison.sign() == sign)
    }

    /// Whether it holds between two numbers.
    #[must_use]
    pub fn holds(self, left: f64, right: f64) -> bool {
        match self {
            Self::Less => left < right,
            Self::AtMost => left <= right,
            Self::More => left > right,
            Self::AtLeast => left >= right,
            Self::Same => left == right,
            Self::Different => left != right,
        }
    }
}

impl Test {
    /// Whether it holds with the readings as they are; nothing where that takes more than numbers.
    #[must_use]
    pub fn holds_as_read(&self) -> Option<bool> {
        match self {
            Self::Sides {
                left: Value::Amount(left),
                comparison,
                right: Value::Amount(right),
            } => Some(comparison.holds(left.si, right.si)),
            Self::Between { value, low, high } => Some(low.si <= value.si && value.si <= high.si),
            Self::Truth(truth) => Some(*truth),
            Self::Sides { .. } => None,
        }
    }
}

impl Value {
    /// The single number at the end of a way of keys, outermost first.
    #[must_use]
    pub fn number(&self, keys: &[String]) -> Option<&Amount> {
        match (self, keys) {
            (Self::Amount(amount), []) => Some(amount),
            (Self::Items(items), [key, rest @ ..]) => {
                let (_, item) = items.iter().find(|(known, _)| known == key)?;
                item.number(rest)
            }
            _ => None,
        }
    }
}

impl Amount {
    /// Of a quantity, to be written as is usual for it.
    #[must_use]
    pub fn of(quantity: Quantity) -> Self {
        let number = quantity.number();
        Self {
            si: number.shown(),
            dimension: quantity.dimension(),
            scale: quantity.scale(),
            slot: number.slot(),
            aside: tape::is_aside() && number.slot().is_none(),
            style: None,
            signs: None,
        }
    }
}

impl Phrase {
    /// Its text, with each number as `number` writes it.
    #[must_use]
    pub fn in_words(&self, number: impl Fn(&Amount) -> String) -> String {
        let piece = |piece: &Piece| match piece {
            Piece::Words(words) => words.clone(),
            Piece::Amount(amount) => number(amount),
        };
        self.pieces.iter().map(piece).collect()
    }

    /// Whether there is nothing to read in it.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        let blank = |piece: &Piece| matches!(piece, Piece::Words(words) if words.trim().is_empty());
        self.pieces.iter().all(blank)
    }

    /// Plain words.
    pub fn words(words: impl Into<String>) -> Self {
        Self {
            pieces: vec![Piece::Words(words.into())],
        }
    }
}
