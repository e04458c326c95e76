//! Which vector instructions there are. Every set gives the same bits: a loop is compiled for each of them, and none of
//! them contracts or reorders what is rounded.

use pulp::{Arch, NullaryFnOnce};

/// A set of vector instructions of this processor.
#[derive(Clone, Copy, Debug)]
pub struct Instructions(Arch);

impl Instructions {
    /// The widest that this processor has.
    #[must_use]
    pub fn best() -> Self {
        Self(Arch::new())
    }

    /// All that this processor has, the narrowest first, for tests that hold them to the same bits.
    #[must_use]
    pub fn all() -> Vec<Self> {
        let mut all = vec![Self(Arch::Scalar)];
        #[cfg(target_arch = "x86_64")]
        {
            all.extend(pulp::x86::V3::try_new().map(|simd| Self(Arch::V3(simd))));
            all.extend(pulp::x86::V4::try_new().map(|simd| Self(Arch::V4(simd))));
        }
        #[cfg(not(target_arch = "x86_64"))]
        all.push(Self::best());
        all
    }

    /// What they are called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self.0 {
            Arch::Scalar => "plain",
            #[cfg(target_arch = "x86_64")]
            Arch::V3(_) => "AVX2",
            #[cfg(target_arch = "x86_64")]
            Arch::V4(_) => "AVX-512",
            _ => "widest",
        }
    }

    /// Runs work compiled for them; what it calls must be inlined into it.
    #[inline(always)]
    pub(super) fn with<W: NullaryFnOnce>(self, work: W) -> W::Output {
        self.0.dispatch(work)
    }
}
