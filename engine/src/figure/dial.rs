//! Directions round a circle: planes of bends, yokes, a vector of run-out.

use super::bounds::fits;
use crate::diagnostic::Refusal;
use crate::outcome::{Amount, Phrase};
use crate::quantity::{Dimension, Quantity};
use crate::tape;

/// A dial: hands at angles round a circle.
#[derive(Clone, Debug)]
pub struct Dial {
    /// What it is of.
    pub title: Phrase,
    /// Where angles are counted from.
    pub zero: Zero,
    /// Which way they are counted.
    pub sense: Sense,
    /// The hands, in order.
    pub hands: Vec<Hand>,
    /// Arcs along the rim.
    pub arcs: Vec<Arc>,
    /// What the lengths of the hands measure, where they have one.
    pub kind: Option<Dimension>,
}

/// Where a dial's angles are counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Zero {
    /// The top.
    Top,
    /// The right.
    Right,
}

/// Which way a dial's angles are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// As a clock goes.
    Clockwise,
    /// Against it.
    CounterClockwise,
}

/// What a hand looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HandKind {
    /// An arrow.
    Arrow,
    /// A line right across: a plane, the ears of a yoke.
    Across,
    /// An arrow as it was: faint.
    Old,
}

/// A hand of a dial.
#[derive(Clone, Debug)]
pub struct Hand {
    /// What it is.
    pub name: Phrase,
    /// Its angle.
    pub angle: Amount,
    /// Its length beside the other hands'; without one it reaches the rim.
    pub length: Option<Amount>,
    /// Its tip: across and up, as long as its length, or 1.
    pub tip: [Amount; 2],
    /// What it looks like.
    pub kind: HandKind,
}

/// A part of the rim: what is allowed, what has passed.
#[derive(Clone, Debug)]
pub struct Arc {
    /// What it is.
    pub name: Phrase,
    /// From this angle
    pub from: Amount,
    /// to this.
    pub to: Amount,
}

impl Dial {
    /// A dial with nothing on it.
    #[must_use]
    pub const fn new(title: Phrase, zero: Zero, sense: Sense) -> Self {
        Self {
            title,
            zero,
            sense,
            hands: Vec::new(),
            arcs: Vec::new(),
            kind: None,
        }
    }

    /// Adds a hand.
    ///
    /// # Errors
    /// What is no angle; lengths that measure unlike things; too many numbers in all.
    pub fn hand(
        &mut self,
        name: Phrase,
        angle: Quantity,
        length: Option<Quantity>,
        kind: HandKind,
    ) -> Result<(), Refusal> {
        fits(self.count() + 4)?;
        let turned = angle.here()?.expect(Dimension::ANGLE, "the angle of a hand")?;
        let length = length.map(Quantity::here).transpose()?;
        if let Some(length) = length {
            let kind = *self.kind.get_or_insert(length.dimension());
            length.expect(kind, "the length of a hand")?;
        }
        let (sin, cos) = (tape::sin(turned), tape::cos(turned));
        let [across, up] = match (self.zero, self.sense) {
            (Zero::Top, Sense::Clockwise) => [sin, cos],
            (Zero::Top, Sense::CounterClockwise) => [-sin, cos],
            (Zero::Right, Sense::Clockwise) => [cos, -sin],
            (Zero::Right, Sense::CounterClockwise) => [cos, sin],
        };
        let tip = [across, up].map(|part| {
            Amount::of(match length {
                Some(length) => length.with_number(length.number() * part),
                None => Quantity::of(part, Dimension::NONE),
            })
        });
        self.hands.push(Hand {
            name,
            angle: Amount::of(angle),
            length: length.map(Amount::of),
            tip,
            kind,
        });
        Ok(())
    }

    /// Marks a part of the rim.
    ///
    /// # Errors
    /// What is no angle; too many numbers in all.
    pub fn arc(&mut self, name: Phrase, from: Quantity, to: Quantity) -> Result<(), Refusal> {
        fits(self.count() + 2)?;
        for end in [from, to] {
            end.here()?.expect(Dimension::ANGLE, "the end of an arc")?;
        }
        self.arcs.push(Arc {
            name,
            from: Amount::of(from),
            to: Amount::of(to),
        });
        Ok(())
    }

    /// How many numbers it holds.
    #[must_use]
    pub fn count(&self) -> usize {
        4 * self.hands.len() + 2 * self.arcs.len()
    }
}
