//! Roots, largest values and integrals with closed forms.

use super::random::Random;
use crankline_engine::kernel::{self, MaximumError, RootError, Settling, integral, maximum, quadrature, root};
use std::convert::Infallible;

/// The root and how many calls it took.
fn counted(f: impl Fn(f64) -> f64, lo: f64, hi: f64) -> (f64, usize) {
    let mut calls = 0;
    let counting = |x: f64| {
        calls += 1;
        Ok::<f64, Infallible>(f(x))
    };
    let x = root(counting, lo, hi).unwrap();
    (x, calls)
}

#[test]
fn roots_are_exact_to_the_last_bit() {
    type Case = (fn(f64) -> f64, f64, f64, f64);
    let cases: [Case; 8] = [
        (|x| x * x - 2.0, 0.0, 2.0, std::f64::consts::SQRT_2),
        (|x| kernel::cos(x), 0.0, 3.0, std::f64::consts::FRAC_PI_2),
        (|x| kernel::exp(x) - 10.0, -5.0, 20.0, std::f64::consts::LN_10),
        (|x| x - 0.1, 0.0, 1e6, 0.1),
        (|x| if x < 0.3 { -1.0 } else { 1.0 }, 0.0, 1.0, 0.3),
        (|x| kernel::atan(1e6 * (x - 0.7)), 0.0, 1.0, 0.7),
        (|x| 1.0 / (x - 0.2) - 1e9, 0.2000000001, 1.0, 0.200000001),
        (|x| x * x * x - 1e-9, -1.0, 5.0, 1e-3),
    ];
    for (case, (f, lo, hi, expected)) in cases.into_iter().enumerate() {
        for (from, to) in [(lo, hi), (hi, lo)] {
            let (x, calls) = counted(f, from, to);
            assert!(
                (x - expected).abs() <= 2.5e-16 * expected.abs(),
                "case {case}: {x:e} {expected:e}"
            );
            let neighbour_changes = f(x) == 0.0 || f(x) * f(x.next_up()) <= 0.0 || f(x) * f(x.next_down()) <= 0.0;
            assert!(neighbour_changes, "case {case}");
            assert!(calls < 80, "case {case}: {calls} calls");
        }
    }
}

#[test]
fn smooth_roots_take_few_calls_and_any_root_ends() {
    let mut random = Random::new(30);
    for _ in 0..2000 {
        let (a, b, c) = (
            random.between(-3.0, 3.0),
            random.between(-5.0, 0.0),
            random.between(0.5, 5.0),
        );
        let f = |x: f64| c * (x - a) + 0.3 * kernel::sin(c * (x - a));
        let (x, calls) = counted(f, a + b - 0.01, a + c);
        assert!((x - a).abs() <= 1e-15 * a.abs().max(0.1), "{x} {a}");
        assert!(calls < 40, "{calls}");
    }
    assert!(counted(|x| x * x * x, -1.0, 2.0).0.abs() < 1e-30);
    assert!(counted(|x| kernel::pow(x, 9.0), -1.0, 2.0).1 < 500);
    assert_eq!(counted(|x| x, 0.0, 1.0), (0.0, 2));
    assert_eq!(counted(|x| x - 1.0, 0.0, 1.0), (1.0, 2));
}

#[test]
fn intervals_without_a_root_are_refused() {
    let refused = |f: fn(f64) -> Result<f64, &'static str>, lo, hi| root(f, lo, hi).unwrap_err();
    assert_eq!(
        refused(|x| Ok(x + 3.0), 0.0, 1.0),
        RootError::NoSignChange { low: 3.0, high: 4.0 }
    );
    assert_eq!(refused(|x| Ok(1.0 / x), 0.0, 1.0), RootError::NotFinite { at: 0.0 });
    assert_eq!(
        refused(Ok, -1.0, f64::INFINITY),
        RootError::NotFinite { at: f64::INFINITY }
    );
    assert_eq!(refused(|_| Err("no"), 0.0, 1.0), RootError::Function("no"));
}

