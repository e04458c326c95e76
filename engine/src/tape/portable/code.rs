//! Operations as whole numbers.
//!
//! An operation is the number of its name among those that occur, then its arguments. An argument that is a result is told
//! by how many places it stands before the operation's own (mostly few), any other as −1 less its place. One that takes any number
//! of arguments has their number first, before that the number of its closure, its plan, or of the first body's corners,
//! where it has one. A comparison (`guard`) has instead two for the relation (0 `<`, 1 `≤`, 2 `=`) times two and one more
//! where it has to hold. Results stand in the places that come next, and are not named.

use super::write::Place;
use crate::tape::graph::Relation;
use crate::tape::op::Op;
use serde_json::Value;

/// Operations, one after the other.
#[derive(Clone, Debug, Default)]
pub(super) struct Code {
    names: Vec<&'static str>,
    numbers: Vec<i64>,
    /// The first place of a result.
    first: Place,
}

impl Code {
    /// Of a program whose results stand from this place on.
    pub(super) fn new(first: Place) -> Self {
        Self {
            first,
            ..Self::default()
        }
    }

    /// An operation whose own results stand from `next` on. `detail` is the number of a closure, of a plan, or of corners; it
    /// counts only where an operation has one.
    pub(super) fn operation(&mut self, op: &Op, detail: u32, arguments: &[Place], next: Place) {
        self.name(op.name());
        match op {
            Op::Root(_)
            | Op::Maximum(_)
            | Op::Integrate(_)
            | Op::SolveSymmetric(_)
            | Op::EigenSymmetric(_)
            | Op::Gap(_) => {
                self.numbers.push(detail.into());
                self.count(arguments);
            }
            Op::Norm | Op::Sort | Op::Interpolate => self.count(arguments),
            _ => {}
        }
        self.arguments(arguments, next);
    }

    /// A guard, or a requirement.
    pub(super) fn compare(&mut self, relation: Relation, outcome: bool, sides: &[Place], next: Place) {
        self.name("guard");
        self.relation(relation, outcome);
        self.arguments(sides, next);
    }

    /// A requirement inside a closure.
    pub(super) fn require(&mut self, relation: Relation, sides: &[Place], next: Place) {
        self.name("require");
        self.relation(relation, true);
        self.arguments(sides, next);
    }

    fn arguments(&mut self, places: &[Place], next: Place) {
        let told = |place: &Place| match *place >= self.first {
            true => i64::from(next) - i64::from(*place),
            false => -1 - i64::from(*place),
        };
        self.numbers.extend(places.iter().map(told));
    }

    fn relation(&mut self, relation: Relation, outcome: bool) {
        let number = match relation {
            Relation::Less => 0,
            Relation::LessOrEqual => 1,
            Relation::Equal => 2,
        };
        self.numbers.push(2 * number + i64::from(outcome));
    }

    fn count(&mut self, arguments: &[Place]) {
        self.numbers.push(super::write::place(arguments.len()).into());
    }

    fn name(&mut self, name: &'static str) {
        let known = self.names.iter().position(|known| *known == name);
        let number = known.unwrap_or(self.names.len());
        if known.is_none() {
            self.names.push(name);
        }
        self.numbers.push(super::write::place(number).into());
    }

    /// The names that occur, and the numbers.
    pub(super) fn json(self) -> (Value, Value) {
        (self.names.into(), self.numbers.into())
    }
}
