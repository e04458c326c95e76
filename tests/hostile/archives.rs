//! Attacks that are sealed packs: looked at, then added. Each is made here from one that is in order.

use super::attack::Attack;
use crankline_engine::diagnostic::SourceText;
use crankline_engine::pack::{Manifest, PackFile, SEAL, SIGNATURE, Seal, SecretKey, pack_up};
use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

const MANIFEST: &str = "format = 1\nname = \"shop\"\nversion = \"1\"\nlicence = \"MIT\"\n";
const TUBE: &str = "//! Twice.\ninput a = 3.mm : \"A\";\nstep b = 2 * a : \"Twice\";\n";
const CASES: &str = "format = 1\n[[case]]\ntitle = \"three\"\nsource = \"by hand\"\n\
                     [case.expect]\nb = { value = \"6 mm\", within = \"0.001 mm\" }\n";

/// Where things stand in a record of the list at an archive's end, …
const LISTED: &[u8] = b"PK\x01\x02";
/// … in the head of a file, …
const HEAD: &[u8] = b"PK\x03\x04";
/// … and in its last record.
const END: &[u8] = b"PK\x05\x06";

type Archive = (&'static str, Vec<u8>);

/// Looked at, where nothing is run or written.
pub(super) fn looked_at() -> Vec<Attack> {
    let attack = |(name, bytes): Archive| attack(name, bytes, &["pack", "look", "evil.zip"]);
    all().into_iter().map(attack).collect()
}

/// Added.
pub(super) fn added() -> Vec<Attack> {
    let attack = |(name, bytes): Archive| attack(name, bytes, &["pack", "add", "evil.zip"]);
    all().into_iter().map(attack).collect()
}

/// What looks like a pack in order and does harm when it is tried; and one that stands in for another.
pub(super) fn tried() -> Vec<Attack> {
    let scripts: [(&'static str, &str); 9] = [
        (
            "a script that never ends",
            "//! Ends never.\nlet m = #{}; for k in 0..10000000 { m[`k${k}`] = k; }\n",
        ),
        (
            "a script that reads a file",
            "import \"../secret\" as s;\nstep b = s::answer();\n",
        ),
        (
            "a script of another pack, which the manifest does not name",
            "import \"driveline/cardan\" as c;\nstep b = 1;\n",
        ),
        ("a script with an order to the screen", "note \"\\x1b[2J\";\n"),
        ("a script that cannot be read", "step b = ;\n"),
        ("a script that is empty", ""),
        (
            "a script that imports itself",
            "import \"shop/tube\" as t;\nstep b = t::f();\nfn f() { 1 }\n",
        ),
        (
            "a script whose number is another than its case says",
            "input a = 3.mm;\nstep b = 3 * a : \"Twice\";\n",
        ),
        ("a script that fills a list", "let a = [1]; loop { a += a; }\n"),
    ];
    let made = scripts.map(|(name, script)| {
        let files = [
            ("pack.toml", MANIFEST),
            ("tube.rhai", script),
            ("tube.cases.toml", CASES),
        ];
        attack(name, sealed(&files, None), &["pack", "add", "evil.zip"])
    });
    let mut attacks = made.to_vec();
    for (name, manifest, arguments) in [
        (
            "one named as a shipped pack",
            MANIFEST.replace("shop", "driveline"),
            &["pack", "add", "evil.zip"][..],
        ),
        (
            "one named as a shipped pack, to replace it",
            MANIFEST.replace("shop", "driveline"),
            &["pack", "add", "evil.zip", "--replace"],
        ),
        (
            "one that uses what is not here",
            format!("{MANIFEST}uses = [\"nowhere\"]\n"),
            &["pack", "add", "evil.zip"],
        ),
    ] {
        let files = [
            ("pack.toml", manifest.as_str()),
            ("tube.rhai", TUBE),
            ("tube.cases.toml", CASES),
        ];
        attacks.push(attack(name, sealed(&files, None), arguments));
    }
    // One's own pack of that name.
    let own = attack(
        "one named as one's own pack, to replace it",
        whole(),
        &["pack", "add", "evil.zip", "--replace"],
    );
    attacks.push(
        own.with("packs/shop/pack.toml", MANIFEST)
            .with("packs/shop/tube.rhai", TUBE),
    );
    attacks
}

fn attack(name: &str, bytes: Vec<u8>, arguments: &[&str]) -> Attack {
    Attack {
        name: name.to_owned(),
        files: vec![("evil.zip".to_owned(), bytes)],
        arguments: arguments.iter().map(|word| (*word).to_owned()).collect(),
        answers: Vec::new(),
        shown: String::new(),
    }
}

fn files(files: &[(&str, &str)]) -> Vec<PackFile> {
    let file = |(name, text): &(&str, &str)| PackFile {
        name: (*name).to_owned(),
        bytes: text.as_bytes().to_vec(),
    };
    files.iter().map(file).collect()
}

/// These files with a seal, and a signature where there is a key.
fn sealed(texts: &[(&str, &str)], key: Option<&SecretKey>) -> Vec<u8> {
    pack_up(&sealed_files(texts, key)).unwrap()
}

fn sealed_files(texts: &[(&str, &str)], key: Option<&SecretKey>) -> Vec<PackFile> {
    let mut files = files(texts);
    let manifest = SourceText {
        name: "pack.toml".to_owned(),
        text: MANIFEST.to_owned(),
    };
    let mut seal = Seal::of(&Manifest::read(manifest).unwrap(), &files).unwrap();
    let named = texts.iter().find(|(name, _)| *name == "pack.toml");
    let own = named.and_then(|(_, text)| {
        Manifest::read(SourceText {
            name: String::new(),
            text: (*text).to_owned(),
        })
        .ok()
    });
    if let Some(own) = own {
        (seal.name, seal.version) = (own.name, own.version);
    }
    let text = seal.text();
    if let Some(key) = key {
        files.push(PackFile {
            name: SIGNATURE.to_owned(),
            bytes: key.signature(&text).into_bytes(),
        });
    }
    files.push(PackFile {
        name: SEAL.to_owned(),
        bytes: text.into_bytes(),
    });
    files
}

fn in_order() -> [(&'static str, &'static str); 3] {
    [("pack.toml", MANIFEST), ("tube.rhai", TUBE), ("tube.cases.toml", CASES)]
}

fn whole() -> Vec<u8> {
    sealed(&in_order(), None)
}

/// One in order with a file more, whatever it is called.
fn with_file(name: &str, bytes: &[u8]) -> Vec<u8> {
    let files = sealed_files(&in_order(), None);
    let named = files.iter().map(|file| (file.name.as_str(), file.bytes.as_slice()));
    zipped(
        &named.chain([(name, bytes)]).collect::<Vec<_>>(),
        CompressionMethod::Deflated,
    )
}

fn zipped(files: &[(&str, &[u8])], method: CompressionMethod) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        writer
            .start_file(*name, SimpleFileOptions::default().compression_method(method))
            .unwrap();
        writer.write_all(bytes).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

/// A name written over wherever an archive has it.
fn renamed(mut bytes: Vec<u8>, before: &[u8], after: &[u8]) -> Vec<u8> {
    assert_eq!(before.len(), after.len());
    for at in places(&bytes, before) {
        bytes[at..at + after.len()].copy_from_slice(after);
    }
    bytes
}

fn places(bytes: &[u8], wanted: &[u8]) -> Vec<usize> {
    let found = bytes.windows(wanted.len()).enumerate();
    found
        .filter(|(_, window)| *window == wanted)
        .map(|(at, _)| at)
        .collect()
}

/// Bytes written over in the first record of a kind.
fn written_over(mut bytes: Vec<u8>, record: &[u8], offset: usize, new: &[u8]) -> Vec<u8> {
    let at = places(&bytes, record)[0] + offset;
    bytes[at..at + new.len()].copy_from_slice(new);
    bytes
}

/// Both in the list and in the file's head.
fn in_both(bytes: Vec<u8>, listed: usize, head: usize, new: &[u8]) -> Vec<u8> {
    written_over(written_over(bytes, LISTED, listed, new), HEAD, head, new)
}

fn with_mode(mode: u32) -> Vec<u8> {
    let bytes = written_over(whole(), LISTED, 38, &(mode << 16).to_le_bytes());
    written_over(bytes, LISTED, 5, &[3])
}

fn with_seal(change: impl Fn(String) -> String) -> Vec<u8> {
    let mut files = sealed_files(&in_order(), None);
    let seal = files.iter_mut().find(|file| file.name == SEAL).unwrap();
    seal.bytes = change(String::from_utf8(seal.bytes.clone()).unwrap()).into_bytes();
    pack_up(&files).unwrap()
}

fn with_manifest(manifest: &str) -> Vec<u8> {
    sealed(
        &[("pack.toml", manifest), ("tube.rhai", TUBE), ("tube.cases.toml", CASES)],
        None,
    )
}

fn with_signature(change: impl Fn(String) -> String) -> Vec<u8> {
    let mut files = sealed_files(&in_order(), Some(&SecretKey::of(&[7; 32])));
    let signature = files.iter_mut().find(|file| file.name == SIGNATURE).unwrap();
    signature.bytes = change(String::from_utf8(signature.bytes.clone()).unwrap()).into_bytes();
    pack_up(&files).unwrap()
}

fn all() -> Vec<Archive> {
    [
        names(),
        kinds(),
        sizes(),
        ends(),
        lists(),
        seals(),
        signatures(),
        manifests(),
    ]
    .concat()
}

fn names() -> Vec<Archive> {
    let named = |after: &[u8]| {
        let before = format!("{}.rhai", "x".repeat(after.len() - 5));
        renamed(with_file(&before, b"step a = 1;"), before.as_bytes(), after)
    };
    vec![
        ("a name one folder up", named(b"../evil.rhai")),
        (
            "a name many folders up",
            named(b"../../../../../../../../tmp/evil.rhai"),
        ),
        ("a name through a folder and up again", named(b"shop/../../evil.rhai")),
        ("a name from the root", named(b"/tmp/evil.rhai")),
        ("a name up, with the other stroke", named(b"..\\..\\evil.rhai")),
        ("a name of a drive", named(b"C:\\evil.rhai")),
        ("a name of a drive with the other stroke", named(b"C:/evil.rhai")),
        ("a name on another machine", named(b"\\\\host\\share\\evil.rhai")),
        ("a name with a second stream", named(b"tube.rhai:evil.rhai")),
        ("a name in a folder", named(b"more/evil.rhai")),
        ("a name that a system keeps", named(b"con.rhai")),
        ("a name of a port", named(b"LPT1.rhai")),
        ("a hidden name", named(b".evil.rhai")),
        (
            "a name of another ending",
            renamed(with_file("evil.rhai", b"x"), b"evil.rhai", b"evil.exe\0"),
        ),
        ("a name that is a program", with_file("setup.exe", b"MZ")),
        ("a name with an order to the screen", named(b"\x1b[2J.rhai")),
        ("a name with nothing in it", named(b"a\0b.rhai")),
        ("a name with an end of a line", named(b"a\nb.rhai")),
        ("a name turned round", named("a\u{202e}b.rhai".as_bytes())),
        ("a name in another alphabet", named("tubе.rhai".as_bytes())),
        ("a name that is no text", named(b"a\xff\xfe.rhai")),
        ("a name that ends in a stop", with_file("evil.rhai.", b"x")),
        ("a name of spaces", named(b"   .rhai")),
        (
            "a name as long as a letter",
            with_file(&format!("{}.rhai", "a".repeat(300)), b"x"),
        ),
        (
            "two files of one name",
            renamed(with_file("tuba.rhai", b"x"), b"tuba.rhai", b"tube.rhai"),
        ),
        ("two names that differ in capitals", with_file("TUBE.rhai", b"x")),
    ]
}

fn kinds() -> Vec<Archive> {
    vec![
        ("a link", with_mode(0o120_777)),
        ("a folder by its mode", with_mode(0o040_755)),
        ("a device", with_mode(0o020_666)),
        ("a pipe", with_mode(0o010_644)),
        ("a file that is locked", in_both(whole(), 8, 6, &[1, 0])),
        ("compressed in an unusual way", in_both(whole(), 10, 8, &[12, 0])),
        (
            "compressed in a way that nobody knows",
            in_both(whole(), 10, 8, &[0xee, 0xee]),
        ),
        ("said to be stored as it is", in_both(whole(), 10, 8, &[0, 0])),
        ("sizes to follow", in_both(whole(), 8, 6, &[8, 0])),
    ]
}

fn sizes() -> Vec<Archive> {
    let spaces = vec![b' '; 3 * 1024 * 1024];
    let large = vec![b' '; 5 * 1024 * 1024];
    let whole = whole();
    let of = |bytes: &[u8]| with_file("more.rhai", bytes);
    let many: Vec<String> = (0..2100).map(|number| format!("a{number}.rhai")).collect();
    let many: Vec<(&str, &[u8])> = many.iter().map(|name| (name.as_str(), &b"1"[..])).collect();
    // Small in the file, each within its bounds, large when all are unpacked.
    let noise: Vec<u8> = (0..60_000_u32)
        .map(|k| (k.wrapping_mul(2_654_435_761) >> 24) as u8)
        .collect();
    let blocks: Vec<u8> = noise.iter().copied().cycle().take(4 * 1024 * 1024 - 1).collect();
    let names: Vec<String> = (0..20).map(|number| format!("b{number}.rhai")).collect();
    let bomb: Vec<(&str, &[u8])> = names.iter().map(|name| (name.as_str(), blocks.as_slice())).collect();
    vec![
        (
            "a file of spaces that unpacks to a thousand times its size",
            of(&spaces),
        ),
        ("a file larger than any script", of(&large)),
        (
            "many files that are large together",
            zipped(&bomb, CompressionMethod::Deflated),
        ),
        ("two thousand files", zipped(&many, CompressionMethod::Stored)),
        (
            "a file that says it is small",
            written_over(of(&spaces), LISTED, 24, &10_u32.to_le_bytes()),
        ),
        (
            "a file that says it is as large as can be",
            in_both(whole.clone(), 24, 22, &u32::MAX.to_le_bytes()),
        ),
        (
            "a file packed in more than there is",
            in_both(whole.clone(), 20, 18, &u32::MAX.to_le_bytes()),
        ),
        ("a file packed in nothing", in_both(whole.clone(), 20, 18, &[0; 4])),
        (
            "a name longer than there is",
            in_both(whole.clone(), 28, 26, &u16::MAX.to_le_bytes()),
        ),
        (
            "more beside a name than there is",
            in_both(whole, 30, 28, &u16::MAX.to_le_bytes()),
        ),
        ("an archive larger than any pack", vec![b'P'; 17 * 1024 * 1024]),
    ]
}

fn ends() -> Vec<Archive> {
    let whole = whole();
    let part = |share: usize| whole[..whole.len() * share / 8].to_vec();
    let comment = {
        let mut bytes = whole.clone();
        let inner = sealed(&[("pack.toml", MANIFEST)], None);
        let at = places(&bytes, END)[0] + 20;
        bytes[at..at + 2].copy_from_slice(&u16::try_from(inner.len()).unwrap().to_le_bytes());
        [bytes, inner].concat()
    };
    let one_less = whole[..whole.len() - 1].to_vec();
    vec![
        ("nothing", Vec::new()),
        ("a text", b"format = 1\n".to_vec()),
        (
            "a program before it",
            [b"#!/bin/sh\nrm -rf /\n".to_vec(), whole.clone()].concat(),
        ),
        ("something after it", [whole.clone(), b"\0\0\0\0".to_vec()].concat()),
        ("another archive after it", [whole.clone(), whole.clone()].concat()),
        ("another archive as its comment", comment),
        ("cut after an eighth", part(1)),
        ("cut after a quarter", part(2)),
        ("cut in half", part(4)),
        ("cut after three quarters", part(6)),
        ("cut after seven eighths", part(7)),
        ("cut by its last byte", one_less),
        ("its last record alone", whole[whole.len() - 22..].to_vec()),
        (
            "an archive without a file",
            b"PK\x05\x06\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0".to_vec(),
        ),
        (
            "its start, then nothing but noughts",
            [whole[..40].to_vec(), vec![0; 400]].concat(),
        ),
    ]
}

fn lists() -> Vec<Archive> {
    let whole = whole();
    let first = b"pack.toml";
    let in_list = places(&whole, first)[1];
    let mut other_name = whole.clone();
    other_name[in_list..in_list + first.len()].copy_from_slice(b"pock.rhai");
    let mut other_head = whole.clone();
    let at = places(&whole, first)[0];
    other_head[at..at + first.len()].copy_from_slice(b"../a.rhai");
    vec![
        ("a list that names a file otherwise than its head", other_name),
        ("a head that names a file otherwise than the list", other_head),
        (
            "a list that says where no file is",
            written_over(whole.clone(), LISTED, 42, &[0xff, 0xff, 0, 0]),
        ),
        ("a list that says two files stand at one place", {
            let second = places(&whole, LISTED)[1];
            let mut bytes = whole.clone();
            bytes[second + 42..second + 46].copy_from_slice(&[0; 4]);
            bytes
        }),
        (
            "a list that says where it is not",
            written_over(whole.clone(), END, 16, &[0xff, 0xff, 0xff, 0x7f]),
        ),
        (
            "a list of more files than there are",
            written_over(
                written_over(whole.clone(), END, 8, &[0xff, 0xff]),
                END,
                10,
                &[0xff, 0xff],
            ),
        ),
        (
            "a list of fewer files than there are",
            written_over(written_over(whole.clone(), END, 8, &[1, 0]), END, 10, &[1, 0]),
        ),
        (
            "an archive on several disks",
            written_over(whole.clone(), END, 4, &[1, 0, 1, 0]),
        ),
        ("a sum that does not fit", in_both(whole.clone(), 16, 14, &[1, 2, 3, 4])),
        (
            "another way of compressing in the list than in the head",
            written_over(whole.clone(), LISTED, 10, &[0, 0]),
        ),
        ("a file whose bytes were turned", {
            let mut bytes = whole.clone();
            let at = places(&whole, HEAD)[2] + 40;
            bytes[at] ^= 0x55;
            bytes
        }),
        (
            "a version that nobody knows",
            written_over(whole, LISTED, 6, &[0xff, 0]),
        ),
    ]
}

fn seals() -> Vec<Archive> {
    let unsealed: Vec<PackFile> = files(&in_order());
    let without = |name: &str| {
        let mut files = sealed_files(&in_order(), None);
        files.retain(|file| file.name != name);
        pack_up(&files).unwrap()
    };
    let sum = "sha256 = \"";
    vec![
        ("no seal", pack_up(&unsealed).unwrap()),
        ("a seal that is no TOML", with_seal(|_| "format =".to_owned())),
        (
            "a seal of a newer format",
            with_seal(|text| text.replace("format = 1", "format = 2")),
        ),
        (
            "a seal without a format",
            with_seal(|text| text.replace("format = 1\n", "")),
        ),
        (
            "a seal with another sum",
            with_seal(|text| text.replacen(sum, "sha256 = \"00", 1)),
        ),
        (
            "a seal with a sum of nothing",
            with_seal(|text| text.replacen(sum, "sha256 = \"\" # ", 1)),
        ),
        (
            "a seal with another length",
            with_seal(|text| text.replacen("bytes = ", "bytes = 1", 1)),
        ),
        (
            "a seal with a length less than nothing",
            with_seal(|text| text.replacen("bytes = ", "bytes = -", 1)),
        ),
        (
            "a seal of another name",
            with_seal(|text| text.replace("\"shop\"", "\"other\"")),
        ),
        (
            "a seal with an order to the screen",
            with_seal(|text| text.replace("\"MIT\"", "\"\\u001b[2JMIT\"")),
        ),
        (
            "a seal without a licence",
            with_seal(|text| text.replace("licence", "# licence")),
        ),
        (
            "a seal with a key that nobody knows",
            with_seal(|text| format!("run = \"x\"\n{text}")),
        ),
        ("a seal that is no text", with_seal_bytes(b"format = 1\n# \xff\n")),
        ("a file that nobody sealed", with_file("more.rhai", b"step a = 1;")),
        ("a sealed file that is missing", without("tube.rhai")),
        ("no manifest", without("pack.toml")),
    ]
}

fn with_seal_bytes(bytes: &[u8]) -> Vec<u8> {
    let mut files = sealed_files(&in_order(), None);
    files.retain(|file| file.name != SEAL);
    files.push(PackFile {
        name: SEAL.to_owned(),
        bytes: bytes.to_vec(),
    });
    pack_up(&files).unwrap()
}

fn signatures() -> Vec<Archive> {
    vec![
        (
            "a signature with a digit altered",
            with_signature(|text| altered(&text, "signature = \"")),
        ),
        (
            "a signature by another key",
            with_signature(|text| altered(&text, "key = \"")),
        ),
        (
            "a signature of nothing",
            with_signature(|text| text.replacen("signature = \"", "signature = \"\" # ", 1)),
        ),
        (
            "a signature of noughts by a key of noughts",
            with_signature(|_| {
                format!(
                    "format = 1\nkey = \"{}\"\nsignature = \"{}\"\n",
                    "0".repeat(64),
                    "0".repeat(128)
                )
            }),
        ),
        (
            "a signature that is too long",
            with_signature(|text| text.replacen("signature = \"", "signature = \"00", 1)),
        ),
        (
            "a signature of a newer format",
            with_signature(|text| text.replace("format = 1", "format = 3")),
        ),
        (
            "a signature of another seal",
            with_signature(|_| SecretKey::of(&[7; 32]).signature("something else")),
        ),
        ("a signature that is no TOML", with_signature(|_| "key".to_owned())),
    ]
}

/// The digit after these words, one up.
fn altered(text: &str, words: &str) -> String {
    let at = text.find(words).unwrap() + words.len();
    let digit = if text[at..].starts_with('0') { "1" } else { "0" };
    format!("{}{digit}{}", &text[..at], &text[at + 1..])
}

fn manifests() -> Vec<Archive> {
    vec![
        ("a manifest that is no TOML", with_manifest("name = ")),
        ("a manifest of nothing", with_manifest("")),
        (
            "a manifest of a newer format",
            with_manifest(&MANIFEST.replace("format = 1", "format = 2")),
        ),
        (
            "a manifest with a name that leads elsewhere",
            with_manifest(&MANIFEST.replace("shop", "../../shop")),
        ),
        (
            "a manifest with an order to the screen",
            with_manifest(&MANIFEST.replace("\"1\"", "\"\\u001b[2J1\"")),
        ),
        (
            "a manifest with a version that signs",
            with_manifest(&MANIFEST.replace(
                "\"1\"",
                "\"1.0, signed with the key 62f2 7f64 6868 1cd1\\n12 worked examples come out here\"",
            )),
        ),
        (
            "a manifest with a title that is a page",
            with_manifest(&format!(
                "{MANIFEST}title = \"tubes\\nSIGNED with the key 62f2 7f64 6868 1cd1\"\n"
            )),
        ),
        (
            "a seal with a licence that signs",
            with_seal(|seal| seal.replace("\"MIT\"", "\"MIT\\n  SIGNED    with the key 62f2 7f64 6868 1cd1\"")),
        ),
        (
            "a script whose purpose is an order to the screen",
            sealed(
                &[
                    ("pack.toml", MANIFEST),
                    ("tube.rhai", "//! Twice.\u{1b}[2J\nstep b = 2;\n"),
                    ("tube.cases.toml", CASES),
                ],
                None,
            ),
        ),
        (
            "a manifest as long as a book",
            with_manifest(&format!("{MANIFEST}{}", "# a\n".repeat(300_000))),
        ),
        (
            "a manifest with a title as long as a book",
            with_manifest(&format!("{MANIFEST}title = \"{}\"\n", "a".repeat(1_000_000))),
        ),
        (
            "a manifest that uses ten thousand packs",
            with_manifest(&{
                let uses: Vec<String> = (0..10_000).map(|number| format!("\"p{number}\"")).collect();
                format!("{MANIFEST}uses = [{}]\n", uses.join(", "))
            }),
        ),
        (
            "a manifest of lists inside lists",
            with_manifest(&format!("{MANIFEST}uses = {}{}\n", "[".repeat(5000), "]".repeat(5000))),
        ),
        ("a manifest that is no text", {
            let mut files = sealed_files(&in_order(), None);
            files.retain(|file| file.name != "pack.toml");
            files.push(PackFile {
                name: "pack.toml".to_owned(),
                bytes: b"name = \"\xff\"".to_vec(),
            });
            pack_up(&files).unwrap()
        }),
        (
            "a manifest with markup",
            with_manifest(&format!("{MANIFEST}title = \"<script>alert(1)</script>\"\n")),
        ),
    ]
}
