//! Threads and bolt grades against published stress areas and loads.

use super::check::{close, in_unit, inch, mm, printed, refused, si};
use crankline_engine::fastener::{BoltGrade, Form, bolt_grade, bolt_grade_names, thread_form, thread_names};
use crankline_engine::quantity::Quantity;

/// ISO 898-1 tables as reproduced (four reproductions compared), mm².
#[test]
fn metric_stress_areas_agree_with_published_tables() {
    for (name, area, decimals) in [
        ("M6", 20.1, 1),
        ("M8", 36.6, 1),
        ("M10", 58.0, 1),
        ("M12", 84.3, 1),
        ("M14", 115.0, 0),
    ] {
        printed(in_unit(thread_form(name).unwrap().stress_area(), "mm2"), area, decimals);
    }
}

/// The definition of ISO 898-1 itself, π/4 ((d₂ + d₃)/2)² with d₂ = d − 0.64952 P and d₃ = d − 1.22687 P.
#[test]
fn metric_stress_areas_follow_the_definition() {
    for name in thread_names() {
        let thread = thread_form(name).unwrap();
        let (d, p) = (si(thread.major()), si(thread.pitch()));
        let mean = match thread.form() {
            Form::Metric => ((d - 0.649_519 * p) + (d - 1.226_869 * p)) / 2.0,
            // ASME B1.1: 0.9743 is 9√3/16 rounded.
            Form::Unified => d - 9.0 * 3f64.sqrt() / 16.0 * p,
        };
        close(si(thread.stress_area()), std::f64::consts::PI / 4.0 * mean * mean, 2e-4);
    }
}

/// SAE J429, sheet of proof loads and tensile requirements in a public contract file, in².
#[test]
fn inch_stress_areas_agree_with_a_published_sheet() {
    for (name, area, decimals) in [
        ("1/4-20 UNC", 0.0318, 4),
        ("3/8-16 UNC", 0.0775, 4),
        ("1/2-13 UNC", 0.1419, 4),
        ("5/8-11 UNC", 0.226, 3),
        ("3/8-24 UNF", 0.0878, 4),
        ("7/8-9 UNC", 0.462, 3),
    ] {
        printed(in_unit(thread_form(name).unwrap().stress_area(), "in2"), area, decimals);
    }
}

/// Independent arithmetic (GNU units 2.22) from the same formulas, 12 digits.
#[test]
fn stress_areas_and_proof_loads_agree_with_other_arithmetic() {
    let area = |name| thread_form(name).unwrap().stress_area();
    close(in_unit(area("3/8-16"), "in2"), 0.077_489_531_877_2, 1e-9);
    close(in_unit(area("7/16-20"), "in2"), 0.118_715_898_238, 1e-9);
    close(in_unit(area("M10"), "mm2"), 57.989_475_425_3, 1e-9);
    close(in_unit(area("M12x1.25"), "mm2"), 92.071_710_344_9, 1e-9);
    close(
        load("3/8-16", "SAE J429 8", BoltGrade::proof, "lbf"),
        9_298.743_825_26,
        1e-9,
    );
    close(
        load("M10", "ISO 898-1 10.9", BoltGrade::proof, "kN"),
        48.131_264_603,
        1e-9,
    );
}

fn load(thread: &str, grade: &str, strength: fn(&BoltGrade) -> Quantity, unit: &str) -> f64 {
    let thread = thread_form(thread).unwrap();
    let grade = bolt_grade(grade).unwrap().of(&thread).unwrap();
    in_unit(thread.stress_area().mul(strength(&grade)).unwrap(), unit)
}

/// ISO 898-1 loads as reproduced (four reproductions compared), N, from rounded areas, cut to three figures.
#[test]
fn metric_bolt_loads_agree_with_published_tables() {
    let proof: fn(&BoltGrade) -> Quantity = BoltGrade::proof;
    let ultimate: fn(&BoltGrade) -> Quantity = BoltGrade::ultimate_strength;
    for (thread, grade, strength, expected) in [
        ("M6", "ISO 898-1 8.8", proof, 11_600.0),
        ("M8", "ISO 898-1 8.8", proof, 21_200.0),
        ("M10", "ISO 898-1 10.9", proof, 48_100.0),
        ("M12", "ISO 898-1 10.9", proof, 70_000.0),
        ("M8", "ISO 898-1 10.9", ultimate, 38_100.0),
        ("M12", "ISO 898-1 8.8", ultimate, 67_400.0),
    ] {
        close(load(thread, grade, strength, "N"), expected, 7e-3);
    }
}

/// SAE J429, the same sheet, lbf, rounded to 50 or 100 lbf.
#[test]
fn inch_bolt_loads_agree_with_a_published_sheet() {
    for (thread, grade, expected) in [
        ("5/8-11 UNC", "SAE J429 2", 12_400.0),
        ("5/8-11 UNC", "SAE J429 8", 27_100.0),
        ("3/8-16 UNC", "SAE J429 2", 4_250.0),
        ("7/8-9 UNC", "SAE J429 2", 15_200.0),
    ] {
        close(load(thread, grade, BoltGrade::proof, "lbf"), expected, 4e-3);
    }
    close(
        load("5/8-11 UNC", "SAE J429 8", BoltGrade::ultimate_strength, "lbf"),
        33_900.0,
        4e-3,
    );
}

