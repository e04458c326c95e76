//! Writing quantities for people.

use core::f64::consts::PI;

use crankline_engine::quantity::Dimension;
use crankline_engine::quantity::text::{Digits, Style, System, digits_for, usual_unit, write_number};
use crankline_engine::quantity::units::{Scale, all};

const INCH: f64 = 0.0254;
const DEGREE: f64 = PI / 180.0;

#[track_caller]
fn style(text: &str, dimension: Dimension) -> Style {
    Style::parse(text, dimension, Scale::Difference).unwrap_or_else(|error| panic!("{text}: {error}"))
}

#[track_caller]
fn refused(text: &str, dimension: Dimension, scale: Scale, message: &str) {
    assert_eq!(
        Style::parse(text, dimension, scale).expect_err(text).to_string(),
        message,
        "{text}"
    );
}

#[test]
fn numbers_are_rounded_half_away_from_zero() {
    for (value, digits, text) in [
        (0.0625, Digits::Decimals(3), "0.063"),
        (-0.0625, Digits::Decimals(3), "-0.063"),
        (2.5, Digits::Decimals(0), "3"),
        (0.15, Digits::Decimals(1), "0.2"),
        (2.675, Digits::Decimals(2), "2.68"),
        (0.1 + 0.2, Digits::Decimals(1), "0.3"),
        (9.995, Digits::Decimals(2), "10.00"),
        (-0.001, Digits::Decimals(1), "0.0"),
        (-0.0, Digits::Significant(4), "0"),
        (0.0, Digits::Place(-2), "0.00"),
        (123.4, Digits::Decimals(1), "123.4"),
        (1e15, Digits::Decimals(1), "1e15"),
        (12_698.4, Digits::Significant(4), "12698"),
        (2.345_678, Digits::Significant(4), "2.346"),
        (25.4, Digits::Significant(4), "25.4"),
        (100.0, Digits::Significant(4), "100"),
        (9.999_96, Digits::Significant(4), "10"),
        (0.000_123_456, Digits::Significant(4), "0.0001235"),
        (1.234_56e-7, Digits::Significant(4), "1.235e-7"),
        (9.999_96e-7, Digits::Significant(4), "1e-6"),
        (1.234_56e12, Digits::Significant(4), "1.235e12"),
        (12_345.0, Digits::Place(2), "12300"),
        (12_350.0, Digits::Place(2), "12400"),
        (62.0, Digits::Place(2), "100"),
        (42.0, Digits::Place(2), "0"),
        (3.4, Digits::Place(-2), "3.40"),
        (1.234e-9, Digits::Place(-11), "1.23e-9"),
        (f64::NAN, Digits::Decimals(1), "not a number"),
        (f64::INFINITY, Digits::Significant(4), "infinite"),
    ] {
        assert_eq!(write_number(value, digits), text, "{value:e} {digits:?}");
    }
}

#[test]
fn the_uncertainty_decides_the_last_place() {
    for (value, uncertainty, text) in [
        // JCGM 100:2008, 7.2.6 (from memory): 10.057 62 ohm with u = 27 milliohm is rounded to 10.058 ohm.
        (10.057_62, Some(0.027), "10.058"),
        (3.4, Some(0.058), "3.400"),
        (612.7, Some(0.63), "612.70"),
        (1234.5, Some(34.0), "1235"),
        (12_345.0, Some(340.0), "12350"),
        (12_345.0, Some(9960.0), "12000"),
        (3.0, Some(0.099_6), "3.00"),
        (3.0, Some(1e-30), "3.000000000"),
        (3.0, Some(0.0), "3"),
        (3.0, None, "3"),
        (3.0, Some(f64::NAN), "3"),
        (0.0, Some(0.18), "0.00"),
    ] {
        assert_eq!(
            write_number(value, digits_for(value, uncertainty)),
            text,
            "{value} {uncertainty:?}"
        );
    }
}

