//! What the ± of readings does to results and verdicts, against values from outside and closed forms.

mod solve;
mod spread;
mod sweep;

use crate::references::case;
use crankline_engine::diagnostic::{Diagnostic, SourceText};
use crankline_engine::outcome::Outcome;
use crankline_engine::quantity::units;
use crankline_engine::script::{Bindings, Library, Program, Sample};
use crankline_engine::source::NoSources;
use crankline_engine::study::{Advice, Experiment, Interval, Judged, JudgedCheck, Key, Verdict, judge};
use crankline_engine::tape::{Recording, Tape};
use std::rc::Rc;

struct Script {
    library: Library,
    program: Program,
}

impl Script {
    fn new(text: &str) -> Self {
        let library = Library::new(Rc::new(NoSources));
        let source = SourceText {
            name: "test".to_owned(),
            text: text.to_owned(),
        };
        let program = library.compile(source).unwrap_or_else(|error| panic!("{error}"));
        Self { library, program }
    }

    fn once(&self, sample: Option<Vec<f64>>) -> Result<(Tape, Vec<Outcome>), Diagnostic> {
        let recording = Rc::new(Recording::open());
        let finished = self.library.run(
            &self.program,
            Bindings::new(),
            &recording,
            0,
            sample.map(|values| Sample { values, read: false }),
        )?;
        Ok((recording.tape(), vec![finished.outcome]))
    }
}

impl Experiment for Script {
    fn run(&self, inputs: &[f64]) -> Result<(Tape, Vec<Outcome>), Diagnostic> {
        self.once(Some(inputs.to_vec()))
    }
}

fn judged(text: &str) -> Judged {
    let script = Script::new(text);
    let (tape, outcomes) = script.once(None).unwrap_or_else(|error| panic!("{error}"));
    judge(&script, &tape, &outcomes, false)
}

fn interval(judged: &Judged, step: &str) -> Interval {
    judged.intervals[&Key {
        run: 0,
        step: step.to_owned(),
        items: Vec::new(),
    }]
}

fn check(judged: &Judged, number: usize) -> &JudgedCheck {
    &judged.runs[0].checks[number]
}

fn in_unit(si: f64, unit: &str) -> f64 {
    units::find(unit).unwrap().from_si(si)
}

#[track_caller]
fn close(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "{found}, expected {expected} ± {within}"
    );
}

/// 1,024 points give the width of a 95 % interval to about 2 %, and a chance of a tenth to about a hundredth.
const SAMPLED: f64 = 0.02;

const ANGLE: &str = "
    input pitch1 = -4.deg std_dev 0.15.deg;
    input yaw1 = 0.deg std_dev 0.15.deg;
    input pitch2 = -1.5.deg std_dev 0.15.deg;
    input yaw2 = 2.5.deg std_dev 0.15.deg;
    let ty = tan(yaw1); let tp = tan(pitch1); let sy = tan(yaw2); let sp = tan(pitch2);
    step angle = atan2(hypot(ty*sp - tp*sy, tp - sp, sy - ty), 1 + ty*sy + tp*sp) as deg;
    check angle > 3.8.deg;
";

#[test]
fn compound_angle() {
    let judged = judged(ANGLE);
    let angle = interval(&judged, "angle");
    case("unc-01").check_within(in_unit(angle.std_uncertainty, "deg"), 0.0);
    // 1,024 samples: a chance near 0.11 is known to about 0.01.
    case("unc-03").check_within(check(&judged, 0).chance, 0.1);
    assert_eq!(check(&judged, 0).verdict, Verdict::Unsure);
    let deviation = (angle.high - angle.low) / (2.0 * 1.959_964);
    case("unc-02").check_within(in_unit(deviation, "deg"), 0.02);
}

#[test]
fn critical_speed() {
    let judged = judged(
        "input od = 3.5.inch std_dev 0.005.inch;
         input wall = 0.083.inch std_dev 0.004.inch;
         input length = 54.inch std_dev 0.25.inch;
         input E = 200.GPa std_dev 4.GPa;
         input density = 7850.kg_per_m3 std_dev 30.kg_per_m3;
         let ro = od/2; let ri = ro - wall;
         step speed = (PI/length)**2 * sqrt(E/density * (ro**2 + ri**2)/4) * 1.rad as rpm;
         check speed < 7600.rpm;",
    );
    case("unc-04").check_within(in_unit(interval(&judged, "speed").std_uncertainty, "rpm"), 0.0);
    case("unc-05").check_within(check(&judged, 0).chance, 0.1);
}

