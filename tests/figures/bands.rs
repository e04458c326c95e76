//! The bands of lines against what must come.

use crate::scripts::with_examples;
use crankline_engine::diagnostic::SourceText;
use crankline_engine::job::{Job, Overrides, Plan};
use crankline_engine::outcome::Outcome;
use crankline_engine::script::Library;
use crankline_engine::source::NoSources;
use crankline_engine::study::{Bands, bands};
use std::rc::Rc;

fn bands_of(text: &str) -> Bands {
    let library = Library::new(Rc::new(NoSources));
    let programs = |name: &str| {
        library.compile(SourceText {
            name: name.to_owned(),
            text: text.to_owned(),
        })
    };
    let job = Job::of_run("script", Vec::new());
    let plan = Plan::new(&job, &library, &programs, &Overrides::new(), None).unwrap_or_else(|error| panic!("{error}"));
    let ran = plan.run(None).unwrap_or_else(|error| panic!("{error}"));
    let outcomes: Vec<Outcome> = ran.runs.iter().map(|run| run.outcome.clone()).collect();
    bands(&plan, &ran.tape, &outcomes)
}

/// Of a number anywhere within ±1 of 10, 95 % lie within 0.95 of it.
#[test]
fn a_line_with_a_reading_in_it_has_the_band_of_that_reading() {
    let found = bands_of(
        "input k = 10.N plus_minus 1.N;\n\
         let xs = [1.mm, 2.mm, 3.mm];\n\
         show chart(\"t\").line(\"a\", xs, xs.map(|x| k * (x / 1.mm))).line(\"b\", xs, [1.N, 2.N, 3.N]);",
    );
    let lines = &found[&(0, 0)];
    for (nth, [low, high]) in lines[0].iter().enumerate() {
        #[allow(clippy::cast_precision_loss)]
        let times = nth as f64 + 1.0;
        assert!((low - 9.05 * times).abs() < 0.02 * times && (high - 10.95 * times).abs() < 0.02 * times);
    }
    assert!(lines.get(1).is_none_or(Vec::is_empty), "what does not move has no band");
}

/// Where the places of a line move with it, what counts is how far lines lie from one another: y = 2x moves along itself,
/// y = 2 (x - c) by 2 c.
#[test]
fn a_line_that_moves_along_itself_has_no_width() {
    let found = bands_of(
        "input c = 10.mm plus_minus 1.mm;\n\
         let xs = [1.0 * c, 2.0 * c, 3.0 * c];\n\
         show chart(\"t\").line(\"along\", xs, xs.map(|x| 2.0 * x))\n\
             .line(\"across\", xs.map(|x| x + c), xs.map(|x| 2.0 * x));",
    );
    let lines = &found[&(0, 0)];
    let width = |line: usize| lines[line].iter().map(|[low, high]| high - low).fold(0.0, f64::max);
    assert!(lines[0].is_empty() || width(0) < 1e-12, "{lines:?}");
    assert!((width(1) - 2.0 * 2.0 * 0.95e-3).abs() < 5e-5, "{}", width(1));
}

#[test]
fn lines_of_shipped_scripts_lie_within_their_bands() {
    let trial = with_examples("driveline/joint-angles");
    let found: Vec<_> = trial.bands.values().flatten().filter(|line| !line.is_empty()).collect();
    assert!(!found.is_empty());
    for line in found {
        assert!(line.iter().all(|[low, high]| low <= high));
    }
}
