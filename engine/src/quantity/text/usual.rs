//! The unit in which a kind of quantity is usually shown.
//!
//! A kind has a short ladder of units, and the value's size picks the rung; a zero takes the rung of one SI unit. What
//! is shown beside a value (its limits, its ±) takes the value's unit. A script's `as` overrules all of this.

use crate::quantity::units::{CompoundUnit, Scale, WrittenUnit, find};
use crate::quantity::{Base, Dimension};

/// What a reader wants to see.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum System {
    /// Inches, pounds, degrees Fahrenheit.
    Inch,
    /// Millimetres, kilograms, degrees Celsius.
    Metric,
}

/// From which SI size on, which unit.
type Ladder = &'static [(f64, &'static str)];

struct Kind {
    dimension: Dimension,
    metric: Ladder,
    inch: Ladder,
}

const fn kind(dimension: Dimension, metric: Ladder, inch: Ladder) -> Kind {
    Kind {
        dimension,
        metric,
        inch,
    }
}

const fn both(dimension: Dimension, ladder: Ladder) -> Kind {
    kind(dimension, ladder, ladder)
}

/// One pound-force per square inch, horsepower, ten square feet, quarter of a pound, in SI.
const PSI: f64 = 6_894.757_293_168_36;
const HORSEPOWER: f64 = 745.699_871_582_27;
const TEN_SQUARE_FEET: f64 = 0.929_030_4;
const QUARTER_POUND: f64 = 0.113_398_092_5;
const TWO_DAYS: f64 = 172_800.0;

/// Resistance per length and kelvin, ohm/(m K).
const RESISTANCE_PER_LENGTH_AND_KELVIN: Dimension = Dimension::of(1, 1, -3, -2, -1, 0);

/// Heat that a length gives off, W/m; the same for a kelvin; and what a surface radiates for T⁴.
const POWER_PER_LENGTH: Dimension = Dimension::of(1, 1, -3, 0, 0, 0);
const POWER_PER_LENGTH_AND_KELVIN: Dimension = Dimension::of(1, 1, -3, 0, -1, 0);
const RADIATION: Dimension = Dimension::of(0, 1, -3, 0, -4, 0);

static KINDS: &[Kind] = &[
    both(Dimension::NONE, &[(0.0, "")]),
    // Millimetres up to ten metres, inches up to a hundred feet: lengths of a car. Beyond: roads.
    kind(
        Dimension::LENGTH,
        &[(0.0, "mm"), (10.0, "m"), (10e3, "km")],
        &[(0.0, "inch"), (30.48, "ft"), (1609.344, "mile")],
    ),
    kind(
        Dimension::AREA,
        &[(0.0, "mm2"), (0.1, "m2")],
        &[(0.0, "in2"), (TEN_SQUARE_FEET, "ft2")],
    ),
    // A section modulus is below a litre, a tank above.
    kind(
        Dimension::VOLUME,
        &[(0.0, "mm3"), (1e-3, "L"), (10.0, "m3")],
        &[(0.0, "in3"), (0.02, "gal_us")],
    ),
    kind(Dimension::SECOND_MOMENT, &[(0.0, "mm4")], &[(0.0, "in4")]),
    both(
        Dimension::TIME,
        &[
            (0.0, "ms"),
            (0.1, "s"),
            (600.0, "min"),
            (7200.0, "h"),
            (TWO_DAYS, "day"),
        ],
    ),
    both(Dimension::ANGLE, &[(0.0, "deg")]),
    both(Dimension::ANGULAR_SPEED, &[(0.0, "rpm")]),
    both(Dimension::ANGULAR_ACCELERATION, &[(0.0, "rad_per_s2")]),
    both(Dimension::RATE, &[(0.0, "Hz")]),
    kind(Dimension::SPEED, &[(0.0, "km_per_h")], &[(0.0, "mph")]),
    kind(Dimension::ACCELERATION, &[(0.0, "m_per_s2")], &[(0.0, "ft/s^2")]),
    kind(
        Dimension::VOLUME_FLOW,
        &[(0.0, "L_per_min"), (0.01, "m3_per_h")],
        &[(0.0, "ft^3/min")],
    ),
    kind(Dimension::MASS_FLOW, &[(0.0, "kg_per_s")], &[(0.0, "lb/min")]),
    kind(
        Dimension::MASS,
        &[(0.0, "g"), (0.1, "kg")],
        &[(0.0, "oz"), (QUARTER_POUND, "lb")],
    ),
    // Air, foam and fluids by the cubic foot, metals by the cubic inch.
    kind(
        Dimension::DENSITY,
        &[(0.0, "kg_per_m3")],
        &[(0.0, "lb_per_ft3"), (1200.0, "lb_per_in3")],
    ),
    kind(Dimension::LINE_DENSITY, &[(0.0, "kg_per_m")], &[(0.0, "lb_per_ft")]),
    kind(Dimension::AREA_DENSITY, &[(0.0, "g_per_m2")], &[(0.0, "oz_per_ft2")]),
    // What a rotor may be off is small, a weight times its place is not.
    kind(Dimension::UNBALANCE, &[(0.0, "g_mm"), (0.1, "kg m")], &[(0.0, "oz_in")]),
    kind(Dimension::INERTIA, &[(0.0, "kg m^2")], &[(0.0, "lb ft^2")]),
    kind(Dimension::FORCE, &[(0.0, "N"), (10e3, "kN")], &[(0.0, "lbf")]),
    kind(
        Dimension::FORCE_PER_LENGTH,
        &[(0.0, "N_per_mm")],
        &[(0.0, "lbf_per_in")],
    ),
    kind(Dimension::TORQUE, &[(0.0, "N_m")], &[(0.0, "lbf_ft")]),
    kind(
        Dimension::PRESSURE,
        &[(0.0, "kPa"), (1e6, "MPa"), (10e9, "GPa")],
        &[(0.0, "psi"), (1e4 * PSI, "ksi")],
    ),
    kind(
        Dimension::POWER,
        &[(0.0, "W"), (1e3, "kW")],
        &[(0.0, "W"), (HORSEPOWER, "hp")],
    ),
    both(POWER_PER_LENGTH, &[(0.0, "W/m")]),
    both(POWER_PER_LENGTH_AND_KELVIN, &[(0.0, "W/(m K)")]),
    both(RADIATION, &[(0.0, "W/(m^2 K^4)")]),
    both(Dimension::CURRENT, &[(0.0, "mA"), (0.1, "A")]),
    both(Dimension::VOLTAGE, &[(0.0, "mV"), (0.1, "V")]),
    both(Dimension::RESISTANCE, &[(0.0, "mohm"), (0.1, "ohm")]),
    kind(
        Dimension::RESISTANCE_PER_LENGTH,
        &[(0.0, "mohm_per_m")],
        &[(0.0, "ohm_per_kft")],
    ),
    // What a wire's resistance gains as it warms, by its length.
    both(RESISTANCE_PER_LENGTH_AND_KELVIN, &[(0.0, "mohm/(m K)")]),
    both(Dimension::RESISTIVITY, &[(0.0, "ohm mm^2/m")]),
    both(Dimension::CHARGE, &[(0.0, "C"), (360.0, "Ah")]),
    both(Dimension::EXPANSION, &[(0.0, "um/(m K)")]),
    both(Dimension::HEAT_FLUX, &[(0.0, "W_per_m2")]),
    both(Dimension::CONDUCTIVITY, &[(0.0, "W_per_m_K")]),
    both(Dimension::HEAT_TRANSFER, &[(0.0, "W_per_m2_K")]),
    kind(Dimension::BENDING_STIFFNESS, &[(0.0, "N m^2")], &[(0.0, "lbf in^2")]),
];

