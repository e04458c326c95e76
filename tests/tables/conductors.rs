//! Wires and cables against published tables, and their warmth against an independent balance.

use super::check::{close, follows, in_unit, inch, leaves, mm, printed, q, refused, si, si_of_run};
use crankline_engine::conductor::{
    Air, Cable, Surroundings, cable, cable_sizes, nusselt_horizontal_cylinder, road_cable, still_air_loss, wire_awg,
    wire_current_for, wire_mm2, wire_sizes, wire_temperature,
};
use crankline_engine::quantity::{Dimension, Quantity};
use crankline_engine::tape::Number;

fn awg(gauge: &str) -> Cable {
    wire_awg(gauge).unwrap()
}

fn ohms_per_metre(cable: &Cable, celsius: f64) -> f64 {
    si(cable.resistance_per_length(q(celsius, "degC")).unwrap())
}

/// Table of solid copper wire at 20 °C: Floyd, Electric Circuit Fundamentals, 2nd edition; NBS Handbook 100 has the same
/// figures. Ω per 1000 ft, to the last printed place (the table's copper is 10.371 Ω cmil/ft).
#[test]
fn resistances_by_gauge_agree_with_the_published_table() {
    for (gauge, expected) in [
        ("1/0", 0.0983),
        ("8", 0.6282),
        ("10", 0.9989),
        ("14", 2.525),
        ("16", 4.016),
        ("20", 10.15),
        ("24", 25.67),
    ] {
        close(ohms_per_metre(&awg(gauge), 20.0) * 304.8, expected, 1.5e-3);
    }
}

/// The same table, inches; and a general conductor table, in².
#[test]
fn sizes_by_gauge_agree_with_the_published_table() {
    printed(in_unit(awg("10").diameter(), "inch"), 0.101_89, 4);
    printed(in_unit(awg("16").diameter(), "inch"), 0.050_82, 5);
    close(in_unit(awg("10").area(), "in2"), 0.008_155, 6e-4);
    close(in_unit(awg("6").area(), "in2"), 0.020_62, 6e-4);
}

/// Independent arithmetic (GNU units 2.22), 12 digits.
#[test]
fn gauges_agree_with_other_arithmetic() {
    close(in_unit(awg("14").diameter(), "mm"), 1.627_726_633_79, 1e-11);
    close(in_unit(awg("AWG 14").area(), "mm2"), 2.080_907_717_1, 1e-10);
    close(in_unit(awg("2/0").area(), "mm2"), 67.430_882_235_9, 1e-11);
    close(ohms_per_metre(&awg("12"), 20.0) * 1e3, 5.210_807_739_27, 1e-10);
    close(ohms_per_metre(&awg("12"), 80.0) * 1e3, 6.439_516_204_2, 1e-10);
    let nominal = wire_mm2(q(2.5, "mm2")).unwrap();
    close(ohms_per_metre(&nominal, 20.0) * 1e3, 6.896_551_724_14, 1e-11);
    // 12 A through 4.2 m of AWG 14, out and back.
    close(12.0 * 8.4 * ohms_per_metre(&awg("14"), 20.0), 0.835_179_292_288, 1e-10);
}

/// Six gauges thinner halve the diameter, nearly; 39 divide it by 92 exactly (ASTM B258); gauges run without a gap.
#[test]
fn gauges_run_in_a_geometric_series() {
    let diameter = |gauge: &str| si(awg(gauge).diameter());
    close(diameter("4/0") / diameter("36"), 92.0, 1e-14);
    close(diameter("36"), si(inch(0.005)), 1e-14);
    close(diameter("4/0"), si(inch(0.46)), 1e-13);
    let sizes = wire_sizes();
    assert_eq!(sizes.len(), 28);
    for pair in sizes.windows(2) {
        close(diameter(&pair[0]) / diameter(&pair[1]), 92f64.powf(1.0 / 39.0), 1e-13);
    }
}

