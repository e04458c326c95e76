//! Reading quantities from what a person writes.

use core::f64::consts::PI;

use crankline_engine::quantity::Dimension;
use crankline_engine::quantity::text::{Spread, Values, read, read_with_signs};
use crankline_engine::quantity::units::Scale;

const INCH: f64 = 0.0254;
const DEGREE: f64 = PI / 180.0;

#[track_caller]
fn close(found: f64, expected: f64, text: &str) {
    assert!(
        (found - expected).abs() <= 4e-16 * expected.abs(),
        "{text:?}: {found} against {expected}"
    );
}

#[track_caller]
fn one(text: &str, expected: f64, dimension: Dimension) {
    let reading = read(text).unwrap_or_else(|error| panic!("{text:?}: {error}"));
    let Values::One(value) = reading.values else {
        panic!("{text:?} is a vector")
    };
    close(value, expected, text);
    assert_eq!(
        (reading.dimension, reading.spread),
        (dimension, Spread::None),
        "{text:?}"
    );
}

#[track_caller]
fn spread(text: &str, expected: f64, width: f64) {
    let reading = read(text).unwrap_or_else(|error| panic!("{text:?}: {error}"));
    let Values::One(value) = reading.values else {
        panic!("{text:?} is a vector")
    };
    close(value, expected, text);
    let Spread::Limits(found) = reading.spread else {
        panic!("{text:?} has no limits")
    };
    close(found, width, text);
}

#[track_caller]
fn refused(text: &str, at: &str, message: &str) {
    let error = read(text).expect_err(text);
    assert_eq!(
        (&text[error.at.clone()], error.to_string().as_str()),
        (at, message),
        "{text:?}"
    );
}

#[test]
fn lengths() {
    for (text, inches) in [
        ("3.5 in", 3.5),
        ("3.5in", 3.5),
        (" 3.5  inches ", 3.5),
        (".5 in", 0.5),
        ("5. in", 5.0),
        ("1e1 in", 10.0),
        ("12 11/16 in", 12.6875),
        ("12-11/16\"", 12.6875),
        ("12‑11/16 in", 12.6875),
        ("12–11/16 in", 12.6875),
        ("48-1/16 in", 48.0625),
        ("1 3/8\"", 1.375),
        ("1 3/8″", 1.375),
        ("1 3/8”", 1.375),
        ("11/16 in", 0.6875),
        ("-12 11/16 in", -12.6875),
        ("−12 11/16 in", -12.6875),
        ("+3 in", 3.0),
        ("2½ in", 2.5),
        ("2 ½ in", 2.5),
        ("¾\"", 0.75),
        ("4 ft 1-1/2 in", 49.5),
        ("4 ft 1 1/2 in", 49.5),
        ("4ft 1.5in", 49.5),
        ("4' 1-1/2\"", 49.5),
        ("4'1-1/2\"", 49.5),
        ("4′ 1 1/2″", 49.5),
        ("4'-1 1/2\"", 49.5),
        ("4' - 1 1/2\"", 49.5),
        ("4 ft - 1 1/2 in", 49.5),
        ("-4 ft 1-1/2 in", -49.5),
        ("4 ft", 48.0),
        ("1/2 ft", 6.0),
        ("83 thou", 0.083),
    ] {
        one(text, inches * INCH, Dimension::LENGTH);
    }
    one("612.7 mm", 0.6127, Dimension::LENGTH);
    one("40 µm", 40e-6, Dimension::LENGTH);
    one("40 \u{3bc}m", 40e-6, Dimension::LENGTH);
}

#[test]
fn angles() {
    for (text, degrees) in [
        ("3.4 deg", 3.4),
        ("3.4°", 3.4),
        ("3.4 degrees", 3.4),
        ("11° 30'", 11.5),
        ("11°30'", 11.5),
        ("11° 30' 15\"", 11.0 + 30.25 / 60.0),
        ("11° 30′ 15″", 11.0 + 30.25 / 60.0),
        ("11 deg 30 arcmin", 11.5),
        ("-11° 30'", -11.5),
        ("0.5 turn", 180.0),
    ] {
        one(text, degrees * DEGREE, Dimension::ANGLE);
    }
    one("2 mm/m", 0.002_f64.atan(), Dimension::ANGLE);
    one("1000 mm/m", PI / 4.0, Dimension::ANGLE);
}