/// The unit in which a value of that kind and SI size is usually shown: `in` or `mm`, `lbf ft` or `N m`, °F or °C.
/// What has no usual unit is spelled in SI, `kg m²/s`.
#[must_use]
pub fn usual_unit(dimension: Dimension, scale: Scale, system: System, si: f64) -> WrittenUnit {
    if dimension == Dimension::TEMPERATURE {
        return unit(temperature(scale, system), dimension);
    }
    match ladder(dimension, system) {
        Some(ladder) => unit(rung(ladder, si), dimension),
        None => WrittenUnit::Compound(CompoundUnit::si(dimension)),
    }
}

/// All units in which values of that kind are usually shown, each from an SI size on, rising: what [`usual_unit`] picks
/// from. A zero counts as one SI unit.
#[must_use]
pub fn usual_units(dimension: Dimension, scale: Scale, system: System) -> Vec<(f64, WrittenUnit)> {
    match ladder(dimension, system).filter(|_| dimension != Dimension::TEMPERATURE) {
        Some(ladder) => ladder
            .iter()
            .map(|(from, name)| (*from, unit(name, dimension)))
            .collect(),
        None => vec![(0.0, usual_unit(dimension, scale, system, 1.0))],
    }
}

fn ladder(dimension: Dimension, system: System) -> Option<Ladder> {
    let kind = KINDS.iter().find(|kind| kind.dimension == reduced(dimension))?;
    Some(if system == System::Inch { kind.inch } else { kind.metric })
}

const fn temperature(scale: Scale, system: System) -> &'static str {
    match (scale, system) {
        (Scale::Point, System::Metric) => "degC",
        (Scale::Point, System::Inch) => "degF",
        (Scale::Difference, System::Metric) => "K",
        (Scale::Difference, System::Inch) => "delta_degF",
    }
}

fn rung(ladder: Ladder, si: f64) -> &'static str {
    let size = if si == 0.0 { 1.0 } else { si.abs() };
    let reached = ladder.iter().rev().find(|(from, _)| size >= *from);
    reached.or(ladder.first()).map_or("", |(_, name)| name)
}

fn unit(name: &str, dimension: Dimension) -> WrittenUnit {
    let known = find(name)
        .map(WrittenUnit::Single)
        .or_else(|| WrittenUnit::parse(name).ok());
    known.unwrap_or_else(|| WrittenUnit::Compound(CompoundUnit::si(dimension)))
}

/// β²ω² counts as an angular acceleration: its unit is rad/s² whatever the power of the angle. Other powers of an angle
/// stay as they are, since their unit is not one radian.
fn reduced(dimension: Dimension) -> Dimension {
    let turning = dimension.is_like(Dimension::ANGULAR_ACCELERATION) && dimension.twelfths(Base::Angle) != 0;
    if turning {
        Dimension::ANGULAR_ACCELERATION
    } else {
        dimension
    }
}