#[test]
fn styles_show_units() {
    for (text, dimension, si, shown) in [
        ("lbf ft", Dimension::TORQUE, 474.536_281_916_007_03, "350 lbf ft"),
        ("lbf_ft", Dimension::TORQUE, 474.536_281_916_007_03, "350 lbf ft"),
        ("mm 1", Dimension::LENGTH, 0.6127, "612.7 mm"),
        ("mm 0", Dimension::LENGTH, 0.6127, "613 mm"),
        ("mm", Dimension::LENGTH, 0.612_734, "612.7 mm"),
        ("deg", Dimension::ANGLE, 3.2 * DEGREE, "3.2°"),
        ("deg 2", Dimension::ANGLE, -3.2 * DEGREE, "-3.20°"),
        ("mm_per_m", Dimension::ANGLE, PI / 4.0, "1000 mm/m"),
        ("percent", Dimension::NONE, 0.754, "75.4 %"),
        ("", Dimension::NONE, 3.5454, "3.545"),
        ("2", Dimension::NONE, 3.5454, "3.55"),
        ("W/(m^2 K) 1", Dimension::HEAT_TRANSFER, 8.25, "8.3 W/(m² K)"),
        ("rad_per_s2", Dimension::of(0, 0, -2, 0, 0, 4), 191.0, "191 rad/s²"),
        ("N_m_per_deg", Dimension::TORQUE, 180.0 / PI, "1 N m/°"),
    ] {
        assert_eq!(style(text, dimension).write(si), shown, "{text}");
    }
    let celsius = Style::parse("degC 1", Dimension::TEMPERATURE, Scale::Point).unwrap();
    assert_eq!(celsius.write(293.15), "20.0 °C");
    assert_eq!(
        Style::parse("K", Dimension::TEMPERATURE, Scale::Point)
            .unwrap()
            .write(293.15),
        "293.2 K"
    );
    assert_eq!(style("delta_degF", Dimension::TEMPERATURE).write(5.0), "9 Δ°F");
}

#[test]
fn fractions_say_how_far_off_they_are() {
    for (text, inches, shown) in [
        ("in 1/16", 12.6875, "12 11/16 in"),
        ("in 1/16", 12.68, "12 11/16 in less 0.008 in"),
        ("in 1/16", 12.70, "12 11/16 in plus 0.013 in"),
        ("in 1/16", -12.68, "-12 11/16 in plus 0.008 in"),
        ("in 1/16", -12.70, "-12 11/16 in less 0.013 in"),
        ("inch 1/16", 12.0, "12 in"),
        ("in 1/16", 11.9999, "12 in"),
        ("in 1/16", 0.25, "1/4 in"),
        ("in 1/16", 0.01, "0 in plus 0.010 in"),
        ("in 1/16", -0.01, "0 in less 0.010 in"),
        ("in 1/16", 0.0, "0 in"),
        ("in 1/32", 1.0 / 32.0, "1/32 in"),
        ("in 1/2", 2.5, "2 1/2 in"),
        ("ft in", 49.5, "4 ft 1 1/2 in"),
        ("ft in 1/8", 49.51, "4 ft 1 1/2 in plus 0.010 in"),
        ("ft in", 48.0, "4 ft 0 in"),
        ("ft in", -49.5, "-4 ft 1 1/2 in"),
        ("ft in", 7.5, "7 1/2 in"),
        ("in 1/16", 1e12, "1000000000000.000 in"),
    ] {
        assert_eq!(
            style(text, Dimension::LENGTH).write(inches * INCH),
            shown,
            "{text} {inches}"
        );
    }
}

