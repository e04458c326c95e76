//! What a calculation costs here and elsewhere, in one run: the joint angles against NumPy, a units library and scalar
//! Rust by hand; a frame against scalar Rust with `nalgebra`. Prints the table that stands in README.
//!
//! Everybody does the same calculation, and comes to the same results first. Each draws its own samples. What is
//! measured is one core, the fastest of repeated runs. The Python peers need `python3` with NumPy, and Pint for the units;
//! one that is missing is left out.

// A benchmark may stop at a broken assumption, and prints.
#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stdout, missing_docs)]

#[path = "peers/crossmember.rs"]
mod crossmember;
#[path = "peers/joint_angles.rs"]
mod joint_angles;

use crankline_engine::diagnostic::SourceText;
use crankline_engine::kernel::sobol;
use crankline_engine::outcome::{Amount, Outcome, Spread, Value};
use crankline_engine::script::{Bindings, Library, Program};
use crankline_engine::source::NoSources;
use crankline_engine::tape::batch::{self, Batch, Block, Instructions, LANES};
use crankline_engine::tape::{Recording, Replay, Reverse, Slot, Tape};
use serde_json::Value as Json;
use std::hint::black_box;
use std::num::NonZero;
use std::process::Command;
use std::rc::Rc;
use std::time::{Duration, Instant};

const JOINTS: &str = include_str!("peers/joint_angles.rhai");
const FRAME: &str = include_str!("peers/crossmember.rhai");

fn main() {
    let joints = Recorded::of(JOINTS);
    let python = python();
    same(&joints.results(), &joint_angles::calculate(&joint_angles::NOMINAL));
    if let Some(found) = python.as_ref().map(|python| &python["results"]) {
        let found: Vec<f64> = found
            .as_array()
            .unwrap()
            .iter()
            .map(|value| value.as_f64().unwrap())
            .collect();
        same(&joints.results(), &found);
    }
    println!("| two joints: angles, bend planes, residual, excitations | ns a sample |");
    println!("|---|---|");
    let mut here = Vec::new();
    for instructions in Instructions::all() {
        let each = joints.drawn_and_replayed(instructions);
        println!(
            "| Crankline, {}, one core, drawing included | {each:.0} |",
            instructions.name()
        );
        here.push(each);
    }
    let scalar = fastest(|| joint_angles::means(black_box(10_000))) / 10_000.0;
    println!("| scalar Rust by hand, drawing included | {scalar:.0} |");
    if let Some(python) = &python {
        let (all, drawing) = (&python["with_numpy"]["ns"], &python["with_numpy"]["drawing_ns"]);
        let version = python["numpy"].as_str().unwrap_or("");
        println!(
            "| NumPy {version} on whole arrays, drawing included ({:.0} of it) | {:.0} |",
            drawing.as_f64().unwrap(),
            all.as_f64().unwrap()
        );
        if let Some(units) = python["with_units"]["ns"].as_f64() {
            println!("| Python with a units library, no drawing | {units:.0} |");
        }
    }
    let (one, two) = (joints.on_threads(1), joints.on_threads(2));
    println!(
        "| Crankline on two cores instead of one: faster by | {:.2} |",
        one / two
    );
    let replay = joints.replayed_alone();
    println!("| Crankline, one sample alone | {replay:.0} |");
    println!("| all derivatives of one result | {:.0} |", joints.derivatives());
    let (with, without) = recording();
    println!("| the script run by the interpreter, recorded | {with:.0} |");
    println!("| the same, nothing to record | {without:.0} |");

    let frame = Recorded::of(FRAME);
    same(&frame.results(), &[crossmember::stress(&crossmember::NOMINAL)]);
    println!("\n| bent tube, nine load cases, largest stress | µs a sample |");
    println!("|---|---|");
    for instructions in Instructions::all() {
        let each = frame.drawn_and_replayed(instructions) / 1e3;
        println!(
            "| Crankline, {}, one core, drawing included | {each:.1} |",
            instructions.name()
        );
    }
    let by_hand = fastest(|| crossmember::stress(black_box(&crossmember::NOMINAL))) / 1e3;
    println!("| scalar Rust by hand with nalgebra's Cholesky, no drawing | {by_hand:.1} |");
}

/// A script's tape on its examples, and the slots of its steps.
struct Recorded {
    tape: Tape,
    wanted: Vec<Slot>,
    /// The ± of each input of the tape.
    limits: Vec<f64>,
}

impl Recorded {
    fn of(script: &str) -> Self {
        let (outcome, tape) = run(&Library::new(Rc::new(NoSources)), script);
        let slots = outcome.steps.iter().filter_map(|step| match step.value {
            Value::Amount(Amount { slot, .. }) => slot,
            _ => None,
        });
        let wanted = slots.collect();
        let mut limits = vec![0.0; tape.inputs.len()];
        for part in outcome.inputs.iter().flat_map(|input| &input.parts) {
            if let Spread::Limits(width) = part.spread {
                limits[part.input] = width;
            }
        }
        Self { tape, wanted, limits }
    }