/// IEC 60228 (2004), class 5, plain copper, Ω/km, as reproduced; each lies above that of ideal copper of the size.
#[test]
fn flexible_cables_agree_with_iec_60228() {
    let expected = [
        39.0, 26.0, 19.5, 13.3, 7.98, 4.95, 3.30, 1.91, 1.21, 0.780, 0.554, 0.386,
    ];
    assert_eq!(cable_sizes().len(), expected.len());
    for (size, expected) in cable_sizes().into_iter().zip(expected) {
        let flexible = cable(size).unwrap();
        close(ohms_per_metre(&flexible, 20.0) * 1e3, expected, 1e-14);
        let ideal = wire_mm2(flexible.area()).unwrap();
        let above = expected / 1e3 / ohms_per_metre(&ideal, 20.0);
        assert!((1.1..1.2).contains(&above), "{size}: {above}");
    }
}

/// ISO 6722 from memory: 7.60 mΩ/m for 2.5 mm²; every size a little below class 5 of IEC 60228, above ideal copper.
#[test]
fn road_cables_lie_between_ideal_copper_and_class_5() {
    close(ohms_per_metre(&road_cable("2.5").unwrap(), 20.0) * 1e3, 7.60, 1e-14);
    for size in cable_sizes() {
        let road = road_cable(size).unwrap();
        let ideal = wire_mm2(road.area()).unwrap();
        assert!(ohms_per_metre(&ideal, 20.0) < ohms_per_metre(&road, 20.0), "{size}");
        assert!(
            ohms_per_metre(&road, 20.0) < ohms_per_metre(&cable(size).unwrap(), 20.0),
            "{size}"
        );
        assert!(si(road.outside_diameter().unwrap()) > si(road.diameter()), "{size}");
        assert!(road.source().contains("from memory"));
    }
}

/// The resistance line of copper passes zero near −234.5 °C: 254.5/(234.5 + t) of AC 43.13-1B, to 0.1 %.
#[test]
fn resistance_follows_the_temperature() {
    for celsius in [-40.0, 0.0, 50.0, 105.0, 150.0] {
        let ratio = ohms_per_metre(&awg("10"), celsius) / ohms_per_metre(&awg("10"), 20.0);
        close(ratio, (234.5 + celsius) / 254.5, 1e-3);
    }
}

fn fixed_air(conductivity: f64, viscosity: f64, prandtl: f64) -> Option<Air> {
    let [conductivity, viscosity, prandtl] = [conductivity, viscosity, prandtl].map(Number::constant);
    Some(Air {
        conductivity,
        viscosity,
        prandtl,
    })
}

/// Churchill and Chu (1975): 1.39415984429 at Ra 35, Pr 0.705 (agrees with ht 1.2.0).
#[test]
fn the_nusselt_number_agrees_with_a_library() {
    let nusselt = nusselt_horizontal_cylinder(Number::constant(35.0), Number::constant(0.705));
    close(si(Quantity::of(nusselt, Dimension::NONE)), 1.394_159_844_29, 1e-11);
}

/// Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, example 9.4: 763 W/m from a bare steam pipe.
#[test]
fn a_steam_pipe_agrees_with_a_textbook() {
    let loss = |air| {
        let (surface, ambient) = (q(165.0, "degC"), q(23.0, "degC"));
        si(still_air_loss(q(0.1, "m"), surface, ambient, Quantity::plain(0.85), air).unwrap())
    };
    // The book takes α as 32.8e-6 m²/s where ν/Pr is 32.7e-6.
    close(loss(fixed_air(0.0313, 22.8e-6, 0.697)), 763.0, 2e-3);
    // With the air's properties at the film temperature by formula: their effect is small.
    close(loss(None), 763.0, 1e-2);
}

