//! Dimensions in words, for messages: "cannot add a length and an angle".

use super::{Base, Dimension};

/// What people call a dimension. Where one dimension is two things, both are said.
const NAMES: [(Dimension, &str); 42] = [
    (Dimension::NONE, "number"),
    (Dimension::LENGTH, "length"),
    (Dimension::AREA, "area"),
    (Dimension::VOLUME, "volume or section modulus"),
    (Dimension::SECOND_MOMENT, "second moment of area"),
    (Dimension::TIME, "time"),
    (Dimension::of(0, 0, 2, 0, 0, 0), "time squared"),
    (Dimension::ANGLE, "angle"),
    (Dimension::of(0, 0, 0, 0, 0, 2), "angle squared"),
    (Dimension::ANGULAR_SPEED, "angular speed"),
    (Dimension::ANGULAR_ACCELERATION, "angular acceleration"),
    (Dimension::RATE, "rate"),
    (Dimension::SPEED, "speed"),
    (Dimension::ACCELERATION, "acceleration"),
    (Dimension::VOLUME_FLOW, "volume flow"),
    (Dimension::MASS_FLOW, "mass flow"),
    (Dimension::MASS, "mass"),
    (Dimension::DENSITY, "density"),
    (Dimension::LINE_DENSITY, "mass per length"),
    (Dimension::AREA_DENSITY, "mass per area"),
    (Dimension::UNBALANCE, "unbalance (mass times length)"),
    (Dimension::INERTIA, "moment of inertia"),
    (Dimension::FORCE, "force"),
    (Dimension::FORCE_PER_LENGTH, "force per length"),
    (Dimension::TORQUE, "torque or energy"),
    (Dimension::PRESSURE, "stress or pressure"),
    (Dimension::POWER, "power"),
    (Dimension::CURRENT, "electric current"),
    (Dimension::VOLTAGE, "voltage"),
    (Dimension::RESISTANCE, "resistance"),
    (Dimension::RESISTANCE_PER_LENGTH, "resistance per length"),
    (Dimension::RESISTIVITY, "resistivity"),
    (Dimension::CHARGE, "electric charge"),
    (Dimension::TEMPERATURE, "temperature"),
    (Dimension::EXPANSION, "thermal expansion"),
    (Dimension::HEAT_FLUX, "heat flow per area"),
    (Dimension::CONDUCTIVITY, "thermal conductivity"),
    (Dimension::HEAT_TRANSFER, "heat transfer coefficient"),
    (Dimension::of(2, 0, -2, 0, -1, 0), "specific heat"),
    (Dimension::of(2, 0, -2, 0, 0, 0), "energy per mass"),
    (Dimension::of(-1, 0, 0, 0, 0, 0), "curvature (1 / length)"),
    (Dimension::of(3, 1, -2, 0, 0, 0), "bending stiffness"),
];

/// What a dimension is called: `"length"`, `"torque or energy"`; what has no name is spelled as a product:
/// `"length² / time"`.
#[must_use]
pub fn name_of(dimension: Dimension) -> String {
    match NAMES.iter().find(|(known, _)| *known == dimension) {
        Some((_, name)) => (*name).to_owned(),
        None => product(dimension),
    }
}

/// The same with its article: `"a length"`, `"an angle"`.
#[must_use]
pub fn with_article(name: &str) -> String {
    let vowel = name.starts_with(['a', 'e', 'i', 'o', 'u']);
    format!("{} {name}", if vowel { "an" } else { "a" })
}

fn product(dimension: Dimension) -> String {
    let side = |sign: f64| {
        let parts = Base::ALL.iter().filter_map(|&base| {
            let power = dimension.power_of(base) * sign;
            (power > 0.0).then(|| powered(word(base), power))
        });
        parts.collect::<Vec<_>>().join(" · ")
    };
    let (above, below) = (side(1.0), side(-1.0));
    match (above.is_empty(), below.is_empty()) {
        (_, true) => above,
        (true, false) => format!("1 / ({below})"),
        (false, false) if below.contains('·') => format!("{above} / ({below})"),
        (false, false) => format!("{above} / {below}"),
    }
}

const fn word(base: Base) -> &'static str {
    match base {
        Base::Length => "length",
        Base::Mass => "mass",
        Base::Time => "time",
        Base::Current => "current",
        Base::Temperature => "temperature",
        Base::Angle => "angle",
    }
}

/// `length²`, `length^0.5`: raised digits for whole powers below ten.
pub(super) fn powered(word: &str, power: f64) -> String {
    const RAISED: [&str; 10] = ["", "", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"];
    let whole = RAISED
        .iter()
        .enumerate()
        .skip(1)
        .find(|&(digit, _)| f64::from(u8::try_from(digit).unwrap_or(0)) == power);
    match whole {
        Some((_, raised)) => format!("{word}{raised}"),
        None => format!("{word}^{power}"),
    }
}
