//! The kernels against independent libraries, published values and closed forms.

mod elementary;
mod random;
