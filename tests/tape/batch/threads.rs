//! Blocks on several threads: the same results in the same order, and all of them stop together.

use crankline_engine::tape::batch::{Batch, LANES, in_blocks};
use crankline_engine::tape::{self, Number, Recording, Slot, go_on, is_stopped, stop_when, take_fault};
use std::cell::Cell;
use std::num::NonZero;
use std::rc::Rc;

fn lines(threads: usize) -> Vec<Vec<u64>> {
    let recording = Recording::open();
    let x = recording.input(1.0);
    let _ = tape::sin(x * 3.0) / x;
    let tape = recording.tape();
    let last = Slot::try_from(tape.graph.slots() - 1).unwrap();
    let batch = Batch::new(&tape, &[last]);
    in_blocks(
        100,
        NonZero::new(threads).unwrap(),
        || batch.block(),
        |block, number| {
            for (lane, input) in block.input(0).iter_mut().enumerate() {
                *input = (number * LANES + lane) as f64 * 0.01;
            }
            block.run(LANES);
            let kept = (0..LANES).filter(|lane| !block.left(*lane));
            kept.map(|lane| block.lanes(last)[lane].to_bits()).collect()
        },
    )
}

#[test]
fn any_number_of_threads_gives_the_same_bytes() {
    let alone = lines(1);
    // The very first sample divides by zero.
    assert_eq!(alone[0].len(), LANES - 1);
    assert!(alone[1..].iter().all(|block| block.len() == LANES));
    for threads in [2, 3, 8, 1000] {
        assert_eq!(lines(threads), alone);
    }
}

#[test]
fn no_blocks_are_no_results() {
    let nothing = in_blocks(0, NonZero::<usize>::MIN, || (), |(), number| number);
    assert!(nothing.is_empty());
}

/// The host is asked on its own thread alone, and what the others do stops too.
#[test]
fn threads_stop_when_the_host_says_so() {
    let recording = Recording::open();
    let x = recording.input(1.0);
    let slow = tape::integrate(Number::ZERO, x, |y| {
        tape::integrate(Number::ZERO, y, |z| Ok::<_, ()>(tape::sin(z)))
    });
    let _ = slow.unwrap();
    assert_eq!(take_fault(), None);
    let tape = recording.tape();
    let batch = Batch::new(&tape, &[Slot::try_from(tape.graph.slots() - 1).unwrap()]);
    let asked = Rc::new(Cell::new(0));
    let host = Rc::clone(&asked);
    stop_when(Rc::new(move || {
        host.set(host.get() + 1);
        host.get() > 3
    }));
    let left = in_blocks(
        1000,
        NonZero::new(3).unwrap(),
        || batch.block(),
        |block, _| {
            block.input(0).fill(1.0);
            block.run(LANES);
            block.left(0)
        },
    );
    assert!(is_stopped());
    assert_eq!(left.len(), 1000);
    assert!(left[999] && !left[0]);
    stop_when(Rc::new(|| false));
    go_on();
}
