//! What the page shows where a run goes another way, or refuses: all that the script certainly comes to, nothing else; and
//! what is tried there is what `--set` tries.

use super::node::run;
use super::study::{case, said};
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::job::{Job, Overrides, Plan, Ran, trial};
use crankline_engine::script::{Library, Program};
use crankline_engine::source::NoSources;
use serde_json::{Value, json};
use std::rc::Rc;

const SCRIPTS: [(&str, &str); 7] = [
    (
        "ladder",
        "input length = 10.mm plus_minus 1.mm : \"Length\";
         step before = length * 2 as mm;
         let extra = if length > 20.mm { 5.mm } else { 1.mm };
         step after = length + extra as mm;
         check after < 18.mm : \"Short enough\";",
    ),
    (
        "second",
        "input length = 10.mm plus_minus 1.mm : \"Length\";
         input width = 3.mm plus_minus 0.1.mm : \"Width\";
         step own = width * 2 as mm;
         let extra = if length > 20.mm { 5.mm } else { 1.mm };
         step later = width + extra as mm;",
    ),
    (
        "linked",
        "input given = 11.mm from 1.mm to 18.mm : \"Given\";
         step half = given / 2 as mm;
         check half < 8.mm : \"Half is short\";",
    ),
    (
        "needs",
        "input long = 5.mm plus_minus 0.1.mm : \"Long\";
         input short = 3.mm : \"Short\";
         step first = long + short as mm;
         step across = sqrt(long * long - short * short) as mm;
         step past = across * 2 as mm;",
    ),
    (
        "alone",
        "input apart = 7.mm plus_minus 0.5.mm : \"Apart\";
         step third = apart / 3 as mm;
         check third < 3.mm : \"A third is short\";",
    ),
    (
        "agree",
        "input one = 12.mm plus_minus 0.5.mm : \"One\";
         input other = 12.5.mm plus_minus 0.5.mm : \"Other\";
         require abs(one - other) < 3.mm : \"They agree\";
         step mean = (one + other) / 2 as mm;
         check mean < 20.mm : \"Mean is short\";",
    ),
    (
        "play",
        "input play = 1.mm plus_minus 0.2.mm : \"Play\";
         input factor = 2.0 : \"Factor\";
         step played = play * factor as mm;
         check played < 5.mm : \"Little play\";",
    ),
];

fn program(library: &Library, name: &str) -> Result<Program, Diagnostic> {
    let found = SCRIPTS.iter().find(|(known, _)| *known == name);
    let (name, text) = found.ok_or_else(|| Refusal::new("unknown script", format!("there is no script `{name}`")))?;
    library.compile(SourceText {
        name: format!("{name}.rhai"),
        text: (*text).to_owned(),
    })
}

fn job(lines: &str) -> Job {
    let source = SourceText {
        name: "car.toml".to_owned(),
        text: format!("format = 1\n{lines}"),
    };
    let files = |name: &str| Err(Refusal::new("csv", format!("there is no file `{name}`")));
    Job::read(source, &files).unwrap_or_else(|error| panic!("{error}"))
}

/// A value that is tried: the reading's name, how it is written, and what the page then has to show and to give.
struct Trial {
    set: &'static [(&'static str, &'static str)],
    /// For each number of the steps, by their keys, whether it is shown.
    shown: Option<Vec<bool>>,
    /// For each check what is given; nothing: the script has to be run.
    verdicts: Vec<Option<&'static str>>,
}

/// Tries values in a job, with the engine and with the page.
fn tried(name: &str, lines: &str, trials: &[Trial]) {
    let library = Library::new(Rc::new(NoSources));
    let programs = |name: &str| program(&library, name);
    let job = job(lines);
    let ran = Plan::new(&job, &library, &programs, &Overrides::new(), None).and_then(|plan| plan.run(None));
    let ran = ran.unwrap_or_else(|error| panic!("{error}"));
    let settings = trials.iter().map(|tried| -> Value {
        let set = tried.set.iter().map(|(name, text)| ((*name).to_owned(), trial(text)));
        let plan = Plan::new(&job, &library, &programs, &set.collect(), None).unwrap_or_else(|error| panic!("{error}"));
        let found = plan.run(None).ok();
        let inputs = inputs(&ran, tried.set);
        let mut said = said(
            &plan,
            &ran,
            &inputs,
            found.map(|ran| (ran.tape.clone(), ran.outcomes())),
            true,
        );
        said["verdicts"] = json!(tried.verdicts);
        if let Some(shown) = &tried.shown {
            said["shown"] = json!(shown);
        }
        said
    });
    let case = case(name, &ran, settings.collect(), true);
    run("study.mjs", name, &vec![case].into());
}