/// A reference equation of state for air at 101.325 kPa (CoolProp 8.0.0): ν in 1e-6 m²/s, k in W/(m K), Pr.
#[test]
fn properties_of_air_agree_with_a_reference_equation() {
    for (kelvin, viscosity, conductivity, prandtl, within) in [
        (273.15, 13.3160, 0.024_360, 0.710_8, 1e-2),
        (300.0, 15.7497, 0.026_384, 0.707_06, 1e-2),
        (350.0, 20.6907, 0.030_003, 0.701_9, 1e-2),
        (400.0, 26.1308, 0.033_453, 0.698_9, 1e-2),
        (500.0, 38.3853, 0.039_945, 0.698_4, 1.5e-2),
    ] {
        let air = Air::at(Number::constant(kelvin));
        let value = |number| si(Quantity::of(number, Dimension::NONE));
        close(value(air.viscosity) * 1e6, viscosity, within);
        close(value(air.conductivity), conductivity, within);
        close(value(air.prandtl), prandtl, if kelvin < 360.0 { 1e-2 } else { 5e-2 });
    }
}

fn elec_15() -> Surroundings {
    Surroundings {
        insulation: Some(mm(2.9)),
        air: fixed_air(0.0275, 1.80e-5, 0.705),
        ..Surroundings::still_air(q(40.0, "degC"))
    }
}

fn warm(cable: &Cable, amperes: f64, surroundings: &Surroundings) -> f64 {
    let kelvin = si_of_run(|| wire_temperature(cable, q(amperes, "A"), surroundings).unwrap());
    kelvin - 273.15
}

/// AWG 14, 25 A, 40 °C, 2.9 mm over the insulation, air properties fixed: 72.054922186 °C (scipy 1.17.1, brentq).
#[test]
fn a_warm_wire_agrees_with_an_independent_balance() {
    close(warm(&awg("14"), 25.0, &elec_15()), 72.054_922_186, 1e-9);
    // With air by formula at the film temperature: it conducts a little better.
    let air_by_formula = Surroundings { air: None, ..elec_15() };
    close(warm(&awg("14"), 25.0, &air_by_formula), 72.05, 1e-2);
}

/// The current for a temperature is the inverse of the temperature for a current, single and bundled, with and without
/// a drop through the insulation.
#[test]
fn current_and_temperature_are_inverse() {
    for count in [1, 2, 7] {
        for conductivity in [None, Some(q(0.17, "W_per_m_K"))] {
            let surroundings = Surroundings {
                count,
                insulation_conductivity: conductivity,
                air: None,
                ..elec_15()
            };
            let back = si_of_run(|| {
                let current = wire_current_for(&awg("14"), q(85.0, "degC"), &surroundings).unwrap();
                wire_temperature(&awg("14"), current, &surroundings).unwrap()
            });
            close(back, 358.15, 1e-12);
        }
    }
}

/// The drop through the insulation alone: q ln(D/d)/(2πk), by hand from the heat that the wire makes.
#[test]
fn the_conductor_is_warmer_than_the_insulation() {
    let with_drop = Surroundings {
        insulation_conductivity: Some(q(0.17, "W_per_m_K")),
        ..elec_15()
    };
    let conductor = warm(&awg("14"), 25.0, &with_drop);
    let heat = 625.0 * ohms_per_metre(&awg("14"), conductor);
    let drop = heat * (2.9 / in_unit(awg("14").diameter(), "mm")).ln() / (std::f64::consts::TAU * 0.17);
    let surface = q(conductor - drop, "degC");
    let loss = still_air_loss(mm(2.9), surface, q(40.0, "degC"), Quantity::plain(0.9), elec_15().air).unwrap();
    close(si(loss), heat, 1e-10);
    assert!((2.0..4.0).contains(&drop), "{drop}");
}

/// A bundle of n wires is one cylinder of diameter D √(n/0.75) that loses n times the heat.
#[test]
fn a_bundle_is_one_cylinder() {
    let bundle = Surroundings { count: 7, ..elec_15() };
    let celsius = warm(&awg("14"), 12.0, &bundle);
    let diameter = mm(2.9 * (7.0f64 / 0.75).sqrt());
    let (surface, ambient) = (q(celsius, "degC"), q(40.0, "degC"));
    let loss = still_air_loss(diameter, surface, ambient, Quantity::plain(0.9), bundle.air).unwrap();
    close(si(loss), 7.0 * 144.0 * ohms_per_metre(&awg("14"), celsius), 1e-10);
    assert!(celsius > warm(&awg("14"), 12.0, &elec_15()) + 10.0);
}

