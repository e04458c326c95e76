//! Elementary functions against CORE-MATH, which rounds correctly: equal or next to it, everywhere.

use super::random::Random;
use crankline_engine::kernel;

const SPECIAL: [f64; 27] = [
    0.0,
    1.0,
    0.5,
    2.0,
    1.5,
    0.4375,
    0.6875,
    1.1875,
    2.4375,
    0.975,
    f64::EPSILON,
    1.0 - f64::EPSILON / 2.0,
    1.0 + f64::EPSILON,
    f64::MIN_POSITIVE,
    5e-324,
    1e-310,
    f64::MAX,
    f64::INFINITY,
    std::f64::consts::PI,
    std::f64::consts::FRAC_PI_2,
    std::f64::consts::FRAC_PI_4,
    1.0e6,
    1.0e22,
    709.782712893384,
    745.1332191019411,
    708.3964185322641,
    4_503_599_627_370_495.5,
];

/// How many representable numbers lie between two results; huge where one is NaN and the other is not.
fn steps_apart(a: f64, b: f64) -> u64 {
    fn ordered(x: f64) -> i64 {
        let bits = x.to_bits() as i64;
        if bits < 0 { i64::MIN - bits } else { bits }
    }
    match (a.is_nan(), b.is_nan()) {
        (true, true) => 0,
        (false, false) => ordered(a).abs_diff(ordered(b)),
        _ => u64::MAX,
    }
}

/// The function's result must be at most one number away from the reference, and a zero must have its sign.
fn check(name: &str, ours: f64, reference: f64, at: &[f64]) -> u64 {
    let steps = steps_apart(ours, reference);
    assert!(
        steps <= 1,
        "{name}{at:?} is {ours:e}, should be {reference:e}: {steps} steps"
    );
    if reference == 0.0 && ours == 0.0 {
        assert_eq!(ours.to_bits(), reference.to_bits(), "{name}{at:?}: sign of zero");
    }
    steps
}

/// Compares on special values, on a dense grid and at random between the ends, and at random over all bit patterns.
/// Gives the share of results that are not the correctly rounded one.
fn compare(name: &str, ours: fn(f64) -> f64, reference: fn(f64) -> f64, ends: (f64, f64)) -> f64 {
    let mut random = Random::new(1);
    let (low, high) = ends;
    let grid = (0..=100_000).map(|i| low + (high - low) * f64::from(i) / 100_000.0);
    let special = SPECIAL.into_iter().chain([f64::NAN]).flat_map(|x| [x, -x]);
    let mut points: Vec<f64> = special.chain(grid).collect();
    for _ in 0..200_000 {
        points.push(random.between(low, high));
        points.push(f64::from_bits(random.bits()));
        points.push(random.between(-1.0, 1.0) * 2.0_f64.powi(random.below(60) as i32 - 30));
    }
    let off: u64 = points.iter().map(|&x| check(name, ours(x), reference(x), &[x])).sum();
    off as f64 / points.len() as f64
}

#[test]
fn functions_of_one_number_are_within_one_ulp() {
    use core_math as right;
    let shares = [
        ("sin", compare("sin", kernel::sin, right::sin, (-10.0, 10.0))),
        ("cos", compare("cos", kernel::cos, right::cos, (-10.0, 10.0))),
        ("asin", compare("asin", kernel::asin, right::asin, (-1.0, 1.0))),
        ("acos", compare("acos", kernel::acos, right::acos, (-1.0, 1.0))),
        ("atan", compare("atan", kernel::atan, right::atan, (-5.0, 5.0))),
        ("exp", compare("exp", kernel::exp, right::exp, (-750.0, 720.0))),
        ("ln", compare("ln", kernel::ln, right::log, (0.0, 10.0))),
        ("cbrt", compare("cbrt", kernel::cbrt, right::cbrt, (-10.0, 10.0))),
    ];
    for (name, share) in shares {
        assert!(share < 0.1, "{name}: {share} of the results are not the nearest");
    }
}

#[test]
fn sine_and_cosine_keep_their_accuracy_where_the_reduction_is_hardest() {
    let mut random = Random::new(2);
    for _ in 0..300_000 {
        // Next to a whole number of quarter turns, where one of the two is nearly nothing.
        let turns = random.below(640_000) as f64;
        let x = turns * std::f64::consts::FRAC_PI_2;
        let x = f64::from_bits(x.to_bits() + random.below(3) as u64);
        check("sin", kernel::sin(x), core_math::sin(x), &[x]);
        check("cos", kernel::cos(x), core_math::cos(x), &[x]);
        let x = random.between(-2.0e6, 2.0e6);
        check("sin", kernel::sin(x), core_math::sin(x), &[x]);
        check("cos", kernel::cos(x), core_math::cos(x), &[x]);
    }
}

