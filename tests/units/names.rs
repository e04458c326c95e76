//! Finding units by name, and the name that somebody probably meant.

use crankline_engine::diagnostic;
use crankline_engine::quantity::units::{find, find_written, nearest};

fn written(text: &str) -> Option<&'static str> {
    find_written(text).map(|unit| unit.name)
}

fn near(text: &str) -> Option<&'static str> {
    nearest(text).map(|unit| unit.name)
}

#[test]
fn usual_spellings_are_understood() {
    for (text, name) in [
        ("in", "inch"),
        ("\"", "inch"),
        ("inches", "inch"),
        ("ft", "ft"),
        ("'", "ft"),
        ("lbf ft", "lbf_ft"),
        ("ft-lb", "lbf_ft"),
        ("lb-ft", "lbf_ft"),
        ("lb/ft", "lb_per_ft"),
        ("km/h", "km_per_h"),
        ("mph", "mph"),
        ("°", "deg"),
        ("deg", "deg"),
        ("mm²", "mm2"),
        ("Ω", "ohm"),
        ("\u{2126}", "ohm"),
        ("µm", "um"),
        ("\u{3bc}m", "um"),
        ("°C", "degC"),
        ("°F", "degF"),
        ("N·m", "N_m"),
        ("N*m", "N_m"),
        ("Nm", "N_m"),
        ("%", "percent"),
        ("mΩ/m", "mohm_per_m"),
        ("ohm/km", "mohm_per_m"),
        ("Btu/h", "BTU_per_h"),
        ("lbs", "lb"),
    ] {
        assert_eq!(written(text), Some(name), "{text}");
    }
    assert_eq!(find("in"), None, "a spelling is no identifier");
}

#[test]
fn a_unit_that_is_none_has_a_nearest_one() {
    for (text, name) in [
        ("Mm", "mm"),
        ("MM", "mm"),
        ("inches", "inch"),
        ("in", "inch"),
        ("Kn", "kN"),
        ("lbf_fr", "lbf_ft"),
        ("degg", "deg"),
        ("rmp", "rpm"),
        ("mpa", "MPa"),
        ("kmph", "mph"),
        ("N_mm", "N_m"),
    ] {
        assert_eq!(near(text), Some(name), "{text}");
    }
    for text in ["", "x", "furlong", "qqqq", "stone"] {
        assert_eq!(near(text), None, "{text}");
    }
}

#[test]
fn the_nearest_name_counts_slips() {
    let near = |wanted: &str| diagnostic::nearest(wanted, ["gearbox_fall", "axle_ratio", "top", "tube_od"].into_iter());
    assert_eq!(near("gearbox_fal"), Some("gearbox_fall"));
    assert_eq!(near("gearbxo_fall"), Some("gearbox_fall"));
    assert_eq!(near("Axle_Ratio"), Some("axle_ratio"));
    assert_eq!(near("axel_ratios"), Some("axle_ratio"));
    assert_eq!(near("tpo"), Some("top"));
    assert_eq!(near("wall"), None);
    assert_eq!(near(&"g".repeat(100_000)), None);
    // The earlier of two that are equally near, so that the order alone decides.
    assert_eq!(diagnostic::nearest("ab", ["ax", "bb"].into_iter()), Some("ax"));
}
