//! Runs the program in a folder of its own.

use crate::program::Program;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

pub(crate) use crate::program::Ran;

static FOLDERS: AtomicUsize = AtomicUsize::new(0);

/// A folder with a few scripts that goes when it is dropped.
pub(crate) struct Folder(pub(crate) PathBuf);

impl Folder {
    pub(crate) fn new() -> Self {
        let number = FOLDERS.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("crankline-{}-{number}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        let folder = Self(path);
        folder.put("shaft.rhai", include_str!("scripts/shaft.rhai"));
        folder.put("cells.rhai", include_str!("scripts/cells.rhai"));
        folder.put("angles.rhai", include_str!("scripts/angles.rhai"));
        folder.put("car.toml", include_str!("scripts/car.toml"));
        folder.put("options.toml", include_str!("scripts/options.toml"));
        folder
    }

    pub(crate) fn put(&self, name: &str, text: &str) {
        std::fs::write(self.0.join(name), text).unwrap();
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Ran {
        self.run_on(arguments, false)
    }

    pub(crate) fn run_on(&self, arguments: &[&str], is_terminal: bool) -> Ran {
        self.run_with(arguments, is_terminal, "")
    }

    /// Runs the program with these lines for its questions.
    pub(crate) fn answering(&self, arguments: &[&str], answers: &str) -> Ran {
        self.run_with(arguments, false, answers)
    }

    /// Runs the program, which asks `wait` before it looks at files again, and hands pages to `open`.
    pub(super) fn watching(
        &self,
        arguments: &[&str],
        wait: &mut (dyn FnMut() -> bool + Send),
        open: &(dyn Fn(&Path) -> std::io::Result<()> + Sync),
    ) -> Ran {
        std::fs::create_dir_all(self.0.join("temporary")).unwrap();
        Program {
            watching: Some((wait, open)),
            temporary: self.0.join("temporary"),
            ..Program::in_folder(&self.0)
        }
        .run(arguments.iter().copied())
    }

    fn run_with(&self, arguments: &[&str], is_terminal: bool, answers: &str) -> Ran {
        Program {
            is_terminal,
            answers: answers.as_bytes(),
            temporary: self.0.join("temporary"),
            ..Program::in_folder(&self.0)
        }
        .run(arguments.iter().copied())
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// A text as if the page had no end: where lines break hangs on how long the names of folders are.
pub(crate) fn in_one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Runs the program in a fresh folder.
pub(crate) fn run(arguments: &[&str]) -> Ran {
    Folder::new().run(arguments)
}

/// Exit code, output and errors as one text to review.
pub(crate) fn shown(arguments: &[&str]) -> String {
    let ran = run(arguments);
    let Ran { code, stdout, stderr } = ran;
    let mut text = format!("$ crankline {}\n{stdout}", arguments.join(" "));
    if !stderr.is_empty() {
        text.push_str(&format!("(on the error stream)\n{stderr}"));
    }
    text.push_str(&format!("(exit code {code})\n"));
    text
}
