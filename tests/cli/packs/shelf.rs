//! Where packs are found, and what happens where two have one name.

use super::{DOUBLE, put_pack, said, with_mine};
use crate::cli::check::Folder;

const CASES: &str = "format = 1\n[[case]]\ntitle = \"twice three\"\nsource = \"by hand\"\n\
                     [case.expect]\nb = { value = \"6 mm\", within = \"0.001 mm\" }\n";

#[test]
fn a_pack_in_a_folder_is_as_good_as_a_shipped_one() {
    let folder = Folder::new();
    put_pack(&folder, "mine/shop", "shop", "", ("double", DOUBLE));
    folder.put("mine/shop/double.cases.toml", CASES);
    let list = with_mine(&folder, &["list", "shop"]);
    assert!(
        said(&folder, &list).contains("(DIR/mine/shop)"),
        "{}",
        said(&folder, &list)
    );
    assert!(list.stdout.contains("shop/double"), "{}", list.stdout);
    assert_eq!((list.code, list.stderr.as_str()), (0, ""));
    let run = with_mine(&folder, &["run", "shop/double", "--format", "json"]);
    let found: serde_json::Value = serde_json::from_str(&run.stdout).unwrap();
    assert_eq!(found["steps"][0]["si"], 0.006);
    assert_eq!(found["script"]["pack_version"], "0.3.0");
    let described = with_mine(&folder, &["describe", "shop/double"]);
    assert!(
        described.stdout.contains("twice three (by hand)"),
        "{}",
        described.stdout
    );
    let proved = with_mine(&folder, &["prove", "shop"]);
    assert!(
        proved.stdout.contains("The one worked example comes out."),
        "{}",
        proved.stdout
    );
    // Without the folder nobody knows it.
    assert_eq!(folder.run(&["run", "shop/double"]).code, 2);
}

#[test]
fn several_places_and_the_one_beside_a_job() {
    let folder = Folder::new();
    put_pack(&folder, "one/a", "a", "", ("double", DOUBLE));
    put_pack(&folder, "two/b", "b", "\"a\"", ("double", DOUBLE));
    put_pack(&folder, "cars/packs/c", "c", "", ("double", DOUBLE));
    let both = ["--packs", "one", "--packs", "two"];
    for script in ["a/double", "b/double"] {
        assert_eq!(folder.run(&[&["run", script], &both[..]].concat()).code, 0, "{script}");
    }
    let job = "format = 1\n[measured]\na = \"4 +/- 0.1 mm\"\n[[run]]\nscript = \"c/double\"\nname = \"c\"\n\
               [[run]]\nscript = \"a/double\"\nname = \"a\"\n";
    folder.put("cars/car.toml", job);
    let ran = folder.run(&["run", "cars/car.toml", "--packs", "one"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""));
    let beside = folder.run(&["run", "c/double"]);
    assert_eq!(beside.code, 2, "packs beside a job are the job's");
}

#[test]
fn two_packs_of_one_name_are_told_apart() {
    let folder = Folder::new();
    put_pack(&folder, "mine/driveline", "driveline", "", ("double", DOUBLE));
    put_pack(&folder, "mine/a-shop", "shop", "", ("double", DOUBLE));
    put_pack(&folder, "mine/b-shop", "shop", "", ("double", DOUBLE));
    let mut text = String::new();
    for arguments in [
        &["run", "driveline/critical-speed"][..],
        &["describe", "shop/double"],
        &["prove", "shop"],
    ] {
        let ran = with_mine(&folder, arguments);
        text.push_str(&said(&folder, &ran));
    }
    insta::assert_snapshot!(text);
    // What has nothing to do with it runs; a list says it at its end.
    assert_eq!(with_mine(&folder, &["run", "clutch/torque-capacity"]).stderr, "");
    let list = with_mine(&folder, &["list"]);
    assert_eq!(list.code, 2);
    assert!(
        list.stderr.contains("two packs are named `driveline`"),
        "{}",
        list.stderr
    );
    assert!(list.stdout.contains("shop/double"));
    assert_eq!(with_mine(&folder, &["pack", "list"]).code, 2);
}

