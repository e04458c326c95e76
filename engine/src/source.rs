//! The one door through which scripts come in.

use crate::diagnostic::SourceText;

/// Where scripts are found. The engine reads no file: who embeds it says what a name stands for.
pub trait Sources {
    /// The script that `path` names in an `import` of the script `from`; `None` where there is none, or `from` may not
    /// see it.
    fn import(&self, from: &str, path: &str) -> Option<SourceText>;
}

/// No scripts to import.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoSources;

impl Sources for NoSources {
    fn import(&self, _from: &str, _path: &str) -> Option<SourceText> {
        None
    }
}
