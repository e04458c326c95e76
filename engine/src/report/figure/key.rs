//! The key below a picture: what has found no room beside its line.

use super::measure::{LINE, lines_of, widest, wrapped};
use super::scene::{Anchor, Form, Scene, Sign, still};
use crate::outcome::Phrase;
use crate::quantity::text::System;

/// A line of the key.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub(super) sample: Sample,
    pub(super) name: Phrase,
}

/// What stands before a name.
#[derive(Clone, Copy, Debug)]
pub(super) enum Sample {
    /// A line, with a sign on it.
    Line(&'static str, Option<Sign>),
    /// A sign alone.
    Sign(&'static str, Sign),
    /// A filled rectangle.
    Filled(&'static str),
    /// A short upright line.
    Post(&'static str),
}

/// Room for a sample.
const SAMPLE: f64 = 34.0;

/// The key below `top`; gives where it ends.
pub(super) fn key(scene: &mut Scene, entries: &[Entry], top: f64, system: System) -> f64 {
    let mut at = [0.0, top + 2.0];
    let mut tallest = 0.0;
    for entry in entries {
        let lines = wrapped(&entry.name, scene.size[0] - SAMPLE - 4.0, system);
        let wide = SAMPLE + widest(&lines, system) + 16.0;
        if at[0] > 0.0 && at[0] + wide - 16.0 > scene.size[0] {
            at = [0.0, at[1] + tallest];
            tallest = 0.0;
        }
        sample(scene, entry.sample, [at[0], at[1] + 8.0]);
        let height = LINE * lines_of(&lines) + 2.0;
        if height > tallest {
            tallest = height;
        }
        let place = still(at[0] + SAMPLE, at[1] + 12.0);
        let anchor = Anchor::Start;
        scene.add(
            "label",
            false,
            Form::Text {
                at: place,
                anchor,
                lines,
            },
        );
        at[0] += wide;
    }
    at[1] + tallest
}

fn sample(scene: &mut Scene, sample: Sample, [x, y]: [f64; 2]) {
    match sample {
        Sample::Line(look, sign) => {
            scene.rule(look, [x + 1.0, y], [x + SAMPLE - 6.0, y]);
            if let Some(sign) = sign {
                let at = still(x + SAMPLE / 2.0 - 2.0, y);
                scene.add(look, false, Form::Marker { at, sign });
            }
        }
        Sample::Sign(look, sign) => {
            let at = still(x + SAMPLE / 2.0 - 2.0, y);
            scene.add(look, false, Form::Marker { at, sign });
        }
        Sample::Filled(look) => {
            let corners = [still(x + 4.0, y - 5.0), still(x + SAMPLE - 8.0, y + 5.0)];
            scene.add(look, false, Form::Box { corners });
        }
        Sample::Post(look) => scene.rule(look, [x + SAMPLE / 2.0, y - 6.0], [x + SAMPLE / 2.0, y + 6.0]),
    }
}
