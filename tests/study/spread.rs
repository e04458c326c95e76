//! The long form of sampling, against closed forms and published worked examples.

use super::{Script, close};
use crankline_engine::study::{Spread, SpreadNumber, SpreadRequest, spread};

fn spread_of(text: &str, samples: usize) -> Spread {
    seeded(text, samples, 1)
}

fn seeded(text: &str, samples: usize, seed: u64) -> Spread {
    let script = Script::new(text);
    let (tape, outcomes) = script.once(None).unwrap_or_else(|error| panic!("{error}"));
    let mut told = 0;
    let request = SpreadRequest { samples, seed };
    let found = spread(&script, (&tape, &outcomes), request, &mut |done| told = done).unwrap();
    assert_eq!(told, samples, "progress ends with all samples");
    found
}

#[track_caller]
fn number<'a>(spread: &'a Spread, step: &str) -> &'a SpreadNumber {
    let mut numbers = spread.numbers.iter();
    numbers.find(|number| number.key.step == step).expect("it moves")
}

fn share(number: &SpreadNumber, reading: &str) -> f64 {
    let found = number.shares.iter().find(|(name, _)| name == reading);
    found.map_or(0.0, |(_, share)| *share)
}

#[track_caller]
fn close_by(found: f64, expected: f64, part: f64) {
    close(found, expected, part * expected.abs());
}

/// Values are kept for quantiles; who asks for more of them than any memory holds is told how many fit.
#[test]
fn more_than_memory_holds_is_refused() {
    let script = Script::new("input x = 1.mm plus_minus 0.1.mm : \"X\";\nfor k in 0..16000 { step y[k] = x * k; }");
    let (tape, outcomes) = script.once(None).unwrap();
    let request = SpreadRequest {
        samples: 16_384,
        seed: 1,
    };
    let refusal = spread(&script, (&tape, &outcomes), request, &mut |_| {}).err().unwrap();
    assert!(
        refusal.message().contains("take more memory than a spread may"),
        "{}",
        refusal.message()
    );
    assert_eq!(refusal.hints(), ["--samples 12500"]);
}

#[test]
fn two_rectangular_readings_make_a_triangle() {
    let spread = spread_of(
        "input a = 1.0 plus_minus 0.5; input b = 2.0 plus_minus 0.5; step sum = a + b;",
        1 << 14,
    );
    let sum = number(&spread, "sum");
    close(sum.mean, 3.0, 1e-4);
    // u² = 2 · 0.5²/3; the ends of the triangle's central 95 % lie at 1 - √0.05 of its half width.
    close_by(sum.std_dev, (2.0 * 0.25 / 3.0_f64).sqrt(), 1e-3);
    close_by(sum.high - 3.0, 1.0 - 0.05_f64.sqrt(), 2e-3);
    close_by(3.0 - sum.low, 1.0 - 0.05_f64.sqrt(), 2e-3);
    close(share(sum, "a"), 0.5, 0.01);
    assert!(sum.exact);
}

#[test]
fn a_square_of_nearly_nothing_is_chi_squared() {
    // One degree of freedom: mean 1, standard deviation √2, median 0.4549364, 97.5 % at 5.0238862 (tables of the chi-squared
    // distribution; scipy.stats.chi2.ppf).
    let spread = spread_of("input x = 0.0 std_dev 1.0; step square = x * x;", 1 << 16);
    let square = number(&spread, "square");
    close_by(square.mean, 1.0, 2e-3);
    close_by(square.std_dev, 2.0_f64.sqrt(), 5e-3);
    close_by(square.median, 0.454_936_4, 2e-3);
    close_by(square.high, 5.023_886_2, 3e-3);
}

#[test]
fn a_ratio_near_nothing_is_cauchys() {
    // Quantiles tan(π (p - ½)): 12.7062 at 97.5 %, elementary.
    let spread = spread_of(
        "input x = 0.0 std_dev 1.0; input y = 1e-9 std_dev 1.0; step ratio = x / y;",
        1 << 16,
    );
    let ratio = number(&spread, "ratio");
    close(ratio.median, 0.0, 0.01);
    close_by(ratio.high, 12.706_2, 0.02);
    close_by(ratio.low, -12.706_2, 0.02);
}

#[test]
fn very_many_samples_are_counted_and_say_so() {
    let spread = spread_of("input x = 3.0 std_dev 2.0; step y = x + 0.0 * x;", 200_000);
    let y = number(&spread, "y");
    assert!(!y.exact);
    assert_eq!(y.present, 200_000);
    close_by(y.std_dev, 2.0, 1e-3);
    // 1.959964 standard deviations (tables of the normal distribution).
    close_by(y.high, 3.0 + 2.0 * 1.959_964, 1e-3);
    close(y.low, 3.0 - 2.0 * 1.959_964, 2e-3);
}

