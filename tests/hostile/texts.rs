//! Attacks that are texts: each file here holds pieces, each after a line `//--- name` or `#--- name`. `⟨1B⟩` in one
//! stands for that character, `⟨=FF⟩` for that byte.

use super::attack::Attack;
use std::fmt::Write;
use std::path::Path;

/// A script of a pack, its cases and the pack's manifest, all in order.
const TUBE: &str = "//! Twice.\ninput a = 3.mm : \"A\";\nstep b = 2 * a : \"Twice\";\ncheck b < 10.mm : \"small\";\n";
const CASES: &str = "format = 1\n[[case]]\ntitle = \"three\"\nsource = \"by hand\"\n\
                     [case.expect]\nb = { value = \"6 mm\", within = \"0.001 mm\" }\n";
const MANIFEST: &str = "format = 1\nname = \"shop\"\nversion = \"1\"\nlicence = \"MIT\"\n";

/// Scripts that are run; of one file of `scripts/`.
pub(super) fn scripts(file: &str) -> Vec<Attack> {
    let attack = |piece: Piece| {
        piece
            .attack("script.rhai", &["run", "script.rhai"])
            .with("secret.rhai", "fn answer() { 42 }\n")
    };
    pieces(&format!("scripts/{file}.rhai"))
        .into_iter()
        .map(attack)
        .collect()
}

/// Job files that are run.
pub(super) fn jobs() -> Vec<Attack> {
    let attack = |piece: Piece| {
        let attack = piece.attack("car.toml", &["run", "car.toml"]);
        attack.with("shaft.rhai", include_str!("../cli/scripts/shaft.rhai"))
    };
    pieces("jobs/jobs.toml").into_iter().map(attack).collect()
}

/// Worked cases that are tried.
pub(super) fn cases() -> Vec<Attack> {
    let attack = |piece: Piece| {
        let attack = piece.attack("packs/shop/tube.cases.toml", &["prove", "shop"]);
        attack
            .with("packs/shop/tube.rhai", TUBE)
            .with("packs/shop/pack.toml", MANIFEST)
    };
    pieces("cases/cases.toml").into_iter().map(attack).collect()
}

/// Manifests of a pack whose scripts are proved.
pub(super) fn manifests() -> Vec<Attack> {
    let attack = |piece: Piece| {
        let attack = piece.attack("packs/shop/pack.toml", &["prove", "shop"]);
        attack
            .with("packs/shop/tube.rhai", TUBE)
            .with("packs/shop/tube.cases.toml", CASES)
    };
    pieces("manifests/manifests.toml").into_iter().map(attack).collect()
}

/// Records that are compared.
pub(super) fn records() -> Vec<Attack> {
    let attack = |piece: Piece| piece.attack("before.json", &["compare", "before.json", "before.json"]);
    pieces("records/records.json").into_iter().map(attack).collect()
}

/// Answers to a question; a job that wants one reading.
pub(super) fn answers() -> Vec<Attack> {
    let job = "format = 1\n\n[measured]\n\n[[run]]\nscript = \"tube.rhai\"\nname = \"tube\"\n";
    let attack = |piece: Piece| {
        let mut attack = piece.attack("answer", &["job", "ask", "car.toml"]);
        attack.answers = attack.files.remove(0).1;
        attack.with("car.toml", job).with("tube.rhai", TUBE)
    };
    pieces("answers/answers.txt").into_iter().map(attack).collect()
}

struct Piece {
    name: String,
    text: String,
}

impl Piece {
    fn attack(self, file: &str, arguments: &[&str]) -> Attack {
        Attack {
            files: vec![(file.to_owned(), meant(&self.text))],
            arguments: arguments.iter().map(|word| (*word).to_owned()).collect(),
            answers: Vec::new(),
            shown: shown(&self.text),
            name: self.name,
        }
    }
}

fn pieces(file: &str) -> Vec<Piece> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("hostile").join(file);
    let mut pieces: Vec<Piece> = Vec::new();
    for line in std::fs::read_to_string(path).unwrap().lines() {
        let name = line.strip_prefix("//---").or_else(|| line.strip_prefix("#---"));
        if let Some(name) = name {
            let name = name.trim().to_owned();
            pieces.push(Piece {
                name,
                text: String::new(),
            });
        } else if let Some(piece) = pieces.last_mut() {
            piece.text.push_str(line);
            piece.text.push('\n');
        }
    }
    pieces
}

/// The bytes that a piece stands for.
fn meant(text: &str) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('⟨') {
        bytes.extend(before.bytes());
        let (code, after) = after.split_once('⟩').unwrap();
        match code.strip_prefix('=') {
            Some(byte) => bytes.push(u8::from_str_radix(byte, 16).unwrap()),
            None => {
                let character = char::from_u32(u32::from_str_radix(code, 16).unwrap()).unwrap();
                bytes.extend(character.to_string().bytes());
            }
        }
        rest = after;
    }
    bytes.extend(rest.bytes());
    bytes
}

/// A piece for a snapshot.
fn shown(text: &str) -> String {
    let mut shown = String::new();
    for line in text.lines() {
        let start: String = line.chars().take(100).collect();
        let more = if line.chars().count() > 100 { " …" } else { "" };
        writeln!(shown, "    {start}{more}").unwrap();
    }
    shown
}
