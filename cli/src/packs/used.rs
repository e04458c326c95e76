//! Packs that came sealed and from which this program has taken scripts, so that whoever uses one that somebody altered
//! afterwards is told.

use super::found::FoundPack;
use super::sealed::State;
use crankline_engine::report::AlteredPack;
use std::cell::RefCell;

thread_local! {
    static USED: RefCell<Vec<FoundPack>> = const { RefCell::new(Vec::new()) };
}

/// A script is taken from a pack.
pub(crate) fn note(pack: &FoundPack) {
    if !pack.was_added() {
        return;
    }
    USED.with_borrow_mut(|used| {
        if !used.iter().any(|known| known.origin == pack.origin) {
            used.push(pack.clone());
        }
    });
}

/// The altered ones among all that this thread has used.
pub(crate) fn altered() -> Vec<AlteredPack> {
    altered_of(&USED.take())
}

/// The altered ones among these.
pub(crate) fn altered_of<'a>(packs: impl IntoIterator<Item = &'a FoundPack>) -> Vec<AlteredPack> {
    let altered = packs.into_iter().filter_map(|pack| {
        let difference = match State::of(pack) {
            Ok(State::Changed(difference)) => difference,
            Ok(State::Own | State::AsSealed(_)) => return None,
            Err(error) => error.refusal.message().to_owned(),
        };
        let name = pack.name().to_owned();
        Some(AlteredPack { name, difference })
    });
    altered.collect()
}