#[test]
fn preload_from_torque() {
    let judged = judged(
        "input torque = 59.N_m std_dev 2.5.N_m;
         input nut_factor = 0.20 std_dev 0.02;
         step preload = torque / (nut_factor * 10.mm) as kN;
         check preload > 36.1.kN;",
    );
    case("unc-06").check_within(in_unit(interval(&judged, "preload").std_uncertainty, "kN"), 0.0);
    case("unc-08").check_within(check(&judged, 0).chance, 0.12);
    // Larger than to first order: 1/K is skewed.
    let preload = interval(&judged, "preload");
    assert!(preload.high - preload.median > preload.median - preload.low);
}

#[test]
fn sums_of_four() {
    for (word, width, id) in [
        ("plus_minus", "3**0.5", "pub-jcgm101-rect4"),
        ("std_dev", "1", "pub-jcgm101-gauss4"),
    ] {
        let inputs: String = (0..4).map(|k| format!("input x{k} = 0.0 {word} {width};\n")).collect();
        let judged = judged(&format!("{inputs} step y = x0 + x1 + x2 + x3;"));
        let y = interval(&judged, "y");
        close(y.std_uncertainty, 2.0, 1e-12);
        case(id).check_within(0.5 * (y.high - y.low), SAMPLED);
    }
}

/// P(x² < q) = √q for x even in ±1.
#[test]
fn a_square_near_zero() {
    let judged = judged("input x = 0.0 plus_minus 1; step y = x**2;");
    let y = interval(&judged, "y");
    assert_eq!(
        y.std_uncertainty, 0.0,
        "first order says nothing at the bottom of a square"
    );
    close(y.low, 0.025_f64.powi(2), 1e-4);
    close(y.median, 0.25, 0.005);
    close(y.high, 0.975_f64.powi(2), 0.005);
}

/// Student's t with 4 freedoms: 95 % within 2.776 times s/√n (statistical tables).
#[test]
fn repeats_alone() {
    let judged = judged("input x = readings([612.5.mm, 613.0.mm, 612.0.mm, 613.5.mm, 612.5.mm]); step y = x;");
    let y = interval(&judged, "y");
    let scatter = 0.000_570_087_7 / 5.0_f64.sqrt();
    close(0.5 * (y.high - y.low), 2.776 * scatter, 0.02 * 2.776 * scatter);
}

/// The trade's worked example: mean 612.70 mm, with a tape of ±1 mm a standard uncertainty of 0.63 mm.
#[test]
fn repeats_with_the_instrument() {
    let judged =
        judged("input x = readings([612.5.mm, 613.0.mm, 612.0.mm, 613.5.mm, 612.5.mm], plus_minus 1.mm); step y = x;");
    let y = interval(&judged, "y");
    close(y.std_uncertainty, 0.000_631_6, 0.000_001);
    close(y.median, 0.6127, 0.000_02);
}

#[test]
fn another_path_is_followed() {
    let judged = judged(
        "input x = 0.2 plus_minus 1;
         let y = if x > 0 { x } else { -3*x };
         step size = y;
         check size < 1.2;",
    );
    // y < 1.2 where -0.4 < x < 1.2: 1.6 of the 2.0 that x may be.
    close(check(&judged, 0).chance, 0.8, 0.002);
    let size = interval(&judged, "size");
    assert!(size.low > 0.0 && size.high > 2.0, "{size:?}");
    assert_eq!(judged.samples, 1024);
    assert!(judged.uncounted.is_empty());
}

#[test]
fn samples_that_the_script_refuses_do_not_hold() {
    let judged = judged("input x = 0.1 plus_minus 0.2; step root = sqrt(x); check root >= 0;");
    close(check(&judged, 0).chance, 0.75, 0.002);
    let refused: usize = judged.uncounted.iter().map(|uncounted| uncounted.samples).sum();
    assert_eq!(refused, 256);
}

#[test]
fn a_failed_requirement_makes_the_rest_untrusted() {
    let judged = judged(
        "input a = 1.mm; input b = 3.mm;
         check a < 2.mm;
         require abs(a - b) < 1.mm;
         check b < 4.mm;",
    );
    let verdicts: Vec<Verdict> = judged.runs[0].checks.iter().map(|check| check.verdict).collect();
    assert_eq!(verdicts, [Verdict::Holds, Verdict::Fails, Verdict::Untrusted]);
}

