//! The problem, and which method solves it.

use super::dense::Dense;
use super::{lowest, spectrum, subspace};
use crate::kernel::lanes::LANES;
use crate::kernel::ldlt::{Pattern, Plan, SINGULAR_BELOW};

/// Up to this many unknowns the problem is solved with full matrices.
pub const DENSE_UP_TO: usize = 16;

/// What the places of K and M alone decide, for any number of values.
#[derive(Debug, Clone)]
pub struct EigenPlan {
    stiffness: Pattern,
    mass: Pattern,
    /// Storage for K + σ M: K's places, then M's.
    together: Plan,
}

/// One solution of `K φ = λ M φ`.
#[derive(Debug, Clone, PartialEq)]
pub struct Eigenpair {
    /// λ, in the unit of K over that of M.
    pub value: f64,
    /// φ with `φᵀ M φ = 1`, its component of largest size positive (of equally large ones the first).
    pub shape: Vec<f64>,
}

/// Why there is no eigenpair.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EigenError {
    /// K and M have different numbers of unknowns.
    SizesDiffer {
        /// Rows of K.
        stiffness: usize,
        /// Rows of M.
        mass: usize,
    },
    /// Fewer unknowns than the eigenvalue asked for.
    NoSuchValue {
        /// The one asked for, counted from 0.
        which: usize,
        /// How many there are.
        size: usize,
    },
    /// M is not positive definite: this unknown has no mass, or less than none.
    NoMass {
        /// The unknown.
        unknown: usize,
    },
    /// K or M has an entry that is not finite.
    NotFinite,
    /// The iteration did not settle.
    NotConverged,
}

impl std::fmt::Display for EigenError {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            EigenError::SizesDiffer { stiffness, mass } => {
                write!(
                    out,
                    "the stiffness matrix has {stiffness} rows, the mass matrix {mass}: they must be the same"
                )
            }
            EigenError::NoSuchValue { which, size } => {
                write!(
                    out,
                    "there are {size} eigenvalues; number {which}, counted from 0, does not exist"
                )
            }
            EigenError::NoMass { unknown } => write!(out, "unknown {unknown} has no mass: every one needs some"),
            EigenError::NotFinite => write!(out, "the matrices hold a number that is not finite"),
            EigenError::NotConverged => write!(out, "the eigenvalue iteration did not settle"),
        }
    }
}

impl std::error::Error for EigenError {}

impl EigenPlan {
    /// Works out storage for stiffness and mass with entries at these places.
    ///
    /// # Errors
    /// [`EigenError::SizesDiffer`].
    pub fn new(stiffness: Pattern, mass: Pattern) -> Result<EigenPlan, EigenError> {
        let sizes = (stiffness.size(), mass.size());
        let entries = [stiffness.entries(), mass.entries()].concat();
        match Pattern::new(sizes.0, entries) {
            Ok(together) if sizes.0 == sizes.1 => Ok(EigenPlan {
                stiffness,
                mass,
                together: Plan::new(together),
            }),
            _ => Err(EigenError::SizesDiffer {
                stiffness: sizes.0,
                mass: sizes.1,
            }),
        }
    }

    /// The number of unknowns.
    pub fn size(&self) -> usize {
        self.stiffness.size()
    }

    /// The places of K.
    pub fn stiffness(&self) -> &Pattern {
        &self.stiffness
    }

    /// The places of M.
    pub fn mass(&self) -> &Pattern {
        &self.mass
    }

    /// The storage for both: K's places, then M's.
    pub fn together(&self) -> &Plan {
        &self.together
    }

    /// The `which`-th smallest eigenvalue, counted from 0, and its shape.
    ///
    /// Accuracy: that of the data. Rounding K's and M's entries once changes the result as much as this method does.
    /// Of a repeated eigenvalue the shape is one of many; the same matrices give the same one.
    ///
    /// # Errors
    /// As [`EigenError`] says.
    ///
    /// # Panics
    /// If there are not as many values as places: the caller mixed up two matrices.
    pub fn smallest(&self, stiffness: &[f64], mass: &[f64], which: usize) -> Result<Eigenpair, EigenError> {
        assert_eq!(
            stiffness.len(),
            self.stiffness.entries().len(),
            "one value for each place of K"
        );
        assert_eq!(mass.len(), self.mass.entries().len(), "one value for each place of M");
        if which >= self.size() {
            return Err(EigenError::NoSuchValue {
                which,
                size: self.size(),
            });
        }
        if !stiffness.iter().chain(mass).all(|value| value.is_finite()) {
            return Err(EigenError::NotFinite);
        }
        let pair = if self.size() <= DENSE_UP_TO {
            self.smallest_of_few(stiffness, mass, which)?
        } else {
            subspace::smallest(self, stiffness, mass, which)?
        };
        if !pair.value.is_finite() || !pair.shape.iter().all(|value| value.is_finite()) {
            return Err(EigenError::NotFinite);
        }
        Ok(self.in_standard_form(pair, mass))
    }

