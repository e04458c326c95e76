//! Files and texts from strangers that mean harm, and what comes of each: an error that says what is wrong, where, and
//! what would be right. Each is given to the whole program; see [`attack`] for what must hold whatever it says. What is
//! said stands in `snapshots/`, one file a kind.
//!
//! | file | what it is |
//! |---|---|
//! | `attack.rs` | an attack, and the ground on which it takes place |
//! | `texts.rs` | those that are texts, in the folders beside it |
//! | `made.rs`, `archives.rs` | those that are large or no text |
//! | `impostors.rs` | texts that would pass for the program's own |
//! | `watch.rs` | what each takes: time and memory, by a process of its own |

mod archives;
mod attack;
mod impostors;
mod made;
mod texts;
mod watch;

use attack::Attack;
use std::fmt::Write;

/// All attacks that end before any budget is used up, by kind.
fn kinds() -> Vec<(&'static str, Vec<Attack>)> {
    vec![
        ("sizes", texts::scripts("sizes")),
        ("nesting", texts::scripts("nesting")),
        ("imports", texts::scripts("imports")),
        ("names", texts::scripts("names")),
        ("letters", texts::scripts("letters")),
        ("jobs", texts::jobs()),
        ("cases", texts::cases()),
        ("manifests", texts::manifests()),
        ("records", texts::records()),
        ("answers", texts::answers()),
        ("made_scripts", made::scripts()),
        ("made_packs", made::packs()),
        ("made_jobs", made::jobs()),
        ("made_records", made::records()),
        ("questions", made::questions()),
        ("harmless", made::harmless()),
        ("archives_looked_at", archives::looked_at()),
        ("archives_added", archives::added()),
        ("archives_tried", archives::tried()),
    ]
}

/// What comes of each attack of a kind: the exit code that all but a few have stands where it is another.
#[track_caller]
fn said(kind: &str) -> String {
    let attacks = kinds().into_iter().find(|(name, _)| *name == kind).unwrap().1;
    let mut text = String::new();
    for attack in attacks {
        let outcome = attack.take_place();
        writeln!(text, "--- {}\n{}", attack.name, attack.shown).unwrap();
        text.push_str(&outcome.stdout);
        if outcome.code != 2 {
            writeln!(text, "(exit code {})", outcome.code).unwrap();
        }
        writeln!(text, "{}", outcome.stderr).unwrap();
    }
    text
}

macro_rules! kinds {
    ($($kind:ident)*) => { $(
        #[test]
        fn $kind() {
            insta::assert_snapshot!(stringify!($kind), said(stringify!($kind)));
        }
    )* };
}

kinds! {
    sizes nesting imports names letters jobs cases manifests records answers made_scripts made_packs made_jobs
    made_records questions harmless archives_looked_at archives_tried
}

/// What is refused when it is looked at is refused in the same words when it is added.
#[test]
fn archives_added() {
    for (looked_at, added) in archives::looked_at().iter().zip(archives::added()) {
        let (looked_at, added) = (looked_at.take_place(), added.take_place());
        if looked_at.code == 2 {
            assert_eq!(looked_at.stderr, added.stderr);
        }
    }
}

/// The language's words for what would go on for ever; without a clock, so that no slow machine changes them.
#[test]
fn endless() {
    let mut text = String::new();
    for attack in texts::scripts("endless") {
        let script = String::from_utf8(attack.files[0].1.clone()).unwrap();
        writeln!(
            text,
            "--- {}\n{}\n{}",
            attack.name,
            attack.shown,
            crate::language::error(&script)
        )
        .unwrap();
    }
    insta::assert_snapshot!(text);
}

#[test]
fn there_are_enough() {
    let count: usize = kinds().iter().map(|(_, attacks)| attacks.len()).sum();
    assert!(count >= 150, "{count}");
}
