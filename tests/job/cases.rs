//! Worked cases, compared with what comes out.

use super::bench::run_with;
use crankline_engine::diagnostic::SourceText;
use crankline_engine::pack::{Case, Expectation, difference_words, prove, read_cases};
use crankline_engine::study::Verdict;

fn cases(lines: &str) -> Result<Vec<Case>, String> {
    let text = format!("format = 1\n[[case]]\ntitle = \"a case\"\n{lines}");
    let name = "shaft.cases.toml".to_owned();
    read_cases(SourceText { name, text }).map_err(|error| error.to_string())
}

/// What differs in a case of the shaft; its check is taken to hold.
fn differences(lines: &str) -> String {
    let case = cases(lines).unwrap_or_else(|error| panic!("{error}")).remove(0);
    let ran = run_with(&case.job("shaft"), &[], None);
    let result = ran.as_ref().map(|ran| &ran.runs[0].outcome);
    difference_words(&prove(&case, result, &|_| Some(Verdict::Holds)))
}

#[test]
fn a_case_that_comes_out_differs_in_nothing() {
    let found = differences(
        "source = \"by hand\"
         set = { length = \"1250 mm\" }
         [case.expect]
         twice_length = { value = \"2.5 m\", within = \"0.001 mm\" }
         allowed = { value = \"3600 rpm\", within = \"0.01 rpm\" }
         margin = { value = 0.75, within = 0 }
         \"check: Stays clear\" = \"holds\"",
    );
    assert_eq!(found, "");
}

#[test]
fn a_case_that_does_not_come_out_says_by_what() {
    let found = differences(
        "source = \"by hand\"
         set = { length = \"1250 mm\" }
         [case.expect]
         twice_length = { value = \"98 in\", within = \"0.1 in\" }
         allowed = { value = \"3600 mm\", within = \"1 mm\" }
         alowed = { value = \"3600 rpm\", within = \"1 rpm\" }
         margin = true
         \"check: Stays clear\" = \"fails\"
         \"check: Stays close\" = \"holds\"",
    );
    insta::assert_snapshot!(found);
}

#[test]
fn an_error_is_expected_by_its_words() {
    assert_eq!(
        differences("set = { length = \"12 m\" }\nexpect_error = \"length\""),
        ""
    );
    let other = differences("set = { length = \"12 m\" }\nexpect_error = \"wall\"");
    insta::assert_snapshot!(other);
    insta::assert_snapshot!(differences("expect_error = \"wall\""));
}

#[test]
fn a_case_that_cannot_be_calculated_differs() {
    let found =
        differences("source = \"by hand\"\nset = { length = 3 }\n[case.expect]\nallowed = { value = 1, within = 1 }");
    insta::assert_snapshot!(found);
}

#[test]
fn an_input_that_the_script_does_not_have_is_no_case() {
    let found = differences("source = \"by hand\"\nset = { lenght = \"1 m\" }\n[case.expect]\nallowed = 1");
    insta::assert_snapshot!(found);
}

#[test]
fn a_case_names_its_source_and_expects_something() {
    let error = |lines: &str| cases(lines).unwrap_err();
    insta::assert_snapshot!(error("[case.expect]\nallowed = 1"));
    insta::assert_snapshot!(error("source = \"by hand\""));
    insta::assert_snapshot!(error(
        "source = \"by hand\"\n[case.expect]\n\"check: Stays clear\" = \"hold\""
    ));
    insta::assert_snapshot!(error(
        "source = \"by hand\"\n[case.expect]\nallowed = { value = \"1 rpm\" }"
    ));
}

#[test]
fn a_case_keeps_what_it_says() {
    let case = cases("expect_error = \"wall\"").unwrap().remove(0);
    assert_eq!(case.title, "a case");
    assert!(matches!(case.expectation, Expectation::Error(words, _) if words == "wall"));
}

#[test]
fn a_negative_within_is_told() {
    insta::assert_snapshot!(differences(
        "source = \"by hand\"\n[case.expect]\nallowed = { value = \"3600 rpm\", within = \"-1 rpm\" }"
    ));
}