/// Where the standards change with size: the last size of a range is in it, the next is not.
#[test]
fn strengths_change_with_size_where_the_standard_says_so() {
    for (grade, thread, proof, unit) in [
        ("SAE J429 2", "3/4-10 UNC", 55.0, "ksi"),
        ("SAE J429 2", "7/8-9 UNC", 33.0, "ksi"),
        ("SAE J429 5", "1-8 UNC", 85.0, "ksi"),
        ("SAE J429 5", "1-1/8-7 UNC", 74.0, "ksi"),
        ("SAE J429 8", "1-1/2-6 UNC", 120.0, "ksi"),
        ("ISO 898-1 8.8", "M16", 580.0, "MPa"),
        ("ISO 898-1 8.8", "M18", 600.0, "MPa"),
        ("ISO 898-1 5.8", "M24", 380.0, "MPa"),
    ] {
        let strength = bolt_grade(grade)
            .unwrap()
            .proof_for(&thread_form(thread).unwrap())
            .unwrap();
        close(in_unit(strength, unit), proof, 1e-15);
    }
    let grade = bolt_grade("SAE J429 5").unwrap();
    close(in_unit(grade.proof(), "ksi"), 85.0, 1e-15);
    close(si(grade.sizes()), si(inch(1.0)), 1e-15);
}

#[test]
fn every_grade_is_in_order() {
    for name in bolt_grade_names() {
        let grade = bolt_grade(name).unwrap();
        assert!(si(grade.proof()) < si(grade.yield_strength()), "{name}");
        assert!(si(grade.yield_strength()) < si(grade.ultimate_strength()), "{name}");
        assert!(grade.source().contains("SAE J429") || grade.source().contains("ISO 898-1"));
    }
}

#[test]
fn threads_are_found_as_people_write_them() {
    for (written, name) in [
        ("1/2-13 UNC", "1/2-13 UNC"),
        ("1/2-13", "1/2-13 UNC"),
        (" 1/2 - 20 unf", "1/2-20 UNF"),
        ("1 1/8-7 UNC", "1-1/8-7 UNC"),
        ("1-8", "1-8 UNC"),
        ("#10-24", "No. 10-24 UNC"),
        ("No. 10-32 UNF", "No. 10-32 UNF"),
        ("10-32", "No. 10-32 UNF"),
        ("M10", "M10x1.5"),
        ("m10 × 1.25", "M10x1.25"),
        ("M8x1", "M8x1"),
        ("M6x1", "M6x1"),
    ] {
        assert_eq!(thread_form(written).unwrap().name(), name);
    }
    for name in thread_names() {
        assert_eq!(thread_form(name).unwrap().name(), name);
    }
    close(si(thread_form("M10").unwrap().major()), si(mm(10.0)), 1e-15);
    close(si(thread_form("1/2-13").unwrap().pitch()), si(inch(1.0)) / 13.0, 1e-15);
}

#[test]
fn what_is_no_thread_is_refused() {
    let message = refused(thread_form("1/2-14 UNC"));
    assert!(
        message.contains("of this size there are: 1/2-13 UNC, 1/2-20 UNF"),
        "{message}"
    );
    assert!(refused(thread_form("M10x2")).contains("M10x1.5, M10x1.25, M10x1"));
    assert!(refused(thread_form("M11")).contains("M10"));
    assert!(refused(thread_form("1/2")).contains("1/2-13 UNC, 1/2-20 UNF"));
    assert!(refused(thread_form("")).contains("thread_names()"));
    assert!(refused(bolt_grade("SAE J429 grade 8")).contains("SAE J429 8"));
    let inch_bolt = thread_form("1/2-13").unwrap();
    let message = refused(bolt_grade("ISO 898-1 10.9").unwrap().of(&inch_bolt));
    assert!(
        message.contains("a grade for a metric thread, 1/2-13 UNC is an inch thread"),
        "{message}"
    );
}

/// Tables of basic pitch diameters, ISO 724 (mm) and ASME B1.1 (in), from memory.
#[test]
fn pitch_diameters_agree_with_the_standards() {
    for (name, diameter, decimals) in [
        ("M6", 5.350, 3),
        ("M8", 7.188, 3),
        ("M10", 9.026, 3),
        ("M12", 10.863, 3),
    ] {
        printed(
            in_unit(thread_form(name).unwrap().pitch_diameter(), "mm"),
            diameter,
            decimals,
        );
    }
    for (name, diameter, decimals) in [
        ("1/4-20 UNC", 0.2175, 4),
        ("3/8-16 UNC", 0.3344, 4),
        ("1/2-13 UNC", 0.4500, 4),
        ("5/8-11 UNC", 0.5660, 4),
    ] {
        printed(
            in_unit(thread_form(name).unwrap().pitch_diameter(), "inch"),
            diameter,
            decimals,
        );
    }
}