#[test]
fn other_quantities() {
    one("3.54", 3.54, Dimension::NONE);
    one("41/11", 41.0 / 11.0, Dimension::NONE);
    one("-3e-2", -0.03, Dimension::NONE);
    one("75 %", 0.75, Dimension::NONE);
    one("75%", 0.75, Dimension::NONE);
    one("350 lbf ft", 350.0 * 4.448_221_615_260_5 * 0.3048, Dimension::TORQUE);
    one("350 ft-lb", 350.0 * 4.448_221_615_260_5 * 0.3048, Dimension::TORQUE);
    one("1.2 lb/ft", 1.2 * 0.453_592_37 / 0.3048, Dimension::LINE_DENSITY);
    one("36 km/h", 10.0, Dimension::SPEED);
    one("60 mph", 26.8224, Dimension::SPEED);
    one("2500 rpm", 2500.0 * PI / 30.0, Dimension::ANGULAR_SPEED);
    one("2.5 mm²", 2.5e-6, Dimension::AREA);
    one("1 in^2", INCH * INCH, Dimension::AREA);
    one("160 Ω", 160.0, Dimension::RESISTANCE);
    one("8.2 W/(m^2 K)", 8.2, Dimension::HEAT_TRANSFER);
    one("7.98 mΩ/m", 7.98e-3, Dimension::RESISTANCE_PER_LENGTH);
    one("2.5 ohm/1000 ft", 2.5 / 304.8, Dimension::RESISTANCE_PER_LENGTH);
    one("5 1/s", 5.0, Dimension::RATE);
    one("1 h 30 min", 5400.0, Dimension::TIME);
    one("3 lb 4 oz", 3.25 * 0.453_592_37, Dimension::MASS);
}

#[test]
fn temperatures_are_points_and_their_spread_a_difference() {
    one("20 °C", 293.15, Dimension::TEMPERATURE);
    one("68 °F", 293.15, Dimension::TEMPERATURE);
    one("-40 degF", 233.15, Dimension::TEMPERATURE);
    spread("68 degF +/- 1.8 degF", 293.15, 1.0);
    spread("68 ± 1.8 degF", 293.15, 1.0);
    spread("68 degF ± 1.8", 293.15, 1.0);
    spread("68 degF ± 1 K", 293.15, 1.0);
    assert_eq!(read("68 °F").unwrap().scale, Scale::Point);
    assert_eq!(read("9 delta_degF").unwrap().scale, Scale::Difference);
    one("9 delta_degF", 5.0, Dimension::TEMPERATURE);
}

#[test]
fn spreads() {
    for text in [
        "3.4 +/- 0.1 deg",
        "3.4 deg ± 0.1 deg",
        "3.4 plus_minus 0.1 deg",
        "3.4 deg ± 0.1",
        "3.4°±0.1°",
        "3.4 +- 0.1 deg",
    ] {
        spread(text, 3.4 * DEGREE, 0.1 * DEGREE);
    }
    spread("48-1/16 ± 1/32 in", 48.0625 * INCH, INCH / 32.0);
    spread("4 ft 1-1/2 in ± 1/16 in", 49.5 * INCH, INCH / 16.0);
    spread("3 in ± 0.5 mm", 3.0 * INCH, 0.5e-3);
    spread("250 N ± 2 %", 250.0, 5.0);
    spread("-250 N ± 2 %", -250.0, 5.0);
    spread("75 % ± 5 %", 0.75, 0.05);
    spread("5 ± 0", 5.0, 0.0);
    spread("1000 mm/m ± 2 mm/m", PI / 4.0, 0.001);
    let reading = read("3.4 deg std_dev 0.05 deg").unwrap();
    assert_eq!(reading.spread, Spread::StdDev(0.05 * PI / 180.0));
}

