//! Distribution functions and quantiles.
//!
//! | file | what |
//! |---|---|
//! | `normal` | the standard normal distribution |
//! | `student` | Student's t with a whole number of degrees of freedom |

mod normal;
mod student;

pub use normal::{normal_cdf, normal_quantile};
pub use student::student_quantile;
