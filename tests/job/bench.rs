//! What the tests of jobs stand on: scripts by name, one helper for each thing that is asked.

use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::job::{Job, Overrides, Plan, Ran, run_job};
use crankline_engine::outcome::{Input, Value};
use crankline_engine::script::{Library, Program};
use crankline_engine::source::NoSources;
use std::rc::Rc;

/// Scripts that jobs of the tests run.
const SCRIPTS: [(&str, &str); 9] = [
    (
        "road",
        "input engine_speed = 3000.rpm plus_minus 10.rpm : \"Engine speed\";
         input ratio = 3.0 : \"Axle ratio\";
         step shaft = engine_speed / ratio as rpm : \"Shaft speed\";",
    ),
    (
        "shaft",
        "input top = 4800.rpm plus_minus 1.rpm : \"Fastest the shaft will turn\";
         input length = 1200.mm plus_minus 2.mm from 200.mm to 3.m : \"Joint centre to joint centre\";
         assume margin = 75.percent;
         step allowed = margin * top as rpm;
         step twice_length = 2 * length as mm;
         check allowed < 9000.rpm : \"Stays clear\";",
    ),
    (
        "gap",
        "input length = 1100.mm plus_minus 1.mm : \"Joint centre to joint centre\";
         step half = length / 2 as mm;",
    ),
    (
        "tube",
        "input length = 300.mm : \"Tube length\";
         step third = length / 3 as mm;",
    ),
    (
        "angle",
        "input length = 3.deg : \"Joint centre to joint centre\";
         step whole = length as deg;",
    ),
    (
        "loads",
        "input loads = [#{name: \"Wipers\", current: 4.A plus_minus 0.1.A}] : \"Loads\";
         let sum = 0.A;
         for row in loads { sum = sum + row.current; }
         step total = sum as A;",
    ),
    (
        "choices",
        "input material = \"steel\" one_of [\"steel\", \"aluminium\"] : \"Material\";
         input sleeved = false : \"Sleeved\";
         input bolts = 4 : \"Bolts\";
         step count = bolts * 2;",
    ),
    (
        "twice",
        "input one = 1200.mm : \"First reading\";
         input other = 1200.mm : \"Second reading\";
         require abs(one - other) < 3.mm : \"The two agree\";
         step mean = (one + other) / 2 as mm;",
    ),
    (
        "joint",
        "input joint = point(905.mm, 22.mm, -70.mm) plus_minus 1.mm : \"Front joint\";
         step across = joint.y as mm;",
    ),
];

pub(super) fn library() -> Library {
    Library::new(Rc::new(NoSources))
}

fn program(library: &Library, name: &str) -> Result<Program, Diagnostic> {
    let found = SCRIPTS.iter().find(|(known, _)| *known == name);
    let (name, text) = found.ok_or_else(|| Refusal::new("unknown script", format!("there is no script `{name}`")))?;
    library.compile(SourceText {
        name: format!("{name}.rhai"),
        text: (*text).to_owned(),
    })
}

/// The csv file beside the tests' jobs.
const CSV: &str = "name,current\nWipers,4.5 A +/- 0.2 A\n\"Fan, left\",12 A\n";

pub(super) fn read(text: &str) -> Result<Job, Diagnostic> {
    let source = SourceText {
        name: "car.toml".to_owned(),
        text: text.to_owned(),
    };
    Job::read(source, &|name| match name {
        // A text of several lines stands for the file that holds it.
        written if written.contains('\n') => Ok(SourceText {
            name: "written.csv".to_owned(),
            text: written.to_owned(),
        }),
        "loads.csv" | "marked.csv" | "wrong.csv" => Ok(SourceText {
            name: name.to_owned(),
            text: match name {
                "loads.csv" => CSV.to_owned(),
                // Some programs begin a file with a mark of its encoding.
                "marked.csv" => "\u{feff}name, current\nFan , 12 A\nHorn,5 A".to_owned(),
                _ => CSV.replace("12 A", "12 mm"),
            },
        }),
        other => Err(Refusal::new("csv", format!("there is no file `{other}`"))),
    })
}

/// A job file with these lines after its format.
pub(super) fn job(lines: &str) -> Job {
    read(&format!("format = 1\n{lines}")).unwrap_or_else(|error| panic!("{error}"))
}

pub(super) fn run(lines: &str) -> Ran {
    run_with(&job(lines), &[], None).unwrap_or_else(|error| panic!("{error}"))
}

pub(super) fn run_with(job: &Job, set: &[(&str, &str)], only: Option<&str>) -> Result<Ran, Diagnostic> {
    let library = library();
    run_job(
        job,
        &|name| program(&library, name),
        &library,
        &overrides(set),
        only,
        None,
    )
}

pub(super) fn with_plan<T>(job: &Job, work: impl FnOnce(&Plan<'_>) -> T) -> T {
    let library = library();
    let plan = Plan::new(job, &library, &|name| program(&library, name), &Overrides::new(), None);
    work(&plan.unwrap_or_else(|error| panic!("{error}")))
}

pub(super) fn overrides(set: &[(&str, &str)]) -> Overrides {
    let trial = |(name, text): &(&str, &str)| ((*name).to_owned(), crankline_engine::job::trial(text));
    set.iter().map(trial).collect()
}

/// The file and the message that it earns, when read or when run.
pub(super) fn refused(text: &str) -> String {
    let error = match read(text).and_then(|job| run_with(&job, &[], None)) {
        Ok(_) => panic!("this job is run: {text}"),
        Err(error) => error,
    };
    format!("{}\n----------\n{error}", text.trim_end())
}

pub(super) fn input<'a>(ran: &'a Ran, run: usize, name: &str) -> &'a Input {
    let found = ran.runs[run].outcome.inputs.iter().find(|input| input.name == name);
    found.unwrap_or_else(|| panic!("no input {name}"))
}

/// A step's value in SI units and its slot.
pub(super) fn step(ran: &Ran, run: usize, name: &str) -> (f64, Option<u32>) {
    let found = ran.runs[run].outcome.steps.iter().find(|step| step.name == name);
    match &found.unwrap_or_else(|| panic!("no step {name}")).value {
        Value::Amount(amount) => (amount.si, amount.slot),
        other => panic!("{name} is {other:?}"),
    }
}
