//! Symmetric systems and eigenvalues as operations: the kernels' values and derivatives, in the table's terms.

use super::number::Number;
use super::op::{Op, Stop};
use super::recorder::record;
use crate::kernel::LANES;
use crate::kernel::eigen::{self, Eigenpair};
use crate::kernel::ldlt::{Factor, Pattern, Plan, solve_adjoint, solve_lanes};
use std::sync::{Arc, Mutex, PoisonError};

/// A symmetric system K x = b with several right sides. Its arguments are the values of K's places, then the right sides.
#[derive(Debug)]
pub struct SolvePlan {
    plan: Plan,
}

impl SolvePlan {
    /// For a matrix with entries at these places.
    #[must_use]
    pub fn new(pattern: Pattern) -> Self {
        Self {
            plan: Plan::new(pattern),
        }
    }

    /// The plan of the factorisation.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    fn split<'a>(&self, arguments: &'a [f64]) -> (&'a [f64], &'a [f64]) {
        arguments.split_at(self.plan.pattern().entries().len())
    }

    fn factor(&self, values: &[f64]) -> Result<Factor<'_>, Stop> {
        Factor::new(&self.plan, values).map_err(|singular| Stop::Singular {
            unknown: singular.unknown,
        })
    }

    pub(super) fn value(&self, arguments: &[f64], out: &mut [f64]) -> Result<(), Stop> {
        let (values, right_sides) = self.split(arguments);
        out.copy_from_slice(right_sides);
        self.factor(values)?.solve(out);
        Ok(())
    }

    /// The value for several samples at once, the bits of each as for one alone. Bit i of the result says
    /// whether lane i has a value. Chooses the processor's widest vectors itself.
    pub fn value_lanes(&self, arguments: &[[f64; LANES]], out: &mut [[f64; LANES]]) -> u8 {
        let (values, right_sides) = arguments.split_at(self.plan.pattern().entries().len());
        out.copy_from_slice(right_sides);
        solve_lanes(&self.plan, values, out)
    }

    /// ẋ = K⁻¹ (ḃ − K̇ x)
    pub(super) fn push_forward(&self, arguments: &[f64], out: &[f64], dots: &[f64], out_dot: &mut [f64]) {
        let (values, _) = self.split(arguments);
        let (value_dots, right_dots) = self.split(dots);
        let Ok(factor) = self.factor(values) else { return };
        let size = self.plan.size().max(1);
        let mut change = vec![0.0; out.len()];
        for (x, load) in out.chunks_exact(size).zip(change.chunks_exact_mut(size)) {
            self.plan.pattern().add_product(value_dots, x, load);
        }
        for (load, dot) in change.iter_mut().zip(right_dots) {
            *load = dot - *load;
        }
        factor.solve(&mut change);
        add(&change, out_dot);
    }

    /// λ = K⁻¹ x̄; b̄ = λ, K̄ = −λ xᵀ
    pub(super) fn pull_back(&self, arguments: &[f64], out: &[f64], out_bar: &[f64], bars: &mut [f64]) {
        let (values, _) = self.split(arguments);
        let Ok(factor) = self.factor(values) else { return };
        let mut lambda = out_bar.to_vec();
        factor.solve(&mut lambda);
        let size = self.plan.size().max(1);
        let (value_bars, right_bars) = bars.split_at_mut(values.len());
        for (x, lambda) in out.chunks_exact(size).zip(lambda.chunks_exact(size)) {
            solve_adjoint(self.plan.pattern(), x, lambda, value_bars);
        }
        add(&lambda, right_bars);
    }
}

/// One eigenvalue of K φ = λ M φ and its shape. Its arguments are the values of K's places, then of M's; its results λ,
/// then φ, or λ alone.
#[derive(Debug)]
pub struct EigenPlan {
    plan: eigen::EigenPlan,
    which: usize,
    /// The pair that was worked out last: the derivatives by all inputs at one point ask for the same one.
    last: Mutex<Option<Found>>,
}

/// A pair, and for which arguments.
#[derive(Debug)]
struct Found {
    arguments: Vec<f64>,
    pair: Eigenpair,
}

impl EigenPlan {
    /// For the `which`-th smallest eigenvalue, counted from 0.
    #[must_use]
    pub const fn new(plan: eigen::EigenPlan, which: usize) -> Self {
        Self {
            plan,
            which,
            last: Mutex::new(None),
        }
    }

    /// The plan of the problem.
    pub(super) const fn plan(&self) -> &eigen::EigenPlan {
        &self.plan
    }

    /// Which eigenvalue it is, from the smallest, counted from 0.
    pub(super) const fn which(&self) -> usize {
        self.which
    }

