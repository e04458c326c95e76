//! Steady temperature of a wire in still air, and the current that leads to one.

use std::f64::consts::PI;

use super::air::Air;
use super::cable::{Cable, temperature_of};
use super::cylinder::{Cylinder, share};
use crate::diagnostic::Refusal;
use crate::material::positive;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{self, Number, Relation};

type Result<T> = std::result::Result<T, Refusal>;

/// Emissivity of plastic insulation, dull paint or tape, of any colour (common value).
const EMISSIVITY: f64 = 0.9;
/// Share of a tight bundle's circle that its wires fill: common practice is 0.65 to 0.75; the tightest is the warmest.
const FILL: f64 = 0.75;
/// Beyond this (500 °C, in kelvin) no wire of a vehicle survives and the formulas end.
const HOTTEST: f64 = 773.15;
const COLDEST: f64 = 173.15;

/// What a wire lies in.
#[derive(Clone, Copy, Debug)]
pub struct Surroundings {
    /// Temperature of the air and of everything around.
    pub ambient: Quantity,
    /// Diameter over the insulation; the cable's own where none is given.
    pub insulation: Option<Quantity>,
    /// How many like wires lie in one tight bundle, each with the same current; 1 is a single wire.
    pub count: u32,
    /// Emissivity of the outside; 0.9 where none is given.
    pub emissivity: Option<Quantity>,
    /// Thermal conductivity of the insulation; without it the conductor is taken to be as warm as the surface.
    pub insulation_conductivity: Option<Quantity>,
    /// Properties of the air; at its film temperature where none are given.
    pub air: Option<Air>,
}

impl Surroundings {
    /// A single wire in still air of this temperature, all else as it usually is.
    #[must_use]
    pub const fn still_air(ambient: Quantity) -> Self {
        Self {
            ambient,
            insulation: None,
            count: 1,
            emissivity: None,
            insulation_conductivity: None,
            air: None,
        }
    }
}

/// Steady temperature of the conductor of a horizontal wire that carries a steady current in still air.
///
/// Balance per length: n I² R(T) = h π D (Ts − Ta) + ε σ π D (Ts⁴ − Ta⁴), free convection after Churchill and Chu (1975),
/// R(T) of copper. The conductor is as warm as the surface; with `insulation_conductivity` k it is warmer by
/// I² R ln(D/d)/(2πk), 2 to 4 K for a thin wire near its limit. A bundle of n like wires is one cylinder of diameter
/// D √(n/0.75), evenly warm: its middle is warmer than that.
///
/// Range: a wire alone in open still air, from −100 °C to 500 °C; within about a tenth of the rise. In a sleeve or a
/// duct, against a panel, or near something hot it is warmer: see what the trade allows for that.
///
/// # Errors
/// Wrong dimensions; insulation that is not known or thinner than the conductor; a wire that would be hotter than 500 °C.
pub fn wire_temperature(cable: &Cable, current: Quantity, surroundings: &Surroundings) -> Result<Quantity> {
    let amperes = current.expect(Dimension::CURRENT, "the current")?;
    let wire = Wire::of(cable, surroundings)?;
    let excess = |surface: Number| {
        let loss = wire.loss(surface);
        let heat = amperes * amperes * cable.resistance_at(wire.conductor(surface, loss));
        heat * wire.count - loss
    };
    let hottest = Number::constant(HOTTEST);
    if !tape::require(excess(hottest), Relation::LessOrEqual, Number::ZERO) {
        let (current, name) = (current.shown(), cable.name());
        let message = format!("{current} would make {name} hotter than 500 °C");
        return Err(Refusal::new("too hot", message).hint("a thicker wire, or less current"));
    }
    let surface = tape::root(wire.cylinder.ambient, hottest, |surface| {
        Ok::<_, Refusal>(excess(surface))
    })?;
    Ok(Quantity::temperature_point(wire.conductor(surface, wire.loss(surface))))
}

