//! Several numbers that go through the same arithmetic at once, at the width of the processor's vectors.
//!
//! [`Lanes`] is a number for algorithms that are written once and run for one sample or for several: with
//! [`pulp::Scalar`] it is one `f64`, with another set of instructions two, four or eight. Every lane has the bits that it
//! would have alone: nothing here adds lanes up, fuses operations or reorders them. Where lanes part ways there is no
//! branch but a [`Mask`] and [`Mask::select`].
//!
//! What uses it must be `#[inline(always)]` up to the call that dispatches by processor ([`pulp::Arch::dispatch`]): an
//! instruction set is in force only inside that.

use pulp::{Scalar, Simd};
use std::ops::{Add, Div, Mul, Sub};

/// As many samples as are worked on at once by those who ask for several.
pub const LANES: usize = 8;

/// One number for each lane.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lanes<S: Simd> {
    simd: S,
    numbers: S::f64s,
}

/// A yes or no for each lane.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Mask<S: Simd> {
    simd: S,
    lanes: S::m64s,
}

impl<S: Simd> Lanes<S> {
    /// The same number in every lane.
    #[inline(always)]
    pub(crate) fn splat(simd: S, number: f64) -> Self {
        let numbers = simd.splat_f64s(number);
        Self { simd, numbers }
    }

    /// The lanes of a group of [`LANES`], counted in groups of this width.
    #[inline(always)]
    pub(crate) fn load(simd: S, group: &[f64; LANES], part: usize) -> Self {
        let (parts, _) = S::as_simd_f64s(group);
        let numbers = parts[part];
        Self { simd, numbers }
    }

    /// Writes to the lanes that [`Lanes::load`] reads.
    #[inline(always)]
    pub(crate) fn store(self, group: &mut [f64; LANES], part: usize) {
        let (parts, _) = S::as_mut_simd_f64s(group);
        parts[part] = self.numbers;
    }

    #[inline(always)]
    pub(crate) fn sqrt(self) -> Self {
        self.with(self.simd.sqrt_f64s(self.numbers))
    }

    #[inline(always)]
    pub(crate) fn abs(self) -> Self {
        self.with(self.simd.abs_f64s(self.numbers))
    }

    /// 1 with the sign of each lane, that of a zero too.
    #[inline(always)]
    pub(crate) fn sign(self) -> Self {
        let sign = self.simd.and_f64s(self.numbers, self.simd.splat_f64s(-0.0));
        self.with(self.simd.or_f64s(sign, self.simd.splat_f64s(1.0)))
    }

    /// Where this is less than the other; nowhere where either is NaN.
    #[inline(always)]
    pub(crate) fn less(self, other: Self) -> Mask<S> {
        self.mask(self.simd.less_than_f64s(self.numbers, other.numbers))
    }

    #[inline(always)]
    pub(crate) fn less_or_equal(self, other: Self) -> Mask<S> {
        self.mask(self.simd.less_than_or_equal_f64s(self.numbers, other.numbers))
    }

    #[inline(always)]
    pub(crate) fn is_finite(self) -> Mask<S> {
        self.abs().less_or_equal(Self::splat(self.simd, f64::MAX))
    }

    #[inline(always)]
    const fn with(self, numbers: S::f64s) -> Self {
        Self {
            simd: self.simd,
            numbers,
        }
    }

    #[inline(always)]
    const fn mask(self, lanes: S::m64s) -> Mask<S> {
        Mask { simd: self.simd, lanes }
    }
}

impl<S: Simd> Mask<S> {
    #[inline(always)]
    pub(crate) fn splat(simd: S, all: bool) -> Self {
        let one = Lanes::splat(simd, 1.0);
        one.less(Lanes::splat(simd, if all { 2.0 } else { 0.0 }))
    }

    /// The first where the mask says yes, the second elsewhere.
    #[inline(always)]
    pub(crate) fn select(self, yes: Lanes<S>, no: Lanes<S>) -> Lanes<S> {
        yes.with(self.simd.select_f64s(self.lanes, yes.numbers, no.numbers))
    }

    #[inline(always)]
    pub(crate) fn and(self, other: Self) -> Self {
        self.with(self.simd.and_m64s(self.lanes, other.lanes))
    }

    #[inline(always)]
    pub(crate) fn or(self, other: Self) -> Self {
        self.with(self.simd.or_m64s(self.lanes, other.lanes))
    }

    #[inline(always)]
    pub(crate) fn not(self) -> Self {
        self.with(self.simd.not_m64s(self.lanes))
    }

    #[inline(always)]
    pub(crate) fn any(self) -> bool {
        self.simd.first_true_m64s(self.lanes) < S::F64_LANES
    }

    #[inline(always)]
    pub(crate) fn all(self) -> bool {
        !self.not().any()
    }

    /// One bit for each lane, where the lanes of a group of [`LANES`] have theirs.
    #[inline(always)]
    pub(crate) fn bits(self, part: usize) -> u8 {
        let ones = self.select(Lanes::splat(self.simd, 1.0), Lanes::splat(self.simd, 0.0));
        let mut group = [0.0; LANES];
        ones.store(&mut group, part);
        let mut bits = 0;
        for (lane, one) in group.iter().enumerate() {
            bits |= u8::from(*one == 1.0) << lane;
        }
        bits
    }

    #[inline(always)]
    const fn with(self, lanes: S::m64s) -> Self {
        Self { simd: self.simd, lanes }
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $instruction:ident) => {
        impl<S: Simd> $trait for Lanes<S> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                self.with(self.simd.$instruction(self.numbers, other.numbers))
            }
        }
    };
}

operator!(Add, add, add_f64s);
operator!(Sub, sub, sub_f64s);
operator!(Mul, mul, mul_f64s);
operator!(Div, div, div_f64s);

/// One number, for the algorithms that take lanes.
pub(crate) type One = Lanes<Scalar>;

impl One {
    #[inline(always)]
    pub(crate) const fn of(number: f64) -> Self {
        Self {
            simd: Scalar,
            numbers: number,
        }
    }

    #[inline(always)]
    pub(crate) const fn number(self) -> f64 {
        self.numbers
    }
}

impl Mask<Scalar> {
    /// The yes or no of the only lane.
    #[inline(always)]
    pub(crate) const fn is_set(self) -> bool {
        self.lanes
    }
}