#[test]
fn a_wire_without_current_is_as_warm_as_the_air() {
    close(warm(&awg("14"), 0.0, &elec_15()), 40.0, 1e-12);
}

#[test]
fn a_road_cable_brings_its_own_insulation() {
    let given = Surroundings {
        insulation: Some(mm(3.7)),
        ..Surroundings::still_air(q(80.0, "degC"))
    };
    let own = Surroundings::still_air(q(80.0, "degC"));
    let road = road_cable("4").unwrap();
    assert_eq!(warm(&road, 30.0, &own).to_bits(), warm(&road, 30.0, &given).to_bits());
    let message = refused(wire_temperature(&cable("4").unwrap(), q(30.0, "A"), &own));
    assert!(
        message.contains("4 mm² IEC 60228 class 5 over its insulation is not known"),
        "{message}"
    );
}

#[test]
fn what_cannot_be_is_refused() {
    let (wire, amperes) = (awg("14"), q(25.0, "A"));
    assert!(refused(wire_awg("5/0")).contains("no American wire gauge"));
    assert!(refused(wire_awg("1/1")).contains("no American wire gauge"));
    assert!(refused(wire_awg("")).contains("no American wire gauge"));
    assert!(refused(cable("3")).contains("sizes in mm² are"));
    assert!(refused(wire_mm2(mm(2.0))).contains("must be an area"));
    assert!(refused(wire_mm2(q(0.0, "mm2"))).contains("must be above zero"));
    assert!(refused(wire.resistance_per_length(q(20.0, "K"))).contains("must be a temperature"));
    assert!(refused(wire_temperature(&wire, q(3.0, "V"), &elec_15())).contains("the current must be"));
    assert!(refused(wire_temperature(&wire, q(1e6, "A"), &elec_15())).contains("hotter than 500 °C"));
    let wrong = |change: fn(&mut Surroundings)| {
        let mut surroundings = elec_15();
        change(&mut surroundings);
        refused(wire_temperature(&wire, amperes, &surroundings))
    };
    assert!(wrong(|s| s.count = 0).contains("at least 1"));
    assert!(wrong(|s| s.insulation = Some(mm(1.5))).contains("less than the copper's"));
    assert!(wrong(|s| s.emissivity = Some(Quantity::plain(9.0))).contains("between 0 and 1"));
    assert!(wrong(|s| s.ambient = q(600.0, "degC")).contains("above 500 °C"));
    assert!(wrong(|s| s.ambient = q(-150.0, "degC")).contains("below −100 °C"));
    assert!(refused(wire_current_for(&wire, q(30.0, "degC"), &elec_15())).contains("must be warmer than the air"));
}

#[test]
fn warmth_replays_and_derives() {
    let surroundings = |x: &[Number]| Surroundings {
        insulation: Some(Quantity::of(x[1], Dimension::LENGTH)),
        count: 3,
        insulation_conductivity: Some(q(0.17, "W_per_m_K")),
        ..Surroundings::still_air(Quantity::temperature_point(x[0]))
    };
    let wire = |x: &[Number]| wire_mm2(Quantity::of(x[2], Dimension::AREA)).unwrap();
    let inputs = [313.15, 2.9e-3, 2.0e-6, 12.0];
    let temperature = |x: &[Number]| {
        let current = Quantity::of(x[3], Dimension::CURRENT);
        wire_temperature(&wire(x), current, &surroundings(x)).unwrap()
    };
    follows(&inputs, temperature);
    leaves(&inputs, &[313.15, 2.9e-3, 2.0e-6, 500.0], temperature);
    leaves(&inputs, &[313.15, 1.5e-3, 2.0e-6, 12.0], temperature);
    follows(&[313.15, 2.9e-3, 2.0e-6, 360.0], |x| {
        wire_current_for(&wire(x), Quantity::temperature_point(x[3]), &surroundings(x)).unwrap()
    });
}
