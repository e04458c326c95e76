//! A number and the slot that holds it.

use super::op::Op;
use super::recorder::record_one;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// A number: what it is now, and the slot on the tape that made it, if it depends on an input.
///
/// It has no comparison and no public value: a script's way may depend on it only through the two doors, so that a
/// replay is never on the wrong path.
#[derive(Clone, Copy, Debug)]
pub struct Number {
    pub(super) value: f64,
    pub(super) home: Home,
}

/// Where a number comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Home {
    /// It depends on no input.
    Constant,
    /// A slot of the recorder with this serial.
    Slot { recorder: u32, slot: u32 },
}

impl Number {
    /// Zero.
    pub const ZERO: Self = Self::constant(0.0);
    /// One.
    pub const ONE: Self = Self::constant(1.0);

    /// A number that depends on no input.
    #[must_use]
    pub const fn constant(value: f64) -> Self {
        Self {
            value,
            home: Home::Constant,
        }
    }

    /// Whether it depends on no input.
    #[must_use]
    pub fn is_constant(self) -> bool {
        self.home == Home::Constant
    }

    /// Whether it is zero, whatever the inputs are.
    pub(crate) fn is_nothing(self) -> bool {
        self.is_constant() && self.value == 0.0
    }

    /// What it is on the path now run, for showing. It must not decide anything: for that there are
    /// [`super::recorder::decide`] and [`super::recorder::decide_whole`].
    pub(crate) const fn shown(self) -> f64 {
        self.value
    }

    /// Its slot on the tape of the run now recorded; `None` for a constant or a number inside a closure.
    pub(crate) fn slot(self) -> Option<u32> {
        super::recorder::slot_on_tape(self)
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $op:expr) => {
        impl $trait for Number {
            type Output = Number;
            fn $method(self, other: Number) -> Number {
                record_one($op, &[self, other])
            }
        }
        impl $trait<f64> for Number {
            type Output = Number;
            fn $method(self, other: f64) -> Number {
                record_one($op, &[self, Number::constant(other)])
            }
        }
        impl $trait<Number> for f64 {
            type Output = Number;
            fn $method(self, other: Number) -> Number {
                record_one($op, &[Number::constant(self), other])
            }
        }
    };
}

operator!(Add, add, Op::Add);
operator!(Sub, sub, Op::Sub);
operator!(Mul, mul, Op::Mul);
operator!(Div, div, Op::Div);

impl Neg for Number {
    type Output = Self;
    fn neg(self) -> Self {
        record_one(Op::Neg, &[self])
    }
}
