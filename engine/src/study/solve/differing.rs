//! Checks that differ between choices: the others do not depend on them.

use crate::outcome::Outcome;
use crate::study::lanes::{CheckKey, tests};
use crate::tape::Tape;
use std::collections::BTreeMap;

/// Checks that come out otherwise, or by another margin, under one choice than under another, or are not there.
#[must_use]
pub fn differing(choices: &[(&Tape, &[Outcome])]) -> Vec<CheckKey> {
    let mut margins: BTreeMap<CheckKey, Vec<Option<u64>>> = BTreeMap::new();
    for (number, (tape, outcomes)) in choices.iter().enumerate() {
        for (key, test) in tests(outcomes.iter()) {
            let margin = test.margin(&tape.nominal);
            let found = margin.unwrap_or(f64::from(u8::from(test.holds(&tape.nominal))));
            let known = margins.entry(key).or_insert_with(|| vec![None; choices.len()]);
            if let Some(place) = known.get_mut(number) {
                *place = Some(found.to_bits());
            }
        }
    }
    let differ = |found: &Vec<Option<u64>>| found.iter().any(|one| *one != found[0]);
    margins
        .into_iter()
        .filter(|(_, found)| differ(found))
        .map(|(key, _)| key)
        .collect()
}
