//! The recorders open on this thread, one on top of another.

use super::super::fault::{Fault, raise};
use super::super::graph::{Graph, Guard, Slot};
use super::super::lookup::Lookup;
use super::super::number::{Home, Number};
use super::super::once::Once;
use super::super::op::Op;
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

pub(super) struct Recorder {
    pub(super) serial: u32,
    pub(super) graph: Graph,
    /// Constants that stand on it already, by their bits.
    pub(super) constants: Lookup<u64>,
    /// Operations that stand on it already.
    pub(super) once: Once,
    pub(super) kind: Kind,
}

pub(super) enum Kind {
    /// A run: numbers have values.
    Run {
        inputs: Vec<Slot>,
        guards: Vec<Guard>,
        values: Vec<f64>,
    },
    /// A closure being traced: numbers are symbols.
    Closure {
        argument: Slot,
        captures: BTreeMap<Slot, Slot>,
        order: Vec<(Slot, Slot)>,
    },
}

thread_local! {
    pub(super) static STACK: RefCell<Vec<Recorder>> = const { RefCell::new(Vec::new()) };
    static SERIAL: Cell<u32> = const { Cell::new(1) };
}

impl Recorder {
    /// The number that stands in one of its slots.
    pub(super) fn number(&self, slot: Slot) -> Number {
        let value = match &self.kind {
            Kind::Run { values, .. } => values.get(slot as usize).copied(),
            Kind::Closure { .. } => None,
        };
        Number {
            value: value.unwrap_or(f64::NAN),
            home: Home::Slot {
                recorder: self.serial,
                slot,
            },
        }
    }
}

pub(super) fn open(kind: Kind) -> u32 {
    let serial = SERIAL.get();
    SERIAL.set(serial.wrapping_add(1).max(1));
    STACK.with_borrow_mut(|stack| {
        stack.push(Recorder {
            serial,
            graph: Graph::default(),
            constants: Lookup::default(),
            once: Once::default(),
            kind,
        });
    });
    serial
}

pub(super) struct Foreign;

/// The innermost recorder that an argument belongs to; `None` where all are constants.
pub(super) fn level_of(stack: &[Recorder], arguments: &[Number]) -> Result<Option<usize>, Foreign> {
    let bottom = bottom_of(stack);
    let mut level = None;
    for argument in arguments {
        if let Home::Slot { recorder, .. } = argument.home {
            let found = stack.iter().rposition(|open| open.serial == recorder).ok_or(Foreign)?;
            if found < bottom {
                return Err(Foreign);
            }
            level = level.max(Some(found));
        }
    }
    Ok(level)
}

/// The run that is recorded now: the last one opened.
pub(super) fn bottom_of(stack: &[Recorder]) -> usize {
    stack
        .iter()
        .rposition(|open| matches!(open.kind, Kind::Run { .. }))
        .unwrap_or(0)
}

/// The slot in which a recorder sees a number: its own, a constant, or a capture from outside.
pub(super) fn slot_at(stack: &mut [Recorder], level: usize, number: Number) -> Slot {
    match number.home {
        Home::Constant => constant_at(&mut stack[level], number.value),
        Home::Slot { recorder, slot } if recorder == stack[level].serial => slot,
        Home::Slot { .. } => {
            let outside = slot_at(stack, level - 1, number);
            capture(&mut stack[level], outside)
        }
    }
}

pub(super) fn constant_at(recorder: &mut Recorder, value: f64) -> Slot {
    let Recorder {
        graph, constants, kind, ..
    } = recorder;
    if let Some(slot) = constants.get(&value.to_bits()) {
        return slot;
    }
    if let Kind::Run { values, .. } = kind {
        values.push(value);
    }
    let slot = graph.push(Op::Constant(value), &[], 1);
    constants.insert(value.to_bits(), slot);
    slot
}

fn capture(recorder: &mut Recorder, outside: Slot) -> Slot {
    let Recorder { graph, kind, .. } = recorder;
    let Kind::Closure { captures, order, .. } = kind else {
        // Only a closure has an outside; a run's numbers are its own.
        raise(Fault::Foreign);
        return 0;
    };
    *captures.entry(outside).or_insert_with(|| {
        let slot = graph.push(Op::Capture(u32::try_from(order.len()).unwrap_or(u32::MAX)), &[], 1);
        order.push((outside, slot));
        slot
    })
}
