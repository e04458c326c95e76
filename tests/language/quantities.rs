//! Dimensions and units in scripts.

use super::check::{check, check_errors, run, step};
use std::f64::consts::PI;

#[test]
fn units_convert() {
    check(&[
        ("3.5.inch", 0.0889),
        ("5.mm", 0.005),
        ("1.mile", 1609.344),
        ("1.lbf", 4.448_221_615_260_5),
        ("60.rpm", 2.0 * PI),
        ("1.turn", 2.0 * PI),
        ("75.percent", 0.75),
        ("1.hp / 1.W", 745.699_871_582_270_2),
        ("quantity(1.2, \"W/(m^2 K)\")", 1.2),
        ("quantity(\"48-1/16 in\")", 48.0625 * 0.0254),
        ("value_in(3.inch, \"mm\")", 76.2),
    ]);
}

#[test]
fn angles_are_dropped_where_they_mean_nothing() {
    check(&[
        ("2.m * 3.rad", 6.0),
        ("value_in(10.N_m * 2.rad_per_s, \"W\")", 20.0),
        ("value_in(2.kg * 3.m * (2.rad_per_s)**2, \"N\")", 24.0),
        ("value_in(3.rad_per_s * 2.m / 1.rad, \"m/s\")", 6.0),
        ("value_in(rim_speed(3.rad_per_s, 2.m), \"m/s\")", 6.0),
        ("value_in(turn_rate(60.rpm), \"Hz\")", 1.0),
        ("value_in(angular_speed(1.Hz), \"rpm\")", 60.0),
    ]);
    check_errors(&[
        ("check 3.deg < 3;", &["an angle (3°)", "a number (3)"]),
        ("check 60.rpm < 1.Hz;", &["angular speed", "rate"]),
        ("step v = 3.rad_per_s * 2.m;", &["angle", "1.rad", "1.turn"]),
        ("step v = 3.rad_per_s * 2.m; note 1;", &["line 1, column 6"]),
        ("input te = 0.5; step t = te.deg;", &["te", "1.rad"]),
    ]);
}

#[test]
fn temperatures_are_points_or_differences() {
    check(&[
        ("value_in(30.degC - 20.degC, \"K\")", 10.0),
        ("value_in(20.degC + 5.delta_degC, \"degC\")", 25.0),
        ("value_in(212.degF, \"degC\")", 100.0),
        ("value_in(mean([10.degC, 30.degC]), \"degC\")", 20.0),
        ("value_in(absolute(0.degC), \"K\")", 273.15),
    ]);
    check_errors(&[
        ("step t = 20.degC * 2;", &["t - 20.degC", "absolute(t)"]),
        ("check 20.degC > 5.K;", &["point"]),
        ("check 20.degC from 5.K to 9.K;", &["point"]),
    ]);
}

#[test]
fn a_closure_knows_the_circle() {
    check(&[
        ("maximum(|x| PI * x, 0, 1)", PI),
        ("integrate(|r| 2 * PI * r, 0, 1)", PI),
        ("root(|x| x - PI, 0, 4)", PI),
    ]);
}

#[test]
fn lists_are_searched_for_quantities() {
    check(&[
        ("if 3.mm in [1.inch, 3.mm] { 1 } else { 0 }", 1.0),
        ("if 3.mm in [1.inch] { 1 } else { 0 }", 0.0),
        ("if 2 in [1, 2.0] { 1 } else { 0 }", 1.0),
    ]);
    check_errors(&[
        (
            "step a = if 3.mm in [1.deg] { 1 } else { 0 };",
            &["a length (3 mm)", "an angle"],
        ),
        ("step a = if 3.mm in [\"x\"] { 1 } else { 0 };", &["a text"]),
    ]);
}

#[test]
fn the_sum_of_nothing_is_a_zero_of_any_kind() {
    check(&[
        ("value_in(sum([]) + 3.mm, \"mm\")", 3.0),
        ("value_in(2.A - sum([]), \"A\")", 2.0),
        ("value_in(max(sum([]), 2.mm), \"mm\")", 2.0),
        ("value_in(sum([sum([]), 4.N] + [1.N]), \"N\")", 5.0),
        ("sum([])", 0.0),
    ]);
    check_errors(&[
        ("step a = 0 + 3.mm;", &["0.mm"]),
        ("step a = 3.mm + sum([1.A]);", &["current"]),
    ]);
}

#[test]
fn both_dimensions_are_named_in_words() {
    check_errors(&[
        ("step a = 3.inch + 2.deg;", &["cannot add a length", "an angle (2°)"]),
        ("step a = max(1.kg, 2.N);", &["a mass", "a force"]),
        ("step a = 3.inch as kg;", &["length", "mass"]),
        ("input a = 3.A; check a > 0;", &["0.A"]),
        ("input a = 1/(8.inch);", &["(1/8).inch"]),
    ]);
}

/// Values of mpmath, to what a double holds.
#[test]
fn hyperbolic_functions() {
    check(&[
        ("sinh(1e-8) * 1e8", 1.0),
        ("sinh(0.25)", 0.252_612_316_808_168_3),
        ("sinh(0.999)", 1.173_658_700_352_452),
        ("sinh(1.5)", 2.129_279_455_094_817_5),
        ("sinh(-3)", -10.017_874_927_409_902),
        ("sinh(700) / 1e303", 5.071_160_273_675_022),
        ("cosh(0)", 1.0),
        ("cosh(0.25)", 1.031_413_099_879_573_2),
        ("cosh(-3)", 10.067_661_995_777_766),
        ("tanh(1e-8) * 1e8", 1.0),
        ("tanh(0.25)", 0.244_918_662_403_709_13),
        ("tanh(0.999)", 0.761_173_861_660_57),
        ("tanh(1.5)", 0.905_148_253_644_866_4),
        ("tanh(-3)", -0.995_054_753_686_730_5),
        ("tanh(1e6)", 1.0),
        ("1.kJ / 1.J", 1000.0),
    ]);
}

/// cosh² − sinh² = 1 and tanh = sinh/cosh where one form gives way to the other; d sinh = cosh.
#[test]
fn hyperbolic_functions_have_no_step_between_their_forms() {
    for x in [-1.0, -0.999_999, 0.0, 0.999_999, 1.0, 1.000_001] {
        let ran = run(&format!(
            "input x = {x:?}; step one = cosh(x)**2 - sinh(x)**2; step t = tanh(x) * cosh(x) - sinh(x);"
        ));
        assert!(
            (step(&ran, "one") - 1.0).abs() < 1e-14 && step(&ran, "t").abs() < 1e-15,
            "{x}"
        );
    }
}

/// What is left of a difference by rounding alone is as good as nothing, and no pole.
#[test]
fn integrals_of_what_cancels_are_nothing() {
    for integrand in [
        "(x + 0.1) - x - 0.1",
        "sin(x * 1.rad)**2 + cos(x * 1.rad)**2 - 1",
        "0 * x",
    ] {
        let ran = run(&format!(
            "input a = 1.0; step total = integrate(|x| {integrand}, 0, a);"
        ));
        assert!(step(&ran, "total").abs() < 1e-15, "{integrand}");
    }
}
