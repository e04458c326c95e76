//! Sections against closed forms, published tables and a finite-element program.

use super::check::{close, follows, in_unit, inch, leaves, metres, mm, printed, q, refused, si};
use crankline_engine::material::custom_material;
use crankline_engine::quantity::Quantity;
use crankline_engine::section::Section;

fn tube(outside_diameter: f64, wall: f64) -> Section {
    Section::round_tube(inch(outside_diameter), inch(wall)).unwrap()
}

/// 1.75 × 0.120 in; computed with numerical area integrals (scipy 1.17.1), 12 digits.
#[test]
fn a_round_tube_agrees_with_area_integrals() {
    let tube = tube(1.75, 0.120);
    close(in_unit(tube.area(), "mm2"), 396.447_931_646, 1e-9);
    close(in_unit(tube.second_moment().unwrap(), "mm4"), 85_405.584_011_5, 1e-9);
    close(in_unit(tube.elastic_modulus().unwrap(), "mm3"), 3_842.770_934_15, 1e-9);
    close(in_unit(tube.plastic_modulus_y(), "mm3"), 5_234.093_789_86, 1e-9);
    close(in_unit(tube.torsion_constant(), "mm4"), 170_811.168_023, 1e-9);
    close(in_unit(tube.radius_of_gyration(), "mm"), 14.677_431_263_7, 1e-9);
}

/// US Army Corps of Engineers EI 02C097 (1997), table B-1: steel pipe piles.
#[test]
fn pipe_piles_agree_with_their_table() {
    let pile = |od, wall| {
        let tube = tube(od, wall);
        let second_moment = in_unit(tube.second_moment_y(), "in4");
        let radius = in_unit(tube.radius_of_gyration(), "inch");
        (in_unit(tube.area(), "in2"), second_moment, radius)
    };
    printed(pile(12.0, 0.134).0, 5.00, 2);
    printed(pile(12.0, 0.134).1, 87.9, 1);
    printed(pile(12.75, 0.109).1, 86.5, 1);
    printed(pile(12.75, 0.109).2, 4.47, 2);
    printed(pile(12.75, 0.188).1, 146.0, 0);
    printed(pile(12.75, 0.188).2, 4.44, 2);
    printed(pile(12.75, 0.500).1, 362.0, 0);
    printed(pile(12.75, 0.500).2, 4.33, 2);
}

/// Mott, Machine Elements in Mechanical Design, 4th edition, table A16-6: schedule 40 pipe.
#[test]
fn schedule_40_pipe_agrees_with_its_table() {
    for (od, wall, modulus, radius) in [
        (1.315, 0.133, 0.1328, 0.421),
        (1.900, 0.145, 0.3262, 0.623),
        (2.375, 0.154, 0.5607, 0.787),
    ] {
        let pipe = tube(od, wall);
        // Mott's moduli come from rounded moments: within two units of the last place.
        close(in_unit(pipe.elastic_modulus().unwrap(), "in3"), modulus, 6e-4);
        printed(in_unit(pipe.radius_of_gyration(), "inch"), radius, 3);
    }
}

/// Ugural, Mechanical Design of Machine Components: hollow shaft 50/30 mm, 267e3 mm⁴.
#[test]
fn a_hollow_shaft_agrees_with_a_textbook() {
    let shaft = Section::round_tube(mm(50.0), mm(10.0)).unwrap();
    close(in_unit(shaft.second_moment_y(), "mm4"), 267e3, 2e-3);
}

/// Propeller tube 3.5 × 0.083 in under 1400 lbf ft: 77.894579394 MPa (GNU units 2.22).
#[test]
fn torsional_stress_of_a_propeller_tube() {
    let stress = q(1400.0, "lbf_ft").div(tube(3.5, 0.083).torsion_modulus()).unwrap();
    close(in_unit(stress, "MPa"), 77.894_579_394, 1e-9);
}

