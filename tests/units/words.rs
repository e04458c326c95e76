//! Dimensions in words.

use crankline_engine::quantity::units::all;
use crankline_engine::quantity::{Dimension, words};

#[test]
fn dimensions_have_names_people_know() {
    for (dimension, name) in [
        (Dimension::NONE, "a number"),
        (Dimension::LENGTH, "a length"),
        (Dimension::ANGLE, "an angle"),
        (Dimension::AREA, "an area"),
        (Dimension::FORCE, "a force"),
        (Dimension::TORQUE, "a torque or energy"),
        (Dimension::PRESSURE, "a stress or pressure"),
        (Dimension::ANGULAR_SPEED, "an angular speed"),
        (Dimension::CURRENT, "an electric current"),
        (Dimension::of(2, 0, -1, 0, 0, 0), "a length² / time"),
        (Dimension::of(-2, 0, 0, 0, 0, 0), "a 1 / length²"),
        (Dimension::of(1, 1, -1, 0, 0, 0), "a mass · length / time"),
        (Dimension::LENGTH.power(3, 2).unwrap(), "a length^(3/2)"),
        (Dimension::of(12, 0, 0, 0, 0, 0), "a length^12"),
    ] {
        assert_eq!(words::with_article(&words::name_of(dimension)), name);
    }
}

#[test]
fn every_unit_measures_something_with_a_name() {
    for unit in all() {
        let name = words::name_of(unit.dimension);
        assert!(!name.contains('/') && !name.contains('^'), "{}: {name}", unit.name);
    }
}