#[test]
fn vectors() {
    for text in [
        "(905, 22, -70) mm",
        "(905,22,-70)mm",
        "(905 mm, 22 mm, -70 mm)",
        "(0.905 m, 2.2 cm, −70 mm)",
        "(905; 22; -70) mm",
    ] {
        let reading = read(text).unwrap();
        let Values::Vector(values) = reading.values else {
            panic!("{text}")
        };
        for (value, expected) in values.into_iter().zip([0.905, 0.022, -0.07]) {
            close(value, expected, text);
        }
        assert_eq!(
            (reading.dimension, reading.spread),
            (Dimension::LENGTH, Spread::None),
            "{text}"
        );
    }
    assert_eq!(read("(905, 22, -70) +/- 1 mm").unwrap().spread, Spread::Limits(1e-3));
    assert_eq!(read("(905, 22, -70) mm ± 1").unwrap().spread, Spread::Limits(1e-3));
    let fractions = read("(35 5/8, 7/8, -2 3/4) in").unwrap();
    assert_eq!(
        fractions.values,
        Values::Vector([35.625 * 254.0 / 1e4, 0.875 * 254.0 / 1e4, -2.75 * 254.0 / 1e4])
    );
}

#[test]
fn words_for_signs() {
    let signs = Some(("tail down", "tail up"));
    let value = |text: &str| {
        let reading = read_with_signs(text, signs).unwrap_or_else(|error| panic!("{text}: {error}"));
        let Values::One(value) = reading.values else {
            panic!("{text}")
        };
        (value / DEGREE, reading.sign_word)
    };
    for text in [
        "3.2 deg tail up",
        "3.2° Tail  UP",
        "3.2 deg tail up ± 0.1 deg",
        "3.2 deg ± 0.1 deg tail up",
        "3.2 tail up ± 0.1 deg",
        "3° 12' tail up",
    ] {
        let (degrees, word) = value(text);
        close(degrees, -3.2, text);
        assert_eq!(word.as_deref(), Some("tail up"));
    }
    close(value("3.2 deg tail down").0, 3.2, "down");
    close(value("-3.2 deg").0, -3.2, "no word");
    for (text, message) in [
        (
            "-3.2 deg tail up",
            "a sign and the word \"tail up\" stand together (write one of the two)",
        ),
        (
            "3.2 deg tail upp",
            "\"tail\" is no unit that is known (the words for its sign are \"tail down\" and \"tail up\")",
        ),
        (
            "3.2 deg tail up ± 0.1 deg tail up",
            "the word for the sign stands here twice (write it once)",
        ),
        (
            "(1, 2, 3) mm tail up",
            "a vector has no sign that \"tail up\" could name (give each number its sign)",
        ),
    ] {
        assert_eq!(read_with_signs(text, signs).unwrap_err().to_string(), message, "{text}");
    }
    // The longer word where one ends in the other.
    let reading = read_with_signs("2 deg nose up", Some(("up", "nose up"))).unwrap();
    assert_eq!(reading.sign_word.as_deref(), Some("nose up"));
}