/// 2 × 1 × 0.120 in, sharp corners; sectionproperties 3.10.2 (finite elements), Bredt from its formula.
#[test]
fn a_sharp_rectangular_tube_agrees_with_finite_elements() {
    let tube = Section::rect_tube(inch(1.0), inch(2.0), inch(0.120), None).unwrap();
    close(in_unit(tube.second_moment_y(), "mm4"), 133_771.585_62, 1e-9);
    close(in_unit(tube.second_moment_z(), "mm4"), 42_573.615_345, 1e-9);
    close(in_unit(tube.plastic_modulus_y(), "mm3"), 6_742.555_805_18, 1e-9);
    close(in_unit(tube.plastic_modulus_z(), "mm3"), 4_028.858_006_78, 1e-9);
    close(in_unit(tube.torsion_constant(), "mm4"), 99_064.503_890_1, 1e-9);
    // The whole Saint-Venant constant; Bredt's thin wall is softer.
    let softer = in_unit(tube.torsion_constant(), "mm4") / 103_708.825;
    assert!((0.95..1.0).contains(&softer), "{softer}");
}

/// 40 × 60 × 3 mm with rounded corners; sectionproperties 3.10.2, arcs of 24 chords (area 1e-4 low).
#[test]
fn a_rounded_rectangular_tube_agrees_with_finite_elements() {
    for (corner, area, about_y, about_z, plastic_y, plastic_z, torsion) in [
        (6.0, 540.757, 253_734.8, 134_372.9, 10_529.88, 7_942.305, 293_655.4),
        (1.5, 562.063, 272_147.4, 142_382.9, 11_156.54, 8_355.912, 293_003.1),
    ] {
        let tube = Section::rect_tube(mm(40.0), mm(60.0), mm(3.0), Some(mm(corner))).unwrap();
        close(in_unit(tube.area(), "mm2"), area, 2e-4);
        close(in_unit(tube.second_moment_y(), "mm4"), about_y, 3e-4);
        close(in_unit(tube.second_moment_z(), "mm4"), about_z, 3e-4);
        close(in_unit(tube.plastic_modulus_y(), "mm3"), plastic_y, 3e-4);
        close(in_unit(tube.plastic_modulus_z(), "mm3"), plastic_z, 3e-4);
        let softer = in_unit(tube.torsion_constant(), "mm4") / torsion;
        assert!((0.96..1.0).contains(&softer), "{softer}");
    }
}

/// Flat bars; sectionproperties 3.10.2, warping solution.
#[test]
fn flat_bars_agree_with_finite_elements() {
    for (width, height, about_y, plastic_y, torsion) in [
        (8.0, 50.0, 83_333.333, 5_000.0, 7_672.919),
        (20.0, 30.0, 45_000.0, 4_500.0, 46_982.69),
    ] {
        let bar = Section::flat_bar(mm(width), mm(height)).unwrap();
        close(in_unit(bar.second_moment_y(), "mm4"), about_y, 1e-8);
        close(in_unit(bar.plastic_modulus_y(), "mm3"), plastic_y, 1e-9);
        close(in_unit(bar.torsion_constant(), "mm4"), torsion, 2e-4);
        let turned = Section::flat_bar(mm(height), mm(width)).unwrap();
        assert_eq!(
            si(bar.torsion_constant()).to_bits(),
            si(turned.torsion_constant()).to_bits()
        );
        assert_eq!(
            si(bar.second_moment_y()).to_bits(),
            si(turned.second_moment_z()).to_bits()
        );
    }
}

/// Timoshenko and Goodier, Theory of Elasticity, table for torsion of rectangular bars: J = k₁ b c³, modulus k₂ b c²
/// (from memory).
#[test]
fn torsion_of_flat_bars_agrees_with_the_classic_table() {
    for (ratio, of_constant, of_modulus) in [
        (1.0, 0.1406, 0.208),
        (1.5, 0.196, 0.231),
        (2.0, 0.229, 0.246),
        (3.0, 0.263, 0.267),
        (5.0, 0.291, 0.291),
        (10.0, 0.312, 0.312),
    ] {
        let bar = Section::flat_bar(mm(10.0 * ratio), mm(10.0)).unwrap();
        let decimals = if ratio == 1.0 { 4 } else { 3 };
        printed(
            in_unit(bar.torsion_constant(), "mm4") / (1e4 * ratio),
            of_constant,
            decimals,
        );
        // Their moduli are cut after three decimals, not rounded.
        close(
            in_unit(bar.torsion_modulus(), "mm3") / (1e3 * ratio),
            of_modulus + 5e-4,
            3e-3,
        );
    }
    // A thin strip tends to b c³/3 and b c²/3, and nothing overflows.
    let strip = Section::flat_bar(mm(10_000.0), mm(1.0)).unwrap();
    close(in_unit(strip.torsion_constant(), "mm4"), 1e4 / 3.0, 1e-4);
    close(in_unit(strip.torsion_modulus(), "mm3"), 1e4 / 3.0, 1e-4);
}

