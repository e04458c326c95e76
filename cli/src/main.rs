//! The program: arguments, streams and environment handed to the library.

use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};
use std::time::Duration;

/// Where this user's packs lie: after the XDG base directories, on Windows in the application data.
fn packs() -> Option<PathBuf> {
    let folder = |name: &str| {
        std::env::var_os(name)
            .map(PathBuf::from)
            .filter(|path| path.is_absolute())
    };
    let windows = || folder("APPDATA").filter(|_| cfg!(windows));
    let data = folder("XDG_DATA_HOME").or_else(windows);
    let data = data.or_else(|| Some(folder("HOME")?.join(".local/share")));
    Some(data?.join("crankline").join("packs"))
}

/// How often files are looked at that a run follows.
const BETWEEN_LOOKS: Duration = Duration::from_millis(250);

/// Shows a page with whatever this system shows pages with; it is not waited for.
fn open(page: &Path) -> std::io::Result<()> {
    let program = match std::env::consts::OS {
        "windows" => "explorer",
        "macos" => "open",
        _ => "xdg-open",
    };
    let mut command = Command::new(program);
    command
        .arg(page)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    command.spawn().map(drop)
}

fn main() -> ExitCode {
    let mut io = crankline::Io {
        stdout: &mut std::io::stdout(),
        stderr: &mut std::io::stderr(),
        stdin: &mut std::io::BufReader::new(std::io::stdin()),
        is_typed: std::io::stdin().is_terminal(),
        is_terminal: std::io::stdout().is_terminal(),
        no_color: std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty()),
        directory: std::env::current_dir().unwrap_or_default(),
        packs: packs().into_iter().collect(),
        asked_packs: Vec::new(),
        effort: 1,
        temporary: std::env::temp_dir(),
        open: &open,
        wait: &mut || {
            std::thread::sleep(BETWEEN_LOOKS);
            true
        },
    };
    let arguments = std::env::args_os().map(|argument| argument.to_string_lossy().into_owned());
    ExitCode::from(crankline::run(arguments, &mut io))
}
