//! Embeds the packs again whenever a file is added to one or taken from it.

// This is how a build script speaks to the build.
#![allow(clippy::print_stdout)]

fn main() {
    println!("cargo:rerun-if-changed=.");
}
