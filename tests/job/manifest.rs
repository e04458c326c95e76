//! A pack's manifest.

use crankline_engine::diagnostic::SourceText;
use crankline_engine::pack::Manifest;

fn read(lines: &str) -> Result<Manifest, String> {
    let name = "pack.toml".to_owned();
    let text = format!("format = 1\n{lines}");
    Manifest::read(SourceText { name, text }).map_err(|error| error.to_string())
}

#[test]
fn a_manifest_says_whose_pack_it_is_and_what_it_uses() {
    let manifest = read("name = \"driveline\"\nversion = \"1.2.0\"\nuses = [\"gearing\"]\nlicence = \"MIT\"").unwrap();
    assert_eq!(manifest.name, "driveline");
    assert_eq!(manifest.uses[0].name, "gearing");
    assert_eq!(manifest.uses[0].place.line, 4);
}

#[test]
fn a_name_leads_nowhere_else() {
    for name in ["../other", "a/b", "", "Driveline", "a\\\\b", "9lives", "."] {
        assert!(read(&format!("name = \"{name}\"\nversion = \"1\"")).is_err(), "{name}");
        assert!(
            read(&format!("name = \"a\"\nversion = \"1\"\nuses = [\"{name}\"]")).is_err(),
            "{name}"
        );
    }
}

#[test]
fn what_is_wrong_in_a_manifest_is_told() {
    let error = |lines: &str| read(lines).unwrap_err();
    insta::assert_snapshot!(error("name = \"../other\"\nversion = \"1\""));
    insta::assert_snapshot!(error("name = \"driveline\""));
    insta::assert_snapshot!(error("name = \"driveline\"\nversion = \"1\"\nlicense = \"MIT\""));
    insta::assert_snapshot!(error("name = \"driveline\"\nversion = \"1\"\nuses = [\"driveline\"]"));
}
