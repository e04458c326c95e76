//! What a sample costs: the joint angles of a propeller shaft, replayed one by one, in a batch, on two threads; and all
//! derivatives of one result by one reverse pass.

// A benchmark may stop at a broken assumption.
#![allow(clippy::unwrap_used, clippy::panic)]

use crankline_engine::job::{Job, Overrides, Plan};
use crankline_engine::outcome::{Amount, Value};
use crankline_engine::script::Library;
use crankline_engine::tape::batch::{self, Batch, Block, Instructions, LANES};
use crankline_engine::tape::{Replay, Reverse, Slot, Tape};
use crankline_scripts::{Shipped, script};
use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use std::hint::black_box;
use std::num::NonZero;
use std::rc::Rc;

/// The tape of a shipped script on its examples, and the slots of its steps.
fn recorded(name: &str) -> (Tape, Vec<Slot>) {
    let library = Library::new(Rc::new(Shipped));
    let programs = |name: &str| library.compile(script(name).unwrap());
    let job = Job::of_script(name);
    let plan = Plan::new(&job, &library, &programs, &Overrides::new(), None).unwrap_or_else(|error| panic!("{error}"));
    let ran = plan.run(None).unwrap_or_else(|error| panic!("{error}"));
    let steps = ran.runs[0].outcome.steps.iter();
    let slots = steps.filter_map(|step| match step.value {
        Value::Amount(Amount { slot, .. }) => slot,
        _ => None,
    });
    let slots = slots.collect();
    (ran.tape, slots)
}

/// Every lane a little off the tape's own inputs.
fn fill(tape: &Tape, block: &mut Block<'_>, first: usize) {
    for (number, slot) in tape.inputs.iter().enumerate() {
        let value = tape.nominal[*slot as usize];
        for (lane, input) in block.input(number).iter_mut().enumerate() {
            *input = value * (1.0 + 1e-7 * ((first + lane) % 1000) as f64);
        }
    }
}

/// What is measured is right: the tests hold it too, but are not compiled for speed.
fn same_bits(tape: &Tape, wanted: &[Slot], block: &mut Block<'_>) {
    block.run(LANES);
    let mut replay = Replay::new(tape);
    for lane in 0..LANES {
        let inputs: Vec<f64> = (0..tape.inputs.len()).map(|number| block.input(number)[lane]).collect();
        let values = replay.run(&inputs).unwrap();
        assert!(!block.left(lane));
        for slot in wanted {
            assert_eq!(block.lanes(*slot)[lane].to_bits(), values[*slot as usize].to_bits());
        }
    }
}

fn joint_angles(criterion: &mut Criterion) {
    let (tape, wanted) = recorded("driveline/joint-angles");
    let batch = Batch::new(&tape, &wanted);
    let mut group = criterion.benchmark_group("joint-angles");

    let inputs: Vec<f64> = tape.inputs.iter().map(|slot| tape.nominal[*slot as usize]).collect();
    let mut replay = Replay::new(&tape);
    group.bench_function("replay", |bencher| {
        bencher.iter(|| black_box(replay.run(black_box(&inputs)).unwrap().len()));
    });
    let result = *wanted.last().unwrap();
    group.bench_function("all derivatives of one result", |bencher| {
        bencher.iter(|| Reverse::of(black_box(&tape), &tape.nominal, &[(result, 1.0)]).slot(0));
    });
    group.bench_function("make ready", |bencher| {
        bencher.iter(|| Batch::new(black_box(&tape), &wanted))
    });

    group.throughput(Throughput::Elements(LANES as u64));
    for instructions in Instructions::all() {
        let mut block = batch.block_with(instructions);
        fill(&tape, &mut block, 0);
        same_bits(&tape, &wanted, &mut block);
        group.bench_function(format!("batch, {}", instructions.name()), |bencher| {
            bencher.iter(|| {
                block.run(LANES);
                block.left(0)
            });
        });
    }
    group.finish();
}

/// A hundred thousand samples, filled and replayed.
fn threads(criterion: &mut Criterion) {
    const BLOCKS: usize = 4000;
    let (tape, wanted) = recorded("driveline/joint-angles");
    let batch = Batch::new(&tape, &wanted);
    let mut group = criterion.benchmark_group("joint-angles on threads");
    group.throughput(Throughput::Elements((BLOCKS * LANES) as u64));
    for threads in [1, 2] {
        group.bench_function(threads.to_string(), |bencher| {
            bencher.iter(|| {
                let work = |block: &mut Block<'_>, number: usize| {
                    fill(&tape, block, number * LANES);
                    block.run(LANES);
                    (0..LANES).filter(|lane| block.left(*lane)).count()
                };
                batch::in_blocks(BLOCKS, NonZero::new(threads).unwrap(), || batch.block(), work)
            });
        });
    }
    group.finish();
}

/// The largest shipped script: a frame is solved, and its lowest frequency found.
fn frame(criterion: &mut Criterion) {
    let (tape, wanted) = recorded("crossmember/tube-loads");
    let batch = Batch::new(&tape, &wanted);
    let mut group = criterion.benchmark_group("tube-loads");
    group.sample_size(10);
    let inputs: Vec<f64> = tape.inputs.iter().map(|slot| tape.nominal[*slot as usize]).collect();
    let mut replay = Replay::new(&tape);
    group.bench_function("replay", |bencher| {
        bencher.iter(|| black_box(replay.run(black_box(&inputs)).unwrap().len()));
    });
    group.bench_function("make ready", |bencher| {
        bencher.iter(|| Batch::new(black_box(&tape), &wanted))
    });
    group.throughput(Throughput::Elements(LANES as u64));
    let mut block = batch.block();
    fill(&tape, &mut block, 0);
    same_bits(&tape, &wanted, &mut block);
    group.bench_function("batch", |bencher| {
        bencher.iter(|| {
            block.run(LANES);
            block.left(0)
        });
    });
    group.finish();
}

criterion_group!(benches, joint_angles, threads, frame);
criterion_main!(benches);
