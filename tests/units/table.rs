//! The table of units against Pint (pint.toml) and against the definitions of SI.

use std::collections::{BTreeMap, BTreeSet};

use crankline_engine::quantity::units::{Scale, all, find, find_written};
use crankline_engine::quantity::{Base, Dimension};

/// The units of the script language, as its reference lists them.
const LANGUAGE: &str =
    "um mm cm m km inch ft yd mile thou mm2 cm2 m2 in2 ft2 mm3 cm3 cc m3 L in3 gal_us gal_imp mm4 in4
    ms s min h deg rad arcmin turn mm_per_m rpm rad_per_s rad_per_s2 Hz cycles_per_min m_per_s km_per_h mph ft_per_s
    m_per_s2 gee g kg lb oz slug tonne kg_per_m3 lb_per_in3 lb_per_ft3 kg_per_m lb_per_ft g_per_m2 oz_per_ft2 kg_per_s
    N kN lbf kgf N_per_mm lbf_per_in N_m lbf_ft lbf_in N_m_per_deg g_mm oz_in Pa kPa MPa GPa psi ksi bar mbar inHg
    J Wh W kW hp hp_metric BTU_per_h ton_cooling A mA V mV ohm mohm Ah C ohm_per_m mohm_per_m ohm_per_kft
    degC degF K delta_degC delta_degF W_per_m2 W_per_m_K W_per_m2_K m3_per_h L_per_min percent";

struct Row {
    si: f64,
    dimension: Dimension,
    at_100: Option<f64>,
}

fn pint() -> BTreeMap<String, Row> {
    let table: toml::Table = include_str!("pint.toml").parse().unwrap();
    let row = |row: &toml::Value| {
        let power = |index: usize| i16::try_from(row["powers"][index].as_integer().unwrap()).unwrap();
        let raw = Dimension::of(power(0), power(1), power(2), power(3), power(4), power(5));
        // Pint keeps every angle; our rule for products drops the idle ones.
        let dimension = raw.product(Dimension::NONE).unwrap();
        let at_100 = row.get("at_100").map(|value| value.as_float().unwrap());
        (
            row["name"].as_str().unwrap().to_owned(),
            Row {
                si: row["si"].as_float().unwrap(),
                dimension,
                at_100,
            },
        )
    };
    table["unit"].as_array().unwrap().iter().map(row).collect()
}

#[test]
fn every_factor_and_dimension_agrees_with_pint() {
    let pint = pint();
    for unit in all() {
        let theirs = &pint[unit.name];
        let apart = (unit.factor - theirs.si).abs() / theirs.si;
        assert!(apart < 1e-15, "{}: {} against {}", unit.name, unit.factor, theirs.si);
        if unit.slope {
            assert_eq!(unit.dimension, Dimension::ANGLE);
        } else {
            assert_eq!(unit.dimension, theirs.dimension, "{}", unit.name);
        }
        assert_eq!(unit.scale == Scale::Point, theirs.at_100.is_some(), "{}", unit.name);
        if let Some(at_100) = theirs.at_100 {
            assert!(
                (unit.to_si(100.0) - at_100).abs() < 1e-12,
                "{}: {} against {at_100}",
                unit.name,
                unit.to_si(100.0)
            );
        }
    }
    assert_eq!(pint.len(), all().count(), "Pint's table holds a unit that ours lacks");
}

#[test]
fn the_table_holds_the_units_of_the_language() {
    for name in LANGUAGE.split_whitespace() {
        assert!(find(name).is_some(), "{name}");
    }
    let beyond: Vec<&str> = all()
        .map(|unit| unit.name)
        .filter(|name| !LANGUAGE.split_whitespace().any(|n| n == *name))
        .collect();
    assert_eq!(beyond, ["day", "arcsec", "kJ", "mW"]);
}

