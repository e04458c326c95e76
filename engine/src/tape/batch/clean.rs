//! From a tape to the lines that matter: known values folded, equal lines shared, dead ones dropped.

use super::fused::fused;
use super::line::{Line, Name, Origin, Work};
use crate::tape::graph::{Graph, Guard, Node, Relation, Slot, Tape};
use crate::tape::once::number_of;
use crate::tape::op::Op;
use std::collections::{BTreeMap, BTreeSet};

/// A tape without what does not matter.
pub(in crate::tape) struct Cleaned {
    pub(in crate::tape) lines: Vec<Line>,
    /// Where each name comes from.
    pub(in crate::tape) origins: Vec<Origin>,
    /// The name of each wanted slot.
    pub(in crate::tape) wanted: BTreeMap<Slot, Name>,
    /// Whether every lane leaves: a known number is not finite, or a known comparison comes out otherwise.
    pub(super) leaves: bool,
    /// For each line that compares, in order, what asks it.
    pub(in crate::tape) asked: Vec<Asked>,
}

/// What asks one comparison.
#[derive(Clone, Debug, Default)]
pub(in crate::tape) struct Asked {
    /// The tape's guards with this comparison, by number.
    pub(in crate::tape) guards: Vec<u32>,
    /// The first node of the tape that requires it.
    pub(in crate::tape) required: Option<u32>,
}

/// Cleans a tape, for blocks of lanes. `known` holds the inputs that are the same in all lanes.
pub(super) fn clean(tape: &Tape, wanted: &[Slot], known: &[Option<f64>]) -> Cleaned {
    let mut cleaned = plainly(tape, wanted, known);
    let lines = with_pairs(cleaned.lines);
    cleaned.lines = fused(lines, &cleaned.origins, cleaned.wanted.values().copied());
    cleaned
}

/// Cleans a tape, each line still one operation of it.
pub(in crate::tape) fn plainly(tape: &Tape, wanted: &[Slot], known: &[Option<f64>]) -> Cleaned {
    let mut cleaning = Cleaning::new(&tape.graph, known);
    let mut guards = (0..).zip(&tape.guards).peekable();
    for (number, node) in (0..).zip(tape.graph.nodes()) {
        while let Some((guard_number, guard)) = guards.next_if(|(_, guard)| guard.after <= number) {
            cleaning.guard(guard_number, guard);
        }
        cleaning.at = number;
        cleaning.node(node);
    }
    guards.for_each(|(number, guard)| cleaning.guard(number, guard));
    let name = |slot: &Slot| Some((*slot, *cleaning.names.get(*slot as usize)?));
    let wanted: BTreeMap<Slot, Name> = wanted.iter().filter_map(name).collect();
    Cleaned {
        lines: alive(cleaning.lines, &wanted, cleaning.origins.len()),
        origins: cleaning.origins,
        wanted,
        leaves: cleaning.leaves,
        asked: cleaning.asked,
    }
}

/// What makes two lines equal: the operation, and its up to four arguments in one number, which is quick to compare.
type Likeness = (u128, u32);

struct Cleaning<'a> {
    graph: &'a Graph,
    inputs: &'a [Option<f64>],
    /// The name of each slot of the tape.
    names: Vec<Name>,
    origins: Vec<Origin>,
    lines: Vec<Line>,
    /// Known numbers by their bits.
    known: BTreeMap<u64, Name>,
    /// The results of lines by what makes them equal; of a comparison its place among those.
    shared: BTreeMap<Likeness, Name>,
    leaves: bool,
    asked: Vec<Asked>,
    /// How many nodes of the tape stand before the one that is looked at.
    at: u32,
}

impl<'a> Cleaning<'a> {
    fn new(graph: &'a Graph, inputs: &'a [Option<f64>]) -> Self {
        Self {
            graph,
            inputs,
            names: vec![0; graph.slots()],
            origins: Vec::new(),
            lines: Vec::new(),
            known: BTreeMap::new(),
            shared: BTreeMap::new(),
            leaves: false,
            asked: Vec::new(),
            at: 0,
        }
    }

