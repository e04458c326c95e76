//! A run: its inputs, and the tape that comes of it.

use super::super::fault::{Fault, raise};
use super::super::graph::{Reached, Tape};
use super::super::number::{Home, Number};
use super::super::op::Op;
use super::stack::{Kind, Recorder, STACK, open};

/// A run being recorded; closes its recorder when it goes.
#[derive(Debug)]
pub struct Recording {
    serial: u32,
}

impl Recording {
    /// Opens a recorder on this thread. Recordings opened later must be closed earlier.
    #[must_use]
    pub fn open() -> Self {
        let kind = Kind::Run {
            inputs: Vec::new(),
            guards: Vec::new(),
            values: Vec::new(),
        };
        Self { serial: open(kind) }
    }

    /// A new input with this value.
    #[must_use]
    pub fn input(&self, value: f64) -> Number {
        STACK.with_borrow_mut(|stack| {
            let Some(recorder) = stack.iter_mut().find(|recorder| recorder.serial == self.serial) else {
                raise(Fault::Foreign);
                return Number::constant(value);
            };
            let Kind::Run { inputs, values, .. } = &mut recorder.kind else {
                raise(Fault::Foreign);
                return Number::constant(value);
            };
            let slot = recorder
                .graph
                .push(Op::Input(u32::try_from(inputs.len()).unwrap_or(u32::MAX)), &[], 1);
            inputs.push(slot);
            values.push(value);
            Number {
                value,
                home: Home::Slot {
                    recorder: self.serial,
                    slot,
                },
            }
        })
    }

    /// How far it is recorded.
    #[must_use]
    pub fn reached(&self) -> Reached {
        STACK.with_borrow(|stack| {
            let found = stack.iter().find(|recorder| recorder.serial == self.serial);
            match found {
                Some(Recorder {
                    graph,
                    kind: Kind::Run { guards, .. },
                    ..
                }) => Reached {
                    nodes: graph.nodes().len(),
                    guards: guards.len(),
                },
                _ => Reached::default(),
            }
        })
    }

    /// The tape recorded so far.
    #[must_use]
    pub fn tape(&self) -> Tape {
        STACK.with_borrow(|stack| {
            let found = stack.iter().find(|recorder| recorder.serial == self.serial);
            match found {
                Some(Recorder {
                    graph,
                    kind: Kind::Run { inputs, guards, values },
                    ..
                }) => Tape {
                    graph: graph.clone(),
                    inputs: inputs.clone(),
                    guards: guards.clone(),
                    nominal: values.clone(),
                },
                _ => Tape::default(),
            }
        })
    }
}

impl Drop for Recording {
    fn drop(&mut self) {
        STACK.with_borrow_mut(|stack| {
            if let Some(at) = stack.iter().position(|recorder| recorder.serial == self.serial) {
                stack.truncate(at);
            }
        });
    }
}
