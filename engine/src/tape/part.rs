//! The part of a tape that moves with some of its inputs, for searches that ask it thousands of times.

use super::graph::{Guard, Node, Slot, Tape};
use super::op::Op;

/// What of a tape moves with a few of its inputs and is asked for, as a tape of its own: all else has become constants.
///
/// Its guards are those that may come out otherwise. What nobody asks for is left out, so a place where the script would
/// refuse such a result is not noticed: the script has to be run on what a search ends with.
#[derive(Clone, Debug)]
pub struct Part {
    tape: Tape,
    /// Where each slot of the whole stands here.
    slots: Vec<Option<Slot>>,
}

impl Part {
    /// Of a tape: these inputs, in this order, are the inputs of the part; `wanted` is asked for.
    #[must_use]
    pub fn of(tape: &Tape, inputs: &[usize], wanted: &[Slot]) -> Self {
        let moves = moving(tape, inputs);
        let kept = kept(tape, &moves, wanted);
        let mut building = Building {
            whole: tape,
            part: Self {
                tape: Tape {
                    inputs: vec![0; inputs.len()],
                    ..Tape::default()
                },
                slots: vec![None; tape.graph.slots()],
            },
        };
        building.take(inputs, &moves, &kept);
        building.part
    }

    /// It, as a tape.
    #[must_use]
    pub const fn tape(&self) -> &Tape {
        &self.tape
    }

    /// Where a slot of the whole stands here; `None` where it was not kept: it does not move, or nobody asked for it.
    #[must_use]
    pub fn slot(&self, of_whole: Slot) -> Option<Slot> {
        self.slots.get(of_whole as usize).copied().flatten()
    }
}

/// Which slots depend on these inputs.
pub(crate) fn moving(tape: &Tape, inputs: &[usize]) -> Vec<bool> {
    let graph = &tape.graph;
    let mut moves = vec![false; graph.slots()];
    for slot in inputs.iter().filter_map(|input| tape.inputs.get(*input)) {
        moves[*slot as usize] = true;
    }
    for node in graph.nodes() {
        if graph.arguments_of(node).iter().any(|slot| moves[*slot as usize]) {
            moves[node.slots()].fill(true);
        }
    }
    moves
}

/// Which nodes are kept: what moves, and is wanted, or asked by a guard, or refused by.
fn kept(tape: &Tape, moves: &[bool], wanted: &[Slot]) -> Vec<bool> {
    let graph = &tape.graph;
    let mut asked = vec![false; graph.slots()];
    let of_guards = tape.guards.iter().flat_map(|guard| [guard.left, guard.right]);
    for slot in wanted.iter().copied().chain(of_guards) {
        asked[slot as usize] = moves[slot as usize];
    }
    let mut kept = vec![false; graph.nodes().len()];
    for (number, node) in graph.nodes().iter().enumerate().rev() {
        let arguments = graph.arguments_of(node);
        let refuses = matches!(node.op, Op::Require(_)) && arguments.iter().any(|slot| moves[*slot as usize]);
        if refuses || asked[node.slots()].contains(&true) {
            kept[number] = true;
            for slot in arguments {
                asked[*slot as usize] |= moves[*slot as usize];
            }
        }
    }
    kept
}

struct Building<'a> {
    whole: &'a Tape,
    part: Part,
}

impl Building<'_> {
    fn take(&mut self, inputs: &[usize], moves: &[bool], kept: &[bool]) {
        let graph = &self.whole.graph;
        for body in graph.bodies() {
            self.part.tape.graph.push_body(body.clone());
        }
        let mut guards = self.whole.guards.iter().peekable();
        for (number, node) in graph.nodes().iter().enumerate() {
            while let Some(guard) = guards.next_if(|guard| guard.after as usize <= number) {
                self.guard(guard, moves);
            }
            if kept[number] {
                self.node(node, inputs);
            }
        }
        for guard in guards {
            self.guard(guard, moves);
        }
        self.unused_inputs(inputs);
    }

    fn node(&mut self, node: &Node, inputs: &[usize]) {
        let mut op = node.op.clone();
        if let Op::Input(which) = op {
            let Some(place) = inputs.iter().position(|input| *input == which as usize) else {
                return;
            };
            op = Op::Input(u32::try_from(place).unwrap_or(u32::MAX));
            self.part.tape.inputs[place] = u32::try_from(self.part.tape.graph.slots()).unwrap_or(u32::MAX);
        }
        let arguments = self.whole.graph.arguments_of(node);
        let arguments: Vec<Slot> = arguments.iter().map(|slot| self.here(*slot)).collect();
        let first = self.push(op, &arguments, node.slots());
        for (offset, slot) in node.slots().enumerate() {
            self.part.slots[slot] = Some(first + u32::try_from(offset).unwrap_or(u32::MAX));
        }
    }

    /// A slot's place here; one that does not move becomes a constant.
    fn here(&mut self, slot: Slot) -> Slot {
        let at = slot as usize;
        if let Some(here) = self.part.slots[at] {
            return here;
        }
        let here = self.push(Op::Constant(self.whole.nominal[at]), &[], at..at + 1);
        self.part.slots[at] = Some(here);
        here
    }

    fn push(&mut self, op: Op, arguments: &[Slot], of_whole: std::ops::Range<usize>) -> Slot {
        let count = u32::try_from(of_whole.len()).unwrap_or(u32::MAX);
        self.part.tape.nominal.extend_from_slice(&self.whole.nominal[of_whole]);
        self.part.tape.graph.push(op, arguments, count)
    }

    fn guard(&mut self, guard: &Guard, moves: &[bool]) {
        if !moves[guard.left as usize] && !moves[guard.right as usize] {
            return;
        }
        let (left, right) = (self.here(guard.left), self.here(guard.right));
        self.part.tape.guards.push(Guard {
            left,
            right,
            after: u32::try_from(self.part.tape.graph.nodes().len()).unwrap_or(u32::MAX),
            ..*guard
        });
    }

    /// An input on which nothing kept depends still takes its place, one that the whole does not have too.
    fn unused_inputs(&mut self, inputs: &[usize]) {
        for (place, input) in inputs.iter().enumerate() {
            let whole = self.whole.inputs.get(*input).map(|slot| *slot as usize);
            if whole.is_some_and(|slot| self.part.slots[slot].is_some()) {
                continue;
            }
            let op = Op::Input(u32::try_from(place).unwrap_or(u32::MAX));
            let here = self.part.tape.graph.push(op, &[], 1);
            let nominal = whole.map_or(0.0, |slot| self.whole.nominal[slot]);
            self.part.tape.nominal.push(nominal);
            self.part.tape.inputs[place] = here;
            if let Some(slot) = whole {
                self.part.slots[slot] = Some(here);
            }
        }
    }
}

/// Which inputs these slots depend on.
pub(crate) fn inputs_behind(tape: &Tape, slots: &[Slot]) -> Vec<bool> {
    let graph = &tape.graph;
    let mut asked = vec![false; graph.slots()];
    for slot in slots {
        asked[*slot as usize] = true;
    }
    for node in graph.nodes().iter().rev() {
        if asked[node.slots()].contains(&true) {
            for slot in graph.arguments_of(node) {
                asked[*slot as usize] = true;
            }
        }
    }
    tape.inputs.iter().map(|slot| asked[*slot as usize]).collect()
}
