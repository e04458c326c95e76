//! Materials: every row is complete enough to use, and agrees with what was published.

use super::check::{close, in_unit, printed, q, refused, si};
use crankline_engine::material::{Kind, Material, Property, custom_material, material, material_names};

fn every_material() -> Vec<Material> {
    let names = Kind::ALL.into_iter().flat_map(material_names);
    names.map(|name| material(name).unwrap()).collect()
}

#[test]
fn every_row_is_named_once_and_every_value_names_its_source() {
    let all = every_material();
    assert!(all.len() >= 19);
    for (index, material) in all.iter().enumerate() {
        assert!(
            !all[..index].iter().any(|other| other.name() == material.name()),
            "{}",
            material.name()
        );
        assert!(
            material.knows(Property::Density) && material.knows(Property::E),
            "{}",
            material.name()
        );
        for property in Property::ALL {
            let Some(source) = material.source_of(property) else {
                continue;
            };
            assert!(source.len() > 10, "{} {}", material.name(), property.name());
            assert!(material.source().contains(source));
            assert_eq!(material.get(property).unwrap().dimension(), property.dimension());
        }
    }
}

/// What physics allows: a Poisson's ratio of metals near 0.3, strengths in order, nothing gained by welding.
#[test]
fn values_are_plausible_together() {
    for material in every_material() {
        let of = |property| material.get(property).ok().map(si);
        if material.knows(Property::G) {
            let poisson = si(material.poisson().unwrap());
            assert!((0.27..0.34).contains(&poisson), "{}: {poisson}", material.name());
        }
        let pairs = [
            (Property::YieldStrength, Property::UltimateStrength),
            (Property::YieldBesideWeld, Property::YieldStrength),
            (Property::UltimateBesideWeld, Property::UltimateStrength),
            (Property::YieldStrength, Property::E),
        ];
        for (smaller, larger) in pairs {
            if let (Some(smaller), Some(larger)) = (of(smaller), of(larger)) {
                assert!(smaller <= larger, "{}: {smaller} above {larger}", material.name());
            }
        }
    }
}

/// EN 1999-1-1, table 3.2b, as reproduced: 0.2 % proof and tensile strength, parent and heat-affected, MPa; and the
/// ratios that it prints.
#[test]
fn strengths_beside_a_weld_agree_with_the_published_table() {
    for (name, proof, tensile) in [
        ("AA 6061-T6", (240.0, 115.0, Some(0.48)), (260.0, 175.0, None)),
        ("AA 6063-T6", (160.0, 65.0, Some(0.41)), (195.0, 110.0, Some(0.56))),
        ("AA 6060-T6", (140.0, 60.0, Some(0.43)), (170.0, 100.0, None)),
        ("AA 6005A-T6", (225.0, 115.0, None), (270.0, 165.0, Some(0.61))),
        ("AA 5083-O", (110.0, 110.0, None), (270.0, 270.0, None)),
    ] {
        let material = material(name).unwrap();
        let mpa = |property| in_unit(material.get(property).unwrap(), "MPa");
        for ((parent, beside, ratio), properties) in [
            (proof, (Property::YieldStrength, Property::YieldBesideWeld)),
            (tensile, (Property::UltimateStrength, Property::UltimateBesideWeld)),
        ] {
            close(mpa(properties.0), parent, 1e-15);
            close(mpa(properties.1), beside, 1e-15);
            if let Some(ratio) = ratio {
                printed(mpa(properties.1) / mpa(properties.0), ratio, 2);
            }
        }
    }
}

/// Steel strengths in the units of their standards (from memory: EN 10025-2, EN 10305-1, ASTM A36, A513), MPa.
#[test]
fn steels_have_the_strengths_of_their_designations() {
    for (name, yields, tensile) in [
        ("S235JR", 235.0, 360.0),
        ("S355J2", 355.0, 470.0),
        ("E235+N", 235.0, 340.0),
        ("E355+N", 355.0, 490.0),
        ("ASTM A36", 248.0, 400.0),
        ("ASTM A500 B", 290.0, 400.0),
        ("AISI 1020 DOM", 414.0, 483.0),
        ("AISI 4130 normalized", 414.0, 621.0),
        ("AISI 304", 205.0, 515.0),
    ] {
        let material = material(name).unwrap();
        printed(in_unit(material.yield_strength().unwrap(), "MPa"), yields, 0);
        printed(in_unit(material.ultimate_strength().unwrap(), "MPa"), tensile, 0);
    }
}