/// The steady current that makes the conductor just this warm: the balance of [`wire_temperature`] solved for the
/// current.
///
/// # Errors
/// As [`wire_temperature`]; a temperature that is not above ambient.
pub fn wire_current_for(cable: &Cable, temperature: Quantity, surroundings: &Surroundings) -> Result<Quantity> {
    let conductor = temperature_of(temperature, "the temperature of the conductor")?;
    let wire = Wire::of(cable, surroundings)?;
    surroundings.ambient.require(Relation::Less, temperature, || {
        let (warm, ambient) = (temperature.shown(), surroundings.ambient.shown());
        let message = format!("the conductor ({warm}) must be warmer than the air ({ambient})");
        Refusal::new("temperature", message)
    })?;
    below_hottest(temperature)?;
    let surface = match wire.insulation {
        None => conductor,
        Some(_) => tape::root(wire.cylinder.ambient, conductor, |surface| {
            Ok::<_, Refusal>(wire.conductor(surface, wire.loss(surface)) - conductor)
        })?,
    };
    let heat = wire.loss(surface) / wire.count;
    let amperes = tape::sqrt(heat / cable.resistance_at(conductor));
    Ok(Quantity::of(amperes, Dimension::CURRENT))
}

/// A wire, or a bundle of like wires as one cylinder. SI.
struct Wire {
    cylinder: Cylinder,
    count: f64,
    /// Thermal resistance of one wire's insulation, K m/W.
    insulation: Option<Number>,
}

impl Wire {
    fn of(cable: &Cable, surroundings: &Surroundings) -> Result<Self> {
        if surroundings.count == 0 {
            return Err(Refusal::new(
                "count",
                "the count of wires in the bundle must be at least 1, this is 0",
            ));
        }
        let outside = match surroundings.insulation {
            Some(insulation) => insulation,
            None => cable.outside_diameter()?,
        };
        let over_insulation = positive(outside, Dimension::LENGTH, "the diameter over the insulation")?;
        let copper = cable.solid_diameter();
        Quantity::of(copper, Dimension::LENGTH).require(Relation::LessOrEqual, outside, || {
            let (outside, copper) = (outside.shown(), cable.diameter().shown());
            let message = format!("the diameter over the insulation ({outside}) is less than the copper's ({copper})");
            Refusal::new("insulation", message)
        })?;
        let ambient = temperature_of(surroundings.ambient, "the ambient")?;
        above_coldest(surroundings.ambient)?;
        below_hottest(surroundings.ambient)?;
        let count = f64::from(surroundings.count);
        let diameter = match surroundings.count {
            1 => over_insulation,
            _ => over_insulation * tape::sqrt(Number::constant(count / FILL)),
        };
        let emissivity = share(
            surroundings.emissivity.unwrap_or(Quantity::plain(EMISSIVITY)),
            "the emissivity",
        )?;
        let air = surroundings.air;
        Ok(Self {
            cylinder: Cylinder {
                diameter,
                ambient,
                emissivity,
                air,
            },
            count,
            insulation: thermal_resistance(surroundings.insulation_conductivity, over_insulation / copper)?,
        })
    }

    /// Heat that all wires together lose per length.
    fn loss(&self, surface: Number) -> Number {
        self.cylinder.loss(surface)
    }

    /// Temperature of the conductors where the surface has this temperature and loses this heat.
    fn conductor(&self, surface: Number, loss: Number) -> Number {
        match self.insulation {
            None => surface,
            Some(resistance) => surface + loss / self.count * resistance,
        }
    }
}

/// ln(D/d)/(2πk) of a wire's insulation.
fn thermal_resistance(conductivity: Option<Quantity>, diameters: Number) -> Result<Option<Number>> {
    let Some(conductivity) = conductivity else {
        return Ok(None);
    };
    let k = positive(
        conductivity,
        Dimension::CONDUCTIVITY,
        "the conductivity of the insulation",
    )?;
    Ok(Some(tape::ln(diameters) / (2.0 * PI * k)))
}

fn above_coldest(ambient: Quantity) -> Result<()> {
    let coldest = Quantity::temperature_point(Number::constant(COLDEST));
    coldest.require(Relation::LessOrEqual, ambient, || {
        let message = format!("{} is below −100 °C, where this formula ends", ambient.shown());
        Refusal::new("temperature", message)
    })
}

fn below_hottest(temperature: Quantity) -> Result<()> {
    let hottest = Quantity::temperature_point(Number::constant(HOTTEST));
    temperature.require(Relation::LessOrEqual, hottest, || {
        let message = format!("{} is above 500 °C, where this formula ends", temperature.shown());
        Refusal::new("temperature", message)
    })
}
