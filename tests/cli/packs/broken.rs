//! Folders that would be packs, and places that are not there.

use super::{DOUBLE, put_pack, said, with_mine};
use crate::cli::check::Folder;

#[test]
fn one_that_is_broken_hides_no_other() {
    let folder = Folder::new();
    put_pack(&folder, "mine/sound", "sound", "", ("double", DOUBLE));
    for name in ["broken", "torn"] {
        put_pack(&folder, &format!("mine/{name}"), name, "", ("double", DOUBLE));
        folder.put(&format!("mine/{name}/pack.toml"), "format = 1\nname =");
    }
    std::fs::create_dir_all(folder.0.join("mine/bare")).unwrap();
    folder.put("mine/bare/double.rhai", DOUBLE);
    // A folder of something else is nobody's pack.
    std::fs::create_dir_all(folder.0.join("mine/pictures")).unwrap();
    folder.put("mine/pictures/car.txt", "");
    let list = with_mine(&folder, &["pack", "list", "--format", "json"]);
    assert_eq!(list.code, 2);
    let rows: serde_json::Value = serde_json::from_str(&list.stdout).unwrap();
    let rows = rows.as_array().or_else(|| rows["rows"].as_array()).unwrap().clone();
    let states: Vec<(String, String)> = rows
        .iter()
        .filter(|row| row["place"].as_str().is_some_and(|place| !place.is_empty()))
        .map(|row| {
            let place = row["place"].as_str().unwrap();
            let name = place.rsplit('/').next().unwrap().to_owned();
            let difference = row["difference"].as_str().unwrap_or_default();
            (name, format!("{}: {difference}", row["state"].as_str().unwrap()))
        })
        .collect();
    let of = |name: &str| {
        states
            .iter()
            .find(|(known, _)| known == name)
            .map(|(_, state)| state.as_str())
    };
    assert_eq!(of("sound"), Some("own: "));
    for name in ["broken", "torn", "bare"] {
        assert!(
            of(name).is_some_and(|state| state.starts_with("broken: ")),
            "{states:?}"
        );
    }
    assert!(
        of("bare").unwrap().contains("has scripts and no pack.toml"),
        "{states:?}"
    );
    assert_eq!(of("pictures"), None);
    let mut text = said(&folder, &with_mine(&folder, &["list", "sound"]));
    for arguments in [&["pack", "seal", "bare"][..], &["run", "bare/double"]] {
        text.push_str(&said(&folder, &with_mine(&folder, arguments)));
    }
    insta::assert_snapshot!(text);
    assert_eq!(with_mine(&folder, &["run", "sound/double"]).stderr, "");
}

#[test]
fn places_that_are_not_there() {
    let folder = Folder::new();
    let mut text = String::new();
    for arguments in [
        &["pack", "list", "--packs", "nowhere"][..],
        &["run", "clutch/torque-capacity", "--packs", "car.toml"],
    ] {
        text.push_str(&said(&folder, &folder.run(arguments)));
    }
    insta::assert_snapshot!(text);
    assert_eq!(folder.run(&["pack", "new", "shop", "--packs", "nowhere"]).code, 0);
    assert_eq!(folder.run(&["pack", "list", "--packs", "nowhere"]).code, 0);
}