#[test]
fn shares_of_a_function_with_known_ones() {
    // T. Ishigami, T. Homma, "An importance quantification technique in uncertainty analysis for computer models" (1990):
    // sin x + 7 sin² y + 0.1 z⁴ sin x, each within ± π. First-order indices 0.3139, 0.4424, 0 in closed form.
    let text = "
        input x = 0.rad plus_minus 1.rad * PI;
        input y = 0.rad plus_minus 1.rad * PI;
        input z = 0.rad plus_minus 1.rad * PI;
        step f = sin(x) + 7.0 * sin(y)**2 + 0.1 * (z / 1.rad)**4 * sin(x);
    ";
    let spread = spread_of(text, 1 << 16);
    let f = number(&spread, "f");
    close(share(f, "x"), 0.313_9, 0.01);
    close(share(f, "y"), 0.442_4, 0.01);
    close(share(f, "z"), 0.0, 0.005);
}

#[test]
fn samples_that_cannot_be_calculated_count_against_checks() {
    // A quarter of the limits lies below nothing.
    let text = "input a = 1.0 plus_minus 2.0; step root = sqrt(a); check root >= 0.0;";
    let spread = spread_of(text, 1 << 12);
    let refused: usize = spread.uncounted.iter().map(|uncounted| uncounted.samples).sum();
    close(refused as f64 / 4096.0, 0.25, 1e-3);
    close(spread.checks[0].chance(), 0.75, 1e-3);
    assert_eq!(spread.checks[0].present, 4096);
}

#[test]
fn a_seed_draws_the_same_samples_and_another_others() {
    let text = "input x = 3.0 plus_minus 1.0; input y = 2.0 std_dev 0.3; step product = x * y; check product <= 7.0;";
    let (one, again, other) = (seeded(text, 5000, 7), seeded(text, 5000, 7), seeded(text, 5000, 8));
    assert_eq!(one.numbers, again.numbers);
    assert_eq!(one.checks, again.checks);
    assert_ne!(one.numbers, other.numbers);
    close(one.checks[0].chance(), other.checks[0].chance(), 0.01);
}

/// JCGM 100:2008 (GUM), annex H.1, an end gauge: the published combined standard uncertainty with second-order terms is
/// 34 nm (33.81 recomputed), to first order 32 (31.66). The arcsine distribution of the cyclic variation is the sine of an
/// angle within ± π. Values from published.json, pub-gum-h1-u2.
#[test]
fn the_end_gauge_of_the_guide() {
    let text = "
        input standard = 50000623.0 std_dev 25.0;
        input comparator = 215.0 std_dev 5.8;
        input random = 0.0 std_dev 3.9;
        input systematic = 0.0 std_dev 6.7;
        input expansion = 11.5e-6 plus_minus 2.0e-6;
        input difference = 0.0 plus_minus 1.0e-6;
        input apart = 0.0 plus_minus 0.05;
        input mean = -0.1 std_dev 0.2;
        input phase = 0.rad plus_minus 1.rad * PI;
        let deviation = mean + 0.5 * sin(phase);
        let measured = comparator + random + systematic;
        step length = standard + measured - standard * (difference * deviation + expansion * apart);
    ";
    let spread = spread_of(text, 1 << 16);
    close_by(number(&spread, "length").std_dev, 33.806_5, 0.01);
}

/// JCGM 100:2008, annex H.2, resistance and reactance from correlated readings, drawn by the Cholesky factor of their
/// correlations: u(X) = 0.295717, u(Z) = 0.236603 ohm (pub-gum-h2-uX, pub-gum-h2-uZ, recomputed there).
#[test]
fn the_impedance_of_the_guide() {
    let text = "
        input p = 0.0 std_dev 1.0; input q = 0.0 std_dev 1.0; input r = 0.0 std_dev 1.0;
        let v = 4.999 + 3.2e-3 * p;
        let i = 19.661e-3 + 9.5e-6 * (-0.36 * p + 0.932952303175 * q);
        let f = 1.04446 + 7.5e-4 * (0.86 * p - 0.364863239891 * q + 0.356755961655 * r);
        step x = v / i * sin(f * 1.rad);
        step z = v / i;
    ";
    let spread = spread_of(text, 1 << 16);
    close_by(number(&spread, "x").std_dev, 0.295_717, 0.01);
    close_by(number(&spread, "z").std_dev, 0.236_603, 0.01);
}
