//! The inner problem of a search: one linear step.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettings, DefaultSolver, IPSolver, SolverStatus, SupportedConeT};

/// A value and its slopes by the scaled adjustments.
#[derive(Clone, Debug)]
pub(super) struct Linear {
    pub(super) value: f64,
    pub(super) slopes: Vec<f64>,
}

impl Linear {
    /// What it is after a step, as far as it is linear.
    pub(super) fn after(&self, step: &[f64]) -> f64 {
        let slopes = self.slopes.iter().zip(step);
        slopes.fold(self.value, |sum, (slope, step)| sum + slope * step)
    }
}

/// All that a step is chosen by, at one place.
#[derive(Clone, Debug, Default)]
pub(super) struct Linearised {
    /// Scaled margins: the smallest is to be as large as it can be.
    pub(super) margins: Vec<Linear>,
    /// Scaled distances from the targets: to be nothing.
    pub(super) misses: Vec<Linear>,
    /// Scaled cost.
    pub(super) cost: Option<Linear>,
}

/// How the parts weigh against one another.
#[derive(Clone, Copy, Debug)]
pub(super) struct Weights {
    /// Of the smallest margin.
    pub(super) margin: f64,
    /// Beyond it a larger margin is worth nothing.
    pub(super) enough: f64,
    /// Of the largest miss.
    pub(super) miss: f64,
}

/// What breaks a tie between steps that are equally good: the shorter.
const SHORTER: f64 = 1e-9;

/// The step within `low` and `high` (each adjustment's own) that makes the linearised merit largest; `None` where the
/// solver gives none.
///
/// A linear programme, solved by an interior-point method: max wt - Wm over d, t, m with every margin + slope·d ≥ t,
/// t ≤ enough, every |miss + slope·d| ≤ m.
pub(super) fn step(at: &Linearised, weights: Weights, low: &[f64], high: &[f64]) -> Option<Vec<f64>> {
    let count = low.len();
    let (level, miss) = (count, count + 1);
    let mut rows = Rows::new(count + 2);
    for margin in &at.margins {
        // t - slope·d ≤ value
        let mut row: Vec<(usize, f64)> = negated(&margin.slopes);
        row.push((level, 1.0));
        rows.at_most(row, margin.value);
    }
    for target in &at.misses {
        for sign in [1.0, -1.0] {
            let slopes = target.slopes.iter().enumerate();
            let mut row: Vec<(usize, f64)> = slopes.map(|(column, slope)| (column, sign * slope)).collect();
            row.push((miss, -1.0));
            rows.at_most(row, -sign * target.value);
        }
    }
    for column in 0..count {
        rows.at_most(vec![(column, 1.0)], high[column]);
        rows.at_most(vec![(column, -1.0)], -low[column]);
    }
    rows.at_most(vec![(level, 1.0)], weights.enough);
    rows.at_most(vec![(miss, -1.0)], 0.0);
    let mut price = vec![0.0; count + 2];
    if let Some(cost) = &at.cost {
        price[..count].copy_from_slice(&cost.slopes);
    }
    price[level] = if at.margins.is_empty() { -1.0 } else { -weights.margin };
    price[miss] = weights.miss;
    let found = rows.solve(&price)?;
    let inside = |column: usize| found[column].clamp(low[column], high[column]);
    Some((0..count).map(inside).collect())
}

fn negated(slopes: &[f64]) -> Vec<(usize, f64)> {
    slopes
        .iter()
        .enumerate()
        .map(|(column, slope)| (column, -slope))
        .collect()
}

/// Rows of `A z ≤ b`.
struct Rows {
    columns: usize,
    entries: Vec<(usize, usize, f64)>,
    limits: Vec<f64>,
}

impl Rows {
    fn new(columns: usize) -> Self {
        Self {
            columns,
            entries: Vec::new(),
            limits: Vec::new(),
        }
    }

    fn at_most(&mut self, row: Vec<(usize, f64)>, limit: f64) {
        let number = self.limits.len();
        let entries = row.into_iter().filter(|(_, factor)| *factor != 0.0);
        self.entries
            .extend(entries.map(|(column, factor)| (number, column, factor)));
        self.limits.push(limit);
    }

    fn solve(&self, price: &[f64]) -> Option<Vec<f64>> {
        let triplets = |pick: fn(&(usize, usize, f64)) -> usize| self.entries.iter().map(pick).collect();
        let (rows, columns) = (triplets(|entry| entry.0), triplets(|entry| entry.1));
        let factors = self.entries.iter().map(|entry| entry.2).collect();
        let matrix = CscMatrix::new_from_triplets(self.limits.len(), self.columns, rows, columns, factors);
        let diagonal: Vec<usize> = (0..self.columns).collect();
        let ties = vec![SHORTER; self.columns];
        let squares = CscMatrix::new_from_triplets(self.columns, self.columns, diagonal.clone(), diagonal, ties);
        let settings = DefaultSettings {
            verbose: false,
            max_threads: 1,
            tol_gap_abs: 1e-12,
            tol_gap_rel: 1e-12,
            tol_feas: 1e-12,
            ..DefaultSettings::default()
        };
        let cones = [SupportedConeT::NonnegativeConeT(self.limits.len())];
        let mut solver = DefaultSolver::new(&squares, price, &matrix, &self.limits, &cones, settings).ok()?;
        solver.solve();
        let settled = matches!(
            solver.solution.status,
            SolverStatus::Solved | SolverStatus::AlmostSolved | SolverStatus::InsufficientProgress
        );
        let found = &solver.solution.x;
        (settled && found.iter().all(|value| value.is_finite())).then(|| found.clone())
    }
}
