//! The doors out of the tape: what is decided by a number is kept, as a guard or as a demand.

use super::super::fault::{Fault, raise};
use super::super::graph::{Guard, Relation, Slot};
use super::super::number::{Home, Number};
use super::super::op::Op;
use super::aside::is_aside;
use super::operation::record;
use super::stack::{Foreign, Kind, Recorder, STACK, bottom_of, level_of, slot_at};

/// What comparing two numbers through the first door gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Decision {
    /// The relation holds, or does not, on the path now run.
    Known(bool),
    /// One of them depends on the argument of a closure being traced.
    Symbolic,
}

/// The first door out: compares two numbers, and keeps the outcome as a guard.
pub(crate) fn decide(left: Number, relation: Relation, right: Number) -> Decision {
    STACK.with_borrow_mut(|stack| {
        let outcome = relation.holds(left.value, right.value);
        match level_of(stack, &[left, right]) {
            Err(Foreign) => raise(Fault::Foreign),
            Ok(None) => {}
            Ok(Some(level)) => {
                if matches!(stack[level].kind, Kind::Closure { .. }) {
                    return Decision::Symbolic;
                }
                if is_aside() {
                    return Decision::Known(outcome);
                }
                let left = slot_at(stack, level, left);
                let right = slot_at(stack, level, right);
                let after = u32::try_from(stack[level].graph.nodes().len()).unwrap_or(u32::MAX);
                if let Kind::Run { guards, .. } = &mut stack[level].kind {
                    guards.push(Guard {
                        left,
                        right,
                        relation,
                        outcome,
                        after,
                    });
                }
            }
        }
        Decision::Known(outcome)
    })
}

/// The second door out: the whole number k with k ≤ q < k + 1; `None` inside a closure that depends on it or where
/// it is too large to count.
pub(crate) fn decide_whole(number: Number) -> Option<i64> {
    let floor = number.value.floor();
    // Beyond 2^53 not every whole number has a float of its own.
    if floor.is_nan() || floor.abs() > 9_007_199_254_740_992.0 {
        return None;
    }
    let low = Number::constant(floor);
    let high = Number::constant(floor + 1.0);
    match (
        decide(low, Relation::LessOrEqual, number),
        decide(number, Relation::Less, high),
    ) {
        (Decision::Known(_), Decision::Known(_)) => {
            #[allow(clippy::cast_possible_truncation, reason = "checked to lie within 2^53")]
            let whole = floor as i64;
            Some(whole)
        }
        _ => None,
    }
}

/// Refuses unless a relation holds: now where both are known, and in every replay.
/// Gives whether it holds now (a relation between symbols is taken to hold until it is replayed).
pub(crate) fn require(left: Number, relation: Relation, right: Number) -> bool {
    let level = STACK.with_borrow(|stack| level_of(stack, &[left, right]));
    match level {
        Err(Foreign) => raise(Fault::Foreign),
        Ok(None) => return relation.holds(left.value, right.value),
        Ok(Some(level)) => {
            let symbolic = STACK.with_borrow(|stack| matches!(stack[level].kind, Kind::Closure { .. }));
            if !symbolic && !relation.holds(left.value, right.value) {
                return false;
            }
            if symbolic || !is_aside() {
                record(Op::Require(relation), &[left, right], &mut []);
            }
        }
    }
    true
}

/// Whether the number depends on the argument of a closure being traced.
pub(crate) fn is_symbolic(number: Number) -> bool {
    STACK.with_borrow(|stack| {
        level_of(stack, &[number])
            .ok()
            .flatten()
            .is_some_and(|level| matches!(stack[level].kind, Kind::Closure { .. }))
    })
}

/// Whether the number depends on nothing, or stands on the tape of the run now recorded or in one of its closures.
pub(crate) fn is_known(number: Number) -> bool {
    STACK.with_borrow(|stack| level_of(stack, &[number]).is_ok())
}

/// Whether a closure is being traced.
pub(crate) fn in_closure() -> bool {
    STACK.with_borrow(|stack| {
        matches!(
            stack.last(),
            Some(Recorder {
                kind: Kind::Closure { .. },
                ..
            })
        )
    })
}

/// The slot of a number on the tape of the run now recorded.
pub(in crate::tape) fn slot_on_tape(number: Number) -> Option<Slot> {
    let Home::Slot { recorder, slot } = number.home else {
        return None;
    };
    STACK.with_borrow(|stack| {
        let bottom = bottom_of(stack);
        (stack.get(bottom)?.serial == recorder).then_some(slot)
    })
}
