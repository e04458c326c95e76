//! The program run in this process: where it stands, what it is answered, what it says.

use std::io;
use std::path::{Path, PathBuf};

/// What waits before files are looked at again, and what shows pages.
pub(crate) type Watching<'a> = (
    &'a mut (dyn FnMut() -> bool + Send),
    &'a (dyn Fn(&Path) -> io::Result<()> + Sync),
);

/// Where the program stands.
pub(crate) struct Program<'a> {
    pub(crate) directory: PathBuf,
    pub(crate) packs: Vec<PathBuf>,
    pub(crate) answers: &'a [u8],
    /// Whether it writes to a terminal, with its colours.
    pub(crate) is_terminal: bool,
    pub(crate) temporary: PathBuf,
    /// Without it nothing is waited for, and pages are shown to nobody.
    pub(crate) watching: Option<Watching<'a>>,
}

/// What the program did.
pub(crate) struct Ran {
    pub(crate) code: u8,
    pub(crate) stdout: String,
    pub(crate) stderr: String,
}

impl Program<'_> {
    /// In a folder, without packs, answers or a terminal.
    pub(crate) fn in_folder(directory: impl Into<PathBuf>) -> Self {
        Self {
            directory: directory.into(),
            packs: Vec::new(),
            answers: b"",
            is_terminal: false,
            temporary: std::env::temp_dir(),
            watching: None,
        }
    }

    /// Runs it.
    pub(crate) fn run<'w>(self, arguments: impl IntoIterator<Item = &'w str>) -> Ran {
        let (mut stdout, mut stderr) = (Vec::new(), Vec::new());
        let mut nothing = || false;
        let (wait, open) = self.watching.unwrap_or((&mut nothing, &|_| Ok(())));
        let mut answers = self.answers;
        let mut io = crankline::Io {
            stdout: &mut stdout,
            stderr: &mut stderr,
            stdin: &mut answers,
            is_typed: false,
            is_terminal: self.is_terminal,
            no_color: false,
            directory: self.directory,
            packs: self.packs,
            asked_packs: Vec::new(),
            effort: 1,
            temporary: self.temporary,
            open,
            wait,
        };
        let arguments = std::iter::once("crankline").chain(arguments);
        let code = crankline::run(arguments.map(str::to_owned), &mut io);
        let text = |bytes| String::from_utf8(bytes).expect("the program writes text");
        Ran {
            code,
            stdout: text(stdout),
            stderr: text(stderr),
        }
    }
}

/// The words of a command line; what stands in quotes is one.
pub(crate) fn words(line: &str) -> Vec<String> {
    let parts = line.split('"').enumerate();
    let words = parts.flat_map(|(number, part)| match number % 2 {
        0 => part.split_whitespace().map(str::to_owned).collect(),
        _ => vec![part.to_owned()],
    });
    words.collect()
}