    fn node(&mut self, node: &Node) {
        let slot = node.first_slot as usize;
        match &node.op {
            Op::Constant(value) => self.names[slot] = self.known(*value),
            Op::Input(number) => {
                self.names[slot] = match self.inputs.get(*number as usize).copied().flatten() {
                    Some(value) => self.known(value),
                    None => self.name(Origin::Input(*number)),
                };
            }
            // A tape has no leaves of closures.
            Op::Argument | Op::Capture(_) => self.names[slot] = self.known(f64::NAN),
            Op::Require(relation) => {
                let sides = self.pair(node);
                if let Some(line) = self.compare(*relation, true, sides) {
                    self.asked[line].required.get_or_insert(self.at);
                }
            }
            _ => self.operation(node),
        }
    }

    fn guard(&mut self, number: u32, guard: &Guard) {
        self.at = guard.after;
        let sides = [guard.left, guard.right].map(|slot| self.names[slot as usize]);
        if let Some(line) = self.compare(guard.relation, guard.outcome, sides) {
            self.asked[line].guards.push(number);
        }
    }

    /// Compares two numbers, once; gives which comparison it is, unless both are known.
    fn compare(&mut self, relation: Relation, outcome: bool, sides: [Name; 2]) -> Option<usize> {
        if let [Some(left), Some(right)] = sides.map(|name| self.value(name)) {
            self.leaves |= relation.holds(left, right) != outcome;
            return None;
        }
        let code = 1000 + 2 * relation as u32 + u32::from(outcome);
        let likeness = (packed(&sides), code);
        if let Some(known) = self.shared.get(&likeness) {
            return Some(*known as usize);
        }
        let line = self.asked.len();
        self.shared.insert(likeness, Name::try_from(line).unwrap_or(Name::MAX));
        self.asked.push(Asked::default());
        self.line(Work::Guard { relation, outcome }, sides.to_vec(), 0);
        Some(line)
    }

    fn operation(&mut self, node: &Node) {
        let arguments: Vec<Name> = self.arguments(node);
        let values: Option<Vec<f64>> = arguments.iter().map(|name| self.value(*name)).collect();
        if let Some(values) = values {
            return self.fold(node, &values);
        }
        let (op, arguments) = self.simpler(&node.op, arguments);
        let likeness = likeness(&op, &arguments);
        let shared = likeness.and_then(|likeness| self.shared.get(&likeness).copied());
        let first = shared.unwrap_or_else(|| self.line(Work::Op(op), arguments, node.slot_count));
        if let Some(likeness) = likeness {
            self.shared.insert(likeness, first);
        }
        for (slot, name) in node.slots().zip(first..) {
            self.names[slot] = name;
        }
    }

    /// An operation on known numbers: done once, by its definition.
    fn fold(&mut self, node: &Node, values: &[f64]) {
        let mut out = vec![f64::NAN; node.slot_count as usize];
        self.leaves |= node.op.value(self.graph, values, &mut out).is_err();
        for (slot, value) in node.slots().zip(out) {
            self.names[slot] = self.known(value);
        }
    }

    /// Dividing by a power of two is multiplying by another: both are rounded once, from the same number.
    fn simpler(&mut self, op: &Op, mut arguments: Vec<Name>) -> (Op, Vec<Name>) {
        if let (Op::Div, Some(divisor)) = (op, arguments.get(1).and_then(|name| self.value(*name))) {
            let inverse = 1.0 / divisor;
            let mantissa = divisor.to_bits() & ((1 << 52) - 1);
            if mantissa == 0 && divisor.is_normal() && inverse.is_normal() {
                arguments[1] = self.known(inverse);
                return (Op::Mul, arguments);
            }
        }
        (op.clone(), arguments)
    }

    fn arguments(&self, node: &Node) -> Vec<Name> {
        let slots = self.graph.arguments_of(node);
        slots.iter().map(|slot| self.names[*slot as usize]).collect()
    }

