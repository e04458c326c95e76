//! As many digits as the readings support, and what cannot be known is not shown as known.

use super::check::Folder;

/// A script's results, its first screen.
fn shown(script: &str) -> String {
    let folder = Folder::new();
    folder.put("numbers.rhai", script);
    let ran = folder.run(&["run", "numbers.rhai", "--all"]);
    assert_eq!(ran.stderr, "", "{script}");
    ran.stdout
}

#[track_caller]
fn check(script: &str, expected: &str) {
    let text = shown(script);
    assert!(text.contains(expected), "no `{expected}` in\n{text}");
}

/// The root of nearly nothing has no derivative worth the name: its interval says how large it may be.
#[test]
fn a_residual_is_no_measured_zero() {
    let script = "input a = 0.0 plus_minus 0.0005; input b = 0.0 plus_minus 0.0005;
        step left = sqrt(hypot(a, b)) * 1.rad : \"Left\";";
    let text = shown(script);
    let row = text.lines().find(|line| line.contains("Left ")).unwrap();
    let most = row.split("at most ").nth(1).unwrap().trim_end_matches('°');
    // √0.0007 rad is 1.5°: both at their limits. 95 in 100 lie below.
    let most: f64 = most.parse().unwrap();
    assert!((1.3..1.53).contains(&most), "{row}");
}

/// A value and both ends of its interval end at the same place: at most two figures of the half width.
#[test]
fn digits_are_those_of_the_half_width() {
    let script = |value: &str, width: &str| {
        format!("input a = {value} plus_minus {width};\nstep b = a * 1.0 as rpm : \"The same\";")
    };
    check(&script("12676.3.rpm", "10.rpm"), "12676 rpm (12667 to 12686)");
    check(&script("12676.3.rpm", "2.rpm"), "12676.3 rpm (12674.4 to 12678.2)");
    check(&script("3.8614.rpm", "0.2.rpm"), "3.86 rpm (3.67 to 4.05)");
    check(&script("0.0000001.rpm", "1.rpm"), "0.0 rpm (-1.0 to 1.0)");
    check(&script("986.rpm", "94.rpm"), "990 rpm (900 to 1080)");
}

#[test]
fn an_angle_of_any_direction_is_not_known() {
    let script = "input a = 0.01.mm plus_minus 1.mm; input b = 0.01.mm plus_minus 1.mm;
        step turned = atan2(a, b) : \"Direction\";";
    check(script, "Direction                             not known\n");
}

/// Two kinds of ± are shown as one: limits, or what holds 95 in 100.
#[test]
fn a_standard_uncertainty_is_shown_as_what_holds_95_in_100() {
    let script = "input a = 10.mm std_dev 0.5.mm : \"Gap\";\ncheck a <= 10.mm : \"Small\";";
    let text = shown(script);
    assert!(text.contains("10 mm ± 1 mm (95 in 100)"), "{text}");
    assert!(!text.contains("standard uncertainty"), "{text}");
    let better = "input a = 9.4.mm std_dev 0.5.mm : \"Gap\";\ncheck a <= 10.mm : \"Small\";";
    check(better, "a to ± 0.5 mm instead of ± 1 mm (95 in 100) would settle it");
}

/// Of n repeats the scatter of the mean is multiplied by Student's t: 4.303 for three of them.
#[test]
fn few_repeats_hold_less_than_two_standard_uncertainties() {
    let folder = Folder::new();
    folder.put(
        "gap.rhai",
        "input a = 10.mm plus_minus 0.1.mm : \"Gap\";\nstep b = a;\n",
    );
    folder.put(
        "job.toml",
        "format = 1\n[measured]\na = { readings = [\"9 mm\", \"10 mm\", \"11 mm\"], plus_minus = \"0.01 mm\" }\n\
         [[run]]\nscript = \"gap.rhai\"\n",
    );
    let ran = folder.run(&["run", "job.toml", "--working"]);
    // 4.303 × 1 mm/√3
    assert!(ran.stdout.contains("= 10.0 mm ± 2.5 mm (95 in 100)"), "{}", ran.stdout);
}

/// What a check asks stands once, with both limits.
#[test]
fn limits_stand_once() {
    let text = shown("input r = 2.85;\nprefer r from 0.4 to 6.0;\nstep a = r;");
    assert!(text.contains("MET        r from 0.4 to 6.0\n"), "{text}");
}

/// A limit that moves with the readings has an interval too.
#[test]
fn a_limit_has_its_interval() {
    let script =
        "input a = 10.mm plus_minus 0.1.mm; input b = 20.mm plus_minus 1.mm;\ncheck a <= 0.75 * b : \"Clear\";";
    check(script, "at most 15.0 mm (14.3 to 15.7)");
}

/// Doubt that cannot turn a verdict is not worth a line; in a table the row is named.
#[test]
fn doubt_names_the_row() {
    let script = |limit: &str| {
        format!(
            "input joints = [#{{ name: \"No. 4\", drop: 10.mV plus_minus 5.mV }}, #{{ name: \"lid\", drop: 10.mV }}];\n\
             check joints[0].drop + joints[1].drop <= {limit} : \"Little\";"
        )
    };
    check(&script("21.mV"), "doubt from joints[No. 4] 100 in 100");
    let sure = shown(&script("2.mV"));
    assert!(sure.contains("FAILS") && !sure.contains("doubt from"), "{sure}");
}

/// The line on top counts preferences apart.
#[test]
fn preferences_are_counted() {
    let script = "input a = 3.mm plus_minus 1.mm;\ncheck a <= 5.mm : \"A\";\nprefer a <= 1.mm : \"B\";\nprefer a <= 3.mm : \"C\";";
    check(
        script,
        "the one check would hold, on the script's own numbers; 1 preference\n             not met, 1 perhaps\n",
    );
}
