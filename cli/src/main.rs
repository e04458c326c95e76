//! The program: arguments, streams and environment handed to the library.

use std::io::IsTerminal;
use std::path::PathBuf;
use std::process::ExitCode;

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
    };
    let arguments = std::env::args_os().map(|argument| argument.to_string_lossy().into_owned());
    ExitCode::from(crankline::run(arguments, &mut io))
}