    fn pair(&self, node: &Node) -> [Name; 2] {
        let arguments = self.arguments(node);
        [0, 1].map(|side| arguments.get(side).copied().unwrap_or(0))
    }

    fn value(&self, name: Name) -> Option<f64> {
        match self.origins[name as usize] {
            Origin::Known(value) => Some(value),
            _ => None,
        }
    }

    fn known(&mut self, value: f64) -> Name {
        self.leaves |= !value.is_finite();
        let next = next(&self.origins);
        let name = *self.known.entry(value.to_bits()).or_insert(next);
        if name == next {
            self.origins.push(Origin::Known(value));
        }
        name
    }

    fn name(&mut self, origin: Origin) -> Name {
        self.origins.push(origin);
        next(&self.origins) - 1
    }

    fn line(&mut self, work: Work, arguments: Vec<Name>, count: u32) -> Name {
        let first = next(&self.origins);
        self.origins.extend(std::iter::repeat_n(Origin::Line, count as usize));
        self.lines.push(Line {
            work,
            arguments,
            results: (first..first + count).collect(),
            after: self.at,
        });
        first
    }
}

fn next(origins: &[Origin]) -> Name {
    Name::try_from(origins.len()).unwrap_or(Name::MAX)
}

/// For an operation that two lines may share. The order of a sum's or a product's arguments does not matter.
fn likeness(op: &Op, arguments: &[Name]) -> Option<Likeness> {
    let code = match op {
        // A length of as many numbers as are told apart below.
        Op::Norm => u32::from(number_of(op)?) + u32::try_from(arguments.len()).ok().filter(|count| *count <= 4)?,
        _ => u32::from(number_of(op)?),
    };
    let arguments = match (op, arguments) {
        (Op::Add | Op::Mul, [a, b]) if b < a => packed(&[*b, *a]),
        _ => packed(arguments),
    };
    Some((arguments, code))
}

fn packed(names: &[Name]) -> u128 {
    names.iter().fold(0, |packed, name| packed << 32 | u128::from(*name))
}

/// The lines that wanted names rest on, and those that may refuse.
fn alive(lines: Vec<Line>, wanted: &BTreeMap<Slot, Name>, names: usize) -> Vec<Line> {
    let mut read = vec![false; names];
    for name in wanted.values() {
        read[*name as usize] = true;
    }
    let mut kept: Vec<Line> = Vec::with_capacity(lines.len());
    for line in lines.into_iter().rev() {
        if line.work.may_refuse() || line.results.iter().any(|name| read[*name as usize]) {
            for name in &line.arguments {
                read[*name as usize] = true;
            }
            kept.push(line);
        }
    }
    kept.reverse();
    kept
}

/// Sine and cosine of one angle in one line, where the first of them stood: one reduction of the angle serves both.
fn with_pairs(lines: Vec<Line>) -> Vec<Line> {
    let mut sines: BTreeMap<Name, Name> = BTreeMap::new();
    let mut cosines: BTreeMap<Name, Name> = BTreeMap::new();
    for line in &lines {
        match line.work {
            Work::Op(Op::Sin) => sines.insert(line.arguments[0], line.results[0]),
            Work::Op(Op::Cos) => cosines.insert(line.arguments[0], line.results[0]),
            _ => None,
        };
    }
    let pair = |line: &Line| match line.work {
        Work::Op(Op::Sin | Op::Cos) => {
            let angle = line.arguments[0];
            Some((angle, [*sines.get(&angle)?, *cosines.get(&angle)?]))
        }
        _ => None,
    };
    let mut done = BTreeSet::new();
    let mut paired = Vec::with_capacity(lines.len());
    for line in &lines {
        match pair(line) {
            None => paired.push(line.clone()),
            Some((angle, results)) if done.insert(angle) => paired.push(Line {
                work: Work::SineCosine,
                arguments: vec![angle],
                results: results.to_vec(),
                after: line.after,
            }),
            Some(_) => {}
        }
    }
    paired
}