#[test]
fn advice_names_the_reading_that_settles_it() {
    let judged = judged("input a = 1.mm plus_minus 0.4.mm; input b = 1.mm plus_minus 0.01.mm; check a + b < 2.3.mm;");
    let check = check(&judged, 0);
    assert_eq!(check.verdict, Verdict::Unsure);
    assert_eq!(check.rests_on[0].0, "a");
    let Some(Advice::Again { reading, from, to }) = &check.advice else {
        panic!("{:?}", check.advice)
    };
    assert_eq!(reading, "a");
    close(*from, 0.0004, 1e-12);
    close(*to, 0.0002, 1e-12);
}

#[test]
fn advice_says_when_readings_cannot_settle_it() {
    let judged = judged("input a = 1.mm plus_minus 0.4.mm; check a < 1.0.mm;");
    assert_eq!(check(&judged, 0).advice, Some(Advice::Move));
}

#[test]
fn shares_add_up() {
    let judged = judged("input a = 3.0 std_dev 0.3; input b = 4.0 std_dev 0.4; check a + b < 8;");
    let rests = &check(&judged, 0).rests_on;
    close(rests[0].1, 0.64, 1e-12);
    close(rests[1].1, 0.36, 1e-12);
    close(check(&judged, 0).margin_uncertainty, 0.5, 1e-12);
}

/// The same reading twice is one reading: what cancels, cancels.
#[test]
fn a_reading_is_correlated_with_itself() {
    let judged = judged("input a = 3.0 std_dev 0.3; let b = 2*a; check b - 2*a == 0;");
    assert_eq!(check(&judged, 0).verdict, Verdict::Holds);
    assert_eq!(check(&judged, 0).margin_uncertainty, 0.0);
}

/// A side that is no step of its own has its interval too: u = a + b, each even in ±1, is triangular.
#[test]
fn sides_of_checks_have_intervals() {
    let judged = judged("input a = 0.0 plus_minus 1; input b = 0.0 plus_minus 1; check a + b <= 1.0;");
    let side = judged.sides.values().next().unwrap();
    // P(u < q) = (2 + q)²/8 for q below 0.
    let low = -2.0 + (8.0_f64 * 0.025).sqrt();
    close(side.low, low, 0.03);
    close(side.high, -low, 0.03);
    close(check(&judged, 0).chance, 1.0 - 1.0 / 8.0, 0.005);
}

/// The root of nearly nothing: its derivative explodes, its samples do not.
#[test]
fn near_a_kink_the_samples_say_the_uncertainty() {
    let judged = judged("input x = 1.0e-9 plus_minus 1; step y = sqrt(abs(x)); check y <= 2;");
    let y = interval(&judged, "y");
    // √|x| for x even in ±1 lies from 0.025^½ to 0.975^½.
    close(y.low, 0.025_f64.sqrt(), 0.01);
    close(y.high, 0.975_f64.sqrt(), 0.005);
    assert!(y.std_uncertainty < 0.3, "{y:?}");
    assert!(check(&judged, 0).margin_uncertainty < 0.3);
}

/// Twenty branches on one reading before a long loop: each way is a path of its own, and together they cover what the
/// reading may be. The number of branches taken is even in its range, and so is what the loop makes of it.
#[test]
fn many_branches_are_sampled_on_all_their_ways() {
    let judged = judged(
        "input x = 0.5 plus_minus 0.5;
         let above = 0;
         for k in 0..20 { if x > k / 20 { above += 1; } }
         let sum = 0.0 * x;
         for k in 0..200 { sum = sum + above * x / 200; }
         step product = sum;
         step count = 1.0 * above;
         check above <= 10;
         check sum <= 5.0;",
    );
    assert!(judged.uncounted.is_empty());
    // above is the next whole number over 20 x: at most 10 up to x = 0.5; above * x jumps from 5.0 to 5.5 there.
    close(check(&judged, 0).chance, 0.5, 0.002);
    close(check(&judged, 1).chance, 0.5, 0.002);
    let product = interval(&judged, "product");
    close(product.low, 0.025, 0.01);
    close(product.high, 20.0 * 0.975, 0.02);
}

