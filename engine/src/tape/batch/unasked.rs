//! Which results have to be asked whether they are finite.
//!
//! The script refuses as soon as one number is not finite. Here it is enough to ask at the end of a chain: a sum, a
//! product, a sine of what is not finite is not finite either. Asked are numbers that nothing carries on: those that only
//! go into a divisor, a choice, a comparison, and those that are wanted or last.

use super::line::{Line, Work};
use crate::tape::op::Op;

/// For each name, whether it has to be asked.
pub(super) fn asked(lines: &[Line], names: usize) -> Vec<bool> {
    let mut asked = vec![true; names];
    for line in lines {
        for (position, name) in line.arguments.iter().enumerate() {
            if carries(&line.work, position) {
                asked[*name as usize] = false;
            }
        }
    }
    for line in lines.iter().filter(|line| needs_no_question(&line.work)) {
        for name in &line.results {
            asked[*name as usize] = false;
        }
    }
    asked
}

/// Whether the result is surely not finite where the argument at this position is not.
fn carries(work: &Work, position: usize) -> bool {
    if work.form().looks() {
        return true;
    }
    match work {
        Work::Guard { .. } => false,
        Work::SineCosine | Work::Fused(_) => true,
        Work::Op(op) => match op {
            Op::Div => position == 0,
            Op::Exp | Op::Atan2 | Op::Min | Op::Max | Op::IfLess => false,
            _ => true,
        },
    }
}

/// Whether the result is finite wherever the arguments are, and those are asked on their own; or the work itself looks.
fn needs_no_question(work: &Work) -> bool {
    work.form().looks() || matches!(work, Work::Op(Op::Atan2 | Op::Min | Op::Max | Op::IfLess))
}
