//! Words that people try for what a command does.

use super::check::run;

/// What is said to be written instead of a word.
fn told(arguments: &[&str]) -> Vec<String> {
    let ran = run(arguments);
    assert_eq!((ran.code, ran.stdout.as_str()), (2, ""), "{arguments:?}");
    let tips = ran.stderr.lines().filter_map(|line| line.trim().strip_prefix("tip: "));
    tips.map(str::to_owned).collect()
}

const WORDS: [&str; 24] = [
    "install",
    "update",
    "upgrade",
    "verify",
    "export",
    "import",
    "sign",
    "diff",
    "uninstall",
    "delete",
    "info",
    "show",
    "check",
    "test",
    "lint",
    "watch",
    "new",
    "init",
    "search",
    "help",
    "keygen",
    "publish",
    "validate",
    "optimize",
];

/// Each leads to a command that is there, with the options that it names, at the top and under `pack`.
#[test]
fn words_that_people_try_lead_to_a_command() {
    for word in WORDS {
        for line in told(&[word]) {
            let parts: Vec<&str> = line.split(' ').collect();
            assert_eq!(parts[0], "crankline", "{word}: {line}");
            let commands = parts
                .iter()
                .skip(1)
                .take_while(|part| part.chars().all(|letter| letter.is_lowercase()));
            let commands: Vec<&str> = commands.copied().collect();
            let help = run(&[&commands[..], &["--help"]].concat());
            assert_eq!(help.code, 0, "{word}: {line}: {}", help.stderr);
            for option in parts.iter().filter(|part| part.starts_with("--")) {
                assert!(help.stdout.contains(option), "{word}: {line}");
            }
        }
        assert!(!told(&[word]).is_empty(), "{word}");
        if word != "new" {
            assert_eq!(told(&["pack", word]), told(&[word]), "{word}");
        }
    }
    assert_eq!(told(&["install", "x.zip"]), ["crankline pack add FILE.zip"]);
    assert_eq!(told(&["pack", "sign"]), ["crankline pack seal PACK --key FILE"]);
}

/// A slip in a command of ours is told as before, and a word that means nothing here leads nowhere.
#[test]
fn slips_are_told_as_before() {
    assert_eq!(told(&["descrbe"]), ["a similar subcommand exists: 'describe'"]);
    assert_eq!(told(&["pack", "sael"]), ["a similar subcommand exists: 'seal'"]);
    assert!(told(&["quux"]).is_empty());
    assert!(told(&["job", "install"]).is_empty());
    insta::assert_snapshot!(run(&["install", "x.zip"]).stderr);
}
