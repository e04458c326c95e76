//! The known name that somebody probably meant.

/// What one slip costs; a slip of case costs [`CASE`] only.
const SLIP: usize = 4;
const CASE: usize = 1;
/// Longer names are not compared: the work grows with the product of the lengths.
const LONGEST: usize = 64;

/// The candidate nearest to `wanted`, the earlier one where two are equally near; `None` where none is near: more than
/// one slip in three letters. A slip is a letter more, less, changed, or two neighbours swapped; a letter in the
/// wrong case counts a quarter.
pub fn nearest<'a>(wanted: &str, candidates: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let wanted: Vec<char> = wanted.chars().take(LONGEST + 1).collect();
    if wanted.is_empty() || wanted.len() > LONGEST {
        return None;
    }
    let allowed = SLIP * (wanted.len() / 3).max(1);
    candidates
        .map(|candidate| (slips(&wanted, candidate), candidate))
        .filter(|&(cost, _)| cost <= allowed)
        .reduce(|best, next| if next.0 < best.0 { next } else { best })
        // A short name of which nothing is left is no near miss: `x` is not `m`.
        .filter(|&(cost, _)| cost < SLIP * wanted.len())
        .map(|(_, candidate)| candidate)
}

/// Whether two names differ by a slip of the hand: one letter, or two in a name of twelve or more. Where a name may as
/// well be meant as it stands, only this makes it an error.
#[must_use]
pub fn is_slip(wanted: &str, known: &str) -> bool {
    let wanted: Vec<char> = wanted.chars().take(LONGEST + 1).collect();
    let allowed = if wanted.len() < 12 { SLIP } else { 2 * SLIP };
    wanted.len() <= LONGEST && slips(&wanted, known) <= allowed
}

/// Weighted edit distance with swaps of neighbours (optimal string alignment), row by row.
fn slips(wanted: &[char], candidate: &str) -> usize {
    let candidate: Vec<char> = candidate.chars().take(LONGEST).collect();
    let width = candidate.len() + 1;
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..width).map(|column| column * SLIP).collect();
    for (row, &mine) in wanted.iter().enumerate() {
        let mut current = Vec::with_capacity(width);
        current.push((row + 1) * SLIP);
        for (column, &theirs) in candidate.iter().enumerate() {
            let mut cost = (above[column] + change(mine, theirs))
                .min(above[column + 1] + SLIP)
                .min(current[column] + SLIP);
            let swapped = row > 0 && column > 0 && wanted[row - 1] == theirs && candidate[column - 1] == mine;
            if swapped {
                cost = cost.min(before[column - 1] + SLIP);
            }
            current.push(cost);
        }
        before = core::mem::replace(&mut above, current);
    }
    above.last().copied().unwrap_or(0)
}

fn change(mine: char, theirs: char) -> usize {
    if mine == theirs {
        0
    } else if mine.to_lowercase().eq(theirs.to_lowercase()) {
        CASE
    } else {
        SLIP
    }
}
