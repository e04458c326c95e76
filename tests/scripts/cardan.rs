//! The shared joint formulas against values of an outside calculation: the relation tan(out) = tan(in)/cos(angle) and a
//! vector model of the cross; peaks searched over a turn.

use crankline_engine::diagnostic::SourceText;
use crankline_engine::outcome::Value;
use crankline_engine::script::{Bindings, Library};
use crankline_engine::tape::Recording;
use crankline_scripts::Shipped;
use std::rc::Rc;

/// The SI value of a formula of the module.
#[track_caller]
fn value(formula: &str) -> f64 {
    let library = Library::new(Rc::new(Shipped));
    let text = format!("import \"driveline/cardan\" as cardan;\nstep found = {formula};");
    let name = "driveline/trial".to_owned();
    let program = library.compile(SourceText { name, text }).unwrap();
    let recording = Rc::new(Recording::open());
    let finished = library.run(&program, Bindings::new(), &recording, 0, None);
    let outcome = finished.unwrap_or_else(|error| panic!("{error}")).outcome;
    match &outcome.steps.first().unwrap().value {
        Value::Amount(amount) => amount.si,
        other => panic!("{formula} gives {other:?}"),
    }
}

#[track_caller]
fn gives(formula: &str, expected: f64, relative: f64) {
    let found = value(formula);
    let off = (found - expected).abs();
    assert!(
        off <= relative * expected.abs(),
        "{formula} gives {found}, not {expected}"
    );
}

#[test]
fn one_joint_runs_ahead_as_outside() {
    gives(
        "30.deg + cardan::lead(30.deg, 10.deg)",
        30.381_255_142_5_f64.to_radians(),
        1e-11,
    );
    gives(
        "200.deg + cardan::lead(200.deg, 18.deg)",
        200.941_896_047_f64.to_radians(),
        1e-11,
    );
}

#[test]
fn two_terms_of_its_series_are_nearly_all() {
    for (ears, angle) in [("10.deg", "4.deg"), ("70.deg", "8.deg"), ("200.deg", "18.deg")] {
        let exact = value(&format!("cardan::lead({ears}, {angle})"));
        let short = value(&format!("cardan::lead_in_two_terms({ears}, {angle})"));
        // What is left out is q³/3 sin 6f.
        let left_out = value(&format!("tan({angle} / 2.0)**6 / 3.0 * sin(6.0 * {ears})"));
        let next = value(&format!("tan({angle} / 2.0)**8"));
        assert!((exact - short - left_out).abs() <= next.max(1e-16), "{ears}, {angle}");
    }
}

#[test]
fn its_speed_varies_as_outside() {
    gives("cardan::speed_ratio(40.deg, 5.deg)", 1.000_655_206_98, 1e-11);
    gives("cardan::speed_ratio(0.deg, 3.deg)", 1.001_372_346, 1e-9);
    gives("cardan::speed_ratio(90.deg, 7.5.deg)", 0.991_444_861_374, 1e-11);
    gives(
        "cardan::speed_ratio(0.deg, 6.5.deg) - cardan::speed_ratio(90.deg, 6.5.deg)",
        0.012_897_877_022_3,
        1e-9,
    );
}

#[test]
fn its_largest_acceleration_is_that_found_by_search() {
    gives("cardan::peak_acceleration(3.deg, 3000.rpm)", 270.705_128_315, 1e-8);
    gives("cardan::peak_acceleration(15.deg, 3500.rpm)", 9_327.456_899_16, 1e-8);
    let searched = "maximum(|ears| cardan::acceleration(ears, 15.deg, 3500.rpm), 0.deg, 90.deg)";
    gives(searched, 9_327.456_899_16, 1e-8);
    assert_eq!(
        value("cardan::peak_acceleration(0.deg, 3000.rpm)").to_bits(),
        0.0_f64.to_bits()
    );
}

#[test]
fn the_small_angle_form_is_near() {
    gives("cardan::strength(3.deg) * 3000.rpm**2", 270.580_808_428, 5e-4);
}

#[test]
fn two_joints_leave_what_their_full_motion_leaves() {
    // Peak to peak is te²/2 for the second harmonic alone; the fourth adds up to te⁴/8 of either joint.
    let left = |joints: &str| value(&format!("cardan::residual_of_two({joints}).equivalent"));
    let level = "vector(1, 0, 0)";
    let falls = |degrees: &str| format!("direction_from_level({degrees}.deg, 0.deg)");
    let in_phase = left(&format!("{}, {level}, {}, 0.deg", falls("4"), falls("3")));
    assert!((in_phase * in_phase / 2.0 / 0.061_164_175_702_f64.to_radians() - 1.0).abs() < 2e-3);
    let crossed = left(&format!("{}, {level}, {}, 90.deg", falls("4"), falls("3")));
    assert!((crossed * crossed / 2.0 / 0.218_315_505_523_f64.to_radians() - 1.0).abs() < 2e-3);
    let equal = left(&format!("{}, {level}, {}, 0.deg", falls("5"), falls("5")));
    assert!(equal < 1e-7, "{equal}");
}
