//! Nothing that anybody writes stops the engine: it is read, or there is a message.

use super::bench::{read, run_with};
use crankline_engine::diagnostic::SourceText;
use crankline_engine::pack::{Manifest, read_cases};
use proptest::prelude::*;

const JOB: &str = r#"format = 1
title = "a car"
units = "inch"
[measured]
engine_speed = "2990 rpm +/- 5 rpm"
shaft_length = { readings = ["640 mm", "641 mm"], plus_minus = "1 mm", with = "steel rule" }
[measured."front shaft"]
margin = 0.7
[[session]]
on = 2026-03-14
by = "R."
[session.readings]
shaft_length = "1210 mm ± 1 mm"
[[run]]
script = "road"
name = "road speed"
[[run]]
script = "shaft"
name = "front shaft"
from = { top = "road speed: shaft", length = "shaft_length" }
[[run]]
script = "loads"
with = { loads = [{ name = "Fan", current = "12 A" }] }
[[option]]
name = "longer"
set = { shaft_length = "1300 mm" }
kept = "fits"
[[case]]
title = "as measured"
source = "by hand"
set = { wall = "2 in" }
[case.expect]
front = { value = "3.16 deg", within = "0.01 deg" }
"check: Front" = "holds"
"#;

fn everything(text: &str) {
    if let Ok(job) = read(text) {
        let _ = run_with(&job, &[], None).map_err(|error| error.to_string());
    }
    let source = SourceText {
        name: "a.toml".to_owned(),
        text: text.to_owned(),
    };
    let _ = read_cases(source.clone()).map_err(|error| error.to_string());
    let _ = Manifest::read(source).map_err(|error| error.to_string());
}

#[test]
fn the_job_that_is_changed_below_runs() {
    let job = JOB.split("[[case]]").next().unwrap();
    let job = read(job).unwrap_or_else(|error| panic!("{error}"));
    run_with(&job, &[], None).unwrap_or_else(|error| panic!("{error}"));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(300) })]

    #[test]
    fn any_text(text in "\\PC{0,80}") {
        everything(&text);
    }

    #[test]
    fn any_value(value in "[\\[\\]{}\",=.0-9a-zé± \n+-]{0,40}") {
        everything(&format!("format = 1\n[measured]\nlength = {value}\n[[run]]\nscript = \"shaft\"\n"));
        everything(&JOB.replacen("[\"640 mm\", \"641 mm\"]", &value, 1));
    }

    #[test]
    fn a_job_with_a_piece_cut_out(start in 0..JOB.len(), length in 1..60_usize, put in "[\\[\\]{}\"=.\n #a1]{0,3}") {
        let end = (start + length).min(JOB.len());
        if let (Some(before), Some(after)) = (JOB.get(..start), JOB.get(end..)) {
            everything(&format!("{before}{put}{after}"));
        }
    }

    #[test]
    fn lines_in_another_order(mut lines in Just(JOB.lines().collect::<Vec<_>>()).prop_shuffle()) {
        everything(&lines.join("\n"));
        lines.truncate(12);
        everything(&lines.join("\n"));
        everything(&format!("format = 1\n{}", lines.join("\n")));
    }
}
