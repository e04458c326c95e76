//! Where the factors come from, and the exact definitions from which the others are made.
//!
//! All sources are cited from memory; every factor is checked against the Pint library in `tests/units/`.

use super::unit::{Ratio, over};

/// Decimal multiples and SI units with names of their own.
pub(super) const SI: &str = "SI Brochure, 9th edition (2019)";
/// Units that are not SI, with exact definitions.
pub(super) const SP_811: &str = "NIST SP 811 (2008), App. B";
/// Made of exact definitions by multiplication.
pub(super) const MADE: &str = "from the definitions of its parts in NIST SP 811 (2008), App. B";

/// International inch, 0.0254 m exactly.
pub(super) const INCH: Ratio = over(254.0, 1e4);
/// International foot, 0.3048 m exactly.
pub(super) const FOOT: Ratio = over(3048.0, 1e4);
/// International mile, 1609.344 m exactly.
pub(super) const MILE: Ratio = over(1_609_344.0, 1e3);
/// Avoirdupois pound, 0.453 592 37 kg exactly.
pub(super) const POUND: Ratio = over(45_359_237.0, 1e8);
/// Avoirdupois ounce, a sixteenth of a pound.
pub(super) const OUNCE: Ratio = over(45_359_237.0, 16e8);
/// Pound-force: a pound times 9.806 65 m/s², 4.448 221 615 260 5 N exactly.
pub(super) const POUND_FORCE: Ratio = over(44_482_216_152_605.0, 1e13);
/// Standard acceleration of free fall, 9.806 65 m/s² exactly.
pub(super) const FREE_FALL: Ratio = over(980_665.0, 1e5);
/// Btu of the International Table, 1055.055 852 62 J exactly.
pub(super) const BTU: Ratio = over(105_505_585_262.0, 1e8);
/// A minute.
pub(super) const MINUTE: Ratio = over(60.0, 1.0);
/// An hour.
pub(super) const HOUR: Ratio = over(3600.0, 1.0);
/// A day.
pub(super) const DAY: Ratio = over(86_400.0, 1.0);
