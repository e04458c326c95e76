//! Sessions that contradict one another: the later reading is used, and somebody is told.

use super::job::{Job, Reading};
use crate::outcome::{Amount, Phrase, Piece};
use crate::quantity::text::{Spread, Values, read};
use crate::quantity::{Dimension, Scale};
use crate::script::GivenValue;

/// A reading with its ±, in SI units.
struct Stated {
    value: f64,
    width: f64,
    dimension: Dimension,
    scale: Scale,
}

/// For each reading taken more than once: whether an earlier one differs by more than both ±.
pub(super) fn contradictions(job: &Job) -> Vec<Phrase> {
    let mut found = Vec::new();
    for last in job.in_force() {
        let Some(now) = stated(last) else { continue };
        for earlier in job.record(&last.name, last.run.as_deref()) {
            let Some(before) = stated(earlier).filter(|before| before.dimension == now.dimension) else {
                continue;
            };
            let apart = (now.value - before.value).abs();
            if now.width + before.width > 0.0 && apart > now.width + before.width {
                found.push(told(&last.name, &before, &now));
                break;
            }
        }
    }
    found
}

fn told(name: &str, before: &Stated, now: &Stated) -> Phrase {
    Phrase {
        pieces: vec![
            Piece::Words(format!("{name}: ")),
            before.shown(before.value),
            Piece::Words(" in an earlier session, ".to_owned()),
            now.shown(now.value),
            Piece::Words(
                " in the one used, further apart than both ± allow. Measure again; do not pick one".to_owned(),
            ),
        ],
    }
}

impl Stated {
    fn shown(&self, si: f64) -> Piece {
        Piece::Amount(Amount {
            si,
            dimension: self.dimension,
            scale: self.scale,
            slot: None,
            aside: false,
            style: None,
            signs: None,
        })
    }
}

/// One quantity with its own ±; what has none, and what is no single quantity, contradicts nothing.
fn stated(reading: &Reading) -> Option<Stated> {
    let GivenValue::Text(text) = &reading.given.what else {
        return None;
    };
    let found = read(text).ok()?;
    let Values::One(value) = found.values else { return None };
    let width = match found.spread {
        Spread::None => return None,
        Spread::Limits(width) => width,
        // A normal reading lies within two of them with 95 in 100.
        Spread::StdDev(width) => 2.0 * width,
    };
    Some(Stated {
        value,
        width,
        dimension: found.dimension,
        scale: found.scale,
    })
}
