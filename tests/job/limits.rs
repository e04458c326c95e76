//! How much a job takes.

use super::bench::read;

#[test]
fn readings() {
    let many = |count: usize| {
        let lines: String = (0..count).map(|number| format!("r{number} = \"1 mm\"\n")).collect();
        read(&format!("format = 1\n[measured]\n{lines}[[run]]\nscript = \"road\"\n"))
    };
    assert!(many(10_000).is_ok());
    let error = many(10_001).unwrap_err();
    assert_eq!(error.refusal.message(), "a job takes 10000 readings at the most");
}

#[test]
fn runs() {
    let many = |count: usize| {
        let runs: String = (0..count)
            .map(|number| format!("[[run]]\nscript = \"road\"\nname = \"run {number}\"\n"))
            .collect();
        read(&format!("format = 1\n{runs}"))
    };
    assert!(many(200).is_ok());
    let error = many(201).unwrap_err();
    assert_eq!(error.refusal.message(), "a job takes 200 runs at the most");
    assert_eq!(error.places[0].line, 602);
}

#[test]
fn rows() {
    let table = |count: usize| {
        let rows = "Fan,12 A\\n".repeat(count);
        let loads = format!("loads = {{ csv = \"name,current\\n{rows}\" }}");
        read(&format!(
            "format = 1\n[measured]\n{loads}\n[[run]]\nscript = \"loads\"\n"
        ))
    };
    assert!(table(100).is_ok());
    let error = table(10_001).unwrap_err();
    assert_eq!(error.refusal.message(), "a table takes 10000 rows at the most");
    assert_eq!(error.places[0].line, 10_002);
}
