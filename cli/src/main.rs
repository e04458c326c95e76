//! The program: arguments, streams and environment handed to the library.

use std::io::IsTerminal;
use std::process::ExitCode;

fn main() -> ExitCode {
    let mut io = crankline::Io {
        stdout: &mut std::io::stdout(),
        stderr: &mut std::io::stderr(),
        stdin: &mut std::io::BufReader::new(std::io::stdin()),
        is_typed: std::io::stdin().is_terminal(),
        is_terminal: std::io::stdout().is_terminal(),
        no_color: std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty()),
        directory: std::env::current_dir().unwrap_or_default(),
    };
    let arguments = std::env::args_os().map(|argument| argument.to_string_lossy().into_owned());
    ExitCode::from(crankline::run(arguments, &mut io))
}
