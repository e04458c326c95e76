//! The same operation on the same numbers stands on a graph once.
//!
//! Scripts ask for the same thing in several places (a member's stiffness in each of its structure's variants, its end
//! forces in each result), and a replay would do it again each time. An operation has no memory and gives the same bits
//! again, so the slot that holds its result already does as well.

use super::graph::Slot;
use super::lookup::Lookup;
use super::number::Number;
use super::op::Op;

/// As many arguments as a plain operation has.
const MOST_ARGUMENTS: usize = 4;
/// Fills up the places of arguments that an operation does not have.
const NONE: Slot = Slot::MAX;

/// What one graph holds already.
#[derive(Debug, Default)]
pub(super) struct Once {
    slots: Lookup<Key>,
}

/// What makes two operations the same one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Key {
    arguments: [Slot; MOST_ARGUMENTS],
    operation: u8,
}

impl Key {
    /// The key of an operation with one result that its name and its arguments decide; `None` for another.
    pub(super) fn of(op: &Op, slots: &[Slot]) -> Option<Self> {
        let operation = number_of(op)?;
        let mut arguments = [NONE; MOST_ARGUMENTS];
        arguments.get_mut(..slots.len())?.copy_from_slice(slots);
        // a + b and b + a have the same bits.
        if matches!(op, Op::Add | Op::Mul) {
            arguments[..2].sort_unstable();
        }
        Some(Self { arguments, operation })
    }
}

impl Once {
    pub(super) fn find(&self, key: Option<Key>) -> Option<Slot> {
        self.slots.get(&key?)
    }

    /// From now on `slot` holds what has this key.
    pub(super) fn keep(&mut self, key: Option<Key>, slot: Slot) {
        if let Some(key) = key {
            self.slots.insert(key, slot);
        }
    }
}

/// The argument that an operation gives back bit for bit, whatever it is: a·1, a/1, a − 0. (a + 0 is not one of them: of
/// −0 it makes 0, and `atan2` knows the difference.)
pub(super) fn unchanged(op: &Op, arguments: &[Number]) -> Option<Number> {
    let is = |number: Number, value: f64| number.is_constant() && number.value.to_bits() == value.to_bits();
    match (op, arguments) {
        (Op::Mul | Op::Div, [a, b]) if is(*b, 1.0) => Some(*a),
        (Op::Mul, [a, b]) if is(*a, 1.0) => Some(*b),
        (Op::Sub, [a, b]) if is(*b, 0.0) => Some(*a),
        _ => None,
    }
}

/// A number for each operation that may be shared; that of a length is the largest.
pub(super) fn number_of(op: &Op) -> Option<u8> {
    Some(match op {
        Op::Add => 0,
        Op::Sub => 1,
        Op::Mul => 2,
        Op::Div => 3,
        Op::Neg => 4,
        Op::Sqrt => 5,
        Op::Cbrt => 6,
        Op::Exp => 7,
        Op::Ln => 8,
        Op::Sin => 9,
        Op::Cos => 10,
        Op::Asin => 11,
        Op::Acos => 12,
        Op::Atan2 => 13,
        Op::Pow => 14,
        Op::Floor => 15,
        Op::Abs => 16,
        Op::Min => 17,
        Op::Max => 18,
        Op::IfLess => 19,
        Op::Norm => 20,
        _ => return None,
    })
}
