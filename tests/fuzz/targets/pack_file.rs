//! Manifests, worked cases, seals and signatures: any text is read or refused.
#![no_main]

use crankline_engine::pack::{Manifest, Seal, read_cases, signed_by};
use crankline_fuzz::file;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let _ = Manifest::read(file("pack.toml", text)).map(|manifest| format!("{manifest:?}").len());
    let _ = read_cases(file("script.cases.toml", text)).map(|cases| cases.len());
    let _ = Seal::read(file("seal.toml", text)).map(|seal| seal.text().len());
    let _ = signed_by("", file("signature.toml", text)).map(|key| key.name());
});
