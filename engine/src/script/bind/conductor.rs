//! Wires and cables; the physics is in [`crate::conductor`].

use crate::conductor::{self, Cable, Surroundings};
use crate::diagnostic::{Refusal, nearest};
use crate::quantity::{Dimension, Quantity};
use crate::script::native::Functions;
use crate::script::value;
use rhai::{Dynamic, Map};

type Result<T> = std::result::Result<T, Refusal>;

/// What surrounds a wire, by key, besides its current or its temperature.
const AROUND: [&str; 5] = [
    "ambient",
    "insulation",
    "count",
    "emissivity",
    "insulation_conductivity",
];
/// Square millimetres in a square metre.
const PER_SQUARE_METRE: f64 = 1e6;

pub(super) fn add(functions: &mut Functions) {
    functions.concept("conductors");
    making(functions);
    asking(functions);
    warmth(functions);
}

fn making(functions: &mut Functions) {
    functions.add(
        "wire_awg(gauge)",
        "Solid copper wire of an American wire gauge, 14 or \"2/0\", 4/0 to 40; ASTM B258 (from memory), IEC 60028.",
        |a| conductor::wire_awg(&size(&a[0], "the gauge")?).map(Dynamic::from),
    );
    functions.add(
        "wire_mm2(area)",
        "Solid copper wire of exactly this cross-section, 2.5 (in mm²) or an area; IEC 60028.",
        |a| {
            let area = value::quantity(&a[0], "the cross-section of the wire")?;
            let area = match area.dimension().is_none() {
                true => Quantity::of(area.number() / PER_SQUARE_METRE, Dimension::AREA),
                false => area,
            };
            conductor::wire_mm2(area).map(Dynamic::from)
        },
    );
    functions.add(
        "cable(size)",
        "Flexible copper of this nominal size in mm², \"2.5\", with the largest resistance that IEC 60228 allows class 5.",
        |a| conductor::cable(&size(&a[0], "the size of a cable")?).map(Dynamic::from),
    );
    functions.add(
        "road_cable(size)",
        "Road-vehicle cable of this nominal size in mm², \"2.5\", with its diameter over the insulation; ISO 6722, from memory.",
        |a| conductor::road_cable(&size(&a[0], "the size of a cable")?).map(Dynamic::from),
    );
    functions.add(
        "wire_sizes()",
        "The gauges of wire_awg that a vehicle uses, for one_of.",
        |_| Ok(super::texts(conductor::wire_sizes())),
    );
    functions.add(
        "cable_sizes()",
        "The sizes of cable and road_cable, for one_of.",
        |_| Ok(super::texts(conductor::cable_sizes())),
    );
}

/// A size as it is written, or as a plain number.
fn size(value: &Dynamic, what: &str) -> Result<String> {
    match value::plain_number(value) {
        Some(number) => Ok(number.to_string()),
        None => value::text(value, what).map_err(|refusal| refusal.hint("sizes are texts: \"2/0\", \"2.5\"")),
    }
}

fn asking(functions: &mut Functions) {
    functions
        .property::<Cable>(
            "cable.area",
            "Cross-section of the copper; of a cable its nominal size.",
            |cable| Ok(Dynamic::from(cable.area())),
        )
        .property::<Cable>(
            "cable.diameter",
            "Diameter of a solid round wire of the copper's cross-section, without insulation.",
            |cable| Ok(Dynamic::from(cable.diameter())),
        )
        .property::<Cable>(
            "cable.outside_diameter",
            "Diameter over the insulation; known of road_cable only.",
            |cable| cable.outside_diameter().map(Dynamic::from),
        )
        .property::<Cable>("cable.name", "What a wire or cable is, a text.", |cable| {
            Ok(Dynamic::from(cable.name().to_owned()))
        })
        .property::<Cable>("cable.source", "Where its figures come from, a text.", |cable| {
            Ok(Dynamic::from(cable.source().to_owned()))
        });
    functions.add(
        "cable.resistance_per_length(temperature)",
        "Resistance per length of one conductor at a temperature on the scale: R20 (1 + 0.00393 (t - 20 °C)), IEC 60028.",
        |a| {
            let temperature = value::quantity(&a[1], "the temperature of the conductor")?;
            taken(&a[0])?.resistance_per_length(temperature).map(Dynamic::from)
        },
    );
}

fn warmth(functions: &mut Functions) {
    functions.add(
        "wire_temperature(cable, around)",
        "Steady temperature of a wire in open still air: wire_temperature(cable, #{current: 12.A, ambient: 60.degC, \
         insulation: 2.9.mm, count: 1}). insulation: the diameter over it (road_cable knows its own); count: like wires in one \
         tight bundle. Also emissivity (0.9) and insulation_conductivity. Free convection after Churchill and Chu, radiation; \
         within about a tenth of the rise; -100 to 500 °C.",
        |a| {
            let map = value::map(&a[1], "what surrounds the wire")?;
            let around = around(&map, "current")?;
            let current = needed(&map, "current", "wire_temperature")?;
            conductor::wire_temperature(&taken(&a[0])?, current, &around).map(Dynamic::from)
        },
    );
    functions.add(
        "wire_current_for(cable, around)",
        "The steady current that makes a wire just this warm: wire_current_for(cable, #{temperature: 85.degC, ambient: \
         60.degC, insulation: 2.9.mm, count: 1}); as wire_temperature.",
        |a| {
            let map = value::map(&a[1], "what surrounds the wire")?;
            let around = around(&map, "temperature")?;
            let temperature = needed(&map, "temperature", "wire_current_for")?;
            conductor::wire_current_for(&taken(&a[0])?, temperature, &around).map(Dynamic::from)
        },
    );
}

fn taken(value: &Dynamic) -> Result<Cable> {
    value::typed(value, "the conductor", "a wire or cable")
        .map_err(|refusal| refusal.hint("wire_awg(14), cable(\"2.5\")"))
}

fn needed(map: &Map, key: &str, function: &str) -> Result<Quantity> {
    match map.get(key) {
        Some(found) => value::quantity(found, &format!("the {key}")),
        None => Err(Refusal::new("arguments", format!("{function} needs `{key}`"))),
    }
}

fn around(map: &Map, besides: &str) -> Result<Surroundings> {
    let known = || AROUND.into_iter().chain([besides]);
    if let Some(unknown) = map.keys().find(|key| !known().any(|known| known == key.as_str())) {
        let near = nearest(unknown, known()).map(|near| format!("did you mean `{near}`?"));
        let message = format!("`{unknown}` says nothing of a wire's surroundings");
        let all = known().collect::<Vec<_>>().join(", ");
        return Err(Refusal::new("unknown name", message)
            .maybe_hint(near)
            .hint(format!("there are: {all}")));
    }
    let given = |key: &str| {
        let found = map.get(key);
        found
            .map(|found| value::quantity(found, &format!("`{key}`")))
            .transpose()
    };
    let mut around = Surroundings::still_air(needed(map, "ambient", "a wire's temperature")?);
    around.insulation = given("insulation")?;
    around.emissivity = given("emissivity")?;
    around.insulation_conductivity = given("insulation_conductivity")?;
    if let Some(count) = map.get("count") {
        let count = value::count(count, "the count of wires in the bundle", 1..=10_000)?;
        around.count = u32::try_from(count).unwrap_or(u32::MAX);
    }
    Ok(around)
}
