//! What becomes of a check.

/// Holds from this chance on; fails up to one minus it.
pub(crate) const SURE: f64 = 0.975;

/// What becomes of a check, worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It does not hold: a chance of 2.5 % at most.
    Fails,
    /// The readings are not good enough to tell.
    Unsure,
    /// A requirement before it fails: the readings contradict one another.
    Untrusted,
    /// It would hold, but rests on an example that nobody measured.
    Unmeasured,
    /// It holds: a chance of 97.5 % at least.
    Holds,
}

impl Verdict {
    /// From the chance that a check holds.
    #[must_use]
    pub fn of_chance(chance: f64) -> Self {
        if chance >= SURE {
            Self::Holds
        } else if chance <= 1.0 - SURE {
            Self::Fails
        } else {
            Self::Unsure
        }
    }

    /// As in JSON.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Fails => "fails",
            Self::Unsure => "unsure",
            Self::Untrusted => "untrusted",
            Self::Unmeasured => "unmeasured",
            Self::Holds => "holds",
        }
    }
}
