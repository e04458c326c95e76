//! Writing quantities: the page's script writes what the engine writes, to the letter.

use super::random::Random;
use super::text_cases::{agrees, text_of};
use crankline_engine::outcome::{Amount, Phrase, Piece};
use crankline_engine::quantity::text::{Digits, Style, System, digits_for, write_number};
use crankline_engine::quantity::units::{Scale, all};
use crankline_engine::quantity::{Base, Dimension};
use crankline_engine::report::page::{style_json, units_json, writing};
use crankline_engine::report::written;
use crankline_engine::study::Interval;
use serde_json::{Value, json};

/// Halves that a decimal text cannot show, and what lies at the ends of an `f64`.
const AWKWARD: [f64; 24] = [
    0.0,
    -0.0,
    0.5,
    1.5,
    2.5,
    0.0625,
    -0.0625,
    0.000_976_562_5,
    123_456_789_012_345.5,
    123_456_789_012_344.5,
    1_234_567_890_123_455.0,
    999_999_999_999_999.5,
    9.999_999_999_999_995,
    9.5,
    95.0,
    0.095,
    1e15,
    1e16,
    5e-324,
    f64::MIN_POSITIVE,
    f64::MAX,
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
];

fn values(random: &mut Random, count: usize) -> Vec<f64> {
    let mut values = AWKWARD.to_vec();
    values.extend((0..count).map(|_| random.number(-20, 20)));
    values.extend((0..count / 10).map(|_| f64::from_bits(random.bits())));
    values
}

fn digits_json(digits: Digits) -> Value {
    match digits {
        Digits::Decimals(decimals) => json!({"decimals": decimals}),
        Digits::Place(place) => json!({"place": place}),
        Digits::Significant(count) => json!({"significant": count}),
    }
}

#[test]
fn numbers_have_the_engines_digits() {
    let mut random = Random::new(11);
    let mut cases = Vec::new();
    for value in values(&mut random, 3000) {
        let count = u8::try_from(random.below(14)).unwrap();
        let place = i32::from(count) - 9;
        for digits in [
            Digits::Decimals(count),
            Digits::Place(place),
            Digits::Significant(count),
        ] {
            let (given, expected) = (digits_json(digits), write_number(value, digits));
            cases.push(json!({"kind": "number", "value": text_of(value), "digits": given, "expected": expected}));
        }
        let width = random.number(-8, 4).abs();
        for width in [None, Some(width)] {
            let expected = digits_json(digits_for(value, width));
            let width = width.map(text_of);
            cases.push(json!({"kind": "digits", "value": text_of(value), "uncertainty": width, "expected": expected}));
        }
        cases.push(json!({"kind": "plain", "value": text_of(value), "expected": value.to_string()}));
        let size = value.abs();
        if size < 1e80 {
            let fixed = format!("{size:.*}", usize::from(count));
            cases.push(json!({"kind": "fixed", "value": text_of(size), "decimals": count, "expected": fixed}));
        }
    }
    // Two decimal texts are equally near: the quarters of large numbers.
    for _ in 0..2000 {
        let value = (4.0e15 * (0.3 + 0.6 * random.share())).trunc() / 4.0 + 0.25;
        cases.push(json!({"kind": "plain", "value": text_of(value), "expected": value.to_string()}));
    }
    for hundredths in -50..1100_i32 {
        let share = f64::from(hundredths) / 1000.0;
        let expected = written::in_samples(share);
        cases.push(json!({"kind": "samples", "share": text_of(share), "expected": expected}));
    }
    agrees(
        "text-numbers",
        &json!({"units": units_json(), "specs": [], "cases": cases}),
    );
}

/// Every dimension of a unit, some that have none, and what stands after `as` for them.
fn amounts() -> Vec<Amount> {
    let amount = |dimension, scale, style: Option<&str>, signs: Option<(&str, &str)>| Amount {
        si: 0.0,
        dimension,
        scale,
        slot: None,
        aside: false,
        style: style.map(str::to_owned),
        signs: signs.map(|(positive, negative)| (positive.to_owned(), negative.to_owned())),
    };
    let plain = |dimension| amount(dimension, Scale::Difference, None, None);
    let root = Dimension::TORQUE.power(1, 2).unwrap();
    let mut amounts: Vec<Amount> = all()
        .map(|unit| amount(unit.dimension, unit.scale, None, None))
        .collect();
    amounts.extend(all().map(|unit| amount(unit.dimension, unit.scale, Some(unit.name), None)));
    let twice = [
        "mm 0",
        "inch 3",
        "in 1/16",
        "ft in",
        "ft in 1/8",
        "in 1/64",
        "thou",
        "no unit at all",
    ];
    amounts.extend(twice.map(|style| amount(Dimension::LENGTH, Scale::Difference, Some(style), None)));
    let products = [
        (Dimension::HEAT_TRANSFER, "W/(m^2 K)"),
        (Dimension::SPEED, "m/s 2"),
        (Dimension::INERTIA, "lb ft^2"),
        (Dimension::NONE, "percent 1"),
    ];
    amounts.extend(products.map(|(dimension, style)| amount(dimension, Scale::Difference, Some(style), None)));
    for signs in [("left", "right"), ("nose down", "nose up")] {
        amounts.push(amount(Dimension::ANGLE, Scale::Difference, None, Some(signs)));
        amounts.push(amount(
            Dimension::ANGLE,
            Scale::Difference,
            Some("mm_per_m"),
            Some(signs),
        ));
        amounts.push(amount(
            Dimension::LENGTH,
            Scale::Difference,
            Some("in 1/32"),
            Some(signs),
        ));
        amounts.push(amount(Dimension::TEMPERATURE, Scale::Point, None, Some(signs)));
    }
    amounts.extend(
        [
            root,
            Dimension::of(0, 0, -2, 0, 0, 4),
            Dimension::of(1, 2, -3, 4, -5, 0),
        ]
        .map(plain),
    );
    amounts
}

