//! Which lines changed between two texts.

/// A line that is in one of two texts alone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ChangedLine {
    /// In the first text, under this number from 1.
    Gone(usize, String),
    /// In the second text, under this number from 1.
    Come(usize, String),
}

/// Larger tables than this are not filled: the texts have next to nothing in common.
const MOST_CELLS: usize = 4_000_000;

/// The lines that must go and come to make one text of another: as few as can be, in the order of the texts.
#[must_use]
pub fn changed_lines(before: &str, after: &str) -> Vec<ChangedLine> {
    let (a, b): (Vec<&str>, Vec<&str>) = (before.lines().collect(), after.lines().collect());
    let same_start = a.iter().zip(&b).take_while(|(a, b)| a == b).count();
    let (rest_a, rest_b) = (&a[same_start..], &b[same_start..]);
    let ends = rest_a.iter().rev().zip(rest_b.iter().rev());
    let same_end = ends.take_while(|(a, b)| a == b).count();
    let (a, b) = (&rest_a[..rest_a.len() - same_end], &rest_b[..rest_b.len() - same_end]);
    let gone = |at: usize| ChangedLine::Gone(same_start + at + 1, a[at].to_owned());
    let come = |at: usize| ChangedLine::Come(same_start + at + 1, b[at].to_owned());
    if a.len().saturating_mul(b.len()) > MOST_CELLS {
        return (0..a.len()).map(gone).chain((0..b.len()).map(come)).collect();
    }
    let table = common(a, b);
    let (mut i, mut j) = (0, 0);
    let mut changed = Vec::new();
    while i < a.len() || j < b.len() {
        if i < a.len() && j < b.len() && a[i] == b[j] {
            (i, j) = (i + 1, j + 1);
        } else if j == b.len() || (i < a.len() && table[i + 1][j] >= table[i][j + 1]) {
            changed.push(gone(i));
            i += 1;
        } else {
            changed.push(come(j));
            j += 1;
        }
    }
    changed
}

/// For each pair of places, how many lines the texts have in common from there on, in order (longest common subsequence).
fn common(a: &[&str], b: &[&str]) -> Vec<Vec<u32>> {
    let mut table = vec![vec![0; b.len() + 1]; a.len() + 1];
    for i in (0..a.len()).rev() {
        for j in (0..b.len()).rev() {
            table[i][j] = if a[i] == b[j] {
                table[i + 1][j + 1] + 1
            } else {
                table[i + 1][j].max(table[i][j + 1])
            };
        }
    }
    table
}
