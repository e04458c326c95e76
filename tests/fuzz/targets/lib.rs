//! What the targets share: a library that stops a script as the program does, and a text as a file.

use crankline_engine::diagnostic::SourceText;
use crankline_engine::outcome::Outcome;
use crankline_engine::script::{Bindings, Library};
use crankline_engine::source::Sources;
use crankline_engine::tape::Recording;
use std::cell::Cell;
use std::rc::Rc;
use std::time::Duration;

/// Longer than this takes no input of the size that is tried here, on a processor of its own.
const PATIENCE: Duration = Duration::from_secs(1);

thread_local! {
    static STARTED: Cell<Option<Duration>> = const { Cell::new(None) };
}

/// How long this thread has been calculating, as the system counts it: a machine that does something else meanwhile makes
/// no input slow. Where the system does not say, nothing is.
fn worked() -> Duration {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    let nanoseconds = text.split_whitespace().next().and_then(|number| number.parse().ok());
    Duration::from_nanos(nanoseconds.unwrap_or(0))
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
        library.stop_when(|| STARTED.get().is_some_and(|start| worked() - start > PATIENCE));
        Self { library }
    }

    /// Runs a text as a script and does something with what came of it, where it runs.
    pub fn run(&self, text: &str, work: impl FnOnce(&Recording, Outcome)) {
        self.within(|library| {
            let Ok(program) = library.compile(file("script.rhai", text)) else { return };
            let recording = Rc::new(Recording::open());
            if let Ok(ran) = library.run(&program, Bindings::new(), &recording, 0, None) {
                work(&recording, ran.outcome);
            }
        });
    }

    /// Does something with the library; it has to stop in time.
    pub fn within<T>(&self, work: impl FnOnce(&Library) -> T) -> T {
        let start = worked();
        STARTED.set(Some(start));
        let done = work(&self.library);
        let took = worked() - start;
        assert!(took < 4 * PATIENCE, "took {took:?}");
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