/// A value, its interval and its ±, all of sizes that occur with the dimension.
fn numbers(random: &mut Random, amount: &Amount) -> (f64, Option<[f64; 2]>, f64) {
    let si = match random.below(8) {
        0 => 0.0,
        1 => random.number(-14, -8),
        2 => *random.pick(&AWKWARD),
        _ => random.number(-6, 8),
    };
    let si = if amount.dimension == Dimension::ANGLE && random.below(2) == 0 {
        si % 2.0
    } else {
        si
    };
    let width = random.number(-9, 2).abs() * if random.below(2) == 0 { si.abs() } else { 1.0 };
    let interval = match random.below(5) {
        0 => None,
        1 => Some([si, si]),
        2 => Some([si + width / 5.0, si + width]),
        3 => Some([0.0, width]),
        _ => Some([si - width, si + width * random.share()]),
    };
    (
        si,
        interval.filter(|ends| ends.iter().all(|end| end.is_finite())),
        width,
    )
}

#[test]
fn amounts_are_written_as_in_the_engine() {
    let mut random = Random::new(7);
    let (mut specs, mut cases) = (Vec::new(), Vec::new());
    for amount in amounts() {
        for system in [System::Inch, System::Metric] {
            specs.push(writing(&amount, system));
            for _ in 0..60 {
                cases.push(case(&mut random, &amount, system, specs.len() - 1));
            }
        }
    }
    assert!(
        specs
            .iter()
            .any(|spec| spec["usual"].as_array().is_some_and(|units| units.len() > 2))
    );
    agrees(
        "text-amounts",
        &json!({"units": units_json(), "specs": specs, "cases": cases}),
    );
}

fn case(random: &mut Random, amount: &Amount, system: System, spec: usize) -> Value {
    let (si, ends, width) = numbers(random, amount);
    let amount = Amount { si, ..amount.clone() };
    let interval = ends.map(|[low, high]| Interval {
        std_uncertainty: 0.0,
        low,
        median: si,
        high,
        present: 1,
    });
    let interval = interval.as_ref();
    let (size, like) = (random.number(-6, 6).abs(), random.number(-6, 6));
    // The style of a check belongs to its larger side.
    let given = (random.below(2) == 0).then(|| written::style_for(&amount, system, size));
    let style = given.clone().unwrap_or_else(|| written::style_for(&amount, system, si));
    let support = interval.and_then(|interval| written::support(&style, si, interval));
    let phrase = Phrase {
        pieces: vec![Piece::Amount(amount.clone())],
    };
    let as_like = Amount {
        si: like,
        ..amount.clone()
    };
    json!({
        "kind": "write",
        "spec": spec,
        "style": given.as_ref().map(style_json),
        "si": text_of(si),
        "low": interval.map(|interval| text_of(interval.low)),
        "high": interval.map(|interval| text_of(interval.high)),
        "halfWidth": text_of(width),
        "size": text_of(size),
        "like": text_of(like),
        "expected": {
            "amount": written::amount(&amount, system),
            "interval": written::with_interval(&amount, interval, system),
            "styled": written::styled_with_interval(&style, &amount, interval),
            "precise": written::formula(&phrase, system),
            "entered": written::entered(&amount, system),
            "reading": plus_minus(&style, si, width),
            "half": written::half_width(&style, width, si),
            "difference": written::difference(&style, size, si, support),
            "to": written::written_to(&as_like, si, size, system),
        },
    })
}

fn plus_minus(style: &Style, si: f64, width: f64) -> String {
    style.write_plus_minus(si, width)
}

/// The names that the page uses for the six powers stand in the engine's order.
#[test]
fn dimensions_are_powers_in_twelfths() {
    let table = units_json();
    let units = table["units"].as_array().unwrap();
    assert_eq!(units.len(), all().count());
    for (entry, unit) in units.iter().zip(all()) {
        let powers = Base::ALL.map(|base| unit.dimension.twelfths(base));
        assert_eq!(entry["dimension"], json!(powers), "{}", unit.name);
        let [numerator, divisor] = unit.fraction();
        assert_eq!((numerator / divisor).to_bits(), unit.factor.to_bits(), "{}", unit.name);
    }
}
