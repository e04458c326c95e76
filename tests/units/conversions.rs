//! Readings in one unit, shown in another: values from outside.
//!
//! Computed with Pint 0.25.3 and GNU units 2.22, which agree to 1e-13; given to 12 significant digits.

use crankline_engine::quantity::text::{Values, read};
use crankline_engine::quantity::units::WrittenUnit;

#[test]
fn conversions_agree_with_two_libraries() {
    for (text, unit, expected) in [
        ("3 7/16 in", "mm", 87.3125),
        ("250 lbf", "N", 1_112.055_403_82),
        ("350 lbf*ft", "N*m", 474.536_281_916),
        ("36 ksi", "MPa", 248.211_262_554),
        ("2.5 slug", "kg", 36.484_757_343),
        ("335 hp", "kW", 249.809_456_98),
        ("70 mph", "km/h", 112.654_08),
        ("2500 rpm", "rad/s", 261.799_387_799),
        ("195 degF", "degC", 90.555_555_555_6),
        ("35 delta_degF", "K", 19.444_444_444_4),
        ("16.5 US_gal", "L", 62.459_294_436),
        ("12000 BTU_IT/h", "W", 3_516.852_842_07),
        ("10 oz/yd^2", "g/m^2", 339.057_474_749),
        ("425 lbf/in", "N/mm", 74.428_904_979_8),
        ("0.75 in^4", "mm^4", 312_173.569_2),
        ("418.9 rad/s", "rpm", 4_000.200_339_67),
        ("120 lbf*in", "N*m", 13.558_179_483_3),
    ] {
        let reading = read(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        let unit = WrittenUnit::parse(unit).unwrap_or_else(|error| panic!("{unit}: {error}"));
        assert_eq!(unit.dimension(), reading.dimension, "{text}");
        let Values::One(si) = reading.values else {
            panic!("{text}")
        };
        // The last of twelve digits.
        assert!(
            (unit.from_si(si) / expected - 1.0).abs() < 1e-11,
            "{text}: {} against {expected}",
            unit.from_si(si)
        );
    }
}
