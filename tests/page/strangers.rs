//! Scripts that are put together to try the tape that goes out, and what was found by altering them: the page's evaluator
//! has the engine's bits for each, about its examples.

use super::node::run;
use super::operations::case;
use super::scripts::{settings, wanted, with_plan_of};
use crate::kernel::random::Random;
use std::path::Path;

#[test]
fn scripts_put_together_to_try_it_have_the_engines_bits() {
    let seeds = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/seeds");
    let mut random = Random::new(7);
    let mut cases = Vec::new();
    for folder in ["page_tape", "script_run"] {
        let mut files: Vec<_> = std::fs::read_dir(seeds.join(folder))
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .collect();
        files.sort();
        for file in files {
            let name = format!("{folder}/{}", file.file_name().unwrap().display());
            let text = std::fs::read_to_string(&file).unwrap();
            with_plan_of(&name, &text, |ran| {
                let samples = settings(ran, 30, &mut random);
                cases.push(case(&name, &ran.tape, &wanted(ran), &samples, false));
            });
        }
    }
    assert!(cases.len() > 20, "{}", cases.len());
    run("tape.mjs", "strangers", &cases.into());
}
