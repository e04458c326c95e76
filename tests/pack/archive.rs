//! Archives that were damaged on their way, or made by somebody who means harm.

use super::{archive, file, files};
use crankline_engine::pack::{PackFile, Sealed, pack_up, unpack};
use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

#[track_caller]
fn refused(bytes: &[u8], words: &str) {
    match unpack(bytes) {
        Ok(files) => panic!("taken: {:?}", files.iter().map(|file| &file.name).collect::<Vec<_>>()),
        Err(refusal) => assert!(refusal.message().contains(words), "{}", refusal.message()),
    }
}

/// An archive of files as they are, whatever they are called.
fn zipped(files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        let options = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
        writer.start_file(*name, options).unwrap();
        writer.write_all(bytes).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

/// The same with a name written over in both places where an archive has it.
fn renamed(before: &str, after: &[u8]) -> Vec<u8> {
    assert_eq!(before.len(), after.len());
    let mut bytes = zipped(&[(before, b"x")]);
    let mut at = 0;
    while let Some(found) = bytes[at..]
        .windows(before.len())
        .position(|window| window == before.as_bytes())
    {
        bytes[at + found..at + found + before.len()].copy_from_slice(after);
        at += found + before.len();
    }
    bytes
}

/// Writes over bytes in the record of the only file in the list at the end of an archive.
fn listed(mut bytes: Vec<u8>, offset: usize, new: &[u8]) -> Vec<u8> {
    let record = bytes.windows(4).position(|window| window == b"PK\x01\x02").unwrap();
    bytes[record + offset..record + offset + new.len()].copy_from_slice(new);
    bytes
}

#[test]
fn what_is_packed_comes_out_again() {
    let mut expected = files();
    expected.sort_by(|a, b| a.name.cmp(&b.name));
    assert_eq!(unpack(&archive()).unwrap(), expected);
    let mut other_order = files();
    other_order.reverse();
    assert!(
        pack_up(&other_order).unwrap() == archive(),
        "the order makes no difference"
    );
    let sealed = Sealed::of(unpack(&archive()).unwrap()).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(sealed.seal.files.len(), 3);
    assert_eq!(sealed.manifest.name, "shop");
}

#[test]
fn names_that_lead_elsewhere() {
    for name in [
        &b"../evil.rhai"[..],
        b"/evil/x.rhai",
        b"..\\evil.rhai",
        b"C:\\evil.rhai",
        b"C:/evil.rhai",
        b"a/../../.rhai",
    ] {
        let before = "x".repeat(name.len() - 5) + ".rhai";
        refused(&renamed(&before, name), "leads out of the pack's folder");
    }
    refused(
        &renamed("aaaaaaa.rhai", b"folder/a.rhai".split_at(1).1),
        "is in a folder",
    );
    refused(&renamed("aaaaaaa.rhai", b"folder\\.rhai"), "is in a folder");
}

#[test]
fn odd_names() {
    for (before, after) in [
        ("aaa.rhai", &b"con.rhai"[..]),
        ("aaaa.rhai", b"LPT1.rhai"),
        ("aaa.rhai", b"a b.rhai"),
        ("aaa.rhai", b"a\0b.rhai"),
        ("aaa.rhai", b"a\x1bb.rhai"),
        ("aaa.rhai", b"aaa.exes"),
        ("aaa.rhai", b".aa.rhai"),
        ("aaaaaaaaaa", b"\xe2\x80\xaex.rhai1".split_at(10).0),
        ("aaa.rhai", b"\xc3\xa4a.rhai"),
    ] {
        refused(&renamed(before, after), "is no");
    }
    // Bytes that are no text.
    assert!(unpack(&renamed("aaa.rhai", b"a\xff\xfe.rhai".split_at(8).0)).is_err());
    refused(&zipped(&[("a.rhai", b"1"), ("A.rhai", b"2")]), "but for capitals");
    let twice = {
        let mut bytes = zipped(&[("a.rhai", b"1"), ("b.rhai", b"2")]);
        while let Some(at) = bytes.windows(6).position(|window| window == b"b.rhai") {
            bytes[at] = b'a';
        }
        bytes
    };
    refused(&twice, "two files in the archive have one name");
}

#[test]
fn what_is_no_file() {
    // A link, a folder, a device, by their mode on a Unix system.
    for mode in [0o120_777_u32, 0o040_755, 0o020_666] {
        let bytes = listed(zipped(&[("a.rhai", b"/etc/passwd")]), 38, &(mode << 16).to_le_bytes());
        refused(&listed(bytes, 5, &[3]), "is a link or a folder");
    }
    // Locked with a password.
    let locked = listed(zipped(&[("a.rhai", b"1")]), 8, &[1, 0]);
    assert!(unpack(&locked).is_err());
    // Another way of compressing: 12 is bzip2.
    let unusual = listed(zipped(&[("a.rhai", b"1")]), 10, &[12, 0]);
    assert!(unpack(&unusual).is_err());
}

#[test]
fn archives_made_to_fill_a_disk() {
    let zeros = vec![b' '; 3 * 1024 * 1024];
    refused(&zipped(&[("a.rhai", &zeros)]), "times its size");
    let large = vec![b' '; 5 * 1024 * 1024];
    refused(&zipped(&[("a.rhai", &large)]), "is larger than");
    // One that says it is small.
    let lying = listed(zipped(&[("a.rhai", &zeros)]), 24, &10_u32.to_le_bytes());
    assert!(unpack(&lying).is_err());
    let many: Vec<String> = (0..2001).map(|number| format!("a{number}.rhai")).collect();
    let many: Vec<(&str, &[u8])> = many.iter().map(|name| (name.as_str(), &b"1"[..])).collect();
    refused(&zipped(&many), "has more than 2000 files");
    assert!(
        pack_up(&[PackFile {
            name: "a.rhai".to_owned(),
            bytes: large
        }])
        .is_err()
    );
    refused(&vec![0; 17 * 1024 * 1024], "larger than a pack may be");
}

#[test]
fn archives_with_something_round_them() {
    let whole = archive();
    let before = [b"#!/bin/sh\n".to_vec(), whole.clone()].concat();
    refused(&before, "does not begin as a zip archive does");
    let after = [whole.clone(), b"more".to_vec()].concat();
    refused(&after, "does not end as it should");
    refused(&[whole.clone(), whole].concat(), "");
    refused(b"", "does not begin");
    refused(b"PK\x05\x06\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0", "does not begin");
}

/// Found by altering: where the last record cannot be, an earlier one, here of an empty archive, was taken for it.
#[test]
fn archives_with_two_ends() {
    let found = [
        &include_bytes!("../fuzz/seeds/sealed_pack/refused-two-ends-1")[..],
        include_bytes!("../fuzz/seeds/sealed_pack/refused-two-ends-2"),
    ];
    for bytes in found {
        refused(bytes, "");
    }
    refused(&[BEGIN, &[0; 40], EMPTY].concat(), "");
    // One within another that says how long it is wrongly.
    let whole = archive();
    let mut inside = [BEGIN, &[0; 40], EMPTY, &whole].concat();
    let end = inside.len() - 22;
    inside[end + 8] = inside[end + 8].wrapping_add(1);
    refused(&inside, "");
}

const BEGIN: &[u8] = b"PK\x03\x04";
/// An archive without a file.
const EMPTY: &[u8] = b"PK\x05\x06\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0";

/// Unpacked and packed again by whatever programs do on a desk.
#[test]
fn archives_that_were_packed_again() {
    let again = "it was packed again on the way: ask for the file as it was sealed";
    for name in [
        "shop/pack.toml",
        "shop/",
        "__MACOSX/._pack.toml",
        ".DS_Store",
        "Thumbs.db",
        "desktop.ini",
    ] {
        let refusal = unpack(&zipped(&[(name, b"x")])).unwrap_err();
        assert_eq!(refusal.hints(), [again], "{name}: {refusal}");
    }
    let other = unpack(&zipped(&[("a.exe", b"x")])).unwrap_err();
    assert_ne!(other.hints(), [again]);
    // Its texts with the ends of lines of another system.
    let hints = |change: &dyn Fn(&str) -> String| {
        let files = files().into_iter().map(|file| match file.name.as_str() {
            "tube.rhai" => super::file("tube.rhai", &change(&String::from_utf8(file.bytes).unwrap())),
            _ => file,
        });
        Sealed::of(files.collect()).unwrap_err().refusal.hints().to_vec()
    };
    assert_eq!(hints(&|text| text.replace('\n', "\r\n")), [again]);
    assert_eq!(
        hints(&|text| text.replace("3.mm", "4.mm")),
        ["get it again from whoever sealed it"]
    );
}

/// Terms of use under any of their usual names.
#[test]
fn terms_of_use_are_files_of_a_pack() {
    for name in [
        "LICENCE",
        "LICENCE.txt",
        "LICENSE",
        "LICENSE.md",
        "COPYING",
        "COPYING.txt",
        "COPYING.md",
    ] {
        assert_eq!(unpack(&zipped(&[(name, b"x")])).unwrap()[0].name, name);
    }
    for name in ["LICENSE.exe", "LICENSE.rtf", "COPYING.rhai.exe"] {
        refused(&zipped(&[(name, b"x")]), "is no file of a pack");
    }
}

/// Wherever it ends too soon, nothing of it is taken.
#[test]
fn archives_that_are_cut_short() {
    let whole = archive();
    for length in 0..whole.len() {
        assert!(unpack(&whole[..length]).is_err(), "{length} of {}", whole.len());
    }
}

/// A bit that turned on the way is noticed, or makes no difference to what is in the files.
#[test]
fn archives_with_a_bit_turned() {
    let whole = archive();
    let files = unpack(&whole).unwrap();
    let mut noticed = 0;
    for at in 0..whole.len() {
        for bit in [0, 3, 7] {
            let mut bytes = whole.clone();
            bytes[at] ^= 1 << bit;
            match unpack(&bytes)
                .map_err(|_| ())
                .and_then(|files| Sealed::of(files).map_err(|_| ()))
            {
                Ok(sealed) => assert_eq!(sealed.files, files, "byte {at}, bit {bit}"),
                Err(()) => noticed += 1,
            }
        }
    }
    assert!(noticed > whole.len(), "{noticed} of {}", 3 * whole.len());
}

#[test]
fn what_is_no_pack() {
    let text = |files: Vec<PackFile>| match Sealed::of(files) {
        Ok(_) => panic!("taken"),
        Err(error) => error.refusal.message().to_owned(),
    };
    assert!(text(vec![file("pack.toml", super::MANIFEST)]).contains("there is no `seal.toml`"));
    let without = |name: &str| files().into_iter().filter(|file| file.name != name).collect::<Vec<_>>();
    assert!(text(without("tube.rhai")).contains("`tube.rhai` is missing"));
    let with = |added: PackFile| files().into_iter().chain([added]).collect::<Vec<_>>();
    assert!(text(with(file("more.rhai", ""))).contains("`more.rhai` was not there when it was sealed"));
    let changed = |name: &str, text: &str| without(name).into_iter().chain([file(name, text)]).collect::<Vec<_>>();
    assert!(text(changed("tube.rhai", "step a = 1;")).contains("`tube.rhai` is not the file that was sealed"));
    let newer = changed("seal.toml", "format = 2\n");
    assert!(text(newer).contains("written in format 2, this Crankline reads format 1"));
}
