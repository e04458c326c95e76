//! Where scripts came from, over several generations.

use super::source;
use crankline_engine::pack::{Adapted, Manifest, Today, new_manifest, sha256, with_adapted};

fn read(text: &str) -> Manifest {
    Manifest::read(source("pack.toml", text)).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

/// Three shops, each of which copies the script of the one before.
fn third() -> Manifest {
    let first = read("format = 1\nname = \"first\"\nversion = \"1\"\nlicence = \"MIT\"\nauthor = \"R.\"\n");
    let second = Adapted::of("b", (&first, "a", "one"));
    let second = read(&with_adapted(&new_manifest("second"), &second, &[]).unwrap());
    let third = Adapted::of("c", (&second, "b", "two"));
    read(&with_adapted(&new_manifest("third"), &third, &[]).unwrap())
}

#[test]
fn a_copy_of_a_copy_knows_both() {
    let third = third();
    let fourth = Adapted::of("d", (&third, "c", "three"));
    let manifest = with_adapted(&new_manifest("fourth"), &fourth, &[]).unwrap();
    let read = read(&manifest);
    let [adapted] = read.adapted.as_slice() else {
        panic!("{manifest}")
    };
    let names = |adapted: &Adapted| -> Vec<String> {
        let before = adapted.before.iter().map(|ancestor| ancestor.from.clone());
        std::iter::once(adapted.from.clone()).chain(before).collect()
    };
    assert_eq!(names(adapted), ["third/c", "second/b", "first/a"], "{manifest}");
    let oldest = &adapted.before[1];
    assert_eq!(oldest.sha256, sha256(b"one"));
    assert_eq!(
        (oldest.licence.as_deref(), oldest.author.as_deref()),
        (Some("MIT"), Some("R."))
    );
    assert_eq!(adapted.licence, None);
    // One that is copied again in another way stands once.
    let again = with_adapted(&manifest, &Adapted::of("d", (&third, "c", "four")), &[]).unwrap();
    assert_eq!(again.matches("[[adapted]]").count(), 1, "{again}");
}

#[test]
fn what_became_of_an_ancestor() {
    let third = third();
    let (parent, oldest) = (third.adapted[0].parent(), &third.adapted[0].before[0]);
    let today = |version: &str, sha256: String| Today {
        version: version.to_owned(),
        sha256,
    };
    let other = "0".repeat(64);
    for (ancestor, today, words) in [
        (
            &parent,
            Some(today("0.1.0", other.clone())),
            "but the digest noted does not match version 0.1.0 as it is here",
        ),
        (oldest, Some(today("1", sha256(b"one"))), "which is the same still"),
        (oldest, Some(today("2", other)), "which is another now, in version 2"),
        (oldest, None, "which is not here"),
    ] {
        assert_eq!(ancestor.became(today.as_ref()), words);
    }
    assert_eq!(parent.terms(), "licence: not named, author: not named");
    assert_eq!(oldest.terms(), "licence: MIT, author: R.");
}

/// A manifest of before, without licences and without ancestors.
#[test]
fn older_notes_stay_readable() {
    let text = "format = 1\nname = \"a\"\nversion = \"1\"\n[[adapted]]\nscript = \"s\"\nfrom = \"b/s\"\n\
                version = \"1\"\nsha256 = \"00\"\n";
    let adapted = &read(text).adapted[0];
    assert_eq!((&adapted.licence, &adapted.author), (&None, &None));
    assert!(adapted.before.is_empty());
    let lineage = "before = [{ from = \"c/s\", version = \"1\", sha256 = \"00\", whose = \"R.\" }]\n";
    let error = Manifest::read(source("pack.toml", &format!("{text}{lineage}"))).unwrap_err();
    assert_eq!(error.refusal.message(), "an ancestor has no key `whose`");
    let many = format!(
        "before = [{}]\n",
        "{ from = \"c/s\", version = \"1\", sha256 = \"00\" },".repeat(65)
    );
    let error = Manifest::read(source("pack.toml", &format!("{text}{many}"))).unwrap_err();
    assert_eq!(error.refusal.message(), "a script has 64 ancestors at the most");
}
