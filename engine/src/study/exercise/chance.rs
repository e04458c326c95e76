//! Numbers by a seed: the same seed, the same numbers, on every machine.

/// SplitMix64 (Steele, Lea and Flood 2014, from memory): a counter and a mixing of its bits.
pub(super) struct Chance(u64);

impl Chance {
    /// For a sheet of a seed: sheets next to each other have nothing in common.
    pub(super) const fn new(seed: u64, sheet: u64) -> Self {
        Self(mixed(seed ^ mixed(sheet.wrapping_add(STEP))))
    }

    /// From 0 to below 1.
    #[allow(clippy::cast_precision_loss, reason = "53 bits fit")]
    pub(super) fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(STEP);
        (mixed(self.0) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// 2⁶⁴ over the golden ratio, odd.
const STEP: u64 = 0x9E37_79B9_7F4A_7C15;

const fn mixed(bits: u64) -> u64 {
    let bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    bits ^ (bits >> 31)
}