/// A file taken from a folder of a shipped pack's name, and a script of that name, in one job.
#[test]
fn a_files_pack_shadows_nothing_either() {
    let folder = Folder::new();
    put_pack(&folder, "driveline", "driveline", "", ("double", DOUBLE));
    let job = |first: &str, second: &str| {
        format!(
            "format = 1\n[[run]]\nscript = \"{first}\"\nname = \"1\"\n[[run]]\nscript = \"{second}\"\nname = \"2\"\n"
        )
    };
    let (file, script) = ("driveline/double.rhai", "driveline/critical-speed");
    for (first, second) in [(file, script), (script, file)] {
        folder.put("car.toml", &job(first, second));
        let ran = folder.run(&["run", "car.toml"]);
        assert_eq!(ran.code, 2);
        assert!(ran.stderr.contains("two packs are named `driveline`"), "{}", ran.stderr);
    }
    assert_eq!(folder.run(&["run", file]).code, 0, "by itself it is nobody's rival");
}

#[test]
fn manifests_that_cannot_be_read() {
    let folder = Folder::new();
    put_pack(&folder, "mine/shop", "shop", "", ("double", DOUBLE));
    let mut text = String::new();
    for manifest in [
        "format = 2\nname = \"shop\"\n",
        "name = \"shop\"\nversion = \"1\"\n",
        "format = 1\nname = \"../shop\"\nversion = \"1\"\n",
        "format = 1\nname = \"shop\"\nversion = \"1\"\nuse = []\n",
        "format = 1\nname =",
    ] {
        folder.put("mine/shop/pack.toml", manifest);
        text.push_str(&said(&folder, &with_mine(&folder, &["run", "shop/double"])));
    }
    insta::assert_snapshot!(text);
    assert_eq!(with_mine(&folder, &["run", "clutch/torque-capacity"]).stderr, "");
    assert_eq!(with_mine(&folder, &["list"]).code, 2);
}

#[test]
fn a_pack_sees_itself_and_those_it_names() {
    let folder = Folder::new();
    let uses = "import \"b/double\" as d;\nstep c = d::twice(3.mm) : \"Twice\";\n";
    put_pack(&folder, "mine/b", "b", "", ("double", "fn twice(x) { x + x }\n"));
    put_pack(&folder, "mine/a", "a", "\"b\"", ("use", uses));
    assert_eq!(with_mine(&folder, &["run", "a/use"]).stderr, "");
    put_pack(&folder, "mine/a", "a", "", ("use", uses));
    assert_eq!(with_mine(&folder, &["run", "a/use"]).code, 2);
}

#[cfg(unix)]
#[test]
fn a_link_in_a_pack_leads_nowhere() {
    let folder = Folder::new();
    put_pack(&folder, "mine/shop", "shop", "", ("double", DOUBLE));
    std::os::unix::fs::symlink("/etc/passwd", folder.0.join("mine/shop/secret.rhai")).unwrap();
    let ran = with_mine(&folder, &["run", "shop/secret"]);
    insta::assert_snapshot!(said(&folder, &ran));
}

#[test]
fn a_job_names_nothing_outside_its_folder() {
    let folder = Folder::new();
    std::fs::create_dir_all(folder.0.join("cars/own")).unwrap();
    std::fs::copy(folder.0.join("shaft.rhai"), folder.0.join("cars/own/shaft.rhai")).unwrap();
    let run = |script: &str| {
        let job = format!("format = 1\n[[run]]\nscript = \"{script}\"\nname = \"shaft\"\n");
        folder.put("cars/car.toml", &job);
        folder.run(&["run", "cars/car.toml"])
    };
    for below in ["own/shaft.rhai", "./own/shaft.rhai"] {
        assert!(run(below).code < 2, "{below}");
    }
    insta::assert_snapshot!(run("../shaft.rhai").stderr);
    let absolute = folder.0.join("shaft.rhai").display().to_string();
    for above in ["own/../../shaft.rhai", &absolute] {
        let ran = run(above);
        assert_eq!(ran.code, 2, "{above}");
        assert!(ran.stderr.contains("is not in the job's folder"), "{}", ran.stderr);
    }
}
