//! Versions of packs: what may be one, and which of two is the newer one.

use std::cmp::Ordering;

/// Whether a pack may have this version: letters, digits, `.`, `-`, `+` and `_`, a letter or a digit first. It stands in the
/// name of a file, and beside what the program says of a pack.
pub(super) fn is_version(text: &str) -> bool {
    let plain = |letter: char| letter.is_ascii_alphanumeric() || ".-+_".contains(letter);
    text.starts_with(|first: char| first.is_ascii_alphanumeric()) && text.chars().all(plain)
}

/// How two versions follow one another, where both are numbers with points between; `1.2` is `1.2.0`.
#[must_use]
pub fn order_of_versions(one: &str, other: &str) -> Option<Ordering> {
    let (mut one, mut other) = (numbers(one)?, numbers(other)?);
    let longest = one.len().max(other.len());
    one.resize(longest, 0);
    other.resize(longest, 0);
    Some(one.cmp(&other))
}

fn numbers(version: &str) -> Option<Vec<u64>> {
    let digits = |part: &str| part.chars().all(|letter| letter.is_ascii_digit());
    let parts = version.split('.');
    parts.map(|part| part.parse().ok().filter(|_| digits(part))).collect()
}
