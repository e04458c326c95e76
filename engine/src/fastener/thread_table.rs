//! The standard threads, found by what people write.

use std::sync::LazyLock;

use serde::Deserialize;

use super::thread::{Form, Thread};
use crate::diagnostic::{Refusal, nearest};

const PER_MILLIMETRE: f64 = 1e3;

/// The thread with this designation: `"1/2-13 UNC"`, `"1/2-13"`, `"#10-24 UNC"`, `"M10x1.5"`; `"M10"` is the coarse one.
///
/// # Errors
/// No standard thread: names those of the same size, or the nearest.
pub fn thread_form(designation: &str) -> Result<Thread, Refusal> {
    let wanted = plain(designation);
    let found = TABLE.iter().find(|thread| spellings(thread).contains(&wanted));
    found.cloned().ok_or_else(|| unknown(designation, &wanted))
}

/// The designations of all threads: inch, then metric, from small to large.
#[must_use]
pub fn thread_names() -> Vec<&'static str> {
    TABLE.iter().map(Thread::name).collect()
}

/// Lower case without spaces; a space inside a mixed number is a hyphen: `1 1/8-7 UNC` is `1-1/8-7unc`.
fn plain(designation: &str) -> String {
    let lower = designation
        .to_lowercase()
        .replace('×', "x")
        .replace("no.", "")
        .replace('#', "");
    let mut plain = String::new();
    let mut after_space = false;
    for c in lower.chars() {
        if c.is_whitespace() {
            after_space = true;
            continue;
        }
        if after_space && c.is_ascii_digit() && plain.ends_with(|last: char| last.is_ascii_digit()) {
            plain.push('-');
        }
        after_space = false;
        plain.push(c);
    }
    plain
}

/// What may stand for a thread, as [`plain`] text.
fn spellings(thread: &Thread) -> Vec<String> {
    let full = plain(&thread.name);
    match thread.form {
        Form::Unified => {
            let bare = full.trim_end_matches(|c: char| c.is_ascii_alphabetic()).to_owned();
            vec![full, bare]
        }
        Form::Metric if thread.coarse => vec![size(&full).to_owned(), full],
        Form::Metric => vec![full],
    }
}

/// The size in front of the pitch: `1/2` of `1/2-13unc`, `m10` of `m10x1.5`.
fn size(plain: &str) -> &str {
    plain.rsplit_once(['-', 'x']).map_or(plain, |(size, _)| size)
}

fn unknown(designation: &str, wanted: &str) -> Refusal {
    let refusal = Refusal::new("thread", format!("there is no standard thread \"{designation}\""));
    let same_size = |thread: &&Thread| {
        let full = plain(&thread.name);
        size(&full) == size(wanted) || size(&full) == wanted
    };
    let of_size: Vec<&str> = TABLE.iter().filter(same_size).map(Thread::name).collect();
    if !of_size.is_empty() {
        return refusal.hint(format!("of this size there are: {}", of_size.join(", ")));
    }
    let near = nearest(designation, TABLE.iter().map(Thread::name)).map(|near| format!("did you mean \"{near}\"?"));
    refusal
        .maybe_hint(near)
        .hint("written as \"1/2-13 UNC\", \"M10x1.5\" or \"M10\"; thread_names() lists them")
}

static TABLE: LazyLock<Vec<Thread>> = LazyLock::new(|| {
    let file: File = toml::from_str(include_str!("threads.toml"))
        .expect("the table of threads is well formed: a test reads every row of it");
    let unified = file.unified.iter().flat_map(Unified::threads);
    let metric = file.metric.iter().flat_map(Metric::threads);
    unified.chain(metric).collect()
});

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    unified: Vec<Unified>,
    metric: Vec<Metric>,
}

/// An inch size, and its threads per inch.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Unified {
    size: String,
    inches: f64,
    unc: u32,
    unf: u32,
}

impl Unified {
    fn threads(&self) -> [Thread; 2] {
        [(self.unc, "UNC", true), (self.unf, "UNF", false)].map(|(per_inch, series, coarse)| Thread {
            name: format!("{}-{per_inch} {series}", self.size),
            form: Form::Unified,
            coarse,
            major: metres(self.inches),
            pitch: metres(1.0) / f64::from(per_inch),
        })
    }
}

/// Rounded once, as the units do it: a size at the end of a grade's range is in it.
fn metres(inches: f64) -> f64 {
    inches * 254.0 / 10_000.0
}

/// A metric size and its pitches, in millimetres.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Metric {
    millimetres: f64,
    coarse: f64,
    fine: Vec<f64>,
}

impl Metric {
    fn threads(&self) -> Vec<Thread> {
        let pitches = [(self.coarse, true)]
            .into_iter()
            .chain(self.fine.iter().map(|pitch| (*pitch, false)));
        pitches
            .map(|(pitch, coarse)| Thread {
                name: format!("M{}x{pitch}", self.millimetres),
                form: Form::Metric,
                coarse,
                major: self.millimetres / PER_MILLIMETRE,
                pitch: pitch / PER_MILLIMETRE,
            })
            .collect()
    }
}
