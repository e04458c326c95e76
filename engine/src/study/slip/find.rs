//! The slips of one step.

use super::cone::{Cone, makers};
use super::kind::{Slip, SlipKind, Term};
use super::units::confused_with;
use crate::kernel;
use crate::quantity::Dimension;
use crate::quantity::units::WrittenUnit;
use crate::tape::{Node, Op, Slot, Tape};
use std::collections::BTreeMap;
use std::f64::consts::PI;

/// So many slips of one line are enough.
const MOST: usize = 8;
/// Two wrong answers closer than this share of themselves are one.
const SHARE: f64 = 0.005;

/// How many operations of each kind a formula shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Visible {
    /// Sines, cosines, tangents.
    pub trigonometric: usize,
    /// Roots, `hypot` and the length of a vector among them.
    pub roots: usize,
    /// Squares and other powers.
    pub powers: usize,
    /// Factors and divisors of 2 or ½.
    pub twos: usize,
    /// Sums and differences.
    pub signs: usize,
}

/// A step whose slips are sought.
pub struct Line<'a> {
    /// The tape of the run.
    pub tape: &'a Tape,
    /// Where its result stands; a result that rests on no reading has only its units to be confused.
    pub result: Option<Slot>,
    /// Its value, SI.
    pub si: f64,
    /// What a pupil has before this line, by slot: readings and earlier results, with what they measure.
    pub known: &'a BTreeMap<Slot, Dimension>,
    /// Which of them are readings.
    pub readings: &'a dyn Fn(Slot) -> bool,
    /// What the result measures.
    pub dimension: Dimension,
    /// The unit in which the answer is given.
    pub unit: &'a WrittenUnit,
    /// What the formula shows.
    pub visible: Visible,
    /// An answer closer to the right one than this is right, SI.
    pub tolerance: f64,
}

/// The slips of a step that lead to an answer of their own: finite, not the right one, none like another.
#[must_use]
pub fn slips(line: &Line<'_>) -> Vec<Slip> {
    let mut found = Found {
        line,
        slips: Vec::new(),
    };
    if let Some(result) = line.result {
        let makers = makers(line.tape);
        let known = |slot: Slot| slot != result && line.known.contains_key(&slot);
        let cone = Cone::of(line.tape, &makers, result, &known);
        let of_known = |slot: Slot| match slot {
            slot if slot == result => Some(line.dimension),
            slot => line.known.get(&slot).copied(),
        };
        let dimensions = cone.dimensions(&makers, &of_known);
        let search = Search {
            line,
            dimension: Box::new(move |slot| of_known(slot).or_else(|| dimensions.get(&slot).copied())),
            makers: &makers,
            cone: &cone,
        };
        search.all(&mut found);
    }
    found.units();
    found.slips
}

struct Found<'a> {
    line: &'a Line<'a>,
    slips: Vec<Slip>,
}

impl Found<'_> {
    fn keep(&mut self, slip: Slip) {
        // A slip is told from another as closely as an answer of its size is; one far smaller than the right answer too.
        let apart = |other: &Slip| (slip.si - other.si).abs() > SHARE * kernel::max(slip.si.abs(), other.si.abs());
        let wrong = slip.si.is_finite() && (slip.si - self.line.si).abs() > self.line.tolerance;
        let new = wrong && self.slips.iter().all(apart);
        if new && self.slips.len() < MOST {
            self.slips.push(slip);
        }
    }

    /// The number in one unit with the other behind it, both ways.
    fn units(&mut self) {
        let si = self.line.si;
        let dimension = Some(self.line.dimension);
        for (own, other) in confused_with(self.line.unit) {
            for (number_in, written_as) in [(other, own), (own, other)] {
                let wrong = written_as.to_si(number_in.from_si(si));
                let term = |si| Term {
                    si,
                    dimension,
                    slot: None,
                };
                self.keep(Slip {
                    kind: SlipKind::OtherUnit {
                        number_in: number_in.name,
                        written_as: written_as.name,
                    },
                    si: wrong,
                    operands: Vec::new(),
                    right: term(si),
                    wrong: term(wrong),
                });
            }
        }
    }
}