    /// The `which`-th smallest eigenvalue, counted from 0, without its shape: for larger problems several times as fast.
    ///
    /// Accuracy: that of the data or 1e-8 of itself, whichever is worse; less where many values lie within a few thousandths.
    ///
    /// # Errors
    /// As [`EigenPlan::smallest`].
    ///
    /// # Panics
    /// As [`EigenPlan::smallest`].
    pub fn smallest_value(&self, stiffness: &[f64], mass: &[f64], which: usize) -> Result<f64, EigenError> {
        let places = (self.stiffness.entries().len(), self.mass.entries().len());
        assert_eq!(
            (stiffness.len(), mass.len()),
            places,
            "one value for each place of K and of M"
        );
        if self.size() > DENSE_UP_TO
            && let Some(value) = lowest::lowest(self, stiffness, mass, which)
        {
            return Ok(value);
        }
        self.smallest(stiffness, mass, which).map(|pair| pair.value)
    }

    /// The same for a problem in each of several lanes: K's values, then M's, a group of lanes for each place. In each lane
    /// the bits that [`EigenPlan::smallest_value`] gives; bit i of the second says whether lane i has a value.
    ///
    /// # Panics
    /// If there are not as many groups as places of K and of M.
    pub fn smallest_value_lanes(&self, values: &[[f64; LANES]], which: usize) -> ([f64; LANES], u8) {
        let places = self.stiffness.entries().len();
        assert_eq!(
            values.len(),
            places + self.mass.entries().len(),
            "one group for each place of K and of M"
        );
        let (mut found, mut settled) = if self.size() > DENSE_UP_TO {
            lowest::lowest_lanes(self, values, which)
        } else {
            ([f64::NAN; LANES], 0)
        };
        for (lane, found) in found.iter_mut().enumerate() {
            if settled >> lane & 1 == 1 {
                continue;
            }
            let alone: Vec<f64> = values.iter().map(|group| group[lane]).collect();
            let (stiffness, mass) = alone.split_at(places);
            if let Ok(value) = self.smallest_value(stiffness, mass, which) {
                *found = value;
                settled |= 1 << lane;
            }
        }
        (found, settled)
    }

    /// With full matrices. In the lower half of the values the inverse problem M φ = (1/λ) K φ is taken where K allows
    /// it: it keeps small eigenvalues beside much larger ones to their last digits.
    fn smallest_of_few(&self, stiffness: &[f64], mass: &[f64], which: usize) -> Result<Eigenpair, EigenError> {
        let k = full(&self.stiffness, stiffness);
        let m = full(&self.mass, mass);
        let direct = spectrum::generalised(&k, &m, SINGULAR_BELOW).map_err(|unknown| EigenError::NoMass { unknown })?;
        let inverse = if 2 * which < self.size() {
            spectrum::generalised(&m, &k, SINGULAR_BELOW).ok()
        } else {
            None
        };
        let (shape, list_at) = match inverse {
            Some(pairs) => (pairs, which),
            None => (direct, self.size() - 1 - which),
        };
        let shape = shape
            .into_iter()
            .nth(list_at)
            .map(|(_, shape)| shape)
            .ok_or(EigenError::NotConverged)?;
        let value = self.stiffness.form(stiffness, &shape, &shape) / self.mass.form(mass, &shape, &shape);
        Ok(Eigenpair { value, shape })
    }

    /// With `φᵀ M φ = 1` and the sign that [`Eigenpair::shape`] states.
    fn in_standard_form(&self, mut pair: Eigenpair, mass: &[f64]) -> Eigenpair {
        let mut largest = 0.0;
        for &value in &pair.shape {
            largest = if value.abs() > f64::abs(largest) {
                value
            } else {
                largest
            };
        }
        let length = self.mass.form(mass, &pair.shape, &pair.shape).sqrt().copysign(largest);
        pair.shape.iter_mut().for_each(|value| *value /= length);
        pair
    }
}

/// A pattern's values as a full matrix.
pub(super) fn full(pattern: &Pattern, values: &[f64]) -> Dense<f64> {
    let mut matrix = Dense::zero(pattern.size());
    for (&(i, j), value) in pattern.entries().iter().zip(values) {
        *matrix.at_mut(i, j) += value;
        if i != j {
            *matrix.at_mut(j, i) += value;
        }
    }
    matrix
}