#[test]
fn the_largest_value_is_the_global_one() {
    let largest = |f: &dyn Fn(f64) -> f64, lo, hi| maximum(|x| Ok::<f64, Infallible>(f(x)), lo, hi).unwrap();
    // Many peaks under an envelope: sin(20 x) · x is largest at the last peak, where tan(20x) = -20x.
    let (x, value) = largest(&|x| x * kernel::sin(20.0 * x), 0.0, 1.5);
    let exact = counted(|x| kernel::sin(20.0 * x) + 20.0 * x * kernel::cos(20.0 * x), 1.2, 1.4).0;
    assert!(
        (x - exact).abs() < 1e-8 && value == x * kernel::sin(20.0 * x),
        "{x} {exact}"
    );
    // A corner, and the ends.
    let (x, value) = largest(&|x| 1.0 - (x - 0.123456789).abs(), 0.0, 1.0);
    assert!((x - 0.123456789).abs() < 1e-11 && (value - 1.0).abs() < 1e-11);
    assert_eq!(largest(&|x| x, -2.0, 7.0), (7.0, 7.0));
    assert_eq!(largest(&|x| -x, -2.0, 7.0), (-2.0, 2.0));
    assert_eq!(largest(&|x| -x, 7.0, -2.0), (-2.0, 2.0));
    assert_eq!(largest(&|_| 4.0, 3.0, 3.0), (3.0, 4.0));
    assert_eq!(largest(&|_| 4.0, 1.0, 3.0).1, 4.0);
    // A round peak anywhere.
    let mut random = Random::new(31);
    for _ in 0..500 {
        let top = random.between(0.0, 1.0);
        let (x, value) = largest(&|x| kernel::cos(3.0 * (x - top)), 0.0, 1.0);
        assert!((x - top).abs() < 2e-8 && value > 1.0 - 1e-15, "{x} {top}");
    }
}

#[test]
fn functions_that_are_not_finite_have_no_largest_value() {
    let refused = |f: fn(f64) -> Result<f64, &'static str>, lo, hi| maximum(f, lo, hi).unwrap_err();
    assert_eq!(refused(|x| Ok(1.0 / x), -1.0, 1.0), MaximumError::NotFinite { at: 0.0 });
    assert!(matches!(refused(Ok, f64::NAN, 1.0), MaximumError::NotFinite { .. }));
    assert_eq!(refused(|_| Err("no"), 0.0, 1.0), MaximumError::Function("no"));
}

#[test]
fn integrals_have_their_closed_forms() {
    let over = |f: &dyn Fn(f64) -> f64, a, b| integral(|x| Ok::<f64, Infallible>(f(x)), a, b).unwrap();
    assert!((over(&|x| kernel::sin(x), 0.0, std::f64::consts::PI) - 2.0).abs() < 1e-14);
    assert!((over(&|x| kernel::exp(x), 3.0, -1.0) - (f64::exp(-1.0) - f64::exp(3.0))).abs() < 1e-13);
    assert!((over(&|x| kernel::pow(x, 15.0), 0.0, 2.0) - 4096.0).abs() < 1e-11);
    assert!((over(&|x| 1.0 / (1.0 + x * x), 0.0, 1.0) - std::f64::consts::FRAC_PI_4).abs() < 1e-15);
    assert!((over(&|x| kernel::cos(60.0 * x), 0.0, 1.0) - f64::sin(60.0) / 60.0).abs() < 1e-14);
    assert_eq!(over(&|x| x, 2.0, 2.0), 0.0);
    assert_eq!(quadrature(0.0, 1.0).count(), 128);
    let points: Vec<f64> = quadrature(-1.0, 1.0).map(|(x, _)| x).collect();
    assert!(points.windows(2).all(|pair| pair[0] < pair[1]));
    assert_eq!(integral(|_| Err::<f64, &str>("no"), 0.0, 1.0), Err("no"));
}

fn settles(f: impl Fn(f64) -> f64, a: f64, b: f64) -> bool {
    let mut settling = Settling::default();
    quadrature(a, b).for_each(|(x, weight)| settling.add(weight, f(x), 0.0));
    settling.is_settled()
}

#[test]
fn integrals_over_poles_do_not_settle_wherever_the_pole_is() {
    for place in 0..1000 {
        let pole = f64::from(place) / 1000.0 + 1e-5;
        assert!(!settles(|x| 1.0 / (x - pole), 0.0, 1.0), "{pole}");
        assert!(!settles(|x| -3e9 / ((x - pole) * (x - pole)), 0.0, 1.0), "{pole}");
        assert!(!settles(|x| kernel::pow(x - pole, -4.0), 0.0, 1.0), "{pole}");
        assert!(settles(|x| (x - pole).abs(), 0.0, 1.0), "a bend at {pole}");
    }
    assert!(!settles(|x| 1.0 / x, 0.0, 1.0) && !settles(|x| kernel::sin(x) / kernel::cos(x), 3.0, 0.0));
}

#[test]
fn integrals_of_what_a_script_writes_settle() {
    assert!(settles(|x| kernel::sin(62.0 * x), 0.0, 1.0), "ten periods");
    assert!(settles(|x| kernel::sin(100.0 * x), 0.0, 1.0), "sixteen periods");
    assert!(settles(|x| kernel::exp(-400.0 * x * x), -1.0, 1.0), "a narrow bell");
    assert!(settles(kernel::sqrt, 0.0, 1.0));
    assert!(settles(|x| kernel::exp(20.0 * x), 1.0, 0.0));
    assert!(settles(|x| kernel::exp(-x * x / 2.0), -6.0, 6.0));
    assert!(settles(|_| 0.0, 0.0, 1.0) && settles(|x| x, 2.0, 2.0));
    assert!(settles(|x| kernel::max(0.0, x - 0.31), 0.0, 1.0), "a bend");
}