/// The report's inputs with these in all runs that read them.
fn inputs(ran: &Ran, set: &[(&str, &str)]) -> Vec<f64> {
    let mut inputs: Vec<f64> = ran
        .tape
        .inputs
        .iter()
        .map(|slot| ran.tape.nominal[*slot as usize])
        .collect();
    for (name, text) in set {
        let millimetres: f64 = text.trim_end_matches(" mm").parse().unwrap();
        for part in ran
            .runs
            .iter()
            .flat_map(|run| &run.outcome.inputs)
            .flat_map(|input| &input.parts)
        {
            if part.address == *name {
                inputs[part.input] = millimetres / 1000.0;
            }
        }
    }
    inputs
}

const RUNS: &str = "
    [measured]
    length = \"10 mm +/- 0.5 mm\"
    width = \"3 mm +/- 0.1 mm\"
    long = \"5 mm +/- 0.1 mm\"
    short = \"3 mm\"
    apart = \"7 mm +/- 0.3 mm\"
    [[run]]
    script = \"ladder\"
    [[run]]
    script = \"second\"
    [[run]]
    script = \"linked\"
    from = { given = \"ladder: after\" }
    [[run]]
    script = \"needs\"
    [[run]]
    script = \"alone\"
";

/// The numbers, by run and step: after, before; later, own; half; across, first, past; third.
#[test]
fn what_is_shown_is_what_the_script_certainly_comes_to() {
    let all = |shown: [u8; 9]| Some(shown.map(|shown| shown == 1).to_vec());
    let (holds, fails) = (Some("holds"), Some("fails"));
    let trials = [
        Trial {
            set: &[("length", "12 mm")],
            shown: all([1; 9]),
            verdicts: vec![holds, holds, holds],
        },
        // Both runs that compare go another way, and what is linked to one of them rests on it.
        Trial {
            set: &[("length", "25 mm")],
            shown: all([0, 1, 0, 1, 0, 1, 1, 1, 1]),
            verdicts: vec![None, None, holds],
        },
        // A root of a negative number: nothing after it.
        Trial {
            set: &[("long", "2 mm")],
            shown: all([1, 1, 1, 1, 1, 0, 1, 0, 0]),
            verdicts: vec![None, None, None],
        },
        // What is linked lies outside of what may be entered.
        Trial {
            set: &[("length", "17.5 mm")],
            shown: all([1, 1, 1, 1, 0, 0, 0, 0, 0]),
            verdicts: vec![None, None, None],
        },
        Trial {
            set: &[("length", "16.9 mm"), ("apart", "6.9 mm")],
            shown: all([1; 9]),
            verdicts: vec![Some("unsure"), fails, holds],
        },
    ];
    tried("vouch", RUNS, &trials);
}

/// Within its ± some samples of a length go another way.
#[test]
fn where_samples_go_another_way_a_verdict_stands_that_is_the_same_either_way() {
    let lines = "
        [measured]
        length = \"10 mm +/- 0.5 mm\"
        apart = \"7 mm +/- 0.3 mm\"
        [[run]]
        script = \"ladder\"
        [[run]]
        script = \"alone\"
    ";
    let trials = [
        // One in a hundred.
        Trial {
            set: &[("length", "19.51 mm")],
            shown: Some(vec![true; 3]),
            verdicts: vec![Some("fails"), Some("holds")],
        },
        // One in five.
        Trial {
            set: &[("length", "19.7 mm")],
            shown: Some(vec![true; 3]),
            verdicts: vec![None, Some("holds")],
        },
    ];
    tried("leaving", lines, &trials);
}

#[test]
fn readings_that_contradict_one_another_make_what_rests_on_them_untrusted() {
    let lines = "
        [measured]
        one = \"12 mm +/- 0.5 mm\"
        other = \"12.5 mm +/- 0.5 mm\"
        [[run]]
        script = \"agree\"
        [[run]]
        script = \"linked\"
        from = { given = \"agree: mean\" }
    ";
    let given = |verdicts: [&'static str; 3]| verdicts.map(Some).to_vec();
    let trials = [
        Trial {
            set: &[("one", "13 mm")],
            shown: None,
            verdicts: given(["holds", "holds", "holds"]),
        },
        Trial {
            set: &[("one", "17 mm")],
            shown: None,
            verdicts: given(["fails", "untrusted", "untrusted"]),
        },
        Trial {
            set: &[("one", "15.4 mm")],
            shown: None,
            verdicts: given(["unsure", "holds", "holds"]),
        },
    ];
    tried("untrusted", lines, &trials);
}

#[test]
fn an_example_of_several_runs_is_one_reading_once_it_is_tried() {
    let lines = "
        [measured]
        factor = 2.0
        [[run]]
        script = \"play\"
        [[run]]
        script = \"play\"
        name = \"again\"
    ";
    let trials = [
        Trial {
            set: &[],
            shown: None,
            verdicts: vec![Some("unmeasured"); 2],
        },
        Trial {
            set: &[("play", "1.2 mm")],
            shown: None,
            verdicts: vec![Some("holds"); 2],
        },
        Trial {
            set: &[("play", "2.6 mm")],
            shown: None,
            verdicts: vec![Some("unsure"); 2],
        },
    ];
    tried("joined", lines, &trials);
}
