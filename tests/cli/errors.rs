//! What cannot be done says why, on the error stream, with exit code 2.

use super::check::{Folder, shown};

fn refused(arguments: &[&str]) -> String {
    let text = shown(arguments);
    assert!(text.ends_with("(exit code 2)\n"), "{text}");
    text
}

#[test]
fn a_wrong_unit() {
    insta::assert_snapshot!(refused(&["run", "shaft.rhai", "--set", "wall=2 kg"]));
}

#[test]
fn a_number_without_its_unit() {
    insta::assert_snapshot!(refused(&["run", "shaft.rhai", "--set", "wall=2"]));
}

#[test]
fn no_number() {
    insta::assert_snapshot!(refused(&["run", "shaft.rhai", "--set", "wall=NaN mm"]));
}

#[test]
fn a_misspelt_input() {
    insta::assert_snapshot!(refused(&["run", "shaft.rhai", "--set", "tube_of=3 in"]));
}

#[test]
fn a_setting_without_a_value() {
    insta::assert_snapshot!(refused(&["run", "shaft.rhai", "--set", "wall"]));
}

#[test]
fn a_setting_twice() {
    insta::assert_snapshot!(refused(&[
        "run",
        "shaft.rhai",
        "--set",
        "wall=1 mm",
        "--set",
        "wall=2 mm"
    ]));
}

#[test]
fn a_value_out_of_range() {
    insta::assert_snapshot!(refused(&["run", "shaft.rhai", "--set", "tube_od=9 in"]));
}

#[test]
fn a_wall_thicker_than_the_tube() {
    // Its inside would be negative: the formula still gives a number, so that is for a script to refuse.
    let text = shown(&["run", "shaft.rhai", "--set", "wall=3 in +/- 0 in"]);
    assert!(text.contains("error"), "{text}");
}

#[test]
fn a_missing_file() {
    insta::assert_snapshot!(refused(&["run", "shoft.rhai"]));
}

#[test]
fn a_missing_script() {
    insta::assert_snapshot!(refused(&["run", "nowhere"]));
}

#[test]
fn an_unknown_command() {
    insta::assert_snapshot!(refused(&["rum", "shaft.rhai"]));
}

#[test]
fn an_unknown_option() {
    insta::assert_snapshot!(refused(&["run", "shaft.rhai", "--workin"]));
}

#[test]
fn an_endless_loop() {
    let folder = Folder::new();
    folder.put("endless.rhai", "let x = 0;\nloop {\n    x += 1;\n}\n");
    let ran = folder.run(&["run", "endless.rhai"]);
    assert_eq!(ran.code, 2);
    insta::assert_snapshot!(ran.stderr);
}

#[test]
fn a_result_that_is_not_finite() {
    let folder = Folder::new();
    folder.put(
        "zero.rhai",
        "input a = 3.mm;\nlet b = a - a;\nstep c = a / b : \"Ratio\";\n",
    );
    let ran = folder.run(&["run", "zero.rhai"]);
    assert_eq!(ran.code, 2);
    insta::assert_snapshot!(ran.stderr);
}

#[test]
fn nesting_without_end() {
    let folder = Folder::new();
    let deep = format!("step a = {}1.mm{};\n", "(".repeat(20_000), ")".repeat(20_000));
    folder.put("deep.rhai", &deep);
    let ran = folder.run(&["run", "deep.rhai"]);
    assert_eq!(ran.code, 2);
    assert!(ran.stderr.starts_with("error: "), "{}", ran.stderr);
}

#[test]
fn nothing_outside_a_pack_is_imported() {
    let folder = Folder::new();
    folder.put("secret.rhai", "fn answer() { 42 }\n");
    folder.put(
        "thief.rhai",
        "import \"secret\" as s;\nstep a = s::answer() : \"Answer\";\n",
    );
    assert_eq!(folder.run(&["run", "thief.rhai"]).code, 2);
    folder.put(
        "thief.rhai",
        "import \"../secret\" as s;\nstep a = s::answer() : \"Answer\";\n",
    );
    assert_eq!(folder.run(&["run", "thief.rhai"]).code, 2);
}

#[test]
fn a_pack_on_the_disk_sees_its_own_scripts() {
    let folder = Folder::new();
    folder.put("pack.toml", "format = 1\nname = \"shop\"\nversion = \"0.3.0\"\n");
    folder.put("bracket.rhai", "fn twice(x) { x + x }\n");
    folder.put(
        "use.rhai",
        "import \"shop/bracket\" as b;\ninput a = 3.mm;\nstep c = b::twice(a) : \"Twice\";\n",
    );
    let ran = folder.run(&["run", "use.rhai"]);
    assert_eq!((ran.code, ran.stderr.as_str()), (0, ""));
    assert!(ran.stdout.starts_with("shop/use\n"), "{}", ran.stdout);
    assert!(ran.stdout.contains("6 mm"), "{}", ran.stdout);
    folder.put("use.rhai", "import \"shop/../shaft\" as b;\n");
    assert_eq!(folder.run(&["run", "use.rhai"]).code, 2);
}

#[test]
fn a_job_without_a_run() {
    let folder = Folder::new();
    folder.put("empty.toml", "format = 1\n[measured]\nlength = \"1 m\"\n");
    let ran = folder.run(&["run", "empty.toml"]);
    assert_eq!(ran.code, 2);
    insta::assert_snapshot!(ran.stderr);
}

/// 80 K are no 80 °C, and 80 °C no difference.
#[test]
fn a_temperature_and_a_difference_mixed_up() {
    let folder = Folder::new();
    folder.put("warm.rhai", "// Warm.\ninput warm = 20.degC : \"Room\";\ninput rise = 30.K : \"Rise\";\nstep hot = warm + rise : \"Hot\";\n");
    let point = folder.run(&["run", "warm.rhai", "--set", "warm=80 K"]);
    assert_eq!(point.code, 2);
    assert!(
        point
            .stderr
            .contains("`warm` must be a temperature, a point on the scale; `80 K` is a difference"),
        "{}",
        point.stderr
    );
    assert!(
        point
            .stderr
            .contains("try: a point on the scale is written in degC or degF: 80 degC")
    );
    let difference = folder.run(&["run", "warm.rhai", "--set", "rise=80 degC"]);
    assert!(
        difference
            .stderr
            .contains("`rise` must be a difference of temperatures; `80 degC` is a point"),
        "{}",
        difference.stderr
    );
}
