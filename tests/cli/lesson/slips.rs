//! Slips against closed forms, worked out here by `std`, not by the engine.

use super::{json, line, list};
use serde_json::Value;
use std::f64::consts::PI;

const MM: f64 = 1e-3;
const INCH: f64 = 25.4e-3;

/// The wrong answer of the first slip whose words have these in them.
#[track_caller]
fn slip(lesson: &Value, step: &str, words: &str) -> f64 {
    let line = line(lesson, step);
    let slips = list(line, "slips").iter();
    let found = slips
        .clone()
        .find(|slip| slip["words"].as_str().unwrap().contains(words));
    let found = found.unwrap_or_else(|| panic!("`{step}` has no slip `{words}`: {:?}", slips.collect::<Vec<_>>()));
    found["si"].as_f64().unwrap()
}

#[track_caller]
fn answer(lesson: &Value, step: &str) -> f64 {
    list(line(lesson, step), "answers")[0]["si"].as_f64().unwrap()
}

#[track_caller]
fn is(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() <= 1e-12 * expected.abs() + 1e-15,
        "{found}, not {expected}"
    );
}

#[test]
fn of_a_dial_indicator() {
    // Readings ±0.08 and ±0.11 mm: offsets 0.08 and 0.11, √(0.08² + 0.11²) = √0.0185.
    let lesson = json(&["lesson", "lessons/indicator-reading"]);
    is(
        slip(&lesson, "low_by", "the whole reading taken for the offset"),
        0.16 * MM,
    );
    is(slip(&lesson, "low_by", "dial top and dial bottom added"), 0.0);
    is(
        slip(&lesson, "left_by", "the whole reading taken for the offset"),
        0.22 * MM,
    );
    is(slip(&lesson, "bore_offset", "the root forgotten"), 0.0185 * MM);
    is(slip(&lesson, "bore_offset", "inch behind it"), 0.0185_f64.sqrt() * INCH);
    is(
        slip(&lesson, "bore_offset", "worked out in inch"),
        0.0185_f64.sqrt() * MM * MM / INCH,
    );
    is(slip(&lesson, "swing", "factor 2 forgotten"), 0.0185_f64.sqrt() * MM);
    is(
        slip(&lesson, "made_worse", "added instead of subtracted"),
        (0.22 + 0.0185_f64.sqrt()) * MM,
    );
}

#[test]
fn of_degrees_put_in_as_radians() {
    let lesson = json(&["lesson", "lessons/degrees-as-radians", "--set", "joint_angle=3 deg"]);
    is(slip(&lesson, "right_sine", "degrees put in as radians"), 3.0_f64.sin());
}

#[test]
fn of_joint_angles() {
    let lesson = json(&["lesson", "driveline/joint-angles"]);
    let [front, rear] = ["front", "rear"].map(|step| answer(&lesson, step));
    let degrees = |angle: f64| angle * 180.0 / PI;
    is(slip(&lesson, "difference", "front and rear added"), front + rear);
    is(
        slip(&lesson, "difference", "worked out in radian"),
        (rear - front) * PI / 180.0,
    );
    is(slip(&lesson, "difference", "radian behind it"), degrees(rear - front));
    let tan = (degrees(rear) / 2.0).tan();
    is(
        slip(&lesson, "strength_rear", "degrees put in as radians"),
        4.0 * tan * tan,
    );
    is(
        slip(&lesson, "strength_rear", "not halved"),
        4.0 * rear.tan() * rear.tan(),
    );
    is(
        slip(&lesson, "strength_rear", "square forgotten"),
        4.0 * (rear / 2.0).tan(),
    );
    let sine = degrees(front).sin();
    is(slip(&lesson, "drive_squared", "degrees put in as radians"), sine * sine);
    let [re, im] = ["residual_re", "residual_im"].map(|step| answer(&lesson, step));
    // The root drawn once only: a plain number, times 1 rad.
    is(
        slip(&lesson, "residual", "fourth root taken as square root"),
        re.hypot(im),
    );
    let top = 4500.0 * 2.0 * PI / 60.0;
    is(slip(&lesson, "torsional", "top not squared"), top * re.hypot(im));
    let torque = answer(&lesson, "couple_pinion") / rear.sin();
    is(
        slip(&lesson, "couple_pinion", "degrees put in as radians"),
        torque * degrees(rear).sin(),
    );
}

#[test]
fn none_is_right_and_none_is_like_another() {
    let mut count = 0;
    for name in crankline_scripts::script_names() {
        let lesson = json(&["lesson", &name]);
        for line in list(&lesson, "lines") {
            let slips = list(line, "slips");
            for (number, answer) in list(line, "answers").iter().enumerate() {
                let (Some(right), Some(tolerance)) = (answer["si"].as_f64(), answer["tolerance_si"].as_f64()) else {
                    continue;
                };
                let mut known: Vec<f64> = Vec::new();
                for slip in slips.iter().filter(|slip| slip["answer"] == number) {
                    let si = slip["si"].as_f64().unwrap();
                    assert!(
                        (si - right).abs() > tolerance,
                        "{name}: {}: {slip} is right",
                        line["step"]
                    );
                    let apart = |other: &f64| (si - other).abs() > 0.005 * si.abs().max(other.abs());
                    assert!(
                        known.iter().all(apart),
                        "{name}: {}: {slip} is like another",
                        line["step"]
                    );
                    known.push(si);
                    count += 1;
                }
            }
        }
    }
    assert!(count > 1500, "only {count} slips");
}
