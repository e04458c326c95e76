//! What holds for any text and any number.

use crankline_engine::quantity::text::{Digits, Spread, Style, Values, read, read_with_signs, write_number};
use crankline_engine::quantity::units::{CompoundUnit, Scale, Unit, WrittenUnit, all, nearest};
use crankline_engine::quantity::{Dimension, words};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

fn unit() -> impl Strategy<Value = &'static Unit> {
    proptest::sample::select(all().collect::<Vec<_>>())
}

/// A unit that may be a factor of a product.
fn factor_unit() -> impl Strategy<Value = &'static Unit> {
    proptest::sample::select(
        all()
            .filter(|unit| !unit.slope && unit.scale == Scale::Difference)
            .collect::<Vec<_>>(),
    )
}

/// Text made of what readings are made of, more often than anything else.
fn scraps() -> impl Strategy<Value = String> {
    let scrap = proptest::sample::select(vec![
        "3",
        "12",
        "11/16",
        "0",
        "1/0",
        "-",
        "−",
        "+",
        ".",
        ",",
        " ",
        "  ",
        "'",
        "\"",
        "°",
        "′",
        "in",
        "ft",
        "mm",
        "deg",
        "lbf ft",
        "degC",
        "/",
        "(",
        ")",
        "^",
        "2",
        "±",
        "+/-",
        "plus_minus",
        "std_dev",
        "%",
        "e5",
        "½",
        "é",
        "tail up",
        "K",
        "m",
        "·",
        "⁻",
        "²",
        "1/s",
        ";",
        "–",
        "\u{2003}",
        "\u{0}",
    ]);
    proptest::collection::vec(scrap, 0..12).prop_map(|scraps| scraps.concat())
}

fn never_panics(text: &str) {
    for result in [read(text), read_with_signs(text, Some(("tail down", "tail up")))] {
        match result {
            Ok(reading) => {
                let Values::One(value) = reading.values else { return };
                assert!(value.is_finite());
            }
            Err(error) => assert!(
                text.get(error.at.clone()).is_some(),
                "{text:?}: {error} at {:?}",
                error.at
            ),
        }
    }
    for scale in [Scale::Difference, Scale::Point] {
        for dimension in [Dimension::LENGTH, Dimension::NONE, Dimension::TEMPERATURE] {
            if let Err(error) = Style::parse(text, dimension, scale) {
                assert!(
                    text.get(error.at.clone()).is_some(),
                    "{text:?}: {error} at {:?}",
                    error.at
                );
            }
        }
    }
    if let Err(error) = WrittenUnit::parse(text) {
        assert!(
            text.get(error.at.clone()).is_some(),
            "{text:?}: {error} at {:?}",
            error.at
        );
    }
    let _ = (CompoundUnit::parse(text), nearest(text), words::with_article(text));
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 4000,
        // The same cases every time: a failure elsewhere is a failure here.
        rng_seed: RngSeed::Fixed(1),
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn any_text_is_read_or_refused(text in any::<String>()) {
        never_panics(&text);
    }

    #[test]
    fn any_scraps_are_read_or_refused(text in scraps()) {
        never_panics(&text);
    }

    #[test]
    fn what_is_written_reads_the_same(unit in unit(), value in -1e5..1e5_f64, decimals in 0..8_u8) {
        // As shown: the number rounded to the decimals, in that unit.
        let style = Style::Decimal { unit: WrittenUnit::Single(unit), decimals: Some(decimals) };
        let si = unit.to_si(value);
        let text = style.write(si);
        let reading = read(&text).map_err(|error| TestCaseError::fail(format!("{text}: {error}")))?;
        let Values::One(again) = reading.values else { return Err(TestCaseError::fail("a vector")) };
        // Half a place in that unit, and the last bits of the conversion.
        let allowed = (0.5 * 10_f64.powi(-i32::from(decimals)) + 1e-9 * value.abs()) * unit.factor + 1e-12 * si.abs();
        prop_assert!((again - si).abs() <= allowed, "{text}: {again} against {si}");
        prop_assert_eq!((reading.dimension, reading.scale), (unit.dimension, unit.scale));
    }

    #[test]
    fn a_written_spread_reads_the_same(unit in unit(), value in 0.5..1e3_f64, share in 0.001..0.4_f64) {
        let style = Style::unit(WrittenUnit::Single(unit));
        let (si, width) = (unit.to_si(value), unit.width_to_si(value * share, value));
        let text = style.write_plus_minus(si, width);
        let reading = read(&text).map_err(|error| TestCaseError::fail(format!("{text}: {error}")))?;
        let Spread::Limits(again) = reading.spread else { return Err(TestCaseError::fail("no limits")) };
        // Two significant figures.
        prop_assert!((again / width - 1.0).abs() < 0.051, "{text}: {again} against {width}");
    }

    #[test]
    fn fractions_are_never_more_than_half_a_step_off(inches in -500.0..500.0_f64, power in 1..7_u32, feet in any::<bool>()) {
        let denominator = 2_u32.pow(power);
        let text = Style::Fraction { denominator, feet }.write(inches * 0.0254);
        let (nearest, off) = text.split_once(" less ").map(|(nearest, off)| (nearest, format!("-{off}")))
            .or_else(|| text.split_once(" plus ").map(|(nearest, off)| (nearest, off.to_owned())))
            .unwrap_or((&text, "0 in".to_owned()));
        let value = |text: &str| match read(text).unwrap().values { Values::One(si) => si / 0.0254, Values::Vector(_) => f64::NAN };
        let (nearest, off) = (value(nearest), value(&off));
        prop_assert!(off.abs() <= 0.5 / f64::from(denominator) + 0.0005, "{text}");
        prop_assert!((nearest + off - inches).abs() < 0.000_51, "{text}: {}", nearest + off);
    }

    #[test]
    fn numbers_come_back_within_their_last_place(value in -1e9..1e9_f64, decimals in 0..10_u8) {
        let text = write_number(value, Digits::Decimals(decimals));
        let again: f64 = text.parse().unwrap();
        prop_assert!((again - value).abs() <= 0.5 * 10_f64.powi(-i32::from(decimals)) + 1e-14 * value.abs(), "{text}");
        prop_assert!(text != "-0" && !text.starts_with("-0.0") || again != 0.0);
        let short = write_number(value, Digits::Significant(4));
        prop_assert!((short.parse::<f64>().unwrap() / value - 1.0).abs() < 0.000_51, "{short}");
    }

    #[test]
    fn powers_of_a_dimension_are_repeated_products(unit in unit(), power in 1..6_i16) {
        let mut product = Dimension::NONE;
        for _ in 0..power {
            product = product.product(unit.dimension).unwrap();
        }
        prop_assert_eq!(unit.dimension.power(power, 1), Some(product));
        prop_assert_eq!(product.power(1, power), Some(unit.dimension));
        prop_assert_eq!(product.quotient(product), Some(Dimension::NONE));
    }

    #[test]
    fn a_product_of_units_is_the_product_of_their_factors(a in factor_unit(), b in factor_unit(), power in 1..4_i16) {
        let Ok(product) = CompoundUnit::parse(&format!("{}/{}^{power}", a.name, b.name)) else { return Ok(()) };
        let factor = a.factor / b.factor.powi(i32::from(power));
        prop_assert!((product.factor / factor - 1.0).abs() < 2e-15);
        let again = CompoundUnit::parse(&product.text);
        prop_assert!(again.as_ref().is_ok_and(|again| again.dimension == product.dimension), "{}: {again:?}", product.text);
    }
}
