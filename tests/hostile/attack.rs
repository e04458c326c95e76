//! One attack: files from a stranger, and what somebody does with them; and the ground on which it takes place.

use crate::program::{Program, Ran};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

static GROUNDS: AtomicUsize = AtomicUsize::new(0);

/// Files from a stranger, and what somebody does with them.
#[derive(Clone, Debug)]
pub(super) struct Attack {
    /// What it tries.
    pub(super) name: String,
    /// What lies in the folder.
    pub(super) files: Vec<(String, Vec<u8>)>,
    /// What the program is told.
    pub(super) arguments: Vec<String>,
    /// What it is answered.
    pub(super) answers: Vec<u8>,
    /// The file as it is shown beside the message.
    pub(super) shown: String,
}

impl Attack {
    /// The same with another file beside.
    pub(super) fn with(mut self, name: &str, bytes: impl Into<Vec<u8>>) -> Self {
        self.files.push((name.to_owned(), bytes.into()));
        self
    }

    /// Takes place on a ground of its own. Whatever happens, the ground round the folder is as it was, and the folder too
    /// where the program says that it could not be done.
    #[track_caller]
    pub(super) fn take_place(&self) -> Ran {
        let ground = Ground::new();
        for (name, bytes) in &self.files {
            let path = ground.inside().join(name);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, bytes).unwrap();
        }
        let before = ground.tree();
        let outcome = self.run(&ground);
        let after = ground.tree();
        let outside = |tree: &BTreeMap<PathBuf, Vec<u8>>| -> BTreeMap<PathBuf, Vec<u8>> {
            let kept = tree.iter().filter(|(path, _)| !path.starts_with("inside"));
            kept.map(|(path, bytes)| (path.clone(), bytes.clone())).collect()
        };
        assert!(
            outside(&before) == outside(&after),
            "{}: something was written outside",
            self.name
        );
        assert!(
            outcome.code != 2 || before == after,
            "{}: something was written",
            self.name
        );
        self.assert_plain(&outcome);
        outcome
    }

    fn run(&self, ground: &Ground) -> Ran {
        let program = Program {
            packs: vec![ground.inside().join("packs")],
            answers: &self.answers,
            // Colours and all, as at a terminal.
            is_terminal: true,
            temporary: ground.inside(),
            ..Program::in_folder(ground.inside())
        };
        let ran = program.run(self.arguments.iter().map(String::as_str));
        let text = |text: String| text.replace(&ground.0.display().to_string(), "DIR");
        Ran {
            code: ran.code,
            stdout: text(ran.stdout),
            stderr: text(ran.stderr),
        }
    }

    /// No panic, which would say nothing here; and nothing that a terminal acts on but our own colours.
    #[track_caller]
    fn assert_plain(&self, outcome: &Ran) {
        // A panic ends with the same code and says nothing here; `prove` says in its list what does not come out.
        if outcome.code == 2 && !outcome.stdout.contains("DIFFERS") {
            let says = outcome.stderr.starts_with("error: ");
            assert!(says, "{}: {:?}", self.name, outcome.stderr);
        }
        // On its own stream the program says how far it is, over and over on one line.
        let mut text = format!("{}{}", outcome.stdout, outcome.stderr.replace('\r', ""));
        for colour in ["\u{1b}[1;31m", "\u{1b}[1;32m", "\u{1b}[1;33m", "\u{1b}[0m"] {
            text = text.replace(colour, "");
        }
        let acted = text
            .chars()
            .find(|c| (c.is_control() && !"\n\t".contains(*c)) || is_unseen(*c));
        assert!(acted.is_none(), "{}: {acted:?} reached the terminal", self.name);
    }
}

fn is_unseen(character: char) -> bool {
    let code = u32::from(character);
    UNSEEN.iter().any(|(first, last)| (*first..=*last).contains(&code))
}

/// The first and the last of each group of characters that nobody sees.
pub(super) const UNSEEN: [(u32, u32); 18] = [
    (0xad, 0xad),
    (0x34f, 0x34f),
    (0x61c, 0x61c),
    (0x115f, 0x1160),
    (0x17b4, 0x17b5),
    (0x180b, 0x180f),
    (0x200b, 0x200f),
    (0x2028, 0x202e),
    (0x2060, 0x206f),
    (0x2800, 0x2800),
    (0x3164, 0x3164),
    (0xfe00, 0xfe0f),
    (0xfeff, 0xfeff),
    (0xffa0, 0xffa0),
    (0xfff0, 0xfffb),
    (0x1bca0, 0x1bca3),
    (0x1d173, 0x1d17a),
    (0xe0000, 0xe0fff),
];

/// A folder in a folder, with what must not be touched round it.
struct Ground(PathBuf);

impl Ground {
    fn new() -> Self {
        let number = GROUNDS.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("crankline-ground-{}-{number}", std::process::id()));
        std::fs::create_dir_all(path.join("inside")).unwrap();
        std::fs::write(path.join("secret.rhai"), "fn answer() { 42 }\n").unwrap();
        std::fs::write(path.join("secret.csv"), "name,current\nWipers,4 A\n").unwrap();
        Self(path)
    }

    fn inside(&self) -> PathBuf {
        self.0.join("inside")
    }

    /// All files with what is in them; folders too. Whoever looks at packs may leave a lock, which is empty.
    fn tree(&self) -> BTreeMap<PathBuf, Vec<u8>> {
        let mut found = BTreeMap::new();
        let mut folders = vec![self.0.clone()];
        while let Some(folder) = folders.pop() {
            for entry in std::fs::read_dir(&folder).unwrap() {
                let path = entry.unwrap().path();
                let own = path.strip_prefix(&self.0).unwrap_or(Path::new("")).to_owned();
                if path.is_dir() {
                    folders.push(path);
                    found.insert(own, Vec::new());
                } else if own.file_name().is_none_or(|name| name != ".lock") {
                    found.insert(own, std::fs::read(&path).unwrap());
                }
            }
        }
        found
    }
}

impl Drop for Ground {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}