/// A thin ring: A = 2πrt, I = πr³t, Z_plastic = 4r²t, J = 2πr³t to the order of (t/r)².
#[test]
fn a_thin_tube_tends_to_a_thin_ring() {
    use std::f64::consts::PI;
    let tube = Section::round_tube(mm(100.01), mm(0.01)).unwrap();
    let (r, t) = (50.0, 0.01);
    close(in_unit(tube.area(), "mm2"), 2.0 * PI * r * t, 1e-7);
    close(in_unit(tube.second_moment_y(), "mm4"), PI * r * r * r * t, 1e-7);
    close(in_unit(tube.plastic_modulus_y(), "mm3"), 4.0 * r * r * t, 1e-7);
    close(in_unit(tube.torsion_constant(), "mm4"), 2.0 * PI * r * r * r * t, 1e-7);
}

/// The polar second moment is the sum of the two, and a tube is a bar less the bar that fits its hole.
#[test]
fn round_sections_obey_their_identities() {
    let bar = |d| Section::round_bar(mm(d)).unwrap();
    let tube = Section::round_tube(mm(50.0), mm(4.0)).unwrap();
    let sum = si(tube.second_moment_y()) + si(tube.second_moment_z());
    close(si(tube.torsion_constant()), sum, 1e-15);
    let less = |of: fn(&Section) -> Quantity| {
        close(si(of(&tube)), si(of(&bar(50.0))) - si(of(&bar(42.0))), 1e-14);
    };
    less(Section::area);
    less(Section::second_moment_y);
    less(Section::plastic_modulus_y);
    less(Section::torsion_constant);
    // A bar: modulus πd³/32, plastic d³/6, radius of gyration d/4.
    close(
        in_unit(bar(10.0).elastic_modulus().unwrap(), "mm3"),
        std::f64::consts::PI * 1e3 / 32.0,
        1e-14,
    );
    close(in_unit(bar(10.0).plastic_modulus_y(), "mm3"), 1e3 / 6.0, 1e-14);
    close(in_unit(bar(10.0).radius_of_gyration(), "mm"), 2.5, 1e-14);
}

/// Rounded until nothing straight is left, a square tube is a round tube.
#[test]
fn a_square_tube_fully_rounded_is_a_round_tube() {
    let square = Section::rect_tube(mm(50.0), mm(50.0), mm(4.0), Some(mm(25.0))).unwrap();
    let round = Section::round_tube(mm(50.0), mm(4.0)).unwrap();
    close(si(square.area()), si(round.area()), 1e-13);
    close(si(square.second_moment_y()), si(round.second_moment_y()), 1e-13);
    close(si(square.plastic_modulus_z()), si(round.plastic_modulus_z()), 1e-13);
    // Bredt round a ring is 2π rm³ t; the exact constant is larger by (t/2rm)².
    close(si(square.torsion_constant()), si(round.torsion_constant()), 8e-3);
}

/// Cowper (1966): solid circle, rectangle, thin ring and thin square box at ν = 0.3 (values from his formulas, from
/// memory); ring of 3.5 × 0.083 in as the independent frequency of a tubular shaft uses it.
#[test]
fn shear_coefficients_agree_with_cowper() {
    let poisson = Quantity::plain(0.3);
    let of = |section: Section| si(section.shear_coefficient_vertical(poisson));
    close(of(Section::round_bar(mm(20.0)).unwrap()), 0.886, 1e-3);
    close(of(Section::flat_bar(mm(20.0), mm(50.0)).unwrap()), 0.850, 1e-3);
    close(of(Section::round_tube(mm(100.0), mm(0.01)).unwrap()), 0.531, 1e-3);
    let box_section = Section::rect_tube(mm(100.0), mm(100.0), mm(1.0), None).unwrap();
    close(of(box_section), 20.0 * 1.3 / (48.0 + 39.0 * 0.3), 1e-12);
    // Crossmember tube 1.75 × 0.120 in: 0.535.
    printed(of(tube(1.75, 0.120)), 0.535, 3);
}