#[test]
fn what_could_mean_two_things_is_refused() {
    refused(
        "1,234 mm",
        ",",
        "a comma has no place in a number (write a point for decimals, 3.5, and nothing between thousands, 1234)",
    );
    refused(
        "3,5 mm",
        ",",
        "a comma has no place in a number (write a point for decimals, 3.5, and nothing between thousands, 1234)",
    );
    refused(
        "1 234 mm",
        "1 ",
        "two numbers stand beside each other (write 1234 mm, 12 11/16 in, 4 ft 1 in)",
    );
    refused(
        "3-4 in",
        "-4 in",
        "a stroke after a number is no unit (write 48-1/16 in for a mixed number, 3.4 +/- 0.1 deg for what lies between limits)",
    );
    refused(
        "48 - 1/16 in",
        "-",
        "a stroke after a number is no unit (write 48-1/16 in for a mixed number, 3.4 +/- 0.1 deg for what lies between limits)",
    );
    refused(
        "5/4 in",
        "5/4",
        "the fraction 5/4 is not below one: is the whole number right? (write 1 1/4 in for one and a quarter)",
    );
    refused(
        "12 16/16 in",
        "12 16/16",
        "the fraction 16/16 is not below one: is the whole number right? (write 1 1/4 in for one and a quarter)",
    );
    refused(
        "12 1/3 in",
        "12 1/3",
        "no rule is divided into parts of 1/3 (write decimals, 0.3333, if it is meant)",
    );
    refused(
        "1/3 in",
        "1/3",
        "no rule is divided into parts of 1/3 (write decimals, 0.3333, if it is meant)",
    );
    refused("1/0 in", "1/0", "the denominator is zero");
    refused("41/0", "41/0", "the denominator is zero");
    refused(
        "1/3 ± 1/16 in",
        "1/3",
        "no rule is divided into parts of 1/3 (write decimals, 0.3333, if it is meant)",
    );
    refused(
        "12.5/16 in",
        "12.5",
        "a fraction has whole numbers above and below the stroke (write 11/16 in, or decimals)",
    );
    refused(
        "12/16.5 in",
        "12/16",
        "a fraction has whole numbers above and below the stroke (write 11/16 in, or decimals)",
    );
    refused(
        "250 ± 2 %",
        "2",
        "it is not clear whether the value is in percent or the ± a share of it (write 75 % +/- 5 %, or the ± as a plain number)",
    );
    refused(
        "4 ft 1 in ± 1/16",
        "1/16",
        "the ± has no unit, and the value has several (write the ± with its unit)",
    );
    refused(
        "4.5 ft 1 in",
        "4.5",
        "the number before ft must be whole where smaller parts follow",
    );
    refused(
        "4 ft 13 in",
        "4 ft 13",
        "13 in are ft or more (below 12 are expected here)",
    );
    refused(
        "11° 75'",
        "11° 75",
        "75 arcmin are ° or more (below 60 are expected here)",
    );
    refused("4' -1/2\"", "-1/2", "a sign stands at the very front only");
    refused(
        "4 ft 1-1/2",
        "1-1/2",
        "the number after ft has no unit (write 4 ft 1-1/2 in, 11° 30')",
    );
    refused(
        "4 mm 3 in",
        "4 mm 3",
        "an amount in mm cannot go on in in (write 4 ft 1-1/2 in, 11° 30', or one number with its unit)",
    );
    refused(
        "8 W/m K",
        "K",
        "it is not clear whether this unit stands below the slash (write brackets: W/(m K))",
    );
}

#[test]
fn what_is_no_quantity_is_refused() {
    refused("", "", "nothing is written here (write a number and its unit: 3.5 in)");
    refused(
        "abc",
        "a",
        "a number was expected, not 'a' (write 3.5 in or 12 11/16 in)",
    );
    refused(
        "nan mm",
        "n",
        "a number was expected, not 'n' (write 3.5 in or 12 11/16 in)",
    );
    refused("3.4 dge", "dge", "\"dge\" is no unit that is known (did you mean deg?)");
    refused("3.4 Mm", "Mm", "\"Mm\" is no unit that is known (did you mean mm?)");
    refused(
        "3 mm +/-",
        "",
        "a number was expected, not the end (write 3.5 in or 12 11/16 in)",
    );
    refused("3 mm ± -1 mm", "-1", "a ± cannot be negative (write 3.4 +/- 0.1 deg)");
    refused(
        "3 mm ± 1 deg",
        "1",
        "the ± is in angle, the value in length (give both the same kind of unit)",
    );
    refused("3 ± 1 ± 2 mm", "±", "a second ± stands here");
    refused("1e999 mm", "1e999", "this number is too large");
    refused("1e308 km", "1e308 km", "this quantity is too large");
    refused(
        "(1, 2) mm",
        "(1, 2) mm",
        "a vector has three numbers, here are 2 (write (905, 22, -70) mm, and no comma within a number)",
    );
    refused(
        "(1,905, 22, -70) mm",
        "(1,905, 22, -70) mm",
        "a vector has three numbers, here are 4 (write (905, 22, -70) mm, and no comma within a number)",
    );
    refused("(1, 2, 3", "(", "this bracket is not closed (write (905, 22, -70) mm)");
    refused(
        "(1 mm, 2, 3)",
        "(1 mm, 2, 3)",
        "a vector has one unit behind its bracket, or one at each of its three numbers (write (905, 22, -70) mm)",
    );
    refused(
        "(1 mm, 2 mm, 3 deg)",
        "(1 mm, 2 mm, 3 deg)",
        "the three numbers of a vector measure different things",
    );
    refused(
        "20 degC ± 5 %",
        "5",
        "a ± in percent needs a single value that is no point on a scale (write the ± with its unit)",
    );
    assert!(read(&"9".repeat(257)).unwrap_err().message.contains("too long"));
    assert!(read(&"é".repeat(200)).unwrap_err().message.contains("too long"));
}
