//! What each attack takes, measured in a process of its own: below two seconds and 512 MB in a release build.
//!
//!     cargo test --release -p crankline-tests hostile::watch -- --ignored --nocapture

use super::attack::Attack;
use super::{kinds, texts};
use std::process::Command;
use std::time::{Duration, Instant};

const MOST_TIME: Duration = Duration::from_secs(2);
const MOST_MEMORY: u64 = 512 * 1024 * 1024;

/// Says to a copy of this program which attack is meant: `kind/number`.
const MEANT: &str = "CRANKLINE_TEST_ATTACK";

/// All kinds, those too that use a budget up.
fn watched() -> Vec<(&'static str, Vec<Attack>)> {
    let mut watched = kinds();
    watched.push(("endless", texts::scripts("endless")));
    watched
}

/// One attack alone, in a process that was started for it.
#[allow(clippy::print_stdout, reason = "it tells the one that started it")]
#[test]
fn one() {
    let Some(meant) = std::env::var_os(MEANT) else { return };
    let meant = meant.into_string().unwrap();
    let (kind, number) = meant.split_once('/').unwrap();
    let attacks = watched().into_iter().find(|(name, _)| *name == kind).unwrap().1;
    let before = peak();
    let start = Instant::now();
    let outcome = attacks[number.parse::<usize>().unwrap()].take_place();
    println!(
        "took {} {} {} {}",
        start.elapsed().as_millis(),
        peak(),
        before,
        outcome.code
    );
}

/// The most memory that this process has had, in bytes, where the system says so.
fn peak() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kilobytes = line
        .and_then(|line| line.split_whitespace().next())
        .and_then(|number| number.parse::<u64>().ok());
    1024 * kilobytes.unwrap_or(0)
}

struct Taken {
    name: String,
    time: Duration,
    memory: u64,
}

fn taken(kind: &str, number: usize, attack: &Attack) -> Taken {
    let output = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "hostile::watch::one", "--nocapture"])
        .env(MEANT, format!("{kind}/{number}"))
        .output()
        .unwrap();
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    let name = format!("{kind}: {}", attack.name);
    // The name of the test may stand before it on the line.
    let line = text
        .split("took ")
        .nth(1)
        .unwrap_or_else(|| panic!("{name}: {text}{}", String::from_utf8_lossy(&output.stderr)));
    let mut numbers = line.split_whitespace().map(|number| number.parse::<u64>().unwrap_or(0));
    let time = Duration::from_millis(numbers.next().unwrap());
    Taken {
        name,
        time,
        memory: numbers.next().unwrap(),
    }
}

#[allow(clippy::print_stdout, reason = "who asks for it wants to know")]
#[test]
#[ignore = "takes minutes, and its bounds are those of a release build: see the top of its file"]
fn every_attack_takes_little_time_and_memory() {
    let watched = watched();
    let mut all: Vec<Taken> = Vec::new();
    for (kind, attacks) in &watched {
        all.extend(
            attacks
                .iter()
                .enumerate()
                .map(|(number, attack)| taken(kind, number, attack)),
        );
    }
    println!("{} attacks", all.len());
    all.sort_by_key(|taken| std::cmp::Reverse(taken.time));
    for taken in all.iter().take(12) {
        println!("{:>6} ms  {}", taken.time.as_millis(), taken.name);
    }
    all.sort_by_key(|taken| std::cmp::Reverse(taken.memory));
    for taken in all.iter().take(12) {
        println!("{:>6} MB  {}", taken.memory / 1_000_000, taken.name);
    }
    let over = |taken: &&Taken| taken.memory > MOST_MEMORY || (!cfg!(debug_assertions) && taken.time > MOST_TIME);
    let over: Vec<String> = all.iter().filter(over).map(|taken| taken.name.clone()).collect();
    assert!(over.is_empty(), "{}", over.join("\n"));
}
