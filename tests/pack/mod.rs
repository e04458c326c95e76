//! Sealed packs without a disk: archives of every kind, seals, signatures, versions, lineage, what changed.

mod archive;
mod changes;
mod lineage;
mod seals;
mod versions;

use crankline_engine::diagnostic::SourceText;
use crankline_engine::pack::{Manifest, PackFile, SEAL, Seal, pack_up};

const MANIFEST: &str = "format = 1\nname = \"shop\"\nversion = \"0.1.0\"\nlicence = \"MIT\"\n";

fn file(name: &str, text: &str) -> PackFile {
    PackFile {
        name: name.to_owned(),
        bytes: text.as_bytes().to_vec(),
    }
}

fn source(name: &str, text: &str) -> SourceText {
    SourceText {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

fn manifest() -> Manifest {
    Manifest::read(source("pack.toml", MANIFEST)).unwrap_or_else(|error| panic!("{error}"))
}

/// A pack with its seal.
fn files() -> Vec<PackFile> {
    let mut files = vec![
        file("pack.toml", MANIFEST),
        file("tube.rhai", "//! A tube.\ninput a = 3.mm : \"A\";\n"),
        file("tube.cases.toml", "format = 1\n"),
    ];
    let seal = Seal::of(&manifest(), &files).unwrap_or_else(|error| panic!("{error}"));
    files.push(file(SEAL, &seal.text()));
    files
}

fn archive() -> Vec<u8> {
    pack_up(&files()).unwrap_or_else(|error| panic!("{error}"))
}
