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
    (Dimension::BENDING_STIFFNESS, "bending stiffness"),
];

/// What a dimension is called: `"length"`, `"torque or energy"`; what has no name is spelled as a product:
/// `"length² / time"`.
#[must_use]
pub fn name_of(dimension: Dimension) -> String {
    match NAMES.iter().find(|(known, _)| *known == dimension) {
        Some((_, name)) => (*name).to_owned(),
        None => product(
            dimension,
            ["length", "mass", "time", "current", "temperature", "angle"],
            [" · ", " / "],
        ),
    }
}

/// The dimensions that have a name of their own.
pub fn names() -> impl Iterator<Item = (Dimension, &'static str)> {
    NAMES.into_iter()
}

/// The same with its article: `"a length"`, `"an angle"`.
#[must_use]
pub fn with_article(name: &str) -> String {
    let vowel = name.starts_with(['a', 'e', 'i', 'o', 'u']);
    format!("{} {name}", if vowel { "an" } else { "a" })
}

/// A product of powers of whatever the base dimensions are called, with these signs for times and by: `kg m²/s`. The
/// mass comes first, as in SI.
pub(super) fn product(dimension: Dimension, called: [&str; 6], [times, by]: [&str; 2]) -> String {
    const ORDER: [Base; 6] = [
        Base::Mass,
        Base::Length,
        Base::Time,
        Base::Current,
        Base::Temperature,
        Base::Angle,
    ];
    let side = |sign: i16| {
        let parts = ORDER.into_iter().filter_map(|base| {
            let twelfths = dimension.twelfths(base).saturating_mul(sign);
            (twelfths > 0).then(|| powered(called[base as usize], twelfths))
        });
        parts.collect::<Vec<_>>()
    };
    let (above, below) = (side(1), side(-1));
    let above = if above.is_empty() {
        "1".to_owned()
    } else {
        above.join(times)
    };
    match below.as_slice() {
        [] => above,
        [one] => format!("{above}{by}{one}"),
        many => format!("{above}{by}({})", many.join(times)),
    }
}

/// `m²`, `m^(1/2)`: raised digits for whole powers below ten.
fn powered(word: &str, twelfths: i16) -> String {
    const RAISED: [&str; 10] = ["", "", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"];
    let raised = usize::try_from(twelfths / 12).ok().and_then(|whole| RAISED.get(whole));
    let shared = [12, 6, 4, 3, 2]
        .into_iter()
        .find(|divisor| twelfths % divisor == 0)
        .unwrap_or(1);
    match (twelfths % 12, raised) {
        (0, Some(raised)) => format!("{word}{raised}"),
        (0, None) => format!("{word}^{}", twelfths / 12),
        _ => format!("{word}^({}/{})", twelfths / shared, 12 / shared),
    }
}
