//! Tyre sizes against plain arithmetic.

use super::check::{close, in_unit, refused, si};
use crankline_engine::tyre::tyre;

/// Plain arithmetic, second route in GNU units 2.22.
#[test]
fn a_diameter_agrees_with_arithmetic() {
    let tyre_of = |size| tyre(size).unwrap();
    close(in_unit(tyre_of("255/40R17").diameter(), "mm"), 635.8, 1e-12);
    close(in_unit(tyre_of("255/40R17").diameter(), "inch"), 25.031_496_063, 1e-11);
    close(in_unit(tyre_of("245/45R17").diameter(), "mm"), 652.3, 1e-12);
    let turns = 1609.344 / (std::f64::consts::PI * si(tyre_of("255/40R17").diameter()));
    close(turns, 805.709_508_447, 1e-10);
}

#[test]
fn the_parts_of_a_size() {
    for size in [
        "225/70R15",
        "225/70 R15",
        "P225/70R15",
        "LT 225/70 ZR15",
        "225/70-15",
        "225/70r15 100H",
        "225/70R15C",
    ] {
        let tyre = tyre(size).unwrap();
        close(in_unit(tyre.section_width(), "mm"), 225.0, 1e-15);
        close(in_unit(tyre.sidewall(), "mm"), 157.5, 1e-15);
        close(in_unit(tyre.rim(), "inch"), 15.0, 1e-15);
        close(in_unit(tyre.diameter(), "mm"), 381.0 + 315.0, 1e-14);
    }
}

#[test]
fn what_is_no_size_is_refused() {
    for size in [
        "",
        "225",
        "225/70",
        "225/70X15",
        "225/70R",
        "/70R15",
        "225/R15",
        "225/70R15x",
        "é/é",
        "1.2.3/70R15",
    ] {
        assert!(refused(tyre(size)).contains("is no tyre size"), "{size}");
    }
    assert!(refused(tyre("31x10.5R15")).contains("its diameter is an input"));
    assert!(refused(tyre("225/7R15")).contains("the height of the sidewall"));
    assert!(refused(tyre("22/70R15")).contains("the section width"));
    assert!(refused(tyre("225/70R150")).contains("the rim"));
}
