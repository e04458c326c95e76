//! Nodes and slots as plain data.
//!
//! A **slot** holds one number. A **node** is one operation: it reads slots and fills a run of slots of its own. A
//! **graph** is nodes in the order in which they were done; a **tape** is a graph with its inputs and the guards that say
//! which way the script went. A closure given to `root`, `maximum` or `integrate` is a graph inside its parent: its leaves
//! are the argument and what it captures from the parent.

use super::op::Op;

/// The place of one number in a graph.
pub type Slot = u32;

/// One operation of a graph.
#[derive(Clone, Debug)]
pub struct Node {
    /// What is done.
    pub op: Op,
    /// Where its arguments start in [`Graph::arguments`].
    first_argument: u32,
    /// How many arguments it reads.
    argument_count: u32,
    /// The first slot that it fills.
    pub first_slot: Slot,
    /// How many slots it fills.
    pub slot_count: u32,
}

/// Operations in the order in which they were done.
#[derive(Clone, Debug, Default)]
pub struct Graph {
    nodes: Vec<Node>,
    arguments: Vec<Slot>,
    slots: u32,
    /// Graphs of the closures that nodes of this one solve, maximise or integrate.
    bodies: Vec<Body>,
}

/// The graph of a closure.
#[derive(Clone, Debug)]
pub struct Body {
    /// Its operations.
    pub graph: Graph,
    /// The slot of its argument.
    pub argument: Slot,
    /// For each captured number: its slot in the parent and its slot here.
    pub captures: Vec<(Slot, Slot)>,
    /// The slot of its result.
    pub result: Slot,
}

/// How two numbers compare.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Relation {
    /// a < b
    Less,
    /// a ≤ b
    LessOrEqual,
    /// a = b
    Equal,
}

impl Relation {
    /// Whether the relation holds.
    #[must_use]
    pub fn holds(self, a: f64, b: f64) -> bool {
        match self {
            Self::Less => a < b,
            Self::LessOrEqual => a <= b,
            Self::Equal => a == b,
        }
    }
}

/// A comparison through which a script left the tape: replaying is right only while it comes out the same.
#[derive(Clone, Copy, Debug)]
pub struct Guard {
    /// Left side.
    pub left: Slot,
    /// Right side.
    pub right: Slot,
    /// How they were compared.
    pub relation: Relation,
    /// What came out.
    pub outcome: bool,
    /// How many nodes stood on the tape when it was asked.
    pub after: u32,
}

/// How far a tape was recorded at some moment.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Reached {
    /// How many operations stood on it.
    pub nodes: usize,
    /// How many guards.
    pub guards: usize,
}

/// A graph with its inputs and guards.
#[derive(Clone, Debug, Default)]
pub struct Tape {
    /// The operations.
    pub graph: Graph,
    /// Slot of each input, in the order in which they were opened.
    pub inputs: Vec<Slot>,
    /// The way that the script went.
    pub guards: Vec<Guard>,
    /// Every slot's value as recorded.
    pub nominal: Vec<f64>,
}

impl Graph {
    /// The operations, in order.
    #[must_use]
    pub fn nodes(&self) -> &[Node] {
        &self.nodes
    }

    /// How many slots there are.
    #[must_use]
    pub fn slots(&self) -> usize {
        self.slots as usize
    }

    /// The slots that a node reads.
    #[must_use]
    pub fn arguments_of(&self, node: &Node) -> &[Slot] {
        let first = node.first_argument as usize;
        &self.arguments[first..first + node.argument_count as usize]
    }

    /// The closures that nodes of this graph work on.
    #[must_use]
    pub fn bodies(&self) -> &[Body] {
        &self.bodies
    }

    /// Adds an operation and gives the first slot that it fills.
    pub(super) fn push(&mut self, op: Op, arguments: &[Slot], slot_count: u32) -> Slot {
        let first_slot = self.slots;
        let first_argument = u32::try_from(self.arguments.len()).unwrap_or(u32::MAX);
        self.arguments.extend_from_slice(arguments);
        self.nodes.push(Node {
            op,
            first_argument,
            argument_count: u32::try_from(arguments.len()).unwrap_or(u32::MAX),
            first_slot,
            slot_count,
        });
        self.slots += slot_count;
        first_slot
    }

    /// Takes back the graph of the closure added last.
    pub(super) fn pop_body(&mut self) {
        self.bodies.pop();
    }

    /// Adds the graph of a closure and gives its number.
    pub(super) fn push_body(&mut self, body: Body) -> u32 {
        self.bodies.push(body);
        u32::try_from(self.bodies.len() - 1).unwrap_or(u32::MAX)
    }
}

impl Tape {
    /// What a replay costs, in simple operations: by the tape alone, to the nearest power of ten or so.
    #[must_use]
    pub fn cost(&self) -> u64 {
        super::cost::of_graph(&self.graph)
    }
}

impl Node {
    /// The slots that it fills.
    #[must_use]
    pub fn slots(&self) -> std::ops::Range<usize> {
        self.first_slot as usize..(self.first_slot + self.slot_count) as usize
    }
}