#[test]
fn a_style_that_does_not_suit_is_refused() {
    let (point, difference) = (Scale::Point, Scale::Difference);
    refused(
        "deg",
        Dimension::LENGTH,
        difference,
        "cannot show a length in °, a unit of angle",
    );
    refused(
        "in 1/16",
        Dimension::ANGLE,
        difference,
        "cannot show an angle in fractions of an inch, a unit of length",
    );
    refused(
        "rpm",
        Dimension::RATE,
        difference,
        "cannot show a rate in rpm, a unit of angular speed",
    );
    refused(
        "deg",
        Dimension::of(0, 0, 0, 0, 0, 2),
        difference,
        "cannot show an angle squared in °, a unit of angle",
    );
    refused(
        "",
        Dimension::LENGTH,
        difference,
        "cannot show a length as a plain number (name its unit)",
    );
    refused(
        "2",
        Dimension::LENGTH,
        difference,
        "cannot show a length as a plain number (name its unit)",
    );
    refused(
        "degC",
        Dimension::TEMPERATURE,
        difference,
        "a temperature difference cannot be shown in °C (write delta_degC or K)",
    );
    refused(
        "delta_degF",
        Dimension::TEMPERATURE,
        point,
        "a temperature cannot be shown in Δ°F, a unit of differences (write degF)",
    );
    refused(
        "in 1/10",
        Dimension::LENGTH,
        difference,
        "1/10 is no division of a rule (write 1/2, 1/4, 1/8, 1/16, 1/32 or 1/64)",
    );
    refused(
        "in 3/16",
        Dimension::LENGTH,
        difference,
        "3/16 is no division of a rule (write 1/2, 1/4, 1/8, 1/16, 1/32 or 1/64)",
    );
    refused(
        "mm 1/16",
        Dimension::LENGTH,
        difference,
        "fractions are of an inch (write in 1/16, or mm 1 for one decimal)",
    );
    refused(
        "mm 13",
        Dimension::LENGTH,
        difference,
        "13 decimals are too many: 12 at most",
    );
    refused(
        "Mm",
        Dimension::LENGTH,
        difference,
        "\"Mm\" is no unit that is known (did you mean mm?)",
    );
}

#[test]
fn usual_units_are_those_of_the_shop() {
    let usual = |dimension, system, si| Style::usual(dimension, Scale::Difference, system, si).write(si);
    for (dimension, si, metric, inch) in [
        (Dimension::LENGTH, 0.0762, "76.2 mm", "3 in"),
        (Dimension::LENGTH, 0.0, "0 mm", "0 in"),
        (Dimension::LENGTH, 1609.344, "1609 m", "1 mi"),
        (Dimension::AREA, 2.5e-4, "250 mm²", "0.3875 in²"),
        (Dimension::VOLUME, 1e-5, "10000 mm³", "0.6102 in³"),
        (Dimension::VOLUME, 0.06, "60 L", "15.85 US gal"),
        (Dimension::SECOND_MOMENT, 1e-7, "100000 mm⁴", "0.2403 in⁴"),
        (Dimension::FORCE, 4000.0, "4000 N", "899.2 lbf"),
        (Dimension::TORQUE, 600.0, "600 N m", "442.5 lbf ft"),
        (Dimension::PRESSURE, 97e6, "97 MPa", "14.07 ksi"),
        (Dimension::PRESSURE, 60e3, "60 kPa", "8.702 psi"),
        (Dimension::PRESSURE, 200e9, "200 GPa", "29008 ksi"),
        (Dimension::SPEED, 10.0, "36 km/h", "22.37 mph"),
        (Dimension::ANGULAR_SPEED, PI * 150.0, "4500 rpm", "4500 rpm"),
        (Dimension::ANGULAR_ACCELERATION, 609.1, "609.1 rad/s²", "609.1 rad/s²"),
        (Dimension::of(0, 0, -2, 0, 0, 4), 609.1, "609.1 rad/s²", "609.1 rad/s²"),
        (Dimension::ANGLE, 3.0 * DEGREE, "3°", "3°"),
        (Dimension::of(0, 0, 0, 0, 0, 2), 0.0027, "0.0027 rad²", "0.0027 rad²"),
        (Dimension::MASS, 1310.0, "1310 kg", "2888 lb"),
        (Dimension::FORCE_PER_LENGTH, 35e3, "35 N/mm", "199.9 lbf/in"),
        (Dimension::POWER, 250e3, "250 kW", "335.3 hp"),
        (Dimension::POWER, 60.0, "60 W", "60 W"),
        (Dimension::CURRENT, 0.03, "30 mA", "30 mA"),
        (Dimension::TEMPERATURE, 5.0, "5 K", "9 Δ°F"),
        (Dimension::DENSITY, 7850.0, "7850 kg/m³", "0.2836 lb/in³"),
        (Dimension::DENSITY, 1.2, "1.2 kg/m³", "0.07491 lb/ft³"),
        (
            Dimension::of(1, 1, -3, -2, -1, 0),
            1.851e-5,
            "0.01851 mΩ/(m K)",
            "0.01851 mΩ/(m K)",
        ),
        (Dimension::TIME, 40.0 * 60.0, "40 min", "40 min"),
        (Dimension::TIME, 1048.0 * 3600.0, "43.67 days", "43.67 days"),
        (Dimension::EXPANSION, 12e-6, "12 µm/(m K)", "12 µm/(m K)"),
        (Dimension::RESISTIVITY, 1.724e-8, "0.01724 Ω mm²/m", "0.01724 Ω mm²/m"),
        (Dimension::of(2, 1, -1, 0, 0, 0), 3.0, "3 kg m²/s", "3 kg m²/s"),
        (Dimension::NONE, 3.5454, "3.545", "3.545"),
    ] {
        assert_eq!(usual(dimension, System::Metric, si), metric);
        assert_eq!(usual(dimension, System::Inch, si), inch);
    }
    let point = |system| Style::usual(Dimension::TEMPERATURE, Scale::Point, system, 293.15).write(293.15);
    assert_eq!(
        (point(System::Metric).as_str(), point(System::Inch).as_str()),
        ("20 °C", "68 °F")
    );
}

