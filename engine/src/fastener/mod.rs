//! Threads and bolt grades.
//!
//! | file | what it is |
//! |---|---|
//! | `thread.rs` | [`Thread`]: size, pitch, stress area |
//! | `thread_table.rs` | the standard threads, read from `threads.toml`, found by what people write |
//! | `grade.rs` | [`BoltGrade`]: proof, yield and tensile strength, by size where the standard says so |
//! | `grade_table.rs` | the grades, read from `bolt_grades.toml` |
//!
//! What is not here: preload, torque and slip, which are trade formulas and stand in scripts; nuts; fatigue.

mod grade;
mod grade_table;
mod thread;
mod thread_table;

pub use grade::BoltGrade;
pub use grade_table::{bolt_grade, bolt_grade_names};
pub use thread::{Form, Thread};
pub use thread_table::{thread_form, thread_names};