/// An operation that a pupil may take for another.
struct Site<'a> {
    number: usize,
    node: &'a Node,
    given: Vec<(Slot, f64)>,
}

struct Search<'a> {
    line: &'a Line<'a>,
    makers: &'a [usize],
    cone: &'a Cone<'a>,
    dimension: Box<dyn Fn(Slot) -> Option<Dimension> + 'a>,
}

impl Search<'_> {
    fn all(&self, found: &mut Found<'_>) {
        let sites: Vec<Site<'_>> = self
            .cone
            .nearest_first()
            .into_iter()
            .map(|(number, node)| Site {
                number,
                node,
                given: self.cone.arguments(node),
            })
            .collect();
        let visible = self.line.visible;
        if visible.trigonometric > 0 {
            self.degrees(&sites, found);
        }
        let mut left = [visible.twos, visible.roots, visible.signs, visible.powers];
        for (kind, left) in left.iter_mut().enumerate() {
            for site in &sites {
                let change = match kind {
                    0 => self.two(site),
                    1 => self.root(site),
                    2 => sign(site),
                    _ => self.square(site),
                };
                if let Some((kind, wrong)) = change.filter(|_| *left > 0) {
                    *left -= 1;
                    self.changed(site, kind, wrong, found);
                }
            }
        }
    }

    /// The result where one operation gives something else.
    fn changed(&self, site: &Site<'_>, kind: SlipKind, wrong: f64, found: &mut Found<'_>) {
        let Some(si) = self.cone.with(&|number, _| (number == site.number).then_some(wrong)) else {
            return;
        };
        let dimension = (self.dimension)(site.node.first_slot);
        found.keep(Slip {
            kind,
            si,
            operands: site.given.iter().map(|(slot, si)| self.term(*slot, *si)).collect(),
            right: self.term(site.node.first_slot, self.cone.value(site.node.first_slot)),
            wrong: Term {
                si: wrong,
                dimension,
                slot: None,
            },
        });
    }

    fn term(&self, slot: Slot, si: f64) -> Term {
        Term {
            si,
            dimension: (self.dimension)(slot),
            slot: Some(slot),
        }
    }

    /// A calculator set to radians, and degrees typed in: every sine and cosine of the line.
    fn degrees(&self, sites: &[Site<'_>], found: &mut Found<'_>) {
        let is_one = |site: &&Site<'_>| matches!(site.node.op, Op::Sin | Op::Cos);
        let changed: Vec<usize> = sites.iter().filter(is_one).map(|site| site.number).collect();
        let Some(first) = sites.iter().find(is_one) else { return };
        let of_degrees = |op: &Op, angle: f64| {
            let degrees = angle * 180.0 / PI;
            match op {
                Op::Sin => kernel::sin(degrees),
                _ => kernel::cos(degrees),
            }
        };
        let ops: BTreeMap<usize, &Op> = sites.iter().map(|site| (site.number, &site.node.op)).collect();
        let wrong = self.cone.with(&|number, given| {
            let op = ops.get(&number).filter(|_| changed.contains(&number))?;
            Some(of_degrees(op, *given.first()?))
        });
        if let (Some(si), Some((slot, angle))) = (wrong, first.given.first()) {
            found.keep(Slip {
                kind: SlipKind::DegreesAsRadians,
                si,
                operands: vec![Term {
                    dimension: Some(Dimension::ANGLE),
                    ..self.term(*slot, *angle)
                }],
                right: self.term(first.node.first_slot, self.cone.value(first.node.first_slot)),
                wrong: Term {
                    si: of_degrees(&first.node.op, *angle),
                    dimension: Some(Dimension::NONE),
                    slot: None,
                },
            });
        }
    }

    /// The unit in which a pupil has a number: that of the answer for a number of its kind, else SI.
    fn unit(&self, slot: Slot) -> f64 {
        let like = (self.dimension)(slot) == Some(self.line.dimension) && !self.line.dimension.is_none();
        let size = self.line.unit.width_to_si(1.0, self.line.si);
        if like && size.is_finite() && size > 0.0 {
            size
        } else {
            1.0
        }
    }

    fn root(&self, site: &Site<'_>) -> Option<(SlipKind, f64)> {
        let (slot, under) = *site.given.first()?;
        // A root of a plain number has no unit, whatever is made of it then.
        let unit = match (self.dimension)(slot) {
            Some(dimension) if dimension.is_none() => 1.0,
            _ => self.unit(site.node.first_slot),
        };
        match site.node.op {
            Op::Sqrt => {
                let inner = self.made_by(slot);
                let twice = matches!(inner, Some(Op::Sqrt | Op::Norm));
                let kind = if twice {
                    SlipKind::FourthRootAsSquareRoot
                } else {
                    SlipKind::RootForgotten
                };
                Some((kind, under / unit))
            }
            Op::Cbrt if under > 0.0 => {
                let wrong = kernel::sqrt(under / (unit * unit * unit)) * unit;
                Some((SlipKind::CubeRootAsSquareRoot, wrong))
            }
            Op::Norm => {
                let squares: f64 = site.given.iter().map(|(_, each)| each * each).sum();
                Some((SlipKind::RootForgotten, squares / unit))
            }
            _ => None,
        }
    }

    fn made_by(&self, slot: Slot) -> Option<&Op> {
        let node = self.line.tape.graph.nodes().get(*self.makers.get(slot as usize)?)?;
        Some(&node.op)
    }

    /// A number times itself: the number alone.
    fn square(&self, site: &Site<'_>) -> Option<(SlipKind, f64)> {
        match (&site.node.op, site.given.as_slice()) {
            (Op::Mul, [(a, size), (b, _)]) if a == b => Some((SlipKind::SquareForgotten, size * self.unit(*a))),
            _ => None,
        }
    }

    fn two(&self, site: &Site<'_>) -> Option<(SlipKind, f64)> {
        let [(a, first), (b, second)] = *site.given.as_slice() else {
            return None;
        };
        let is = |slot: Slot, value: f64| self.cone.constant(self.makers, slot) == Some(value);
        let halved = match self.halves(a) {
            true => SlipKind::ReadingForOffset,
            false => SlipKind::NotHalved,
        };
        match site.node.op {
            Op::Div if is(b, 2.0) => Some((halved, first)),
            Op::Mul if is(b, 0.5) => Some((halved, first)),
            Op::Mul if is(a, 0.5) => Some((SlipKind::NotHalved, second)),
            Op::Mul if is(a, 2.0) => Some((SlipKind::NotDoubled, second)),
            Op::Mul if is(b, 2.0) => Some((SlipKind::NotDoubled, first)),
            _ => None,
        }
    }

    /// Whether a number is the difference of two lengths that were read: half of it is an offset.
    fn halves(&self, slot: Slot) -> bool {
        let node = self.makers.get(slot as usize);
        let node = node.and_then(|number| self.line.tape.graph.nodes().get(*number));
        node.is_some_and(|node| {
            matches!(node.op, Op::Sub)
                && self.line.dimension == Dimension::LENGTH
                && self
                    .line
                    .tape
                    .graph
                    .arguments_of(node)
                    .iter()
                    .all(|slot| (self.line.readings)(*slot))
        })
    }
}

fn sign(site: &Site<'_>) -> Option<(SlipKind, f64)> {
    match (&site.node.op, site.given.as_slice()) {
        (Op::Add, [(_, a), (_, b)]) => Some((SlipKind::Subtracted, a - b)),
        (Op::Sub, [(_, a), (_, b)]) => Some((SlipKind::Added, a + b)),
        _ => None,
    }
}
