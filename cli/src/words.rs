//! Words that people try for what a command of ours does.

use clap::builder::StyledStr;
use clap::error::{ContextKind, ContextValue, Error, ErrorKind};

/// Each word with what to write instead, one or two lines.
const WORDS: &[(&str, &[&str])] = &[
    ("adapt", &["crankline adapt SCRIPT NEW-NAME"]),
    ("add", &["crankline pack add FILE.zip"]),
    ("ask", &["crankline job ask FILE.toml"]),
    ("calc", &["crankline run SCRIPT"]),
    ("check", &["crankline run SCRIPT", "crankline inspect SCRIPT"]),
    ("clone", &["crankline adapt SCRIPT NEW-NAME"]),
    ("copy", &["crankline adapt SCRIPT NEW-NAME"]),
    (
        "create",
        &["crankline pack new NAME", "crankline job new FILE.toml SCRIPT"],
    ),
    ("delete", &["crankline pack remove NAME"]),
    ("describe", &["crankline describe PACK"]),
    (
        "diff",
        &["crankline compare A B", "crankline pack compare PACK OLDER.zip"],
    ),
    ("eval", &["crankline run SCRIPT"]),
    ("exec", &["crankline run SCRIPT"]),
    (
        "export",
        &["crankline pack seal PACK", "crankline run TARGET --out FOLDER/"],
    ),
    ("fork", &["crankline adapt SCRIPT NEW-NAME"]),
    ("help", &["crankline --help"]),
    ("import", &["crankline pack add FILE.zip"]),
    ("info", &["crankline describe SCRIPT", "crankline describe PACK"]),
    (
        "init",
        &["crankline pack new NAME", "crankline job new FILE.toml SCRIPT"],
    ),
    ("inspect", &["crankline inspect PACK"]),
    ("install", &["crankline pack add FILE.zip"]),
    ("key", &["crankline pack key FILE"]),
    ("keygen", &["crankline pack key FILE"]),
    ("lint", &["crankline inspect SCRIPT"]),
    ("look", &["crankline pack look FILE.zip"]),
    ("ls", &["crankline list", "crankline pack list"]),
    ("missing", &["crankline job missing FILE.toml"]),
    (
        "new",
        &["crankline pack new NAME", "crankline job new FILE.toml SCRIPT"],
    ),
    ("open", &["crankline run TARGET --open"]),
    ("optimise", &["crankline solve TARGET --adjust NAME=FROM..TO"]),
    ("optimize", &["crankline solve TARGET --adjust NAME=FROM..TO"]),
    ("prove", &["crankline prove PACK"]),
    ("pull", &["crankline pack add FILE.zip"]),
    ("publish", &["crankline pack seal PACK"]),
    ("remove", &["crankline pack remove NAME"]),
    ("rm", &["crankline pack remove NAME"]),
    ("search", &["crankline list WORD"]),
    ("seal", &["crankline pack seal PACK"]),
    ("show", &["crankline describe SCRIPT", "crankline pack look FILE.zip"]),
    ("sign", &["crankline pack seal PACK --key FILE"]),
    ("test", &["crankline prove PACK"]),
    ("uninstall", &["crankline pack remove NAME"]),
    (
        "unpack",
        &["crankline pack look FILE.zip", "crankline pack add FILE.zip"],
    ),
    ("update", &["crankline pack add FILE.zip --replace"]),
    ("upgrade", &["crankline pack add FILE.zip --replace"]),
    ("validate", &["crankline inspect SCRIPT", "crankline prove SCRIPT"]),
    ("verify", &["crankline pack look FILE.zip", "crankline prove FILE.zip"]),
    ("watch", &["crankline run TARGET --follow"]),
    ("zip", &["crankline pack seal PACK"]),
];

/// The error for a word that is no command, with what to write instead where the word is known.
pub(crate) fn with_commands(mut error: Error) -> Error {
    if error.kind() != ErrorKind::InvalidSubcommand {
        return error;
    }
    let Some(ContextValue::String(word)) = error.get(ContextKind::InvalidSubcommand) else {
        return error;
    };
    // What people try of a job is none of these.
    let usage = error.get(ContextKind::Usage).map(ToString::to_string);
    if usage.is_some_and(|usage| usage.contains("crankline job")) {
        return error;
    }
    let known = WORDS.iter().find(|(known, _)| known.eq_ignore_ascii_case(word));
    if let Some((_, commands)) = known {
        let commands = commands.iter().map(|command| StyledStr::from(*command));
        error.remove(ContextKind::SuggestedSubcommand);
        error.insert(ContextKind::Suggested, ContextValue::StyledStrs(commands.collect()));
    }
    error
}
