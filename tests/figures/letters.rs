//! Figures for a terminal.

use crate::language::run;
use crankline_engine::quantity::text::System;
use crankline_engine::report::figure_letters;

#[test]
fn each_kind_of_figure_reads_in_letters() {
    let ran = run(include_str!("letters.rhai"));
    let figures = ran.outcome.figures.iter();
    let all: Vec<String> = figures
        .map(|shown| figure_letters(shown, System::Metric).join("\n"))
        .collect();
    for line in all.iter().flat_map(|figure| figure.lines()) {
        assert!(line.chars().count() <= 80, "{line}");
    }
    insta::assert_snapshot!(all.join("\n\n"));
}