#[test]
fn no_spelling_means_two_units() {
    let mut seen = BTreeSet::new();
    for unit in all() {
        let own: BTreeSet<&str> = [unit.name, unit.symbol]
            .into_iter()
            .chain(unit.spellings.iter().copied())
            .collect();
        for spelling in own {
            assert!(seen.insert(spelling), "{spelling} stands for two units");
            assert_eq!(
                find_written(spelling).map(|found| found.name),
                Some(unit.name),
                "{spelling}"
            );
        }
    }
}

#[test]
fn every_unit_says_what_it_is_and_where_it_comes_from() {
    for unit in all() {
        assert!(
            unit.name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_'),
            "{}",
            unit.name
        );
        for text in [unit.symbol, unit.words, unit.source] {
            assert!(!text.is_empty() && text.trim() == text, "{}", unit.name);
        }
    }
}

#[test]
fn values_come_back_from_si() {
    for unit in all() {
        // A slope's tangent is poorly rounded near a right angle: stay below 45°.
        for value in [-40.0, -0.7, 0.0, 1e-6, 0.35, 1.0, 37.5, 812.25] {
            let back = unit.from_si(unit.to_si(value));
            let allowed = 1e-15 * (value.abs() + unit.offset) * 4.0;
            assert!((back - value).abs() <= allowed, "{} {}: {back}", value, unit.name);
        }
    }
}

#[test]
fn decimal_units_meet_to_the_bit() {
    let si = |value: f64, name: &str| find(name).unwrap().to_si(value);
    for step in 1..2000_i32 {
        let centimetres = f64::from(step);
        assert_eq!(
            si(centimetres, "cm").to_bits(),
            si(centimetres * 10.0, "mm").to_bits(),
            "{step} cm"
        );
        assert_eq!(
            si(centimetres, "inch").to_bits(),
            si(centimetres * 1000.0, "thou").to_bits(),
            "{step} in"
        );
    }
}

#[test]
fn a_slope_is_the_angle_of_its_tangent() {
    let slope = find("mm_per_m").unwrap();
    let degrees = find("deg").unwrap();
    // A line at 45° falls as far as it runs.
    assert!((degrees.from_si(slope.to_si(1000.0)) - 45.0).abs() < 1e-13);
    assert!((slope.from_si(degrees.to_si(45.0)) - 1000.0).abs() < 1e-10);
    // The width of a ± is the slope of the conversion at the reading.
    let numeric = (slope.to_si(300.001) - slope.to_si(299.999)) / 2.0;
    assert!((slope.width_to_si(0.001, 300.0) - numeric).abs() < 1e-12);
}

#[test]
fn the_width_of_a_temperature_has_no_offset() {
    let fahrenheit = find("degF").unwrap();
    assert_eq!(fahrenheit.width_to_si(9.0, 68.0), 5.0);
    assert!((fahrenheit.to_si(32.0) - 273.15).abs() < 1e-12);
}

#[test]
fn products_add_powers_in_any_order_unless_an_angle_is_dropped() {
    // Of all products of three units' dimensions, only those with an angle may depend on the order: the angle of an
    // arc is dropped as soon as the arc is made. (rad m)/s is a speed; (rad/s) m still holds its angle.
    let dimensions: BTreeSet<Dimension> = all().map(|unit| unit.dimension).collect();
    let times = |a: Dimension, b: Dimension| a.product(b).unwrap();
    let mut differing = 0;
    for &a in &dimensions {
        for &b in &dimensions {
            assert_eq!(times(a, b), times(b, a));
            for &c in &dimensions {
                let (left, right) = (times(times(a, b), c), times(a, times(b, c)));
                if left != right {
                    differing += 1;
                    assert_eq!(left.without_angle(), right.without_angle());
                    assert!([a, b, c].iter().any(|d| d.twelfths(Base::Angle) != 0));
                }
            }
        }
    }
    assert!(differing > 0);
    let per_second = Dimension::RATE;
    assert_eq!(
        times(times(Dimension::ANGLE, Dimension::LENGTH), per_second),
        Dimension::SPEED
    );
    assert!(times(times(Dimension::ANGLE, per_second), Dimension::LENGTH).is_motion_with_angle());
}