#[test]
fn lanes_give_the_bits_of_single_numbers() {
    let mut random = Random::new(3);
    let angles: Vec<f64> = (0..1000)
        .map(|_| random.between(-2.0e6, 2.0e6))
        .chain(SPECIAL)
        .collect();
    let (mut sines, mut cosines) = (vec![0.0; angles.len()], vec![0.0; angles.len()]);
    kernel::sin_lanes(&angles, &mut sines);
    kernel::cos_lanes(&angles, &mut cosines);
    for ((angle, sine), cosine) in angles.iter().zip(&sines).zip(&cosines) {
        assert_eq!(steps_apart(*sine, kernel::sin(*angle)), 0);
        assert_eq!(steps_apart(*cosine, kernel::cos(*angle)), 0);
    }
}

#[test]
fn functions_of_two_numbers_are_within_one_ulp() {
    let mut random = Random::new(4);
    let mut pairs = Vec::new();
    for a in SPECIAL.into_iter().chain([f64::NAN]).flat_map(|x| [x, -x]) {
        pairs.extend(SPECIAL.into_iter().chain([f64::NAN]).flat_map(|b| [(a, b), (a, -b)]));
    }
    for _ in 0..300_000 {
        let (a, b) = (random.between(-10.0, 10.0), random.between(-10.0, 10.0));
        pairs.extend([(a, b), (f64::from_bits(random.bits()), f64::from_bits(random.bits()))]);
        let factor = random.between(0.2, 5.0);
        pairs.push((a, a * factor));
        let any = f64::from_bits(random.bits());
        pairs.push((any, any * factor));
        pairs.push((any * 1.0e-18 * factor, any));
    }
    for (a, b) in pairs {
        check("atan2", kernel::atan2(a, b), core_math::atan2(a, b), &[a, b]);
        if a.is_nan() || b.is_nan() {
            continue; // C has numbers there: hypot(inf, nan), pow(nan, 0), pow(1, nan)
        }
        check("hypot", kernel::hypot(a, b), core_math::hypot(a, b), &[a, b]);
        check(
            "pow",
            kernel::pow(a.abs(), b),
            core_math::pow(a.abs(), b),
            &[a.abs(), b],
        );
        check(
            "pow",
            kernel::pow(a, b.trunc()),
            core_math::pow(a, b.trunc()),
            &[a, b.trunc()],
        );
    }
}

#[test]
fn directions_on_the_axes_are_exact() {
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};
    let directions = [
        ((0.0, 0.0), 0.0),
        ((-0.0, 0.0), -0.0),
        ((0.0, -0.0), PI),
        ((-0.0, -0.0), -PI),
        ((0.0, 1.0), 0.0),
        ((0.0, -1.0), PI),
        ((1.0, 0.0), FRAC_PI_2),
        ((-1.0, 0.0), -FRAC_PI_2),
        ((2.0, 2.0), FRAC_PI_4),
        ((f64::INFINITY, f64::INFINITY), FRAC_PI_4),
    ];
    for ((y, x), angle) in directions {
        assert_eq!(kernel::atan2(y, x).to_bits(), f64::to_bits(angle), "atan2({y}, {x})");
    }
}

#[test]
fn floor_and_choice_are_exact() {
    let mut random = Random::new(5);
    let specials = SPECIAL.into_iter().flat_map(|x| [x, -x]);
    let values: Vec<f64> = specials
        .chain((0..100_000).map(|_| f64::from_bits(random.bits())))
        .chain((-100..100).map(|i| f64::from(i) / 4.0))
        .filter(|x| !x.is_nan())
        .collect();
    for pair in values.windows(2) {
        let [a, b] = [pair[0], pair[1]];
        assert_eq!(kernel::floor(a).to_bits(), a.floor().to_bits(), "floor({a})");
        assert_eq!(kernel::min(a, b), a.min(b));
        assert_eq!(kernel::max(a, b), a.max(b));
    }
}

#[test]
fn no_function_swallows_nan() {
    let nan = f64::NAN;
    let one = [
        kernel::floor,
        kernel::sqrt,
        kernel::sin,
        kernel::cos,
        kernel::asin,
        kernel::acos,
        kernel::atan,
    ];
    assert!(
        one.iter()
            .chain(&[kernel::exp, kernel::ln, kernel::cbrt])
            .all(|f| f(nan).is_nan())
    );
    let two = [kernel::min, kernel::max, kernel::atan2, kernel::hypot, kernel::pow];
    assert!(
        two.iter()
            .all(|f| f(nan, 1.0).is_nan() && f(1.0, nan).is_nan() && f(nan, nan).is_nan() && f(nan, 0.0).is_nan())
    );
    assert!(kernel::hypot(f64::INFINITY, nan).is_nan());
    assert!(kernel::asin(1.0 + f64::EPSILON).is_nan() && kernel::acos(-2.0).is_nan());
}

#[test]
fn square_root_is_the_exactly_rounded_one() {
    assert_eq!(kernel::sqrt(2.0).to_bits(), std::f64::consts::SQRT_2.to_bits());
    assert!(kernel::sqrt(-1.0).is_nan());
}