    fn split<'a>(&self, arguments: &'a [f64]) -> (&'a [f64], &'a [f64]) {
        arguments.split_at(self.plan.stiffness().entries().len())
    }

    pub(super) fn value(&self, arguments: &[f64], out: &mut [f64]) -> Result<(), Stop> {
        if out.len() == 1 {
            let (stiffness, mass) = self.split(arguments);
            let value = self.plan.smallest_value(stiffness, mass, self.which);
            out[0] = value.map_err(|_| Stop::Unsettled)?;
            return Ok(());
        }
        let pair = self.pair(arguments).ok_or(Stop::Unsettled)?;
        out[0] = pair.value;
        out[1..].copy_from_slice(&pair.shape);
        Ok(())
    }

    /// The value for several samples at once, the bits of each as for one alone. Bit i of the result says
    /// whether lane i has a value. Chooses the processor's widest vectors itself. With the shape, which small problems
    /// alone ask for, one sample goes after the other.
    pub fn value_lanes(&self, arguments: &[[f64; LANES]], out: &mut [[f64; LANES]]) -> u8 {
        if out.len() == 1 {
            let (value, settled) = self.plan.smallest_value_lanes(arguments, self.which);
            out[0] = value;
            return settled;
        }
        let mut settled = 0;
        let mut alone = vec![0.0; out.len()];
        for lane in 0..LANES {
            let given: Vec<f64> = arguments.iter().map(|group| group[lane]).collect();
            if self.value(&given, &mut alone).is_ok() {
                settled |= 1 << lane;
                out.iter_mut()
                    .zip(&alone)
                    .for_each(|(group, value)| group[lane] = *value);
            }
        }
        settled
    }

    fn pair(&self, arguments: &[f64]) -> Option<Eigenpair> {
        let (stiffness, mass) = self.split(arguments);
        self.plan.smallest(stiffness, mass, self.which).ok()
    }

    /// The pair of a node: with the shape that it keeps, or worked out again where it keeps the eigenvalue alone.
    fn pair_of(&self, arguments: &[f64], out: &[f64]) -> Option<Eigenpair> {
        if out.len() > 1 {
            return Some(pair(out));
        }
        let mut last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(found) = last.as_ref().filter(|found| same_bits(&found.arguments, arguments)) {
            return Some(found.pair.clone());
        }
        let pair = self.pair(arguments)?;
        *last = Some(Found {
            arguments: arguments.to_vec(),
            pair: pair.clone(),
        });
        Some(pair)
    }

    pub(super) fn push_forward(&self, arguments: &[f64], out: &[f64], dots: &[f64], out_dot: &mut [f64]) {
        let Some(pair) = self.pair_of(arguments, out) else {
            return;
        };
        if out.len() == 1 {
            // λ̇ = φᵀ (K̇ − λ Ṁ) φ
            let (stiffness, mass) = self.split(dots);
            let of_stiffness = self.plan.stiffness().form(stiffness, &pair.shape, &pair.shape);
            let of_mass = self.plan.mass().form(mass, &pair.shape, &pair.shape);
            out_dot[0] += of_stiffness - pair.value * of_mass;
            return;
        }
        let tangent = self.plan.tangent(self.split(arguments), &pair, self.split(dots));
        out_dot[0] += tangent.value;
        add(&tangent.shape, &mut out_dot[1..]);
    }

    pub(super) fn pull_back(&self, arguments: &[f64], out: &[f64], out_bar: &[f64], bars: &mut [f64]) {
        let Some(pair) = self.pair_of(arguments, out) else {
            return;
        };
        let (stiffness, mass) = self.split(arguments);
        let adjoints = self.plan.adjoint(stiffness, mass, &pair, out_bar[0], &out_bar[1..]);
        let (stiffness_bars, mass_bars) = bars.split_at_mut(stiffness.len());
        add(&adjoints.stiffness, stiffness_bars);
        add(&adjoints.mass, mass_bars);
    }
}

fn same_bits(a: &[f64], b: &[f64]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| a.to_bits() == b.to_bits())
}

fn pair(out: &[f64]) -> Eigenpair {
    Eigenpair {
        value: out[0],
        shape: out[1..].to_vec(),
    }
}

fn add(more: &[f64], to: &mut [f64]) {
    for (sum, term) in to.iter_mut().zip(more) {
        *sum += term;
    }
}

/// Solves K x = b for right sides one after the other: `matrix` holds the value of each place of the plan's pattern.
/// A singular matrix is a fault; who builds the matrix finds out first which motion is free.
#[must_use]
pub fn solve_symmetric(plan: &Arc<SolvePlan>, matrix: &[Number], right_sides: &[Number]) -> Vec<Number> {
    let arguments = [matrix, right_sides].concat();
    let mut results = vec![Number::ZERO; right_sides.len()];
    record(Op::SolveSymmetric(Arc::clone(plan)), &arguments, &mut results);
    results
}

/// The eigenvalue that the plan names, and its shape, M-normalised, its largest component positive.
#[must_use]
pub fn eigen_symmetric(plan: &Arc<EigenPlan>, stiffness: &[Number], mass: &[Number]) -> (Number, Vec<Number>) {
    let arguments = [stiffness, mass].concat();
    let mut results = vec![Number::ZERO; 1 + plan.plan.size()];
    record(Op::EigenSymmetric(Arc::clone(plan)), &arguments, &mut results);
    let shape = results.split_off(1);
    (results[0], shape)
}

/// The eigenvalue that the plan names, alone: its derivatives take no system to solve.
#[must_use]
pub fn eigenvalue(plan: &Arc<EigenPlan>, stiffness: &[Number], mass: &[Number]) -> Number {
    let arguments = [stiffness, mass].concat();
    let mut result = [Number::ZERO];
    record(Op::EigenSymmetric(Arc::clone(plan)), &arguments, &mut result);
    result[0]
}
