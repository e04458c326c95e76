//! Points and vectors as three quantities, for what treats them number by number: inputs, outcomes, text.

use super::value;
use crate::diagnostic::Refusal;
use crate::geometry::{Point, Vector};
use crate::quantity::Quantity;
use rhai::Dynamic;

/// The names of the three.
pub(crate) const NAMES: [&str; 3] = ["x", "y", "z"];

/// What three coordinates make.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Point,
    Vector,
}

/// A point or a vector in its three parts.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Coordinates {
    pub(crate) kind: Kind,
    /// x, y, z; of one dimension.
    pub(crate) each: [Quantity; 3],
}

/// The parts of a point or a vector.
pub(crate) fn of(value: &Dynamic) -> Option<Coordinates> {
    if let Some(point) = value.read_lock::<Point>() {
        return Some(Coordinates {
            kind: Kind::Point,
            each: [point.x(), point.y(), point.z()],
        });
    }
    value.read_lock::<Vector>().map(|vector| Coordinates {
        kind: Kind::Vector,
        each: [vector.x(), vector.y(), vector.z()],
    })
}

impl Coordinates {
    /// The same kind of value from other parts.
    pub(crate) fn with(self, each: [Quantity; 3]) -> Result<Dynamic, Refusal> {
        let [x, y, z] = each;
        match self.kind {
            Kind::Point => Point::new(x, y, z).map(Dynamic::from),
            Kind::Vector => Vector::new(x, y, z).map(Dynamic::from),
        }
    }

    /// "a point", "a vector (force)"
    pub(crate) fn described(self) -> String {
        match self.with(self.each) {
            Ok(value) => value::described(&value),
            Err(_) => "a vector".to_owned(),
        }
    }
}
