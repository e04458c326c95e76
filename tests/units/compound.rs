//! Products of powers of units.

use crankline_engine::quantity::units::{CompoundUnit, WrittenUnit, find};

use crankline_engine::quantity::Dimension;

#[test]
fn products_have_factor_dimension_and_symbol() {
    let pound_force = 4.448_221_615_260_5;
    for (text, factor, dimension, shown) in [
        ("W/(m^2 K)", 1.0, Dimension::HEAT_TRANSFER, "W/(m² K)"),
        ("W m^-2 K^-1", 1.0, Dimension::HEAT_TRANSFER, "W/(m² K)"),
        ("W m⁻² K⁻¹", 1.0, Dimension::HEAT_TRANSFER, "W/(m² K)"),
        ("W/m2/K", 1.0, Dimension::HEAT_TRANSFER, "W/(m² K)"),
        ("N mm", 1e-3, Dimension::TORQUE, "N mm"),
        ("kN·m", 1e3, Dimension::TORQUE, "kN m"),
        ("kN.m", 1e3, Dimension::TORQUE, "kN m"),
        ("kN*m", 1e3, Dimension::TORQUE, "kN m"),
        ("kN-m", 1e3, Dimension::TORQUE, "kN m"),
        ("kg/m^3", 1.0, Dimension::DENSITY, "kg/m³"),
        ("g/cm**3", 1e3, Dimension::DENSITY, "g/cm³"),
        ("lbf ft", pound_force * 0.3048, Dimension::TORQUE, "lbf ft"),
        ("lbf/in^2", pound_force / (0.0254 * 0.0254), Dimension::PRESSURE, "psi"),
        ("mm²", 1e-6, Dimension::AREA, "mm²"),
        ("mm2 mm2", 1e-12, Dimension::SECOND_MOMENT, "mm² mm²"),
        ("(m/s)^2", 1.0, Dimension::of(2, 0, -2, 0, 0, 0), "m²/s²"),
        ("(mm2)^2", 1e-12, Dimension::SECOND_MOMENT, "mm⁴"),
        ("mm/m^1", 1e-3, Dimension::NONE, "(mm/m)"),
        ("lb ft^1", 0.453_592_37 * 0.3048, Dimension::UNBALANCE, "(lb ft)"),
        ("lb ft", pound_force * 0.3048, Dimension::TORQUE, "lbf ft"),
        ("1/K", 1.0, Dimension::EXPANSION, "1/K"),
        ("1/delta_degF", 1.8, Dimension::EXPANSION, "1/Δ°F"),
        ("ohm mm^2/m", 1e-6, Dimension::RESISTIVITY, "Ω mm²/m"),
        (
            "oz/yd^2",
            0.453_592_37 / 16.0 / (0.9144 * 0.9144),
            Dimension::AREA_DENSITY,
            "oz/yd²",
        ),
        (
            "rpm/s",
            core::f64::consts::PI / 30.0,
            Dimension::ANGULAR_ACCELERATION,
            "rpm/s",
        ),
        // A mass and a length are in it: the angle is dropped, the value is that of a radian.
        ("N mm/deg", 0.18 / core::f64::consts::PI, Dimension::TORQUE, "N mm/°"),
        ("(km/h)/s", 1.0 / 3.6, Dimension::ACCELERATION, "km/(h s)"),
    ] {
        let unit = CompoundUnit::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert!(
            (unit.factor / factor - 1.0).abs() < 4e-16,
            "{text}: {} against {factor}",
            unit.factor
        );
        assert_eq!((unit.dimension, unit.text.as_str()), (dimension, shown), "{text}");
        let again = CompoundUnit::parse(&unit.text).unwrap();
        assert_eq!(
            (again.dimension, again.factor),
            (unit.dimension, unit.factor),
            "{text}: its symbol reads differently"
        );
    }
}

#[test]
fn what_is_wrong_with_a_product_is_said_and_where() {
    for (text, at, message) in [
        ("W/(m^2 Kk)", "Kk", "\"Kk\" is no unit that is known (did you mean K?)"),
        ("Mm", "Mm", "\"Mm\" is no unit that is known (did you mean mm?)"),
        ("furlong/s", "furlong", "\"furlong\" is no unit that is known"),
        (
            "W/(m2 degC)",
            "degC",
            "°C is a point on a temperature scale, and a product needs a difference (write delta_degC or K)",
        ),
        (
            "mm_per_m/s",
            "mm_per_m",
            "mm/m is a slope, and has no place in a product (write rad or deg)",
        ),
        (
            "W/m K",
            "K",
            "it is not clear whether this unit stands below the slash (write brackets: W/(m K))",
        ),
        ("W/(m K", "(", "this bracket is not closed"),
        ("m)", ")", "a bracket has no place here"),
        ("N/", "", "a unit is missing at the end"),
        ("/s", "/", "a unit was expected, not a slash"),
        (
            "m^0",
            "^0",
            "a power of a unit is a whole number from 1 to 12, or less than 0",
        ),
        (
            "m^13",
            "^13",
            "a power of a unit is a whole number from 1 to 12, or less than 0",
        ),
        (
            "m^0.5",
            "^0",
            "a power of a unit is a whole number from 1 to 12, or less than 0",
        ),
        ("m $", "$", "'$' has no place in a unit"),
        ("m 1", "1", "a unit was expected, not 1"),
        ("1000 m", "1000", "a unit was expected, not 1000"),
        (
            "m rad/s",
            "m rad/s",
            "a speed or a flow cannot have an angle in its unit (leave the angle away where the length is a radius)",
        ),
        ("", "", "a unit is missing"),
    ] {
        let error = CompoundUnit::parse(text).unwrap_err();
        assert_eq!(
            (&text[error.at.clone()], error.to_string().as_str()),
            (at, message),
            "{text:?}"
        );
    }
    assert!(CompoundUnit::parse(&"(".repeat(200)).is_err());
    assert!(
        CompoundUnit::parse(&"m ".repeat(200))
            .unwrap_err()
            .message
            .contains("too long")
    );
    assert!(CompoundUnit::parse("(((m^12)^12)^12)^12").is_err());
}

#[test]
fn a_written_unit_is_that_of_the_table_where_there_is_one() {
    assert_eq!(
        WrittenUnit::parse(" ft-lb "),
        Ok(WrittenUnit::Single(find("lbf_ft").unwrap()))
    );
    assert_eq!(WrittenUnit::parse("  "), Ok(WrittenUnit::None));
    assert!(matches!(WrittenUnit::parse("N/m"), Ok(WrittenUnit::Compound(_))));
    assert_eq!(WrittenUnit::parse(" N/mq").unwrap_err().at, 3..5);
}

#[test]
fn any_dimension_has_an_si_unit() {
    for (dimension, text) in [
        (Dimension::of(2, 1, -1, 0, 0, 0), "kg m²/s"),
        (Dimension::of(0, 0, -1, 0, 0, 2), "rad²/s"),
        (Dimension::of(-1, 0, -1, 0, 0, 0), "1/(m s)"),
        (Dimension::LENGTH.power(1, 2).unwrap(), "m^(1/2)"),
        (Dimension::NONE, "1"),
    ] {
        assert_eq!(CompoundUnit::si(dimension).text, text);
    }
}
