//! Derivatives of an eigenvalue and its shape with respect to the entries of K and M.
//!
//! Differentiating `K φ = λ M φ` and `φᵀ M φ = 1` gives one symmetric system for the change of both,
//!
//! ```text
//! ⎡ K − λM   −Mφ ⎤ ⎡ φ̇ ⎤   ⎡ −(K̇ − λṀ) φ ⎤
//! ⎣ −(Mφ)ᵀ     0 ⎦ ⎣ λ̇ ⎦ = ⎣ ½ φᵀ Ṁ φ    ⎦
//! ```
//!
//! which is regular where λ is a simple eigenvalue. Reverse derivatives solve the same system with (φ̄, λ̄) on the
//! right. Where λ is repeated the shape has no derivative (it is one of many, and jumps): its part is then zero, never
//! NaN. The eigenvalue's part is then that of the shape at hand.

use super::dense::{Dense, eliminate};
use super::plan::{EigenPlan, Eigenpair, full};

/// The system counts as singular, and the eigenvalue as repeated, where a pivot of it is below this share of the
/// largest one after scaling.
const REPEATED_BELOW: f64 = 1e-12;

/// Reverse derivatives: one number for each place of the two patterns.
#[derive(Debug, Clone, PartialEq)]
pub struct Adjoints {
    /// For K's values.
    pub stiffness: Vec<f64>,
    /// For M's values.
    pub mass: Vec<f64>,
}

/// The rate of change of an eigenpair.
#[derive(Debug, Clone, PartialEq)]
pub struct Tangent {
    /// λ̇
    pub value: f64,
    /// φ̇
    pub shape: Vec<f64>,
}

impl EigenPlan {
    /// Reverse derivatives of `value_adjoint · λ + shape_adjoint · φ` with respect to K's and M's values.
    ///
    /// `pair` is what [`EigenPlan::smallest`] gave for these values. An empty `shape_adjoint`, or one of zeros, asks
    /// for the eigenvalue alone, which takes no system: `∂λ/∂K_ij = 2 φ_i φ_j` (φ_i² on the diagonal), for M times −λ.
    pub fn adjoint(
        &self,
        stiffness: &[f64],
        mass: &[f64],
        pair: &Eigenpair,
        value_adjoint: f64,
        shape_adjoint: &[f64],
    ) -> Adjoints {
        let (value, shape) = (pair.value, pair.shape.as_slice());
        let mut adjoints = Adjoints {
            stiffness: vec![0.0; stiffness.len()],
            mass: vec![0.0; mass.len()],
        };
        self.stiffness()
            .add_form_partials(value_adjoint, shape, shape, &mut adjoints.stiffness);
        self.mass()
            .add_form_partials(-value_adjoint * value, shape, shape, &mut adjoints.mass);
        if shape_adjoint.iter().all(|&value| value == 0.0) {
            return adjoints;
        }
        let mut solution = shape_adjoint.to_vec();
        solution.resize(self.size(), 0.0);
        solution.push(0.0);
        if let Some(solution) = self.solve_bordered(stiffness, mass, pair, solution) {
            let (change, multiplier) = (&solution[..self.size()], solution[self.size()]);
            self.stiffness()
                .add_form_partials(-1.0, change, shape, &mut adjoints.stiffness);
            self.mass().add_form_partials(value, change, shape, &mut adjoints.mass);
            self.mass()
                .add_form_partials(0.5 * multiplier, shape, shape, &mut adjoints.mass);
        }
        adjoints
    }

    /// The rate of change of the pair where K's and M's values change at the given rates.
    ///
    /// The change of the eigenvalue is `φᵀ(K̇ − λṀ)φ`. Where the eigenvalue is repeated the shape's is zero.
    pub fn tangent(
        &self,
        (stiffness, mass): (&[f64], &[f64]),
        pair: &Eigenpair,
        (stiffness_rate, mass_rate): (&[f64], &[f64]),
    ) -> Tangent {
        let (value, shape) = (pair.value, pair.shape.as_slice());
        let mut load = vec![0.0; self.size()];
        let mut mass_load = vec![0.0; self.size()];
        self.stiffness().add_product(stiffness_rate, shape, &mut load);
        self.mass().add_product(mass_rate, shape, &mut mass_load);
        let mut value_rate = 0.0;
        let mut length_rate = 0.0;
        for ((load, mass_load), part) in load.iter_mut().zip(&mass_load).zip(shape) {
            *load -= value * mass_load;
            value_rate += part * *load;
            length_rate += 0.5 * part * mass_load;
        }
        let mut right: Vec<f64> = load.iter().map(|load| -load).collect();
        right.push(length_rate);
        let shape_rate = match self.solve_bordered(stiffness, mass, pair, right) {
            Some(mut solution) => {
                solution.truncate(self.size());
                solution
            }
            None => vec![0.0; self.size()],
        };
        Tangent {
            value: value_rate,
            shape: shape_rate,
        }
    }

    /// Solves the bordered system after scaling every unknown by its own size; nothing where λ is repeated.
    fn solve_bordered(&self, k: &[f64], m: &[f64], pair: &Eigenpair, mut right: Vec<f64>) -> Option<Vec<f64>> {
        let size = self.size();
        let (k, m) = (full(self.stiffness(), k), full(self.mass(), m));
        // An unknown without stiffness, at an eigenvalue of nothing, takes its size from its mass.
        let mut highest = pair.value.abs();
        for i in 0..size {
            let ratio = (k.at(i, i) / m.at(i, i)).abs();
            highest = if ratio > highest { ratio } else { highest };
        }
        let least = pair.value.abs() + 1e-6 * highest;
        let mut mass_shape = vec![0.0; size];
        let mut scale = vec![0.0; size + 1];
        for i in 0..size {
            for j in 0..size {
                mass_shape[i] += m.at(i, j) * pair.shape[j];
            }
            let own = k.at(i, i).abs() + least * m.at(i, i).abs();
            scale[i] = if own > 0.0 { 1.0 / own.sqrt() } else { 1.0 };
        }
        let mut longest = 0.0;
        for (value, scale) in mass_shape.iter().zip(&scale) {
            let length = (value * scale).abs();
            longest = if length > longest { length } else { longest };
        }
        scale[size] = if longest > 0.0 { 1.0 / longest } else { 1.0 };

        let mut system = Dense::zero(size + 1);
        for i in 0..size {
            for j in 0..size {
                *system.at_mut(i, j) = scale[i] * scale[j] * (k.at(i, j) - pair.value * m.at(i, j));
            }
            let border = -mass_shape[i] * scale[i] * scale[size];
            *system.at_mut(i, size) = border;
            *system.at_mut(size, i) = border;
        }
        right.iter_mut().zip(&scale).for_each(|(value, scale)| *value *= scale);
        let regular = eliminate(system, &mut right, REPEATED_BELOW);
        right.iter_mut().zip(&scale).for_each(|(value, scale)| *value *= scale);
        (regular && right.iter().all(|value| value.is_finite())).then_some(right)
    }
}