    fn results(&self) -> Vec<f64> {
        self.wanted
            .iter()
            .map(|slot| self.tape.nominal[*slot as usize])
            .collect()
    }

    fn nominal(&self) -> Vec<f64> {
        self.tape
            .inputs
            .iter()
            .map(|slot| self.tape.nominal[*slot as usize])
            .collect()
    }

    /// Draws a block of samples as a study does, and replays them.
    fn block(&self, points: &sobol::Points, nominal: &[f64], block: &mut Block<'_>, first: usize) -> bool {
        for (number, (value, limits)) in nominal.iter().zip(&self.limits).enumerate() {
            let drawn = block.input(number).try_into().unwrap();
            points.between(first, number, [*value, *limits], drawn);
        }
        block.run(LANES);
        block.left(0)
    }

    fn drawn_and_replayed(&self, instructions: Instructions) -> f64 {
        let batch = Batch::new(&self.tape, &self.wanted);
        let mut block = batch.block_with(instructions);
        let (points, nominal) = (sobol::points(self.limits.len(), 1 << 20, 851), self.nominal());
        let mut first = 0;
        let time = fastest(|| {
            first = (first + LANES) % (1 << 20);
            self.block(&points, &nominal, &mut block, first)
        });
        time / LANES as f64
    }

    fn on_threads(&self, threads: usize) -> f64 {
        const BLOCKS: usize = 8_000;
        let batch = Batch::new(&self.tape, &self.wanted);
        let (points, nominal) = (sobol::points(self.limits.len(), 1 << 20, 851), self.nominal());
        fastest(|| {
            let work = |block: &mut Block<'_>, number: usize| self.block(&points, &nominal, block, number * LANES);
            batch::in_blocks(BLOCKS, NonZero::new(threads).unwrap(), || batch.block(), work)
        })
    }

    fn replayed_alone(&self) -> f64 {
        let (mut replay, nominal) = (Replay::new(&self.tape), self.nominal());
        fastest(|| replay.run(black_box(&nominal)).unwrap().len())
    }

    fn derivatives(&self) -> f64 {
        let result = *self.wanted.last().unwrap();
        fastest(|| Reverse::of(black_box(&self.tape), &self.tape.nominal, &[(result, 1.0)]).slot(0))
    }
}

/// What the script's calculation takes with its readings, and with fixed numbers in their place: nothing of that is
/// recorded. To read in the inputs is no part of it.
fn recording() -> (f64, f64) {
    let library = Library::new(Rc::new(NoSources));
    let fixed = JOINTS.lines().map(|line| match line.strip_prefix("input ") {
        Some(rest) => format!("let {};\n", rest.split(" plus_minus").next().unwrap()),
        None => format!("{line}\n"),
    });
    let fixed: String = fixed.collect();
    let time = |script: &str| {
        let program = compiled(&library, script);
        fastest(|| run_program(&library, &program).0.steps.len())
    };
    let calculation = |script: &str| time(script) - time(script.split("let top").next().unwrap());
    (calculation(JOINTS), calculation(&fixed))
}

fn compiled(library: &Library, script: &str) -> Program {
    let text = SourceText {
        name: "peers.rhai".to_owned(),
        text: script.to_owned(),
    };
    library.compile(text).unwrap_or_else(|error| panic!("{error}"))
}

fn run(library: &Library, script: &str) -> (Outcome, Tape) {
    let (outcome, recording) = run_program(library, &compiled(library, script));
    (outcome, recording.tape())
}

fn run_program(library: &Library, program: &Program) -> (Outcome, Rc<Recording>) {
    let recording = Rc::new(Recording::open());
    let finished = library.run(program, Bindings::new(), &recording, 0, None);
    (finished.unwrap_or_else(|error| panic!("{error}")).outcome, recording)
}

fn python() -> Option<Json> {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/bench/peers/joint_angles.py");
    let ran = Command::new("python3").arg(script).output().ok()?;
    serde_json::from_slice(&ran.stdout).ok()
}

/// What is measured is the same calculation.
fn same(a: &[f64], b: &[f64]) {
    assert_eq!(a.len(), b.len());
    for (a, b) in a.iter().zip(b) {
        assert!((a - b).abs() <= 1e-9 * a.abs().max(1e-3), "{a} here, {b} there");
    }
}

/// The fastest of runs for two seconds, in nanoseconds.
fn fastest<T>(mut work: impl FnMut() -> T) -> f64 {
    let until = Instant::now() + Duration::from_secs(2);
    let mut best = Duration::MAX;
    while Instant::now() < until {
        let start = Instant::now();
        black_box(work());
        best = best.min(start.elapsed());
    }
    best.as_nanos() as f64
}
