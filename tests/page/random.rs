//! Cases that look random and are the same on every machine.

/// Marsaglia's xorshift of 64 bits.
pub(super) struct Random(u64);

impl Random {
    pub(super) const fn new(seed: u64) -> Self {
        Self(seed | 1)
    }

    pub(super) const fn bits(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// A whole number below a limit.
    pub(super) fn below(&mut self, limit: usize) -> usize {
        usize::try_from(self.bits() >> 33).unwrap() % limit.max(1)
    }

    pub(super) fn pick<'a, T>(&mut self, items: &'a [T]) -> &'a T {
        &items[self.below(items.len())]
    }

    /// Between 0 and 1.
    #[allow(clippy::cast_precision_loss, reason = "53 bits")]
    pub(super) fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number of any sign and a size that spreads over powers of ten, short or with all its bits.
    pub(super) fn number(&mut self, lowest: i32, highest: i32) -> f64 {
        let span = usize::try_from(highest - lowest).unwrap();
        let power = lowest + i32::try_from(self.below(span)).unwrap();
        let sign = if self.below(3) == 0 { "-" } else { "" };
        let text = match self.below(3) {
            0 => format!("{sign}{}e{power}", 1.0 + 9.0 * self.share()),
            1 => format!("{sign}{}e{power}", self.below(100)),
            _ => format!("{sign}{}.5e{power}", self.below(1_000_000)),
        };
        text.parse().unwrap()
    }
}