/// The arithmetic of the two laminates again: Vf from the mass fraction M, E = n Ef Vf + Em (1 − Vf), no voids; tensile
/// strength = unit strength / thickness per mass of glass.
#[test]
fn laminates_follow_the_rule_of_mixtures() {
    let (fibre, resin) = (2560.0, 1200.0);
    for (name, m, n, unit_strength) in [
        ("Glass mat and polyester, 30 % glass by mass", 0.30, 3.0 / 8.0, 200e3),
        ("Woven glass and polyester, 50 % glass by mass", 0.50, 1.0 / 2.0, 250e3),
    ] {
        let material = material(name).unwrap();
        let volume = m / fibre + (1.0 - m) / resin;
        let share = m / fibre / volume;
        printed(
            in_unit(material.young().unwrap(), "GPa"),
            n * 72.0 * share + 3.0 * (1.0 - share),
            1,
        );
        printed(si(material.density().unwrap()), 1.0 / volume, 0);
        let thickness_per_glass = volume / m;
        let strength = in_unit(material.ultimate_strength().unwrap(), "MPa");
        close(strength, unit_strength / thickness_per_glass / 1e6, 1e-2);
    }
}

/// IEC 60028: 1/58 Ω mm²/m.
#[test]
fn copper_has_its_standard_resistivity() {
    let copper = material("Copper IEC 60028").unwrap();
    close(si(copper.resistivity().unwrap()), 1e-6 / 58.0, 1e-15);
}

#[test]
fn what_is_not_known_is_refused_by_name() {
    let chromoly = material("AISI 4130 normalized").unwrap();
    let message = refused(chromoly.yield_beside_weld());
    assert!(
        message.contains("the yield strength beside a weld of AISI 4130 normalized is not known"),
        "{message}"
    );
    assert!(message.contains("custom_material(#{yield_beside_weld"), "{message}");
    assert!(refused(material("AISI 4130 normalised")).contains("did you mean \"AISI 4130 normalized\"?"));
    assert!(refused(material("4130")).contains("did you mean \"AISI 4130 normalized\"?"));
    assert!(refused(material("1020")).contains("\"AISI 1020 DOM\" or \"ASTM A513 type 5 1020\"?"));
    assert!(refused(material("")).contains("material_names"));
    assert!(refused(material("unobtainium")).contains("material_names"));
    assert!(refused(Kind::named("metals")).contains("did you mean \"metal\"?"));
}

#[test]
fn a_custom_material_holds_what_it_is_given() {
    let given = [("E", q(205.0, "GPa")), ("yield_strength", q(350.0, "MPa"))];
    let tube = custom_material(&given, "mill certificate 1234").unwrap();
    close(in_unit(tube.young().unwrap(), "GPa"), 205.0, 1e-15);
    assert_eq!(tube.source(), "mill certificate 1234");
    assert!(refused(tube.density()).contains("mill certificate 1234"));

    assert!(refused(custom_material(&given, " ")).contains("where it comes from"));
    assert!(refused(custom_material(&[], "certificate")).contains("at least one property"));
    let misspelt = custom_material(&[("yield_strenght", q(350.0, "MPa"))], "certificate");
    assert!(refused(misspelt).contains("did you mean yield_strength?"));
    let twice = [given[0], given[0]];
    assert!(refused(custom_material(&twice, "certificate")).contains("E is given twice"));
    let wrong = custom_material(&[("density", q(350.0, "MPa"))], "certificate");
    assert!(refused(wrong).contains("the density must be a density"));
    let negative = custom_material(&[("E", q(-205.0, "GPa"))], "certificate");
    assert!(refused(negative).contains("must be above zero"));
}
