//! The kernels against independent libraries, published values and closed forms.

mod distribution;
mod eigen;
mod elementary;
mod gap;
mod lanes;
mod ldlt;
mod matrices;
pub(crate) mod random;
mod root;
mod sobol;
