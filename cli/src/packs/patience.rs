//! How much work a sealed pack may make before anybody has added it.

use super::{Desk, FoundPack};
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use std::time::{Duration, Instant};

/// More are no examples but mischief.
const MOST: usize = 1000;
const LONGEST: Duration = Duration::from_secs(120);

/// Worked examples of a stranger's pack, so many and for so long.
pub(crate) struct Patience {
    pack: String,
    left: usize,
    over: Instant,
}

impl Patience {
    /// With a pack; `--effort` makes it longer.
    pub(crate) fn with(pack: &FoundPack, desk: &Desk) -> Self {
        Self {
            pack: pack.name().to_owned(),
            left: MOST,
            over: Instant::now() + LONGEST * desk.effort,
        }
    }

    /// Once more.
    ///
    /// # Errors
    /// Where it was often enough, or took too long.
    pub(crate) fn go_on(&mut self) -> Result<(), Diagnostic> {
        let pack = &self.pack;
        self.left = self.left.checked_sub(1).ok_or_else(|| {
            let message = format!("the pack `{pack}` has more than {MOST} worked examples");
            Refusal::new("limit", message)
        })?;
        self.in_time()
    }

    /// That there is time left.
    ///
    /// # Errors
    /// Where it took too long.
    pub(crate) fn in_time(&self) -> Result<(), Diagnostic> {
        if Instant::now() > self.over {
            let message = format!("the worked examples of the pack `{}` take too long", self.pack);
            let refusal = Refusal::new("limit", message);
            return Err(refusal
                .hint("--effort 10 gives them ten times as long, for this once")
                .into());
        }
        Ok(())
    }
}
