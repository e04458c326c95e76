//! Units that are confused with each other: those of one kind that stand on one shop's wall.

use crate::quantity::units::{Unit, WrittenUnit, find};

/// Pairs, each way round.
const PAIRS: [(&str, &str); 19] = [
    ("deg", "rad"),
    ("mm", "inch"),
    ("m", "ft"),
    ("N_m", "lbf_ft"),
    ("kPa", "psi"),
    ("bar", "psi"),
    ("MPa", "ksi"),
    ("rpm", "rad_per_s"),
    ("N", "lbf"),
    ("kN", "lbf"),
    ("kg", "lb"),
    ("g", "oz"),
    ("km_per_h", "mph"),
    ("kW", "hp"),
    ("mm2", "in2"),
    ("mm3", "in3"),
    ("mm4", "in4"),
    ("N_per_mm", "lbf_per_in"),
    ("degC", "degF"),
];

/// The units that a unit is confused with.
pub(super) fn confused_with(unit: &WrittenUnit) -> Vec<(&'static Unit, &'static Unit)> {
    let WrittenUnit::Single(own) = unit else {
        return Vec::new();
    };
    let partner = |(a, b): &(&'static str, &'static str)| match own.name {
        name if name == *a => Some(*b),
        name if name == *b => Some(*a),
        _ => None,
    };
    let partners = PAIRS.iter().filter_map(partner).filter_map(find);
    partners.map(|partner| (*own, partner)).collect()
}
