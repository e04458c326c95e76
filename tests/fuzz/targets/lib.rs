//! What the targets share: a library that stops a script as the program does, and a text as a file.

use crankline_engine::diagnostic::SourceText;
use crankline_engine::script::Library;
use crankline_engine::source::Sources;
use std::cell::Cell;
use std::rc::Rc;
use std::time::{Duration, Instant};

/// Longer than this takes no input of the size that is tried here.
const PATIENCE: Duration = Duration::from_secs(1);

thread_local! {
    static STARTED: Cell<Option<Instant>> = const { Cell::new(None) };
}

/// Scripts that run for a second at most.
pub struct Patient {
    /// Its library, over these sources.
    pub library: Library,
}

impl Patient {
    /// Over these sources.
    #[must_use]
    pub fn new(sources: Rc<dyn Sources>) -> Self {
        let mut library = Library::new(sources);
        library.stop_when(|| STARTED.get().is_some_and(|start| start.elapsed() > PATIENCE));
        Self { library }
    }

    /// Does something with the library; it has to stop in time.
    pub fn within<T>(&self, work: impl FnOnce(&Library) -> T) -> T {
        let start = Instant::now();
        STARTED.set(Some(start));
        let done = work(&self.library);
        assert!(start.elapsed() < 4 * PATIENCE, "took {:?}", start.elapsed());
        done
    }
}

/// A text as a file of that name.
#[must_use]
pub fn file(name: &str, text: &str) -> SourceText {
    SourceText {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}
