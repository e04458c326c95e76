//! What may be a version, and which of two is the newer one.

use crankline_engine::diagnostic::SourceText;
use crankline_engine::pack::{Manifest, order_of_versions};
use std::cmp::Ordering::{Equal, Greater, Less};

fn is_version(version: &str) -> bool {
    let text = format!("format = 1\nname = \"a\"\nversion = {version:?}\n");
    let name = "pack.toml".to_owned();
    Manifest::read(SourceText { name, text }).is_ok()
}

#[test]
fn what_may_be_a_version() {
    for version in ["0.1.0", "0_1", "2026-03-14", "1.0.0-draft+7", "a"] {
        assert!(is_version(version), "{version}");
    }
    for none in ["", ".1", "-1", "0.1/2", "../0.1", "0 1", "1.0\u{e4}", "1\n"] {
        assert!(!is_version(none), "{none}");
    }
}

#[test]
fn which_is_the_newer_one() {
    for (one, other, order) in [
        ("0.2.0", "0.1.0", Some(Greater)),
        ("0.10.0", "0.9.9", Some(Greater)),
        ("1", "1.0.0", Some(Equal)),
        ("1.0", "1.0.1", Some(Less)),
        ("1.0-draft", "1.0", None),
        ("1.", "1", None),
        ("+1", "1", None),
        ("", "1", None),
        ("99999999999999999999", "1", None),
    ] {
        assert_eq!(order_of_versions(one, other), order, "{one} {other}");
        assert_eq!(
            order_of_versions(other, one),
            order.map(std::cmp::Ordering::reverse),
            "{other} {one}"
        );
    }
}