/// Timoshenko frequency of a tubular shaft, 3.5 × 0.083 × 54 in, pinned: 7651.48223138 rpm (own finite elements).
#[test]
fn the_shear_coefficient_gives_the_frequency_of_a_shaft() {
    let tube = tube(3.5, 0.083);
    let kappa = si(tube.shear_coefficient_vertical(Quantity::plain(0.3)));
    let (young, density, k) = (200e9, 7850.0, std::f64::consts::PI / (54.0 * 0.0254));
    let (area, second_moment) = (si(tube.area()), si(tube.second_moment_y()));
    let kg = kappa * young / 2.6;
    let a = density * density * second_moment / kg;
    let b = density * area + density * second_moment * k * k * (1.0 + young / kg);
    let c = young * second_moment * k.powi(4);
    let omega = ((b - (b * b - 4.0 * a * c).sqrt()) / (2.0 * a)).sqrt();
    close(omega * 30.0 / std::f64::consts::PI, 7_651.482_231_38, 1e-6);
}

#[test]
fn mass_follows_the_density() {
    let steel = custom_material(&[("density", q(7850.0, "kg_per_m3"))], "test certificate").unwrap();
    let per_metre = tube(1.75, 0.120).mass_per_length(&steel).unwrap();
    close(in_unit(per_metre, "kg_per_m"), 396.447_931_646e-6 * 7850.0, 1e-9);
}

#[test]
fn what_cannot_be_made_is_refused() {
    let message = refused(Section::round_tube(mm(38.0), mm(19.0)));
    assert!(
        message.contains("the wall (") && message.contains("half of the outside diameter"),
        "{message}"
    );
    assert!(refused(Section::round_tube(mm(38.0), mm(0.0))).contains("the wall must be above zero"));
    assert!(refused(Section::round_tube(q(2.0, "kg"), mm(1.0))).contains("the outside diameter must be a length"));
    assert!(refused(Section::rect_tube(mm(40.0), mm(20.0), mm(10.0), None)).contains("half of the height"));
    let corner = Section::rect_tube(mm(40.0), mm(20.0), mm(2.0), Some(mm(11.0)));
    assert!(refused(corner).contains("half of a side of 20 mm"));
    let corner = Section::rect_tube(mm(40.0), mm(20.0), mm(2.0), Some(mm(-1.0)));
    assert!(refused(corner).contains("must not be below zero"));
    assert!(refused(Section::flat_bar(mm(40.0), mm(-5.0))).contains("the height must be above zero"));
    let bar = Section::flat_bar(mm(40.0), mm(5.0)).unwrap();
    assert!(refused(bar.second_moment()).contains("I_y where a vertical load bends it"));
}

#[test]
fn sections_replay_and_derive() {
    type Ask = fn(&Section) -> Quantity;
    let ask: [Ask; 8] = [
        Section::area,
        Section::second_moment_y,
        Section::elastic_modulus_z,
        Section::plastic_modulus_y,
        Section::torsion_constant,
        Section::torsion_modulus,
        Section::radius_of_gyration,
        |section| section.shear_coefficient_sideways(Quantity::plain(0.3)),
    ];
    for of in ask {
        follows(&[0.0445, 0.003], |x| {
            of(&Section::round_tube(metres(x[0]), metres(x[1])).unwrap())
        });
        follows(&[0.040, 0.060, 0.003, 0.006], |x| {
            let [width, height, wall, corner] = [0, 1, 2, 3].map(|i| metres(x[i]));
            of(&Section::rect_tube(width, height, wall, Some(corner)).unwrap())
        });
        follows(&[0.050, 0.008], |x| {
            of(&Section::flat_bar(metres(x[0]), metres(x[1])).unwrap())
        });
    }
    leaves(&[0.0445, 0.003], &[0.0445, 0.0223], |x| {
        Section::round_tube(metres(x[0]), metres(x[1])).unwrap().area()
    });
}
