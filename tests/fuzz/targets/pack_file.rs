//! Manifests and worked cases: any text is read or refused.
#![no_main]

use crankline_engine::pack::{Manifest, read_cases};
use crankline_fuzz::file;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let _ = Manifest::read(file("pack.toml", text)).map(|manifest| format!("{manifest:?}").len());
    let _ = read_cases(file("script.cases.toml", text)).map(|cases| cases.len());
});