#[test]
fn the_usual_unit_measures_what_it_shows() {
    let systems = [System::Inch, System::Metric];
    for unit in all() {
        for (system, size) in systems
            .into_iter()
            .flat_map(|system| [0.0, 1e-9, 1e-3, 1.0, 1e3, 1e12].map(|size| (system, size)))
        {
            let usual = usual_unit(unit.dimension, unit.scale, system, size);
            assert_eq!(
                (usual.dimension(), usual.scale()),
                (unit.dimension, unit.scale),
                "{} {system:?} {size}",
                unit.name
            );
        }
    }
}

#[test]
fn a_reading_is_written_with_its_spread() {
    for (text, dimension, si, width, shown) in [
        ("deg", Dimension::ANGLE, 3.4 * DEGREE, 0.1 * DEGREE, "3.4° ± 0.1°"),
        (
            "inch",
            Dimension::LENGTH,
            3.0 * INCH,
            0.005 * INCH,
            "3.000 in ± 0.005 in",
        ),
        (
            "inch",
            Dimension::LENGTH,
            3.0625 * INCH,
            0.05 * INCH,
            "3.063 in ± 0.05 in",
        ),
        ("mm", Dimension::LENGTH, 0.905, 0.001, "905 mm ± 1 mm"),
        (
            "in 1/16",
            Dimension::LENGTH,
            12.6875 * INCH,
            INCH / 32.0,
            "12 11/16 in ± 0.031 in",
        ),
        ("", Dimension::NONE, 3.54, 0.01, "3.54 ± 0.01"),
    ] {
        assert_eq!(style(text, dimension).write_plus_minus(si, width), shown);
    }
    let fahrenheit = Style::parse("degF", Dimension::TEMPERATURE, Scale::Point).unwrap();
    assert_eq!(fahrenheit.write_plus_minus(293.15, 10.0 / 9.0), "68 °F ± 2 °F");
}