/// Ten branches on ten readings are 1,024 ways, far more than are kept: no way is lost for that. The chance that at
/// most five are taken is (1 + 10 + 45 + 120 + 210 + 252) / 1024.
#[test]
fn more_ways_than_are_kept_are_all_counted() {
    let readings: String = (0..10).map(|k| format!("input x{k} = 0.5 plus_minus 0.5;\n")).collect();
    let branches: String = (0..10)
        .map(|k| format!("if x{k} > 0.5 {{ above = above + 1; }}\n"))
        .collect();
    let judged = judged(&format!("{readings} let above = 0; {branches} check above <= 5.5;"));
    assert!(judged.uncounted.is_empty());
    close(check(&judged, 0).chance, 638.0 / 1024.0, SAMPLED);
}

/// 1/(x − a) has a pole between 0 and 1 where a lies there: a third of the samples, and a few whose pole lies right
/// beside an end. They have no number, and count for nothing.
#[test]
fn samples_that_integrate_over_a_pole_have_no_number() {
    let judged = judged("input a = 1.5 plus_minus 1.5; step i = integrate(|x| 1 / (x - a), 0, 1); check i > -9;");
    let refused: usize = judged.uncounted.iter().map(|uncounted| uncounted.samples).sum();
    assert!((341..400).contains(&refused), "{refused}");
}

/// The limits of a check may be readings: samples in which they lie the wrong way round are refused.
#[test]
fn samples_with_limits_upside_down_do_not_hold() {
    let judged = judged("input low = 1.0 plus_minus 1; check 1.5 from low to 1.5;");
    let refused: usize = judged.uncounted.iter().map(|uncounted| uncounted.samples).sum();
    assert_eq!(refused, 256);
    close(check(&judged, 0).chance, 0.75, 0.002);
}

/// x > 3 mm in 52 of 100 samples; in the others another check stands, which always fails: they tell against it, the
/// first ones do not.
#[test]
fn a_check_of_the_other_branch_is_judged() {
    let judged = judged(
        "input x = 3.05.mm plus_minus 1.25.mm : \"Gap\";
         if x > 3.mm { check x > 1.mm : \"Wide\"; step over = x - 3.mm; } else { check x > 99.mm : \"Narrow\"; }",
    );
    let wide = check(&judged, 0);
    close(wide.present, 0.52, 0.002);
    assert_eq!((wide.chance, wide.verdict), (1.0, Verdict::Holds));
    let [narrow] = judged.runs[0].elsewhere.as_slice() else {
        panic!("{:?}", judged.runs)
    };
    assert_eq!(narrow.check.formula, "x > 99.mm");
    close(narrow.judged.present, 0.48, 0.002);
    close(narrow.judged.chance, 0.52, 0.002);
    assert_eq!(narrow.judged.verdict, Verdict::Unsure);
    // The middle of 1.8 mm to 3 mm.
    close(narrow.judged.margin.unwrap(), 0.0024 - 0.099, 0.000_01);
    assert!(
        matches!(&narrow.judged.advice, Some(Advice::Again { reading, .. }) if reading == "x"),
        "{narrow:?}"
    );
    let key = Key {
        run: 0,
        step: "over".to_owned(),
        items: Vec::new(),
    };
    close(judged.present[&key], 0.52, 0.002);
}

/// A check that is not there does not fail, one that cannot be calculated does: x < -0.5 in a quarter of the samples.
#[test]
fn what_cannot_be_calculated_fails_in_the_other_branch_too() {
    let judged = judged(
        "input x = 0.5 plus_minus 2;
         if x > 0 { check x > -1; } else { check sqrt(x + 0.5) >= 0; }",
    );
    let there = &judged.runs[0].elsewhere[0].judged;
    close(check(&judged, 0).chance, 0.75, 0.002);
    close(there.chance, 0.75, 0.002);
    // x from -0.5 to 0, of x from -0.5 to 2.5.
    close(there.present, 0.5 / 3.0, 0.002);
}

#[test]
fn refused_samples_are_grouped_by_line() {
    let judged = judged("input a = 1.mm plus_minus 2.mm; step b = sqrt(a/1.mm);\ncheck b < 5.0;");
    let [group] = judged.uncounted.as_slice() else {
        panic!("{:?}", judged.uncounted)
    };
    assert_eq!((group.samples, group.alike), (256, false));
    assert!(group.message.contains("does not exist"), "{}", group.message);
}
