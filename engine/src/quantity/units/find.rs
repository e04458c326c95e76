//! Finding a unit by its name or by what a person wrote.

use super::unit::Unit;
use super::{angle, area, electric, flow, force, heat, length, mass, power, pressure, ratio};
use super::{second_moment, speed, temperature, time, torque, turning, volume};
use crate::diagnostic::nearest as nearest_name;

static KINDS: [&[Unit]; 18] = [
    length::UNITS,
    area::UNITS,
    volume::UNITS,
    second_moment::UNITS,
    time::UNITS,
    angle::UNITS,
    turning::UNITS,
    speed::UNITS,
    mass::UNITS,
    force::UNITS,
    torque::UNITS,
    pressure::UNITS,
    power::UNITS,
    electric::UNITS,
    temperature::UNITS,
    heat::UNITS,
    flow::UNITS,
    ratio::UNITS,
];

/// Every unit, in a fixed order: kind by kind.
pub fn all() -> impl Iterator<Item = &'static Unit> {
    KINDS.iter().flat_map(|kind| kind.iter())
}

/// The unit of that identifier: `find("lbf_ft")`.
#[must_use]
pub fn find(name: &str) -> Option<&'static Unit> {
    all().find(|unit| unit.name == name)
}

/// The unit that a person may have written so: identifier, symbol or spelling. `·`, `*` and a hyphen between the parts
/// count as a space: `ft-lb`, `N·m`.
#[must_use]
pub fn find_written(text: &str) -> Option<&'static Unit> {
    let plain =
        |text: &str| all().find(|unit| unit.name == text || unit.symbol == text || unit.spellings.contains(&text));
    plain(text).or_else(|| plain(&spaced(text)))
}

/// The known unit nearest to a name that is none: one whose text spelling it is, else the one with the most similar
/// name. `None` where nothing is near.
#[must_use]
pub fn nearest(name: &str) -> Option<&'static Unit> {
    find_written(name).or_else(|| nearest_name(name, all().map(|unit| unit.name)).and_then(find))
}

/// The units that somebody may mean by a word which stands for none, since it can be read in two ways: a `mil` is a
/// thousandth of an inch to one, a millimetre to another; a gallon is one country's.
#[must_use]
pub fn meant(name: &str) -> &'static [&'static str] {
    let unclear = UNCLEAR.iter().find(|(words, _)| words.contains(&name));
    unclear.map_or(&[], |(_, units)| *units)
}

/// Words that can be read in two ways, and the units that they may stand for.
pub static UNCLEAR: [(&[&str], &[&str]); 2] = [
    (&["mil", "mils"], &["thou"]),
    (&["gal", "gals", "gallon", "gallons"], &["gal_us", "gal_imp"]),
];

fn spaced(text: &str) -> String {
    let spaced: String = text
        .chars()
        .map(|c| if matches!(c, '·' | '⋅' | '*' | '-') { ' ' } else { c })
        .collect();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}
